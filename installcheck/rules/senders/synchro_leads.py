"""Synchro leads: three alike, so that none of them pulls the pointer aside."""

from __future__ import annotations

from ...analysis import missing
from ...analysis.circuit.leads import conductor_ohms, series
from ...analysis.sender_pairs import Pair, lead_order, pairs
from ...analysis.study import Study
from ...model.comparing import at_most
from ...model.quantities import plain_number
from ...physics.synchros import lead_imbalance_error
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_ALIKE = 0.01
"""Share of a leg's resistance by which leads may differ: 0.19 deg; no limit is published."""
_MOST_DEG = lead_imbalance_error(_ALIKE, 1.0)


@rule(
    "synchro-lead-balance",
    title="The three stator leads of a synchro have the same resistance",
    why="One lead longer or thinner than the others pulls the field, and the pointer with it, to one side.",
    source="first-order result for a resistive load; no published limit (1 percent of a leg taken)",
    formula="error <= extra resistance / (3 x resistance of a leg), in radians; a leg is half of what is measured between two leads",
    example="1 ohm more in one lead of 100 ohm legs: 0.19 deg",
    over=lambda study: [p for p in pairs(study) if p.reads.principle == "synchro receiver"],
)
def synchro_lead_balance(study: Study, subject: Subject, pair: Pair) -> Verdict | None:
    """A synchro pair with all three leads."""
    if lead_order(pair) is None:
        return None
    subject, one, ohms = subject.along(pair.source), pair.indication, []
    for leg in one.legs[:3]:
        whole = series(
            conductor_ohms(study, s.edge, study.points[0]) for s in leg.steps if s.edge.kind == "conductor"
        )
        if whole.cold is None:
            return subject.lacks(*whole.missing)
        ohms.append(whole.cold)
    extra = max(ohms) - min(ohms)
    if at_most(max(ohms), min(ohms)):
        return subject.at_most(0.0, _MOST_DEG, "deg", f"the three leads of {one.name} are alike")
    if not pair.reads.winding_resistance:
        return subject.placed("indicators", one.indicator).lacks(missing.INDICATOR_WINDING)
    leg_ohms = float(pair.reads.winding_resistance) / 2
    text = f"the leads of {one.name} differ by {plain_number(extra)} ohm, {extra / leg_ohms:.1%} of a leg"
    remedy = f"put {plain_number(extra)} ohm in the lead that has less, or make the three alike"
    try:
        error = lead_imbalance_error(extra, leg_ohms)
    except ValueError:
        return subject.advisory(f"{text}: beyond what can be reckoned", remedy=remedy)
    return subject.at_most(
        error,
        _MOST_DEG,
        "deg",
        f"{text}: {error:.2f} deg at most",
        broken=f"{text}: up to {error:.2f} deg",
        remedy=remedy,
        practice=True,
    )
