"""What a person could change, by the kind of thing: candidates that nobody has tried yet."""
