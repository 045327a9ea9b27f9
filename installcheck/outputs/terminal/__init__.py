"""What is printed for a person."""
