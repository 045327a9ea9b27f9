"""Tests that only look: at other gauges, at the same in other states, with a load switched."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..analysis.circuit.solved import circuit
from ..analysis.study import Study
from .channels import Channel, channels
from .looks import STOPPED, Observation, Setup, Show
from .offered import Test, made
from .states import point_of, usual

_MOST_LOOKS = 6
"""Other indications offered to be looked at."""


def looks(study: Study, channel: Channel, seen: Sequence[Observation]) -> Iterator[Test]:
    """Other indications in the states in which something was seen, those that share most with this one first."""
    states = dict.fromkeys(Setup(o.at.point, o.at.loads) for o in seen if isinstance(o.look, Show))
    mine = set(channel.edges) | {channel.indicator}
    others = sorted(
        (c for c in channels(study) if c is not channel),
        key=lambda c: (c.indicator != channel.indicator, -len(mine & {*c.edges, c.indicator})),
    )
    for at in states:
        for other in others[:_MOST_LOOKS]:
            named = at.point or usual(study).name
            turn = f", its selector at {other.show.position}" if other.show.position else ""
            yield made(
                study,
                at,
                other.show,
                f"look at {other.show.name}{turn} at '{named}'",
                "look",
                other,
                other.indicator,
            )
    seen_at = {at.point or usual(study).name for at in states}
    for point in study.points:
        if point.name not in seen_at and point.given is not None and point.given.phase != "start":
            yield made(
                study,
                Setup(point.name),
                channel.show,
                f"look at {channel.show} at '{point.name}'",
                "look",
                channel,
                channel.indicator,
            )
    at = Setup(STOPPED)
    yield made(
        study,
        at,
        channel.show,
        f"look at {channel.show} with the engine stopped and cold, master on",
        "engine stopped",
        channel,
        channel.indicator,
    )
    for load, one in study.model.loads.items():
        state = next(iter(states), Setup())
        if (one.spec.current or one.spec.power) and not state.loads and one.duty != "intermittent":
            on = load in circuit(study, point_of(study, state)).loads_on
            yield made(
                study,
                Setup(state.point, ((load, not on),)),
                channel.show,
                f"switch {load} {'off' if on else 'on'} and look at {channel.show}",
                "switch a load",
                channel,
                channel.indicator,
            )
