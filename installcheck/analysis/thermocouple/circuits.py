"""Each thermocouple circuit as the pieces of metal it is made of, from the hot junction to the indicator."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Literal, TypeAlias

from ...dataclass import dataclass
from ...document.source import DocPath
from ...graph import Edge, Indication
from ...graph.indications import Leg, Step, measure_of
from ...model.devices import InputSpec, Probe
from ...model.fields import Measure, ThermocoupleType
from ...model.installation import split_end
from ...model.wiring import Junction
from ...physics.thermocouples import J_CONSTANTAN, LEGS
from .. import missing
from ..missing import Missing
from ..study import Study, once

PRINCIPLES = frozenset(("moving-coil thermocouple", "electronic thermocouple"))
"""Inputs made for a thermocouple."""
_COPPERS = frozenset(
    (
        "copper",
        "tin-plated copper",
        "silver-plated copper",
        "nickel-plated copper",
        "high-strength copper alloy",
    )
)

ONE_PLACE = frozenset(("splice", "stud", "terminal block", "spool", "resistor", "averaging block"))
"""Joints whose wires of one leg meet at one temperature."""

Sort: TypeAlias = Literal["probe", "lead", "joint", "ground"]


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of metal in a side of the circuit.

    Attributes:
        sort: the probe's own lead, a conductor of a run, the inside of a joint, or a path through ground.
        ident: the probe, run or junction it belongs to.
        path: where the document tells of it.
        metal: its metal in the words of ``physics.thermocouples``; ``None`` if the document does not say.
        right: the metal that belongs there.
        hot, meter: its node towards the junction (empty for the junction itself) and towards the indicator.
        spread: K between the two ends of a joint, where the document gives it.
        edge: the edge it was made from; ``None`` for a stud and for the probe.
    """

    sort: Sort
    ident: str
    path: DocPath
    metal: str | None
    right: str
    hot: str
    meter: str
    spread: float = 0.0
    edge: Edge | None = None


Side: TypeAlias = tuple[Piece, ...]


@dataclass(frozen=True, slots=True)
class Loop:
    """One thermocouple circuit: an indication with its probe and both sides, junction first.

    Attributes:
        indication: the indication it belongs to.
        probe_id, probe: the probe.
        kind: couple of the probe.
        positive, negative: the sides that lead to the positive and the negative terminal of the input.
        measure: what it is of.
    """

    indication: Indication
    probe_id: str
    probe: Probe
    kind: ThermocoupleType
    positive: Side
    negative: Side
    measure: Measure | None

    @property
    def spec(self) -> InputSpec:
        """The input."""
        return self.indication.spec

    @property
    def name(self) -> str:
        """``head gauge``, or ``exhaust gauge at 3`` behind a selector."""
        at = self.indication.position
        return f"{self.indication.name} at {at}" if at else self.indication.name

    @property
    def ident(self) -> str:
        """Id of the probe, which the circuit is that of."""
        return self.probe_id

    @property
    def path(self) -> DocPath:
        """Where the document tells of the input."""
        return self.indication.path

    @property
    def pieces(self) -> Side:
        """Both sides."""
        return self.positive + self.negative

    @property
    def terminals(self) -> tuple[str, str]:
        """Nodes of the indicator's positive and negative terminal."""
        return self.positive[-1].meter, self.negative[-1].meter

    def with_right_metal(self, *sorts: Sort) -> Loop:
        """The circuit as it would be with the right metal in all pieces of these sorts; itself where it is so."""
        if not any(
            p.sort in sorts and (p.metal != p.right or p.spread) for p in (*self.positive, *self.negative)
        ):
            return self

        def mended(side: Side) -> Side:
            return tuple(replace(p, metal=p.right, spread=0.0) if p.sort in sorts else p for p in side)

        return replace(self, positive=mended(self.positive), negative=mended(self.negative))


@dataclass(frozen=True, slots=True)
class Broken:
    """A thermocouple indication whose circuit cannot be walked.

    Attributes:
        indication: the indication.
        probe_id: the probe.
        missing: data to add; empty if the document shows an open circuit.
        open_terminals: terminals of the input that have a wire but do not lead to the probe.
    """

    indication: Indication
    probe_id: str
    missing: tuple[Missing, ...]
    open_terminals: tuple[str, ...] = ()

    @property
    def ident(self) -> str:
        """Id of the probe."""
        return self.probe_id

    @property
    def path(self) -> DocPath:
        """Where the document tells of the input."""
        return self.indication.path


def loops(study: Study) -> tuple[Loop, ...]:
    """Every thermocouple circuit that can be walked, once for the case."""
    return _found(study)[0]


@once
def loops_of(study: Study) -> dict[str, tuple[Loop, ...]]:
    """The circuits of each probe."""
    found: dict[str, list[Loop]] = {}
    for loop in loops(study):
        found.setdefault(loop.indication.source, []).append(loop)
    return {probe: tuple(own) for probe, own in found.items()}


@once
def loop_numbered(study: Study, number: int) -> Loop:
    """One of :func:`loops` by its number: what reads it this way is not touched by a change of the others."""
    return loops(study)[number]


def broken(study: Study) -> tuple[Broken, ...]:
    """Every thermocouple indication whose circuit cannot."""
    return _found(study)[1]


@once
def _found(study: Study) -> tuple[tuple[Loop, ...], tuple[Broken, ...]]:
    made: list[Loop] = []
    stopped: list[Broken] = []
    for indication in study.indications:
        if indication.section == "probes" and indication.spec.principle in (PRINCIPLES | {None}):
            one = _loop(study, indication)
            if isinstance(one, Loop):
                made.append(one)
            else:
                stopped.append(one)
    return tuple(made), tuple(stopped)


def _loop(study: Study, indication: Indication) -> Loop | Broken:
    probe = study.model.probes[indication.source]
    kind = probe.spec.thermocouple
    if kind is None:
        return Broken(indication, indication.source, (missing.PROBE_COUPLE,))
    names = list(indication.spec.terminals or ())[:2]
    legs = [next((leg for leg in indication.legs if leg.terminal == t), None) for t in names]
    if len(legs) < 2 or legs[0] is None or legs[1] is None:
        wired = tuple(
            t
            for t, leg in zip(names, legs, strict=True)
            if leg is None and any(True for _ in _conductors(study, f"{indication.indicator}.{t}"))
        )
        return Broken(indication, indication.source, () if wired else (missing.LEAD_BOTH_LEGS,), wired)
    if legs[0].reaches == legs[1].reaches:
        return Broken(indication, indication.source, (), tuple(names))
    compensated = _compensated_at(indication.spec)
    sides = [
        tuple(_side(study, probe, indication.source, kind, leg, sign, compensated))
        for sign, leg in enumerate((legs[0], legs[1]))
    ]
    measure = measure_of(study.graph, indication)
    return Loop(indication, indication.source, probe, kind, sides[0], sides[1], measure)


def _compensated_at(spec: InputSpec) -> str | None:
    return spec.compensated_at if spec.compensation == "elsewhere" else None


def _conductors(study: Study, node: str) -> Iterator[Edge]:
    return (e for e in study.graph.at(node) if e.kind == "conductor")


def _side(
    study: Study,
    probe: Probe,
    ident: str,
    kind: ThermocoupleType,
    leg: Leg,
    sign: int,
    compensated: str | None,
) -> Iterator[Piece]:
    """Pieces of the leg that ends at the terminal of this sign (0 positive, 1 negative), junction first."""
    ends = (probe.spec.terminals or ["+", "-"])[:2]
    own = 0 if split_end(leg.reaches)[1] == ends[0] else 1
    right = LEGS[kind][sign]
    yield Piece("probe", ident, ("probes", ident), LEGS[kind][own], right, "", leg.reaches)
    steps = tuple(reversed(leg.steps))
    for i, step in enumerate(steps):
        before = steps[i - 1] if i else None
        junction = _junction(study, step.far)
        # A stud, screw or single pin between two wires; the inside of other joints is an edge of its own.
        if before is not None and before.edge.kind == step.edge.kind == "conductor" and junction is not None:
            yield _stud(study, junction, step.far, kind, right)
        if _is_at(step.far, compensated):
            right = "copper"
        yield _piece(study, step, kind, right, sign)


def _is_at(node: str, place: str | None) -> bool:
    return place is not None and split_end(node)[0] == split_end(place)[0]


def _junction(study: Study, node: str) -> tuple[str, Junction] | None:
    ident = split_end(node)[0]
    found = study.model.junctions.get(ident)
    return (ident, found) if found is not None else None


def _stud(study: Study, at: tuple[str, Junction], node: str, kind: ThermocoupleType, right: str) -> Piece:
    ident, junction = at
    metal = alloy(pin_metal(study, junction, node), kind)
    return Piece("joint", ident, ("junctions", ident), metal, right, node, node, _spread(junction))


def _spread(junction: Junction) -> float:
    if junction.isothermal or junction.pin_temperature_difference is None:
        return 0.0
    return float(junction.pin_temperature_difference)


def _piece(study: Study, step: Step, kind: ThermocoupleType, right: str, sign: int) -> Piece:
    edge = step.edge
    if edge.kind == "conductor":
        right = _compensating(edge, kind, sign) or right
        return Piece(
            "lead", edge.ident, edge.path, lead_metal(edge, kind), right, step.far, step.near, 0.0, edge
        )
    if edge.kind == "bond" or edge.section != "junctions":
        return Piece("ground", edge.ident, edge.path, None, right, step.far, step.near, 0.0, edge)
    junction = study.model.junctions[edge.ident]
    metal = alloy(pin_metal(study, junction, step.far) or pin_metal(study, junction, step.near), kind)
    # A spool of the leg's own alloy or any other: what counts is that both its ends sit in one place.
    return Piece("joint", edge.ident, edge.path, metal, right, step.far, step.near, _spread(junction), edge)


def _compensating(edge: Edge, kind: ThermocoupleType, sign: int) -> str | None:
    """Metal that belongs in a compensating lead made for this couple: its own, by the name of the leg."""
    spec = edge.run.spec if edge.run is not None else None
    if spec is None or spec.grade != "compensating" or spec.thermocouple != kind:
        return None
    leg = (spec.legs or {}).get("+-"[sign])
    return alloy(leg.metal, kind) if leg is not None else None


def pin_metal(study: Study, junction: Junction, node: str) -> str | None:
    """Metal of the pin or screw a node is, else of the whole joint; what is written of the joint goes before its part's pins."""
    ident, name = split_end(node)
    pin = (junction.spec.pins or {}).get(name)
    written = study.document.holds(("junctions", ident, "metal"))
    if written and not study.document.holds(("junctions", ident, "pins", name, "metal")):
        return junction.spec.metal
    return pin.metal if pin is not None and pin.metal is not None else junction.spec.metal


def alloy(metal: str | None, kind: str | None) -> str | None:
    """A metal of the document in the words of the physics: every copper alike; constantan by its couple."""
    if metal in _COPPERS:
        return "copper"
    return J_CONSTANTAN if metal == "constantan" and kind == "J" else metal


def lead_metal(edge: Edge, kind: str | None) -> str | None:
    """Metal of a conductor: as stated, else by the couple of its lead and the name of the leg."""
    spec = edge.run.spec if edge.run is not None else None
    couple = spec.thermocouple if spec is not None and spec.thermocouple is not None else kind
    if edge.metal is not None:
        return alloy(edge.metal, couple)
    if spec is not None and spec.thermocouple is not None and edge.name in ("+", "-"):
        return LEGS[spec.thermocouple]["+-".index(edge.name)]
    return None
