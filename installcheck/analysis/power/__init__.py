"""The power wiring: what feeds what, what stands before it, what each wire carries and may carry."""
