"""What a pointer does in a world with what its input comes to: its own faults, and how a doubt of what is true moves it."""

from __future__ import annotations

from collections.abc import Callable
from math import hypot, prod

from ..analysis.errors.in_state import FROZEN, Seen, on_dial
from ..analysis.errors.reading import Shown as Pointer
from ..analysis.errors.reading import curve_read
from ..analysis.sender_curves import output_carried, shown
from ..analysis.study import Study
from ..physics.scale import OffScaleError
from .changes import (
    Counts,
    Couple,
    Cut,
    Feels,
    Holds,
    Joins,
    Jumps,
    OtherCurve,
    OtherScale,
    Reached,
    Shows,
    World,
)
from .channels import Channel, stated_truth
from .expected import WORD_OF, Expect
from .feeling import sensed
from .looks import STOPPED, Setup
from .other_parts import curve_called, felt_instead, read_by_other, spread
from .states import point_of

_ELSEWHERE = 0.1
"""Share of a change at its probe, below which a thermocouple is taken to have its junction elsewhere: where its legs touch."""
_PLACE_K = 8.0
"""K by which such a place may differ from its zone: judgement of this tool."""
_OTHER_OHMS = 0.02
"""Share a moving coil may be off as the ohms of a probe that is another than drawn are its own: 0.4 ohm of some 20 in the circuit."""
_NOBODYS = "what nobody tells"
"""What an interrupted indication follows, if anything."""
_NEARLY = 0.06
"""Share of the dial what is true may well differ from what is taken for it: twice its doubt."""
Slope = Callable[[float, float], float]
"""How far a thermocouple's pointer moves by what its junction is warmer, from what it shows and the share of that it follows."""


def told(study: Study, at: Setup, channel: Channel, world: World, seen: Seen | None, slope: Slope) -> Expect:
    """What is expected of a pointer whose input alone would make it show ``seen``."""
    if seen is None:
        return Expect()
    held = any(isinstance(c, Holds) and c.source in (*channel.sources, channel.indicator) for c in world)
    if held and seen.state == "value":
        seen = FROZEN
    mine = (channel.show.name, str(channel.show))
    for change in world:
        if getattr(change, "indication", None) not in mine:
            continue
        if isinstance(change, Jumps):
            if point_of(study, at).name != STOPPED:
                return Expect(word="erratic")
            if change.by != "pressure" and seen.value is not None:
                return Expect(seen.value, word="erratic")
        elif isinstance(change, Counts) and seen.value is not None:
            seen = on_dial(channel.spec, Pointer(seen.value * change.times))
        elif isinstance(change, OtherScale):
            seen = read_by_other(study, channel, seen, change.like)
        elif isinstance(change, Shows):
            ended = _of_gauge(channel, seen, change)
            if isinstance(ended, Expect):
                return ended
            seen = ended
    if seen.value is None:
        near = _near_its_stop(study, at, channel, world) if seen.state in ("above", "below") else None
        return Expect(near, word=WORD_OF[seen.state])
    return _following(study, at, channel, world, Seen("value", seen.value, open=seen.open), slope)


def _of_gauge(channel: Channel, seen: Seen, change: Shows) -> Seen | Expect:
    """What a gauge that is dead, stuck or off makes of it."""
    if change.state == "dead":
        return Expect(word="dead")
    if change.state == "erratic":
        return Expect(word="erratic")
    if change.value is not None:
        return Expect(change.value, fixed=True)
    if seen.value is not None:
        return on_dial(channel.spec, Pointer(seen.value + change.offset))
    dial = channel.spec.scale
    if seen.state in ("above", "below") and dial is not None:
        # Driven to its stop, or only just beyond the end of its scale: how far, nothing tells.
        end = float(dial.highest if seen.state == "above" else dial.lowest)
        at_end = on_dial(channel.spec, Pointer(end + change.offset))
        if at_end.value is not None:
            return Expect(at_end.value, word=WORD_OF[seen.state])
    return seen


def _near_its_stop(study: Study, at: Setup, channel: Channel, world: World) -> float | None:
    """What a gauge at its stop would show if what is true were a little other, on a sender whose curve is far steeper than its own."""
    drawn = curve_read(study, channel.indication) if channel.indication is not None else None
    other = next((c for c in world if isinstance(c, OtherCurve) and c.sender == channel.source), None)
    dial, point = channel.spec.scale, point_of(study, at)
    stated = stated_truth(study, channel, point, at.known)
    if drawn is None or other is None or dial is None or stated is None:
        return None
    felt = sensed(study, at, point, channel.feels, stated, world)
    by = _NEARLY * (float(dial.highest) - float(dial.lowest))
    for value in (felt + by, felt - by):
        try:
            got = shown(drawn, output_carried(curve_called(other.part), value))
        except OffScaleError:
            continue
        if on_dial(channel.spec, Pointer(got)).value is not None:
            return got
    return None


def _interrupted(channel: Channel, world: World) -> bool:
    """Whether the wires of an indication are cut, joined or elsewhere: how far it still follows its sender, nothing tells."""
    own = {n for e in channel.edges for n in (e.a, e.b)}
    return channel.way == "network" and any(
        (isinstance(c, Cut) and {c.edge.a, c.edge.b} & own)
        or (isinstance(c, Joins) and {c.a, c.b} & own)
        or (isinstance(c, Reached) and any({n, there} & own for _, n, there in c.moves))
        for c in world
    )


def _following(study: Study, at: Setup, channel: Channel, world: World, seen: Seen, slope: Slope) -> Expect:
    """A value with how a doubt of its sender, and of what is true, comes out on the dial."""
    assert seen.value is not None
    point = point_of(study, at)
    stated = stated_truth(study, channel, point, at.known)
    if stated is None:
        return Expect(seen.value, fixed=seen.open)
    mine = (channel.feels, channel.source)
    share = prod(c.share for c in world if isinstance(c, Feels) and c.source in mine)
    if channel.way == "couple":
        wide = slope(seen.value, share)
    else:
        felt = sensed(study, at, point, channel.feels, stated, world)
        wide = spread(study, channel, world, felt, seen.value)
    instead = felt_instead(study, channel, world) or (_NOBODYS if _interrupted(channel, world) else "")
    unsure = 0.0
    if channel.way == "couple":
        unsure = _PLACE_K if wide < _ELSEWHERE else 0.0
        if channel.spec.inner_resistance and any(isinstance(c, Couple) for c in world):
            unsure = hypot(unsure, _OTHER_OHMS * seen.value)
    return Expect(seen.value, fixed=seen.open, spread=wide, follows=share, unsure=unsure, felt=instead)
