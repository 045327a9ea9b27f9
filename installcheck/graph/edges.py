"""Edges of the graph: what joins two terminals or ports, and the figures the document gives for it."""

from __future__ import annotations

from typing import Final, Literal, TypeAlias, get_args

from ..dataclass import dataclass
from ..document.source import DocPath
from ..model.fields import Metal
from ..model.fluid import FluidLine
from ..model.quantities import Quantity
from ..model.wiring import Conductor, LegSpec, WireRun

EdgeKind: TypeAlias = Literal[
    "conductor",
    "shield",
    "joint",
    "contact",
    "element",
    "couple",
    "coil",
    "winding",
    "supply",
    "load",
    "bond",
    "spool",
    "fluid line",
    "passage",
]
"""conductor: a wire or leg of a run. joint: metal to metal in a junction. contact: a switch, protector or selector.
element, couple, coil, winding, supply, load: the inside of a device. bond: ground joints and straps. spool: a resistor
in line. fluid line and passage: where fluid can go."""

FLUID: Final[tuple[EdgeKind, ...]] = ("fluid line", "passage")
ELECTRICAL: Final[tuple[EdgeKind, ...]] = tuple(kind for kind in get_args(EdgeKind) if kind not in FLUID)
CARRIES_SIGNAL: Final[tuple[EdgeKind, ...]] = ("conductor", "joint", "contact", "bond", "spool")
"""Kinds a signal passes on its way from sender to indicator."""


@dataclass(frozen=True, slots=True, eq=False)
class Edge:
    """One edge, the same only as itself: a key of a dictionary.

    Attributes:
        kind: what it is.
        section, ident: the thing it belongs to.
        name: conductor, leg, winding or input within that thing.
        a, b: its two nodes; for a supply ``a`` is positive, for a check valve flow goes from ``a`` to ``b``.
        path: where the document tells of it.
        resistance: ohm, for what has no length; ``None`` if the document does not say.
        closed: whether current or fluid can pass.
        run, conductor: the wire run and the conductor within it, for a conductor or shield.
        line: the fluid line.
    """

    kind: EdgeKind
    section: str
    ident: str
    name: str
    a: str
    b: str
    path: DocPath
    resistance: float | None = None
    closed: bool = True
    run: WireRun | None = None
    conductor: Conductor | None = None
    line: FluidLine | None = None

    def other(self, node: str) -> str:
        """The end that is not ``node``."""
        return self.b if node == self.a else self.a

    @property
    def leg(self) -> LegSpec | None:
        """The leg of the run's part this conductor is."""
        return (self.run.spec.legs or {}).get(self.name) if self.run is not None else None

    @property
    def metal(self) -> Metal | None:
        """Metal of a conductor: its own, else its leg's, else its part's."""
        if self.run is None:
            return None
        if self.conductor is not None and self.conductor.metal is not None:
            return self.conductor.metal
        leg = self.leg
        return leg.metal if leg is not None and leg.metal is not None else self.run.spec.metal

    @property
    def colour(self) -> str | None:
        """Insulation colour of a conductor as the document gives it."""
        if self.conductor is not None and self.conductor.colour is not None:
            return self.conductor.colour
        leg = self.leg
        return (
            leg.colour
            if leg is not None and leg.colour is not None
            else self.run.colour
            if self.run is not None
            else None
        )

    @property
    def label(self) -> str:
        """``W12`` for a single wire, ``W12 +`` for a leg."""
        return f"{self.ident} {self.name}".strip()


def zone_lengths(run: WireRun | FluidLine) -> tuple[tuple[str, float], ...] | None:
    """Length in metres in each zone of a route, in order; ``None`` if any part of it is not given."""
    found: list[tuple[str, float]] = []
    for step in run.route or ():
        if step.zone is not None:
            if step.length is None:
                return None
            found.append((step.zone, float(step.length)))
    return tuple(found) or None


def spare_length(slack: Quantity, length: float | None) -> float | None:
    """Slack in metres; of a share of the distance spanned ``None`` where the whole length [m] is not given."""
    if slack.kind != "ratio":
        return float(slack)
    return None if length is None else length * float(slack) / (1 + float(slack))


def total_length(run: WireRun | FluidLine) -> float | None:
    """Whole length in metres: the sum of the route, else the length given; ``None`` if neither is."""
    split = zone_lengths(run)
    if split is not None:
        return sum(length for _, length in split)
    return float(run.length) if run.length is not None else None
