"""The drawing sheets of an installation, and its graph in the DOT language."""
