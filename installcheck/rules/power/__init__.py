"""Rules of sources, feeds and protection."""
