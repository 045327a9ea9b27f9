"""Tests that only look: at other gauges, at the same in other states, with a load switched."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..analysis.circuit.solved import circuit
from ..analysis.study import Study
from .channels import Channel, channels
from .looks import STOPPED, Observation, Setup, Shaken, Show
from .offered import FARTHER, Test, made, place_of
from .states import point_of, usual

_MOST_ALIKE, _MOST_APART = 5, 3
"""Other indications offered to be looked at: of those that share most with this one, and of those that share least."""


_MOST_RUNS, _MOST_LOADS = 2, 2
"""Other operating points, and loads to switch, that are offered."""
_VOLTS = 12.0
"""V, by which loads told in watt and in ampere are set in order."""


def looks(study: Study, channel: Channel, seen: Sequence[Observation]) -> Iterator[Test]:
    """Other indications in the states in which something was seen, those that share most with this one first."""
    states = dict.fromkeys(Setup(o.at.point, o.at.loads) for o in seen if isinstance(o.look, Show))
    mine = _shares(channel)
    others = sorted(
        (c for c in channels(study) if c is not channel and c.reader is not None),
        key=lambda c: (c.indicator != channel.indicator, -len(mine & _shares(c))),
    )
    apart = [c for c in others[_MOST_ALIKE:] if c.indicator != channel.indicator]
    for at in states:
        for other in (*others[:_MOST_ALIKE], *apart[-_MOST_APART:]):
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
    others_flown = [
        p for p in study.points if p.name not in seen_at and p.given is not None and p.given.phase != "start"
    ]
    for point in others_flown[:_MOST_RUNS]:
        yield made(
            study,
            Setup(point.name),
            channel.show,
            f"look at {channel.show} at '{point.name}'",
            "another run",
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
    for state in [*states][:1]:
        named = state.point or usual(study).name
        for load in _largest_loads(study) if not state.loads else ():
            on = load in circuit(study, point_of(study, state)).loads_on
            yield made(
                study,
                Setup(state.point, ((load, not on),)),
                channel.show,
                f"switch {load} {'off' if on else 'on'} and look at {channel.show} at '{named}'",
                "switch a load",
                channel,
                channel.indicator,
            )


def _shares(channel: Channel) -> set[object]:
    """What an indication may have in common with another: wires, joints, the gauge, a harness."""
    bundles = {e.run.bundle for e in channel.edges if e.run is not None and isinstance(e.run.bundle, str)}
    return {*channel.edges, channel.indicator, *(f"harness {b}" for b in bundles)}


def _largest_loads(study: Study) -> list[str]:
    """The loads that are on for long and take most: what they do to a ground shows best."""
    loads = {i: one for i, one in study.model.loads.items() if one.duty != "intermittent"}
    amps = {
        i: float(one.spec.current) if one.spec.current is not None else float(one.spec.power or 0.0) / _VOLTS
        for i, one in loads.items()
    }
    return sorted((i for i, a in amps.items() if a > 0), key=lambda i: -amps[i])[:_MOST_LOADS]


def shaking(study: Study, channel: Channel) -> Iterator[Test]:
    """The leads moved by hand, where the pointer was seen to jump."""
    nodes = [e.a for e in channel.edges]
    if nodes:
        yield made(
            study,
            Setup(STOPPED),
            Shaken(channel.show.name),
            f"master on, engine stopped: move each lead, plug and terminal of {channel.show} by hand, one at a time: which makes it jump?",
            max((place_of(study, n) for n in nodes), key=FARTHER.index),
            channel,
            *nodes,
        )
