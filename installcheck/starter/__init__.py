"""A commented document to start from."""
