"""Causes and cures: which changes of the document put its verdicts right, each tried on a copy."""
