"""Shares of a dial that are tried."""

from __future__ import annotations

from ..model.quantities import Quantity, parse
from .channels import Channel

_SHARES = (0.03, 0.05, 0.075, 0.1, 0.13, 0.17, 0.22, 0.28, 0.35, 0.45, 0.57, 0.7)
"""Shares of the dial a thing may be off by, either way, before the one that explains is sought between them."""


STUCK = (0.0, 0.1, 0.25, 0.4, 0.5, 0.6, 0.75, 0.9, 1.0)


_USUAL: dict[str, str] = {
    "manifold pressure": "40 inHg",
    "vacuum": "10 inHg",
    "oil pressure": "100 psi",
    "fuel pressure": "60 psi",
    "hydraulic pressure": "3000 psi",
    "engine speed": "4000 rpm",
    "fuel flow": "40 gal/h",
}
"""Ends of usual dials, from nought, taken for those of gauges that tell none."""
_WARMEST = "600 degF"
"""The same of temperatures."""


def _usual(channel: Channel) -> Quantity | None:
    measure = channel.measure or ""
    if "temperature" in measure or channel.way == "couple":
        return parse(_WARMEST, "temperature")
    told = _USUAL.get(measure)
    return parse(told, "pressure", "speed", "flow") if told is not None else None


def dial_of(channel: Channel) -> tuple[float, float] | None:
    """Both ends of its dial in SI; of the curve it is read by, or of a usual one, where no dial is told."""
    dial, curve = channel.spec.scale, channel.spec.curve
    if dial is not None:
        return float(dial.lowest), float(dial.highest)
    if curve is not None and curve.points is not None:
        values = [float(value) for value, _ in curve.points]
        return min(values), max(values)
    usual = _usual(channel)
    return (0.0, float(usual)) if usual is not None else None


def value_in(channel: Channel) -> tuple[str, str]:
    """Kind and unit of a value on its dial."""
    dial, curve = channel.spec.scale, channel.spec.curve
    if dial is not None:
        return dial.highest.kind, dial.highest.unit
    if curve is not None and curve.points is not None:
        value = curve.points[0][0]
        return value.kind, value.unit
    usual = _usual(channel)
    return (usual.kind, usual.unit) if usual is not None else ("", "")


def told_in(channel: Channel) -> tuple[str, str]:
    """Kind and unit of a difference on its dial."""
    kind, unit = value_in(channel)
    return ("temperature difference" if kind == "temperature" else kind), unit


def offsets_of(channel: Channel) -> list[float]:
    dial = dial_of(channel)
    if dial is None:
        return []
    span = dial[1] - dial[0]
    return [-s * span for s in reversed(_SHARES)] + [s * span for s in _SHARES]
