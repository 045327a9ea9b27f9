"""Synchro leads: three alike, so that none of them pulls the pointer aside."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.circuit.leads import conductor_ohms, series
from ...analysis.study import Study
from ...graph import Indication
from ...model.devices import Sender
from ...model.installation import terminals_of
from ...model.quantities import plain_number
from ...physics.synchros import lead_imbalance_error
from ..verdicts import (
    Verdict,
    advisory,
    meets,
    undetermined,
)
from ..vocabulary import rule
from .tachometers import lead_order

_ALIKE = 0.01
"""Share of a leg's resistance by which leads may differ: 0.19 deg; no limit is published."""
_WINDING = "winding resistance between two leads of the receiver"


def _synchros(study: Study) -> list[tuple[Indication, Sender]]:
    return [
        (one, study.model.senders[one.source])
        for one in study.indications
        if one.section == "senders" and one.spec.principle == "synchro receiver"
    ]


@rule(
    "synchro-lead-balance",
    title="The three stator leads of a synchro have the same resistance",
    why="One lead longer or thinner than the others pulls the field, and the pointer with it, to one side.",
    source="first-order result for a resistive load; no published limit (1 percent of a leg taken)",
    formula="error <= extra resistance / (3 x resistance of a leg), in radians; a leg is half of what is measured between two leads",
    example="1 ohm more in one lead of 100 ohm legs: 0.19 deg",
    over=lambda study: [one.name for one, _ in _synchros(study)],
)
def synchro_lead_balance(study: Study) -> Iterator[Verdict]:
    """Every synchro pair with all three leads."""
    for one, sender in _synchros(study):
        if lead_order(one, list(terminals_of("senders", sender) or ())) is not None:
            yield _balance(study, one)


def _balance(study: Study, one: Indication) -> Verdict:
    at, path, point = (one.name, one.source), one.path, study.points[0]
    ohms = []
    for leg in one.legs[:3]:
        leads = [conductor_ohms(s.edge, point) for s in leg.steps if s.edge.kind == "conductor"]
        whole = series(leads)
        if whole.cold is None:
            return undetermined(at, path, whole.missing)
        ohms.append(whole.cold)
    extra = max(ohms) - min(ohms)
    if extra < 1e-9:
        return meets(at, path, f"the three leads of {one.name} are alike", value=0.0, unit="deg")
    if one.spec.winding_resistance is None or one.spec.winding_resistance <= 0:
        return undetermined(at, ("indicators", one.indicator), _WINDING)
    leg_ohms = float(one.spec.winding_resistance) / 2
    text = f"the leads of {one.name} differ by {plain_number(extra)} ohm, {extra / leg_ohms:.1%} of a leg"
    most = lead_imbalance_error(_ALIKE * leg_ohms, leg_ohms)
    remedy = f"put {plain_number(extra)} ohm in the lead that has less, or make the three alike"
    try:
        error = lead_imbalance_error(extra, leg_ohms)
    except ValueError:
        return advisory(at, path, f"{text}: beyond what can be reckoned", remedy=remedy)
    numbers = {"value": error, "limit": most, "margin": most - error, "unit": "deg"}
    if extra <= _ALIKE * leg_ohms * 1.0001:
        return meets(at, path, f"{text}: {error:.2f} deg at most", **numbers)
    return advisory(at, path, f"{text}: up to {error:.2f} deg", remedy=remedy, **numbers)
