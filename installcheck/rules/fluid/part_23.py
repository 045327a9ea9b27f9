"""What part 23 asks: a rule for certificated aircraft, good counsel for amateur-built ones."""

from __future__ import annotations

from ...analysis.fluid.facts import amateur_built
from ...analysis.study import Study
from ...document.source import DocPath
from ..verdicts import Verdict, advisory, discrepancy
from ..vocabulary import Remedy, Subject

COUNSEL = "; for an amateur-built aircraft this is a recommendation"


def part_23_broken(subject: Subject, message: str, *, remedy: Remedy = "", source: str = "") -> Verdict:
    """A certification rule is broken: a discrepancy, or a recommendation for an amateur-built aircraft."""
    if amateur_built(subject.study):
        return subject.advisory(message + COUNSEL, remedy=remedy, source=source)
    return subject.discrepancy(message, remedy=remedy, source=source)


def breach(study: Study, at: tuple[str, ...], path: DocPath, message: str, **more: object) -> Verdict:
    """A fault against a certification rule: a discrepancy, or a recommendation for an amateur-built aircraft."""
    if not amateur_built(study):
        return discrepancy(at, path, message, **more)
    return advisory(at, path, message + COUNSEL, **more)
