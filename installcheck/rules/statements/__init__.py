"""Rules of what a document says twice, and of open notices."""
