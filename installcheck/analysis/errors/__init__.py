"""What each indication shows against what is true, split by cause."""
