"""Sensing returns that share a resistance with the currents of alternator, starter or loads."""

from __future__ import annotations

from collections.abc import Iterator
from math import floor, log10

from ...analysis import missing
from ...analysis.circuit.drop_paths import way_to
from ...analysis.circuit.measuring import read_by_circuit
from ...analysis.circuit.solved import Circuit, circuit
from ...analysis.errors.error_budget import ErrorBudget
from ...analysis.errors.ground_offsets import Shared, shared_segments
from ...analysis.errors.reading import curve_read, read
from ...analysis.errors.reading_back import GROUND, budgets_of, returns_through_ground
from ...analysis.sender_curves import falls
from ...analysis.study import Point, Study, once
from ...graph import Edge, Indication
from ...model.comparing import at_most
from ...model.power import SOURCES
from ...model.quantities import plain_number
from ...physics.network_faults import ChangeResistance, play_fault
from ...physics.network_parts import SMALLEST_RESISTANCE
from ..verdicts import Outcome, Verdict
from ..vocabulary import Subject, rule

_BEARS = frozenset(
    (
        missing.INDICATOR_INNER,
        missing.INDICATOR_PULL_UP,
        missing.GROUND_RESISTANCE,
        missing.SENDER_BODY,
        missing.INDICATOR_GROUND,
        missing.LOAD_CURRENT,
        missing.POINT_READING,
    )
)
_SHARE = 0.25
"""Share of an indication's budget its ground may use before it is worth a remark [-]: good practice, none published."""
_TRIES = 12
_NEAR = 1e-3
"""Share within which the search for a resistance has found it [-]; ``_SAFE`` covers it."""
_SAFE = 0.98
"""Covers what the sensing current itself drops in the segment, which falls with it [-]."""


def users_of(net: Circuit, segment: Edge, indication: Indication) -> list[str]:
    """What returns over a segment: loads and supplies whose own ground lies on the sensing return, structure apart."""
    study = net.study
    structure = {i for i, g in study.model.grounds.items() if g.kind == "structure"}
    on_way = {n for leg in indication.legs for s in leg.steps for n in (s.near, s.far)} - structure
    ends = {segment.a, segment.b} - structure
    found = []
    for node, names in _grounded_at(study).items():
        if node in ends or (node in on_way and segment.kind == "bond"):
            found += [n for n in names if n != indication.indicator and _active(net, n)]
    return list(dict.fromkeys(found))


def _active(net: Circuit, ident: str) -> bool:
    study = net.study
    if ident in study.model.loads:
        return ident in net.loads_on
    if ident in study.model.supplies:
        return any(
            not at_most(abs(net.current(e) or 0.0), 0.1)
            for e in study.graph.by_thing.get(("supplies", ident), ())
            if e.kind in ("supply", "load")
        )
    return True


@once
def _grounded_at(study: Study) -> dict[str, list[str]]:
    """For each ground node, the loads, indicators and supplies whose return reaches it first."""
    found: dict[str, list[str]] = {}
    for edge in study.graph.of("load", "supply"):
        if edge.section == "senders":
            continue
        way = way_to(study, edge.b, edge, lambda c, n: c.graph.is_ground(n))
        if way is not None:
            found.setdefault(way[0], []).append(edge.ident)
    return found


@rule(
    "ground-shared",
    title="A sensing return shares no resistance with currents that move its indication",
    why="What alternator, starter or lamps drop in a shared strap or stud is added to the sender's signal: a rising-curve "
    "sender and a falling-curve one are moved opposite ways, and the error comes and goes with the load.",
    source="AC 43.13-1B 11-186f; sender offset R' = (R Vs + Vg Rp)/(Vs - Vg), plain physics",
    formula="indication(solved network) - indication(network without any other current)",
    example="40 A through a 0.005 ohm strap lifts the engine 0.2 V: 90 ohm behind 100 ohm at 12 V reads as 93.22 ohm",
    over=read_by_circuit,
)
def ground_shared(study: Study, subject: Subject, indication: Indication) -> Iterator[Verdict]:
    """One verdict for running and one more for starting, if it returns through ground."""
    if not returns_through_ground(study, indication):
        return
    subject = subject.along(indication.source)
    every = budgets_of(study, indication)
    budgets = [b for b in every if b.indicated is not None]
    lacking = tuple(m for b in every for m in b.missing)
    if indication.spec.budget is None:
        yield subject.lacks(missing.INDICATOR_BUDGET)
    elif not _others_described(study):
        yield subject.lacks(missing.LOADS_AND_SUPPLIES)
    elif not budgets and lacking:
        yield subject.lacks(*lacking)
    starting = [b for b in budgets if _phase(study, b) == "start"]
    running = [b for b in budgets if b not in starting]
    if indication.spec.budget is not None and _others_described(study):
        for group in (running, starting):
            if group:
                worst = max(group, key=lambda b: abs(b.amount((GROUND,))))
                yield _judged(subject, indication, worst, float(indication.spec.budget), group is starting)


def _others_described(study: Study) -> bool:
    model = study.model
    return any(s.spec.kind in SOURCES for s in model.supplies.values()) and bool(model.loads)


def _point(study: Study, budget: ErrorBudget) -> Point:
    return next(p for p in study.points if p.name == budget.point)


def _phase(study: Study, budget: ErrorBudget) -> str | None:
    given = _point(study, budget).given
    return given.phase if given is not None else None


def _judged(
    subject: Subject, indication: Indication, budget: ErrorBudget, budgeted: float, starting: bool
) -> Verdict:
    value, most = budget.amount((GROUND,)) / budget.per_unit, budgeted / budget.per_unit
    net = circuit(subject.study, _point(subject.study, budget))
    segments = shared_segments(net, indication)
    place, remedy = subject, ""
    told = f"{indication.name} shares its return with no other current ({budget.point})"
    if segments and value:
        first = segments[0]
        place = subject.along(*(s.edge.ident for s in segments)).placed(first.edge.section, first.edge.ident)
        told = _told(subject.study, indication, budget, value, first, users_of(net, first.edge, indication))
        if not at_most(abs(value), _SHARE * most):
            remedy = _remedy(net, indication, first, value, most, budget.per_unit, budget.unit)
    whole = starting or not at_most(abs(value), most)
    why = (
        "while the engine is cranked only"
        if starting
        else f"more than a quarter of its budget of {plain_number(most)} {budget.unit}"
    )
    verdict = place.at_most(
        abs(value),
        most if whole else _SHARE * most,
        budget.unit,
        told,
        broken=told if whole and not starting else f"{told}: {why}",
        remedy=remedy,
        practice=starting or not whole,
    )
    lacking = [m for m in budget.missing if m in _BEARS]
    return subject.lacks(*lacking) if lacking and verdict.outcome is Outcome.MEETS else verdict


def _told(
    study: Study, indication: Indication, budget: ErrorBudget, value: float, first: Shared, users: list[str]
) -> str:
    curve = curve_read(study, indication)
    runs = "falling" if curve is not None and falls(curve) else "rising"
    by = f" of {', '.join(users[:4])}" if users else ""
    side = "high" if value > 0 else "low"
    return (
        f"{indication.name} ({runs} curve) reads {plain_number(abs(value))} {budget.unit} {side} ({budget.point}) because "
        f"{plain_number(first.amperes)} A{by} share {first.edge.label} with its return: "
        f"{plain_number(first.ohm * 1000)} milliohm, {plain_number(first.volts)} V"
    )


def _remedy(
    net: Circuit, indication: Indication, first: Shared, value: float, most: float, unit: float, word: str
) -> str:
    two_wires = "a two-wire sender, its body isolated and its return run to the indicator's ground, takes the whole offset away"
    allowed = _resistance_for(net, indication, first, value * unit, _SHARE * most * unit)
    if allowed is not None and allowed < first.ohm:
        return (
            f"bring {first.edge.label} to {plain_number(allowed * 1000)} milliohm or less "
            f"(leaves {plain_number(_SHARE * most)} {word}); or {two_wires}"
        )
    return two_wires


def _resistance_for(
    net: Circuit, indication: Indication, first: Shared, offset: float, wanted: float
) -> float | None:
    """Largest resistance in ohm of the shared segment, cut to three digits, at which the offset is what is wanted."""
    curve = curve_read(net.study, indication)
    meter = net.meters[(indication.indicator, indication.input)]
    number = net.branch_of.get(first.edge)
    if curve is None or number is None or not offset or not wanted:
        return None
    without = read(meter, curve, net.without(others=True), sag=False).value
    ohm, found = first.ohm, abs(offset)
    for _ in range(_TRIES):
        ohm = max(SMALLEST_RESISTANCE, ohm * wanted / found)
        faulted = play_fault(net.solution, ChangeResistance(number, ohm)).voltage
        shown = read(meter, curve, faulted, sag=False).value
        if shown is None or without is None:
            return None
        found = abs(shown - without)
        if not found or abs(found / wanted - 1) < _NEAR:
            break
    if abs(found / wanted - 1) > _NEAR:
        return None
    digits: float = 10.0 ** (floor(log10(ohm)) - 2)
    return floor(ohm * _SAFE / digits) * digits
