"""Terminals of supplies and joints that do not say what they are: what passes, gives or draws current there is open."""

from __future__ import annotations

from . import missing
from .missing import Missing
from .study import Study


def kind_lacking_at(study: Study, node: str) -> Missing | None:
    """What is missing of a terminal whose supply or joint does not say what it is."""
    ident = node.partition(".")[0]
    supply, joint = study.model.supplies.get(ident), study.model.junctions.get(ident)
    if supply is not None and supply.spec.kind is None:
        return missing.SUPPLY_KIND
    return missing.JOINT_KIND if joint is not None and joint.spec.kind is None else None
