"""What would explain a resistance that is out of tolerance: alone, and together with all else that was measured.

A cause that explains several readings at once comes before one that explains a single reading; among those, one that
gives the exact figure (a swapped leg, another gauge) comes before one that can be fitted to any figure (a length, a joint).
"""

from __future__ import annotations

from collections.abc import Iterator
from math import inf, isfinite

from ...graph import Edge
from ...model.quantities import show
from ...physics.conductors import gauge_number, gauges, wire_resistance
from ...physics.thermocouple_wire import leg_ohm_per_m
from ..study import Study
from .bench import Check
from .measured_ohms import Reading, length_of
from .shared_causes import Evidence, added, legs
from .spans import COPPER_LOWEST, METER_OHM, THERMOCOUPLE_SPREAD, is_couple, wire_span

_LIKE = 0.2
"""Share by which two added resistances may differ and still be one joint's."""
_ONE_CABLE = 0.05
"""Share by which the ratios of the conductors of one cable may differ and still be one length's."""
_LENGTHS = (0.4, 2.5)
"""Shares of the drawn length between which a wrong length is believed."""
_GAUGES = 6
"""Gauges up and down that are tried."""


def causes(evidence: Evidence, one: Reading) -> list[str]:
    """What would explain a reading, likeliest first."""
    together = (evidence.common, evidence.exchanged, evidence.joints)
    found = [known[one.index] for known in together if one.index in known]
    if one.check.kind == "run":
        found += _of_run(evidence, one)
    elif one.check.kind == "strap":
        found += _of_strap(one)
    else:
        found += _of_way(evidence, one)
    return list(dict.fromkeys(found))


def _of_run(evidence: Evidence, one: Reading) -> Iterator[str]:
    edge = one.check.edges[0]
    if one.ohms == inf:
        yield "the wire is broken, a terminal is loose on it, or a pin is in no cavity or another one"
        return
    if one.index not in evidence.exchanged:
        yield from _other_leg(evidence.study, one)
    length = list(_length(one))
    cable = _whole_cable(evidence, one)
    if cable:
        yield f"{length[0]}, on all conductors of {edge.ident}" if length else "the whole cable differs"
    yield from _copper_leg(one)
    if not _alone_in_cable(evidence, one):
        yield from _gauge(one)
    close = one.check.expected is not None and one.ohms < 1.5 * one.check.expected
    joint = list(_joint(one)) if one.high else []
    rest = [*length, *joint] if close else [*joint, *length]
    if _alone_in_cable(evidence, one):
        rest = [*joint, *length]
    yield from rest if not cable else joint
    if one.low:
        yield "one end was not free, and another way lies beside it"


def _siblings(evidence: Evidence, one: Reading) -> list[Reading]:
    ident = one.check.edges[0].ident
    return [
        r
        for r in evidence.readings
        if r is not one and r.check.kind == "run" and r.check.edges[0].ident == ident and r.check.expected
    ]


def _whole_cable(evidence: Evidence, one: Reading) -> bool:
    others = _siblings(evidence, one)
    if not others or not one.check.expected:
        return False
    share = one.ohms / one.check.expected
    return all(
        isfinite(r.ohms) and abs(r.ohms / (r.check.expected or 1.0) - share) <= _ONE_CABLE * share
        for r in others
    )


def _alone_in_cable(evidence: Evidence, one: Reading) -> bool:
    """Whether the other conductors of the cable measure right, so that neither its gauge nor its length is wrong."""
    others = _siblings(evidence, one)
    return bool(others) and all(r.sound for r in others)


def _other_leg(study: Study, one: Reading) -> Iterator[str]:
    edge = one.check.edges[0]
    if not is_couple(edge):
        return
    at = one.temperature if one.temperature is not None else 20.0
    for other in study.edges(edge.ident):
        span = wire_span(other, at) if other.metal != edge.metal else None
        if span is not None and span.lowest - METER_OHM <= one.ohms <= span.highest + 2 * METER_OHM:
            yield f"its legs are swapped: the reading is that of {other.metal} ({legs(edge, other)})"


def _copper_leg(one: Reading) -> Iterator[str]:
    edge, length = one.check.edges[0], length_of(one.check)
    gauge = _gauge_of(edge)
    if not is_couple(edge) or length is None or gauge not in gauges():
        return
    copper = wire_resistance(gauge, length)
    if copper * COPPER_LOWEST - METER_OHM <= one.ohms <= copper + 2 * METER_OHM:
        yield f"copper wire of {gauge} AWG in place of {edge.metal}"


def _gauge_of(edge: Edge) -> str:
    own = edge.conductor.gauge if edge.conductor is not None else None
    return str(own or (edge.run.gauge if edge.run is not None else None) or "")


def _gauge(one: Reading) -> Iterator[str]:
    """The gauges nearest the drawn one whose table figure is the reading."""
    edge, expected = one.check.edges[0], one.check.expected
    gauge = _gauge_of(edge)
    if not gauge or not expected or edge.metal is None:
        return
    per_metre = _table(edge, gauge)
    if per_metre is None:
        return
    known = sorted(gauges(), key=lambda g: abs(gauge_number(g) - gauge_number(gauge)))
    for other in known:
        step = abs(gauge_number(other) - gauge_number(gauge))
        figure = _table(edge, other)
        if not 0 < step <= _GAUGES or figure is None:
            continue
        would = expected * figure / per_metre
        lowest = would * (1 - THERMOCOUPLE_SPREAD if is_couple(edge) else COPPER_LOWEST) - METER_OHM
        highest = would * (1 + THERMOCOUPLE_SPREAD if is_couple(edge) else 1.0) + METER_OHM
        if lowest <= one.ohms <= highest:
            most = show(would, "ohm", "resistance")
            yield f"{other} AWG in place of {gauge} AWG, which would measure {most} at most"
            return


def _table(edge: Edge, gauge: str) -> float | None:
    try:
        if is_couple(edge) and edge.metal is not None:
            return leg_ohm_per_m(edge.metal, gauge_number(gauge))
        return wire_resistance(gauge, 1.0, kind=edge.metal or "")
    except (ValueError, KeyError):
        return None


def _length(one: Reading) -> Iterator[str]:
    length, expected = length_of(one.check), one.check.expected
    if length is None or not expected:
        return
    share = one.ohms / expected
    if _LENGTHS[0] <= share <= _LENGTHS[1]:
        yield f"a length of {show(length * share, 'ft', 'length')} in place of {show(length, 'ft', 'length')}"


def _joint(one: Reading) -> Iterator[str]:
    expected = one.check.expected
    if expected is not None and one.ohms > expected:
        yield f"a joint on the way that adds {show(one.ohms - expected, 'ohm', 'resistance')}"


def _of_strap(one: Reading) -> Iterator[str]:
    if one.ohms == inf:
        yield "the strap is off or the joint is painted through"
    elif one.high:
        more = one.ohms - (one.check.expected or 0.0)
        yield f"paint, corrosion or a loose bolt that adds {show(more, 'milliohm', 'resistance')}"


def _of_way(evidence: Evidence, one: Reading) -> Iterator[str]:
    """A loop, a shield or a way between two terminals."""
    check = one.check
    if one.ohms == inf:
        yield from _open_where(evidence, check)
        return
    runs = [r for r in evidence.readings if r.check.kind == "run" and r.check.edges[0] in check.edges]
    guilty = [r for r in runs if r.high or r.low]
    for run in guilty:
        if abs(added(run) - added(one)) <= _LIKE * abs(added(one)):
            yield f"{run.check.ident}, which is off by as much, explains it"
    if one.high:
        more = show(added(one), "ohm", "resistance")
        conductors = [e for e in check.edges if e.kind == "conductor"]
        all_sound = len(runs) >= len(conductors) > 0 and not guilty
        if all_sound:
            yield f"its runs measure right alone: a joint that adds {more}, or the sender or probe itself"
        elif not guilty:
            yield f"a joint that adds {more}"
            yield from _stretched(one)
    elif one.low:
        yield from _touching(one)


def _stretched(one: Reading) -> Iterator[str]:
    """The same share on every wire of the loop: all of it longer than drawn."""
    wires = _wires(one)
    if wires > 0 and added(one) < wires:
        yield f"leads {added(one) / wires:.0%} longer than drawn"


def _wires(one: Reading) -> float:
    at = one.temperature if one.temperature is not None else 20.0
    return sum(s.expected for e in one.check.edges if (s := wire_span(e, at)) is not None)


def _touching(one: Reading) -> Iterator[str]:
    wires = _wires(one)
    lengths = [r.run for r in one.check.edges if r.run is not None]
    if one.ohms < wires and lengths:
        yield f"its two leads touch, about {one.ohms / wires:.0%} of the way from {one.check.start.partition('.')[0]}"
    elif one.check.kind == "loop":
        yield "another way beside the sender: a lead rubbed through, or the indicator still connected"
        yield "leads shorter than drawn, or a sender or probe of lower resistance"
    else:
        yield "another way beside it"


def _open_where(evidence: Evidence, check: Check) -> Iterator[str]:
    opened = [r.check.ident for r in evidence.readings if r.ohms == inf and r.check.kind == "run"]
    inside = [name for name in opened if any(e.label == name for e in check.edges)]
    if inside:
        yield f"{' and '.join(inside)}, which is open alone, explains it"
        return
    measured = {r.check.edges[0] for r in evidence.readings if r.sound and r.check.kind == "run"}
    left = [e.label for e in check.edges if e.kind == "conductor" and e not in measured]
    if left:
        yield f"a break in {', '.join(left)} or at one of its terminals, or in the sender or probe"
    else:
        yield "its runs measure right alone: a terminal between them, or the sender or probe, is open"
