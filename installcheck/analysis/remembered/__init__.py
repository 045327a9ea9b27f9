"""A study that remembers what each fact read, so that after an edit only what read something else is worked out again."""
