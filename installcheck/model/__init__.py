"""What a document can say, by subject: each thing beside its spec, which a part of the library fills."""
