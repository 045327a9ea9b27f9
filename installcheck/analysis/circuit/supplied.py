"""Which indicators have a supply at an operating point, and whether an engine runs then."""

from __future__ import annotations

from typing import Final

from ...graph import Edge
from ...model.fields import Measure
from ..study import Point, Study, once
from .drop_paths import consumers
from .excited import unexcited
from .solved import Circuit, circuit

_FLIGHT = frozenset(("take-off", "climb", "cruise", "descent", "landing"))
_OF_RUNNING: Final[tuple[Measure, ...]] = ("engine speed", "oil pressure")
_LIVE = 0.5
"""V at its supply terminals below which an indicator is switched off."""


def across(net: Circuit, edge: Edge) -> float | None:
    """Volts from the first node of an edge to its second; ``None`` where one has no potential."""
    plus, minus = net.voltage(edge.a), net.voltage(edge.b)
    return None if plus is None or minus is None else plus - minus


def has_source(net: Circuit) -> bool:
    """Whether a battery, alternator or generator is part of the network."""
    return any(edge.kind == "supply" for edge in net.branch_of)


def engine_runs(point: Point) -> bool | None:
    """Whether an engine runs at a point; ``None`` where nothing tells.

    On the ground it does where the point tells a speed or an oil pressure. At a start or in an emergency what fails is looked
    at on purpose: no.
    """
    given = point.given
    if given is None or given.phase in ("start", "emergency"):
        return False
    turns = any((reading := point.reading(m)) is not None and reading > 0 for m in _OF_RUNNING)
    if turns or given.phase in _FLIGHT:
        return True
    return False if given.phase == "ground" else None


@once
def unsupplied(study: Study) -> frozenset[tuple[str, str]]:
    """Indicators whose supply is drawn, each with the name of a point at which nothing feeds it."""
    found = set(unexcited(study))
    drawn = [one for one in consumers(study) if one.section == "indicators" and one.bus is not None]
    for point in study.points if drawn else ():
        net = circuit(study, point)
        if not has_source(net):
            continue
        for one in drawn:
            volts = across(net, one.edge)
            if volts is None or abs(volts) < _LIVE:
                found.add((one.ident, point.name))
    return frozenset(found)


def live_points(study: Study, ident: str) -> list[Point]:
    """The points at which an indicator does not lack its supply."""
    return [point for point in study.points if (ident, point.name) not in unsupplied(study)]
