"""Words every output shares: the caution, the labels of the outcomes, numbers with their unit."""

from __future__ import annotations

from importlib.metadata import version

from ..model.quantities import plain_number
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
