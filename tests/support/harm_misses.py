"""Harms that are not caught yet, with what is missing. The list may only shrink."""

MISSES: dict[str, str] = {}
