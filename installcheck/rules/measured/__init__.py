"""Rules of what was measured on the aircraft against what the description gives."""
