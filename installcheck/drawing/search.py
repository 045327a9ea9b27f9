"""Search for the most that fit."""

from __future__ import annotations

from collections.abc import Callable


def most(limit: int, guess: int, fit: Callable[[int], bool]) -> int:
    """Largest count from 1 to `limit` that fits, searched outward from a guess; 0 when not even one does."""
    low, high = 0, limit + 1
    step = min(max(guess, 1), limit)
    while high - low > 1:
        if fit(step):
            low = step
            step += max(1, step // 3)
        else:
            high = step
        if not low < step < high:
            step = (low + high) // 2 if high <= limit else min(max(step, low + 1), limit)
    return low
