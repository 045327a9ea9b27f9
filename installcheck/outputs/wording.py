"""Words outputs share: the caution, the labels of the outcomes, numbers with their unit, load and weight of a change."""

from __future__ import annotations

from collections.abc import Iterator
from importlib.metadata import version

from ..comparison.figures import LoadChange, WeightChange
from ..model.quantities import in_unit, plain_number, show
from ..rules.verdicts import Outcome, Verdict

VERSION = version("installcheck")

CAUTION = (
    "This is an aid to a qualified person. It is not approved data. The type design, the engine and airframe makers' "
    "current data, local rules and a licensed person decide."
)
"""Printed once in every output a person may file."""

OUTCOME_WORDS: dict[Outcome, str] = {
    Outcome.DISCREPANCY: "DISCREPANCY",
    Outcome.ADVISORY: "ADVISORY",
    Outcome.UNDETERMINED: "CANNOT BE JUDGED",
    Outcome.ACCEPTED: "ACCEPTED DEVIATION",
    Outcome.MEETS: "MEETS",
}


def numbers(verdict: Verdict) -> str:
    """``0.61 V, limit 0.5 V, margin -0.11 V``; empty if the verdict has no value."""
    if verdict.value is None:
        return ""
    unit = f" {verdict.unit}" if verdict.unit else ""
    told = f"{plain_number(verdict.value)}{unit}"
    if verdict.limit is not None:
        told += f", limit {plain_number(verdict.limit)}{unit}"
    if verdict.margin is not None:
        told += f", margin {plain_number(verdict.margin)}{unit}"
    return told


def load_lines(load: LoadChange) -> Iterator[str]:
    """Load before and after in words; nothing if it is the same."""
    if load.items:
        yield (
            f"continuous load {plain_number(load.old)} A before, {plain_number(load.new)} A after"
            f" ({_signed(load.new - load.old)} A)"
        )
        if load.old_short or load.new_short:
            yield (
                f"load for a short time {plain_number(load.old_short)} A before,"
                f" {plain_number(load.new_short)} A after"
            )
        yield "by item: " + ", ".join(f"{ident} {_signed(new - old)} A" for ident, old, new in load.items)
    if load.unknown:
        yield f"not counted, no current given: {', '.join(load.unknown)}"


def weight_lines(weight: WeightChange) -> Iterator[str]:
    """Weight and moment in words; nothing if they are the same."""
    unit, arm, moment = ("kg", "m", "kg m") if weight.unit == "kg" else ("lb", "in", "lb in")
    if weight.items:
        change = in_unit(weight.change, unit, "mass")
        turn = weight.moment / (_one(unit, "mass") * _one(arm, "length"))
        known = " of what gives one" if weight.no_weight else ""
        yield f"weight{known} {_signed(change)} {unit}, moment {_signed(turn)} {moment} about the datum"
        if weight.no_arm:
            yield f"not in the moment, no station given: {', '.join(weight.no_arm)}"
    if weight.no_weight:
        yield f"not counted, no weight given: {', '.join(weight.no_weight)}"
    if weight.said_removed:
        yield (
            f"the new document lists {show(weight.said_removed, unit, 'mass')} as removed; the figures above count"
            " what the two documents describe instead"
        )


def _one(unit: str, kind: str) -> float:
    return 1 / in_unit(1.0, unit, kind)


def _signed(value: float) -> str:
    return f"{'+' if value > 0 else ''}{plain_number(value)}"
