"""Checks a description of an aircraft engine-instrument installation."""
