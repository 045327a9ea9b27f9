"""What a document says twice, and what it disputes with itself."""
