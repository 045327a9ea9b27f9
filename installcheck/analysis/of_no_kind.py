"""Terminals of supplies and joints that do not say what they are: what passes, gives or draws current there is open."""

from __future__ import annotations

from . import missing
from .missing import Missing
from .study import Study, once


@once
def of_no_kind(study: Study) -> dict[str, Missing]:
    """What is missing of each supply and joint that does not say what it is."""
    model = study.model
    return {i: missing.JOINT_KIND for i, one in model.junctions.items() if one.spec.kind is None} | {
        i: missing.SUPPLY_KIND for i, one in model.supplies.items() if one.spec.kind is None
    }


def kind_lacking_at(study: Study, node: str) -> Missing | None:
    """What is missing of a terminal whose supply or joint does not say what it is."""
    return of_no_kind(study).get(node.partition(".")[0])
