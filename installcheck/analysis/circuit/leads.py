"""Resistance of conductors at the temperatures of the zones they run through."""

from __future__ import annotations

from collections.abc import Iterable

from ...dataclass import dataclass
from ...graph import Edge, total_length, zone_lengths
from ...physics.thermocouple_wire import at_temperature, leg_wire, loop_tcr
from ...physics.thermocouples import LEGS, UnknownLegError
from .. import missing
from ..missing import Missing
from ..study import Point, Study, once

COPPER_TCR = 1 / 254.5
"""1/degC at 20 degC: the resistance form of L2 = 254.5 L1 / (234.5 + T2) (AC 43.13-1B 11-66, p 11-22)."""
_COPPER = frozenset(
    (
        "copper",
        "tin-plated copper",
        "silver-plated copper",
        "nickel-plated copper",
        "high-strength copper alloy",
    )
)
_ALUMINIUM_TCR = 1 / 258.1
"""1/degC at 20 degC: 258.1 / (238.1 + T2) for aluminium (AC 43.13-1B 11-66, p 11-22)."""
_LEGS = frozenset(metal for legs in LEGS.values() for metal in legs)

LENGTH = missing.RUN_LENGTH
SPLIT = missing.RUN_ROUTE
ZONE_TEMPERATURE = missing.ZONE_TEMPERATURE


@dataclass(frozen=True, slots=True)
class Ohms:
    """A resistance, or what is missing to know it.

    Attributes:
        cold: ohm at 20 degC; ``None`` if it cannot be known.
        hot: ohm at the temperatures of the zones; ``None`` if those or the split of the length are not known.
        missing: the data to add.
    """

    cold: float | None
    hot: float | None
    missing: tuple[Missing, ...] = ()


def temperature_coefficient(metal: str | None) -> float | None:
    """Temperature coefficient of resistance in 1/degC at 20 degC; ``None`` where no figure is published."""
    if metal in _COPPER:
        return COPPER_TCR
    if metal == "aluminium":
        return _ALUMINIUM_TCR
    if metal in _LEGS:
        try:
            return leg_wire(metal).tcr
        except UnknownLegError:
            return None
    return None


def ohm_per_metre(edge: Edge) -> float | None:
    """Resistance per metre at 20 degC of a conductor: its leg's, else its part's; ``None`` if neither says."""
    if edge.run is None:
        return None
    leg = edge.leg
    if leg is not None and leg.resistance is not None:
        return float(leg.resistance)
    spec = edge.run.spec
    return float(spec.resistance) if spec.resistance is not None else None


def lacking_wire(edge: Edge) -> Missing:
    """What is to be said of a conductor whose resistance is not known: its gauge, where its part is."""
    run = edge.run
    if run is None or run.part is None:
        return missing.RUN_RESISTANCE
    own = edge.conductor.gauge if edge.conductor is not None else None
    return missing.RUN_GAUGE if own is None and run.gauge is None else missing.RUN_RESISTANCE


def _sum(per_metre: float, coefficient: float | None, edge: Edge, point: Point) -> Ohms:
    run = edge.run
    assert run is not None
    split = zone_lengths(run)
    length = total_length(run) if split is None else sum(piece for _, piece in split)
    if length is None:
        return Ohms(None, None, (LENGTH,))
    cold = per_metre * length
    if split is None:
        return Ohms(cold, None, (SPLIT,))
    if coefficient is None:
        return Ohms(cold, cold)
    if any(zone not in point.zones for zone, _ in split):
        return Ohms(cold, None, (ZONE_TEMPERATURE,))
    return Ohms(
        cold, sum(at_temperature(per_metre * piece, coefficient, point.zones[zone]) for zone, piece in split)
    )


@once
def conductor_ohms(_: Study, edge: Edge, point: Point) -> Ohms:
    """Resistance of one conductor of a run, cold and at an operating point."""
    per_metre = ohm_per_metre(edge)
    if per_metre is None:
        return Ohms(None, None, (lacking_wire(edge),))
    return _sum(per_metre, temperature_coefficient(edge.metal), edge, point)


def loop_ohms(positive: Edge, point: Point) -> Ohms:
    """Resistance of both legs of a lead that is made to a loop resistance, cold and at an operating point."""
    spec = positive.run.spec if positive.run is not None else None
    if spec is None or spec.loop_length_resistance is None:
        return Ohms(None, None, (lacking_wire(positive),))
    coefficient = (
        loop_tcr(spec.thermocouple) if spec.thermocouple is not None and spec.thermocouple != "N" else None
    )
    return _sum(float(spec.loop_length_resistance), coefficient, positive, point)


@once
def ends_ohms(study: Study, edge: Edge) -> Ohms:
    """What the two ends of a conductor add: its terminals, and half the contact resistance of each joint it ends at.

    What is not stated counts as sound, 0 ohm; what is said to be unknown is missing.
    """
    run = edge.run
    stated = sum(
        float(t.resistance)
        for t in (run.terminations if run is not None else None) or ()
        if t.resistance is not None
    )
    lacking: list[Missing] = (
        [missing.RUN_TERMINAL_RESISTANCE] if _terminals_unknown(study, edge.ident) else []
    )
    for node in (edge.a, edge.b):
        half = half_joint(study, node)
        if half is None:
            lacking.append(missing.JOINT_CONTACT_UNKNOWN)
        stated += half or 0.0
    return Ohms(None, None, tuple(lacking)) if lacking else Ohms(stated, stated)


def half_joint(study: Study, node: str) -> float | None:
    """Half the contact resistance a joint states; 0 if it states none, ``None`` if it is said to be unknown."""
    ident, _, pin_name = node.partition(".")
    junction = study.model.junctions.get(ident)
    if junction is None or junction.mates is not None or ident in _mated(study):
        return 0.0
    pin = (junction.spec.pins or {}).get(pin_name)
    if pin is not None and pin.contact_resistance is not None:
        return float(pin.contact_resistance) / 2
    unknown = study.document.declared_unknown
    place = ("junctions", ident)
    if unknown((*place, "pins", pin_name, "contact_resistance")):
        return None
    stated = junction.spec.contact_resistance
    return (
        float(stated) / 2 if stated is not None else None if unknown((*place, "contact_resistance")) else 0.0
    )


@once
def _terminals_unknown(study: Study, ident: str) -> bool:
    """Whether the terminals of a run, or the resistance of one, are said to be unknown."""
    unknown, place = study.document.declared_unknown, ("wire_runs", ident, "terminations")
    return unknown(place) or any(
        unknown((*place, end)) or unknown((*place, end, "resistance")) for end in (0, 1)
    )


@once
def _mated(study: Study) -> frozenset[str]:
    return frozenset(j.mates for j in study.model.junctions.values() if j.mates is not None)


def series(parts: Iterable[Ohms]) -> Ohms:
    """Resistances in series; what is missing in any is missing in the whole."""
    cold: float | None = 0.0
    hot: float | None = 0.0
    lacking: dict[Missing, None] = {}
    for part in parts:
        cold = None if cold is None or part.cold is None else cold + part.cold
        hot = None if hot is None or part.hot is None else hot + part.hot
        lacking.update(dict.fromkeys(part.missing))
    return Ohms(cold, hot, tuple(lacking))
