"""What looks show that need no solver: a test instrument, a line that is blown into, a joint that is shaken, marks that are read."""

from __future__ import annotations

from ..analysis.study import Study
from .changes import Cut, Drifts, Feels, FeelsOther, Holds, Jumps, Reached, Truly, When, World
from .channels import channel_of, channels, stated_truth
from .expected import Expect
from .feeling import sensed
from .following import insulated
from .looks import Compared, Holding, Insulated, Look, Marked, Setup, Shaken, Show, TrueValue
from .marking import compared, marked
from .other_parts import felt_instead, other_span
from .states import point_of


def told(study: Study, at: Setup, look: Look, world: World) -> Expect:
    """What any of these looks shows in a world."""
    if isinstance(look, TrueValue):
        return true_value(study, at, look, world)
    if isinstance(look, Shaken):
        return shaken(world)
    if isinstance(look, Marked):
        return marked(look, world)
    if isinstance(look, Compared):
        return compared(study, look, world)
    if isinstance(look, Insulated):
        return insulated(study, world)
    assert isinstance(look, Holding)
    return holding(study, look, world)


def true_value(study: Study, at: Setup, look: TrueValue, world: World) -> Expect:
    """What a test instrument shows: at a tap or beside a probe what is true, at a port what arrives there."""
    point = point_of(study, at)
    channel = next((c for c in channels(study) if look.source in (*c.sources, c.indicator)), None)
    stated = stated_truth(study, channel, point) if channel is not None else None
    if stated is None or channel is None:
        return Expect()
    if look.at_port:
        if any(
            isinstance(c, Jumps) and c.indication == channel.show.name and c.by == "pressure" for c in world
        ):
            return Expect(word="erratic")
        if any(isinstance(c, Holds) and c.source == channel.feels for c in world):
            return Expect()
        world = tuple(c for c in world if not isinstance(c, (Drifts, Reached)))
    else:
        world = tuple(c for c in world if isinstance(c, Truly))
    value = sensed(study, at, point, channel.feels, stated, world)
    return Expect(value, spread=other_span(study, channel, world), felt=felt_instead(study, channel, world))


def holding(study: Study, look: Holding, world: World) -> Expect:
    """Whether a line and its gauge hold what is put on at the tap's end."""
    channel = channel_of(study, Show(look.name))
    mine = {channel.feels, *channel.sources} if channel is not None else set()
    for change in world:
        if isinstance(change, (Holds, FeelsOther)) and change.source in mine:
            return Expect(word="still")
        if isinstance(change, Feels) and change.source in mine and change.share < 1:
            return Expect(word="falls")
    return Expect(word="holds")


def shaken(world: World) -> Expect:
    """Whether a pointer jumps as its leads and joints are moved by hand."""
    if any(isinstance(c, When) and isinstance(c.change, Cut) for c in world):
        return Expect()
    loose = next((c for c in world if isinstance(c, Jumps) and c.by == "joint"), None)
    return Expect(word="still") if loose is None else Expect(word="erratic", places=loose.places)
