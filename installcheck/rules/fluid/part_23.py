"""Faults against part 23, which binds certificated aircraft and counsels amateur-built ones."""

from __future__ import annotations

from ...analysis.fluid.facts import amateur_built
from ...analysis.study import Study
from ...document.source import DocPath
from ..verdicts import Verdict, advisory, discrepancy


def breach(study: Study, at: tuple[str, ...], path: DocPath, message: str, **more: object) -> Verdict:
    """A fault against a certification rule: a discrepancy, or a recommendation for an amateur-built aircraft."""
    if not amateur_built(study):
        return discrepancy(at, path, message, **more)
    return advisory(at, path, f"{message}; for an amateur-built aircraft this is a recommendation", **more)
