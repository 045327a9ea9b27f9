"""Senders of the part library that could have been fitted in the place of another."""

from __future__ import annotations

from functools import cache

from pydantic import ValidationError

from ..analysis.errors.in_state import ABOVE, BELOW, Seen, on_dial
from ..analysis.errors.reading import Shown, curve_read
from ..analysis.sender_curves import kind_of, output, output_carried, output_kind, shown
from ..analysis.study import Study
from ..document.parts import standard_library
from ..model.devices import Curve, SenderSpec
from ..physics.scale import OffScaleError
from .changes import FeelsOther, OtherCurve, OtherScale, Reached, World
from .channels import Channel, channels


@cache
def _sender_parts() -> tuple[tuple[str, SenderSpec], ...]:
    """Senders of the part library that have a curve, with their size where they come in several."""
    found = []
    for key, part in standard_library().parts.items():
        if part.section != "senders":
            continue
        for size in part.sizes or (None,):
            try:
                spec = SenderSpec.model_validate(part.figures(size))
            except (ValidationError, KeyError):
                continue
            if spec.curve is not None:
                found.append((f"{key} {size}" if size is not None else key, spec))
    return tuple(found)


def wrong_curves(spec: SenderSpec) -> list[str]:
    """Senders of the part library with another curve, of the same quantity and the same kind of output."""
    if spec.curve is None:
        return []
    kinds = (kind_of(spec.curve), output_kind(spec.curve))
    found: dict[str, Curve] = {}
    for name, other in _sender_parts():
        curve = other.curve
        assert curve is not None
        same = (kind_of(curve), output_kind(curve)) == kinds and curve != spec.curve
        alike = other.measures is None or spec.measures is None or other.measures == spec.measures
        if same and alike and curve not in found.values():
            found[name] = curve
    return list(found)


def curve_called(name: str) -> Curve:
    """The curve of a sender of the part library by the name :func:`wrong_curves` gives it.

    Raises:
        KeyError: there is none.
    """
    curve = dict(_sender_parts())[name].curve
    assert curve is not None
    return curve


def read_by_other(study: Study, channel: Channel, seen: Seen, part: str) -> Seen:
    """What a gauge made for the sender of a part shows, where the one drawn shows ``seen``."""
    curve = curve_read(study, channel.indication) if channel.indication is not None else None
    if curve is None or seen.value is None or seen.open or channel.way != "network":
        return seen
    other = curve_called(part)
    try:
        value = shown(other, output(curve, seen.value))
    except OffScaleError as off:
        return ABOVE if off.side == "above" else BELOW
    except ValueError:
        return seen
    return on_dial(channel.spec, Shown(value))


_STEP = 0.005
"""Share of the dial over which the slope of a curve is taken."""
_MOST = 20.0
"""Times as wide as a doubt comes out at most: beyond it a curve is flat, and tells nothing."""


def spread(study: Study, channel: Channel, world: World, felt: float, seen: float) -> float:
    """How many times as wide a doubt of what is true comes out on the dial: the slope of the sender by that of the gauge.

    Nothing of it comes out where the sender stands at the end of its curve.
    """
    wide = other_span(study, channel, world)
    dial = channel.spec.scale
    drawn = curve_read(study, channel.indication) if channel.indication is not None else None
    if dial is None or drawn is None or channel.way != "network":
        return wide
    sender = study.model.senders[channel.source].spec.curve or drawn
    for change in world:
        if isinstance(change, OtherCurve) and change.sender == channel.source:
            sender = curve_called(change.part)
        elif isinstance(change, OtherScale) and change.indication == channel.show.name:
            drawn = curve_called(change.like)
    step = _STEP * (float(dial.highest) - float(dial.lowest))
    at, by = (_slope(curve, value, step) for curve, value in ((sender, felt), (drawn, seen)))
    if at == 0:
        return 0.0
    return wide * (min(max(at / by, 1.0), _MOST) if by > 0 else _MOST)


def _slope(curve: Curve, value: float, step: float) -> float:
    return abs(output_carried(curve, value + step) - output_carried(curve, value - step))


def felt_instead(study: Study, channel: Channel, world: World) -> str:
    """What is felt in the place of its own, through exchanged hoses, places or leads; empty where it is its own."""
    mine = (channel.feels, *channel.sources)
    end = channel.first_wire[1] if channel.first_wire is not None else ""
    for change in world:
        if isinstance(change, FeelsOther) and change.source in mine:
            return change.other
        for edge, _, there in change.moves if isinstance(change, Reached) and end else ():
            if there == end:
                come = (c for c in channels(study) if c.first_wire is not None and c.first_wire[0] is edge)
                return next((c.feels for c in come if c is not channel), "")
    return ""


def other_span(study: Study, channel: Channel, world: World) -> float:
    """Times by which what is true of another is known worse than what should be felt: its dial by one's own."""
    there = felt_instead(study, channel, world)
    other = next((c for c in channels(study) if there and c.feels == there), None)
    spans = [
        float(c.spec.scale.highest) - float(c.spec.scale.lowest)
        for c in (channel, other)
        if c is not None and c.spec.scale is not None
    ]
    return spans[1] / spans[0] if len(spans) > 1 else 1.0
