"""Shares of a dial that are tried."""

from __future__ import annotations

from .channels import Channel

_SHARES = (0.03, 0.05, 0.075, 0.1, 0.13, 0.17, 0.22, 0.28, 0.35, 0.45, 0.57, 0.7)
"""Shares of the dial a thing may be off by, either way, before the one that explains is sought between them."""


STUCK = (0.0, 0.1, 0.25, 0.4, 0.5, 0.6, 0.75, 0.9, 1.0)


def dial_of(channel: Channel) -> tuple[float, float] | None:
    """Both ends of its dial in SI."""
    dial = channel.spec.scale
    return (float(dial.lowest), float(dial.highest)) if dial is not None else None


def told_in(channel: Channel) -> tuple[str, str]:
    """Kind and unit of a difference on its dial."""
    dial = channel.spec.scale
    if dial is None:
        return "", ""
    kind = dial.highest.kind
    return ("temperature difference" if kind == "temperature" else kind), dial.highest.unit


def offsets_of(channel: Channel) -> list[float]:
    dial = dial_of(channel)
    if dial is None:
        return []
    span = dial[1] - dial[0]
    return [-s * span for s in reversed(_SHARES)] + [s * span for s in _SHARES]
