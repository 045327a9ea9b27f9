"""Which wires of a plug, each one cavity off, would make just the channels that misbehave misbehave."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from itertools import pairwise

from ...dataclass import dataclass
from ...graph import Indication
from ...model.installation import terminals_of
from ..study import Study

_FEWEST_GOOD = 1
_MOST = 4


@dataclass(frozen=True, slots=True)
class Shift:
    """Wires meant for ``first`` to ``last`` sit one cavity on; ``empty`` takes the last of them."""

    plug: str
    first: str
    last: str
    empty: str
    count: int

    def __str__(self) -> str:
        if self.count == 1:
            return f"the wire of {self.plug} cavity {self.first} is in cavity {self.empty}"
        return f"the wires of {self.plug} cavities {self.first} to {self.last} are each one off towards {self.empty}"


def shifts(study: Study, good: Collection[str], bad: Collection[str]) -> list[Shift]:
    """Every single shift that explains the bad channels and spares the good ones, the shortest first.

    ``good`` and ``bad`` are names of indications. Cost: per plug, its cavities times the length of a shift.
    """
    if not bad or len(good) < _FEWEST_GOOD:
        return []
    found = [s for plug in study.model.junctions for s in _of_plug(study, plug, set(good), set(bad))]
    return sorted(found, key=lambda s: s.count)[:_MOST]


def _of_plug(study: Study, plug: str, good: set[str], bad: set[str]) -> Iterator[Shift]:
    junction = study.model.junctions[plug]
    if junction.spec.kind != "plug":
        return
    cavities = list(terminals_of("junctions", junction) or ())
    wired = {pin for pin in cavities if any(e.kind == "conductor" for e in study.graph.at(f"{plug}.{pin}"))}
    channels = {name: pins for name, pins in _channels(study, plug).items() if name in good | bad}
    if not bad <= set(channels):
        return
    for order in (cavities, cavities[::-1]):
        at = {pin: n for n, pin in enumerate(order)}
        for pin, beyond in pairwise(order):
            if pin not in wired or beyond in wired:
                continue
            first = at[pin]
            while first >= 0 and order[first] in wired:
                moved = set(order[first : at[pin] + 1])
                if {n for n, pins in channels.items() if pins & moved} == bad:
                    yield Shift(plug, order[first], pin, beyond, len(moved))
                first -= 1


def _channels(study: Study, plug: str) -> dict[str, set[str]]:
    """Cavities of a plug that each indication passes."""
    found: dict[str, set[str]] = {}
    for one in study.indications:
        pins = _pins(one, plug)
        if pins:
            found.setdefault(one.name, set()).update(pins)
    return found


def _pins(one: Indication, plug: str) -> set[str]:
    nodes = {n for leg in one.legs for s in leg.steps for n in (s.near, s.far)}
    return {n.partition(".")[2] for n in nodes if n.partition(".")[0] == plug}
