"""What the leads, contacts and ground path of a sender's circuit cost, in the unit of the indication."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from ...analysis.circuit.assembly import BODY
from ...analysis.circuit.leads import (
    LENGTH,
    SPLIT,
    WIRE,
    ZONE_TEMPERATURE,
    ohm_per_metre,
)
from ...analysis.circuit.measuring_inputs import (
    BRIDGE,
    CURVE,
    INDICATOR_GROUND,
    REACH,
)
from ...analysis.circuit.solved import circuit
from ...analysis.errors.error_budget import ErrorBudget
from ...analysis.errors.reading_back import (
    CONTACTS,
    HEATING,
    LEADS,
    RETURN,
    SELECTED,
    concerned,
    curve_read,
    electrical_budgets,
)
from ...analysis.power.wire_sizes import sizes_of
from ...analysis.sender_curves import is_logarithmic
from ...analysis.study import Study
from ...analysis.true_value import READING, difference_kind
from ...document.source import DocPath
from ...graph import Edge, Indication
from ...model.devices import Curve
from ...model.quantities import Quantity, conversion, plain_number
from ..verdicts import (
    Verdict,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

BUDGET = "largest total error allowed for the indication ('budget')"
_LEAD_CAUSES = frozenset((CONTACTS, HEATING, LEADS, "lead allowance"))
_BEARS = frozenset(
    (BODY, LENGTH, SPLIT, WIRE, ZONE_TEMPERATURE, BRIDGE, CURVE, REACH, INDICATOR_GROUND, RETURN, SELECTED)
)
"""Missing data on which the part judged here depends; the rest bears on the whole error, which other rules judge."""


def per_unit(budget: ErrorBudget) -> float:
    """SI per unit the document uses for the indication, for differences."""
    return conversion(difference_kind(budget.kind), budget.unit)[0] if budget.kind else 1.0


def by_indication(study: Study) -> dict[str, list[ErrorBudget]]:
    """Budgets of each indication, at all points; keyed by indication and source, since an input may read several."""
    found: dict[str, list[ErrorBudget]] = defaultdict(list)
    for budget in electrical_budgets(study):
        found[f"{budget.indication} < {budget.source}"].append(budget)
    return found


def budgets_of(study: Study, indication: Indication) -> list[ErrorBudget]:
    """The budgets of one indication."""
    every = study.memo("budgets by indication", by_indication)
    return every.get(f"{indication.name} < {indication.source}", [])


def amount(budget: ErrorBudget, names: frozenset[str]) -> float:
    """The sum of some causes in SI."""
    return sum(c.amount for c in budget.causes if c.name in names)


@rule(
    "lead-resistance-budget",
    title="What leads, contacts and ground path add to an indication stays within its budget",
    why="Every ohm in the circuit of a sender is read as part of the sender: high on a rising curve, low on a falling one.",
    source="plain physics of series resistance, read through the sender's curve; wire AC 43.13-1B table 11-9, hot by 11-66",
    formula="indication(solved network) - indication(network without lead and contact resistance), against the budget",
    example="0.5 ohm of lead on a sender of 1.7 ohm/psi reads 0.29 psi high against a budget of 5 psi",
    over=lambda study: [i.indicator for i in concerned(study)],
)
def lead_resistance_budget(study: Study) -> Iterator[Verdict]:
    """One verdict per indication, at the point where leads cost it most."""
    for indication in concerned(study):
        budgets = budgets_of(study, indication)
        at = (indication.indicator, indication.source)
        if not budgets:
            continue
        curve = curve_read(study, indication)
        missing = tuple(
            dict.fromkeys(
                m
                for b in budgets
                for m in b.missing
                if m in _BEARS or (m == READING and curve is not None and not _straight(curve))
            )
        )
        limit = indication.spec.budget
        told = [b for b in budgets if b.indicated is not None]
        if limit is None:
            yield undetermined(at, indication.path, (BUDGET, *missing))
        elif not told:
            yield _unread(indication, budgets, missing)
        else:
            yield _judged(
                study, indication, max(told, key=lambda b: abs(amount(b, _LEAD_CAUSES))), limit, missing
            )


def _straight(curve: Curve) -> bool:
    """Whether an ohm means the same error all along the curve, so that no true value is needed to judge leads."""
    return curve.points is not None and len(curve.points) == 2 and not is_logarithmic(curve)


def _unread(indication: Indication, budgets: list[ErrorBudget], missing: tuple[str, ...]) -> Verdict:
    at = (indication.indicator, indication.source)
    if missing:
        return undetermined(at, indication.path, missing)
    off = budgets[0]
    return discrepancy(
        at,
        indication.path,
        f"{indication.name} is driven {off.beyond or 'off'} its scale by its own circuit ({off.point})",
        remedy="compare the sender's curve with the one the indicator is made for, and look for an open return",
    )


def _judged(
    study: Study, indication: Indication, budget: ErrorBudget, limit: Quantity, missing: tuple[str, ...]
) -> Verdict:
    unit = per_unit(budget)
    value, most = amount(budget, _LEAD_CAUSES) / unit, float(limit) / unit
    edges = [s.edge for leg in indication.legs for s in leg.steps]
    at = (
        indication.indicator,
        indication.source,
        *dict.fromkeys(e.ident for e in edges if e.kind == "conductor"),
    )
    side = "high" if value > 0 else "low"
    told = (
        f"leads, contacts and ground path make {indication.name} read {plain_number(abs(value))} {budget.unit} {side} "
        f"({budget.point}); its budget is {plain_number(most)} {budget.unit}"
    )
    numbers = {"value": abs(value), "limit": most, "margin": most - abs(value), "unit": budget.unit}
    if abs(value) > most:
        path, remedy = _remedy(study, indication, budget, most, edges)
        return discrepancy(at, path, told, remedy=remedy, **numbers)
    if missing:
        return undetermined(at, indication.path, missing)
    return meets(at, indication.path, told, **numbers)


def _remedy(
    study: Study, indication: Indication, budget: ErrorBudget, most: float, edges: list[Edge]
) -> tuple[DocPath, str]:
    unit = per_unit(budget)
    contacts = amount(budget, frozenset((CONTACTS,))) / unit
    whole = amount(budget, _LEAD_CAUSES) / unit
    if abs(contacts) > most:
        return _contact_remedy(study, indication, budget, edges, contacts, whole)
    leads = whole - contacts
    runs = [e for e in edges if e.kind == "conductor" and ohm_per_metre(e)]
    worst = max(runs, key=lambda e: _ohms(study, budget, e), default=None)
    path: DocPath = ("wire_runs", worst.ident, "gauge") if worst is not None else indication.path
    total = sum(_ohms(study, budget, e) for e in runs)
    for gauge in _thicker(study, runs):
        new = 0.0
        for edge in runs:
            ohm = _ohms(study, budget, edge)
            made = (
                {str(s.gauge): s.resistance for s in sizes_of(study, edge.run)}
                if edge.run is not None
                else {}
            )
            better = made.get(gauge)
            new += ohm if better is None else min(ohm, ohm * better / (ohm_per_metre(edge) or better))
        left = contacts + leads * (new / total if total else 1.0)
        if abs(left) <= most:
            names = ", ".join(sorted({e.ident for e in runs}))
            return path, f"{gauge} AWG in {names} leaves {plain_number(abs(left))} {budget.unit}"
    if indication.spec.principle == "bridge" and (indication.spec.bulb_leads or 2) < 3:
        return path, "fit a three-lead bulb and indicator: equal leads then cancel"
    return path, "shorten the leads, or fit a sender of higher resistance with an indicator to match"


def _contact_remedy(
    study: Study,
    indication: Indication,
    budget: ErrorBudget,
    edges: list[Edge],
    contacts: float,
    whole: float,
) -> tuple[DocPath, str]:
    """The joint that costs most: the body of the sender, or another."""
    net = circuit(study, next(p for p in study.points if p.name == budget.point))
    ohm = {e: float(net.parts.contact[net.branch_of[e]]) for e in edges if e in net.branch_of}
    worst = max((e for e in edges if e in ohm), key=lambda e: ohm[e])
    rest = whole - contacts * ohm[worst] / (sum(ohm.values()) or 1.0)
    without = f"leaves {plain_number(abs(rest))} {budget.unit}"
    if worst.kind == "bond" and worst.section == "senders":
        how = f"a bonding wire from its body to the engine, or a two-wire sender, {without}"
        return ("senders", worst.ident, "grounding"), how
    place: DocPath = (worst.section, worst.ident)
    return place, f"clean or renew {worst.ident} ({plain_number(ohm[worst])} ohm): without it {without}"


def _ohms(study: Study, budget: ErrorBudget, edge: Edge) -> float:
    net = circuit(study, next(p for p in study.points if p.name == budget.point))
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
