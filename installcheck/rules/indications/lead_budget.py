"""What the leads, contacts and ground path of a sender's circuit cost, in the unit of the indication."""

from __future__ import annotations

from ...analysis import missing
from ...analysis.circuit.leads import ohm_per_metre
from ...analysis.circuit.measuring import read_by_circuit
from ...analysis.circuit.solved import circuit
from ...analysis.errors.error_budget import ErrorBudget
from ...analysis.errors.reading import curve_read
from ...analysis.errors.reading_back import CONTACTS, HEATING, LEADS, budgets_of
from ...analysis.missing import Missing
from ...analysis.power.wire_sizes import sizes_of
from ...analysis.sender_curves import is_logarithmic
from ...analysis.study import Point, Study
from ...graph import Edge, Indication
from ...model.comparing import at_most
from ...model.devices import Curve
from ...model.quantities import Quantity, plain_number
from ..verdicts import Verdict
from ..vocabulary import Subject, rule
from .ranges import settled_by_limits

_LEAD_CAUSES = frozenset((CONTACTS, HEATING, LEADS, "lead allowance"))
_BEARS = frozenset(
    (
        missing.SENDER_BODY,
        missing.RUN_LENGTH,
        missing.RUN_ROUTE,
        missing.RUN_RESISTANCE,
        missing.ZONE_TEMPERATURE,
        missing.INDICATOR_BRIDGE,
        missing.SENDER_CURVE,
        missing.SENDER_CURVE_REACH,
        missing.INDICATOR_GROUND,
        missing.SENDER_RETURN,
        missing.SELECTOR_POSITION,
    )
)
"""Missing data on which the part judged here depends; the rest bears on the whole error, which other rules judge."""


@rule(
    "lead-resistance-budget",
    title="What leads, contacts and ground path add to an indication stays within its budget",
    why="Every ohm in the circuit of a sender is read as part of the sender: high on a rising curve, low on a falling one.",
    source="plain physics of series resistance, read through the sender's curve; wire AC 43.13-1B table 11-9, hot by 11-66",
    formula="indication(solved network) - indication(network without lead and contact resistance), against the budget",
    example="0.5 ohm of lead on a sender of 1.7 ohm/psi reads 0.29 psi high against a budget of 5 psi",
    over=read_by_circuit,
)
def lead_resistance_budget(study: Study, subject: Subject, indication: Indication) -> Verdict | None:
    """One verdict per indication, at the point where leads cost it most."""
    budgets = budgets_of(study, indication)
    if not budgets:
        return None
    subject = subject.along(indication.source)
    curve = curve_read(study, indication)
    straight = curve is None or _straight(curve)
    facts = [m for b in budgets for m in b.missing]
    bears = [m for m in facts if m in _BEARS or (m == missing.POINT_READING and not straight)]
    lacking = tuple(settled_by_limits(study, indication.name, bears))
    limit = indication.spec.budget
    if limit is None:
        return subject.lacks(missing.INDICATOR_BUDGET, *lacking)
    told = [b for b in budgets if b.indicated is not None]
    if told:
        worst = max(told, key=lambda b: abs(b.amount(_LEAD_CAUSES)))
        return _judged(subject, indication, worst, limit, lacking)
    off = next((b for b in budgets if b.beyond), None)
    if lacking or off is None:
        return subject.lacks(*(lacking or settled_by_limits(study, indication.name, facts)))
    return subject.discrepancy(
        f"{indication.name} is driven {off.beyond} its scale by its own circuit ({off.point})",
        remedy="compare the sender's curve with the one the indicator is made for, and look for an open return",
    )


def _straight(curve: Curve) -> bool:
    """Whether an ohm means the same error all along the curve, so that no true value is needed to judge leads."""
    return curve.points is not None and len(curve.points) == 2 and not is_logarithmic(curve)


def _judged(
    subject: Subject,
    indication: Indication,
    budget: ErrorBudget,
    limit: Quantity,
    lacking: tuple[Missing, ...],
) -> Verdict:
    value, most = budget.amount(_LEAD_CAUSES) / budget.per_unit, float(limit) / budget.per_unit
    if lacking and at_most(abs(value), most):
        return subject.lacks(*lacking)
    edges = [s.edge for leg in indication.legs for s in leg.steps]
    subject = subject.along(*(e.ident for e in edges if e.kind == "conductor"))
    side = "high" if value > 0 else "low"
    told = (
        f"leads, contacts and ground path make {indication.name} read {plain_number(abs(value))} {budget.unit} {side} "
        f"({budget.point}); its budget is {plain_number(most)} {budget.unit}"
    )
    if at_most(abs(value), most):
        return subject.at_most(abs(value), most, budget.unit, told)
    place, remedy = _remedy(subject, indication, budget, most, edges)
    return place.at_most(abs(value), most, budget.unit, told, remedy=remedy)


def _remedy(
    subject: Subject, indication: Indication, budget: ErrorBudget, most: float, edges: list[Edge]
) -> tuple[Subject, str]:
    study = subject.study
    contacts = budget.amount((CONTACTS,)) / budget.per_unit
    whole = budget.amount(_LEAD_CAUSES) / budget.per_unit
    if not at_most(abs(contacts), most):
        return _contact_remedy(subject, budget, edges, contacts, whole)
    leads = whole - contacts
    runs = [e for e in edges if e.kind == "conductor" and ohm_per_metre(e)]
    ohms = {e: _ohms(study, budget, e) for e in runs}
    place = subject
    if runs:
        place = subject.placed("wire_runs", max(runs, key=lambda e: ohms[e]).ident, "gauge")
    total = sum(ohms.values())
    for gauge in _thicker(study, runs):
        new = sum(_with_gauge(study, e, gauge, ohms[e]) for e in runs)
        left = contacts + leads * (new / total if total else 1.0)
        if at_most(abs(left), most):
            names = ", ".join(sorted({e.ident for e in runs}))
            return place, f"{gauge} AWG in {names} leaves {plain_number(abs(left))} {budget.unit}"
    if indication.spec.principle == "bridge" and (indication.spec.bulb_leads or 2) < 3:
        return place, "fit a three-lead bulb and indicator: equal leads then cancel"
    return place, "shorten the leads, or fit a sender of higher resistance with an indicator to match"


def _with_gauge(study: Study, edge: Edge, gauge: str, ohm: float) -> float:
    """Ohms of a conductor were its run of a thicker gauge of its make."""
    made = {str(s.gauge): s.resistance for s in sizes_of(study, edge.run)} if edge.run is not None else {}
    better = made.get(gauge)
    return ohm if better is None else min(ohm, ohm * better / (ohm_per_metre(edge) or better))


def _contact_remedy(
    subject: Subject, budget: ErrorBudget, edges: list[Edge], contacts: float, whole: float
) -> tuple[Subject, str]:
    """The joint that costs most: the body of the sender, or another."""
    net = circuit(subject.study, _point(subject.study, budget))
    ohm = {e: float(net.parts.contact[net.branch_of[e]]) for e in edges if e in net.branch_of}
    worst = max(ohm, key=lambda e: ohm[e])
    rest = whole - contacts * ohm[worst] / (sum(ohm.values()) or 1.0)
    without = f"leaves {plain_number(abs(rest))} {budget.unit}"
    if worst.kind == "bond" and worst.section == "senders":
        how = f"a bonding wire from its body to the engine, or a two-wire sender, {without}"
        return subject.placed("senders", worst.ident, "grounding"), how
    how = f"clean or renew {worst.ident} ({plain_number(ohm[worst])} ohm): without it {without}"
    return subject.placed(worst.section, worst.ident), how


def _point(study: Study, budget: ErrorBudget) -> Point:
    return next(p for p in study.points if p.name == budget.point)


def _ohms(study: Study, budget: ErrorBudget, edge: Edge) -> float:
    net = circuit(study, _point(study, budget))
    number = net.branch_of.get(edge)
    return (
        0.0 if number is None else float(net.solution.network.resistance[number] - net.parts.contact[number])
    )


def _thicker(study: Study, runs: list[Edge]) -> list[str]:
    found = {s.gauge for e in runs if e.run is not None for s in sizes_of(study, e.run)}
    thinnest = max(
        (e.run.gauge.number for e in runs if e.run is not None and e.run.gauge is not None), default=0
    )
    return [str(g) for g in sorted(found, key=lambda g: -g.number) if g.number < thinnest]
