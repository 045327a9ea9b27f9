"""Gauges and protectors chosen: the lightest that no rule faults."""
