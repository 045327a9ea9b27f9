"""Thermocouple circuits as pieces of metal, and what they read."""
