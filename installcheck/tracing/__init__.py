"""Tracing a fault: what was seen, what could be wrong by how well it predicts that, and the next best test."""
