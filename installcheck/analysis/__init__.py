"""What is computed once for a document and looked at by many; ``study`` is the front door. Knows no rule."""
