"""What a ground is fastened to: sound metal, not magnesium, and not carbon laminate."""

from __future__ import annotations

import re

from ...analysis import missing
from ...analysis.study import Study
from ...model.power import Ground
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_COMPOSITE = re.compile(r"composite|carbon|cfrp|graphite|laminate", re.IGNORECASE)
_MAGNESIUM = re.compile(r"magnesium|elektron", re.IGNORECASE)
_METAL = re.compile(
    r"alumin|alclad|steel|stainless|copper|brass|bronze|titanium|inconel|\b[2-7]0[0-9]{2}\b", re.IGNORECASE
)


@rule(
    "ground-structure",
    title="A ground is fastened to sound metal: no magnesium, no conductive composite",
    why="Magnesium corrodes at once under a foreign lug. Carbon laminate conducts a thousand times worse than aluminium, "
    "heats at the fastener and eats the aluminium it touches.",
    source="AC 43.13-1B 11-189a (no ground on magnesium); conductive composite: general practice (recalled)",
    formula="material of the structure at the joint: aluminium, steel, copper alloy or titanium",
    example="a panel ground on a carbon bulkhead: lead it to the ground bus by a wire of its own",
    over="grounds",
)
def ground_structure(study: Study, subject: Subject, ground: Ground) -> Verdict | None:
    """A ground that says its material; one that is silent is not asked."""
    said = ground.material
    if said is None:
        unknown = study.document.declared_unknown((*subject.path, "material"))
        return subject.lacks(missing.GROUND_MATERIAL) if unknown else None
    at = subject.field("material")
    if _COMPOSITE.search(said):
        return at.advisory(
            f"{subject.ident} is of {said}, which is no path for a return",
            remedy="lead the return to a ground bus by a wire; keep what must be bonded bonded by a strap",
        )
    if _MAGNESIUM.search(said):
        return at.discrepancy(
            f"{subject.ident} is of {said}, on which nothing is grounded",
            remedy="ground it elsewhere, on aluminium or steel",
        )
    if _METAL.search(said):
        return at.meets(f"{subject.ident} is of {said}")
    return at.lacks(missing.GROUND_MATERIAL)
