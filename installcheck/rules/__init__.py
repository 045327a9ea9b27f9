"""Rules: one module per concern; each rule a small function that yields verdicts."""
