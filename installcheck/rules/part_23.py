"""Faults against part 23, which binds certificated aircraft and counsels amateur-built ones."""

from __future__ import annotations

from ..analysis.fluid.facts import amateur_built
from .verdicts import Verdict
from .vocabulary import Remedy, Subject


def breach(subject: Subject, message: str, *, remedy: Remedy = "", source: str = "") -> Verdict:
    """A fault against a certification rule: a discrepancy, or a recommendation for an amateur-built aircraft."""
    if not amateur_built(subject.study):
        return subject.discrepancy(message, remedy=remedy, source=source)
    told = f"{message}; for an amateur-built aircraft this is a recommendation"
    return subject.advisory(told, remedy=remedy, source=source)
