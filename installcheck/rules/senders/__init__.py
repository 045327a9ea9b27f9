"""Rules of a sender and the indicator it is made for: signals, supplies, synchros, tachometers."""
