"""A line labelled for the worse fluid it carries: the one relabelling that hides nothing."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.fluid.facts import media
from ...analysis.study import Study
from ...model.edits import Edit, Put
from ...model.fields import Medium

BURNS: Medium = "fuel-air mixture"
_HARMLESS: frozenset[Medium | None] = frozenset(("manifold air", "air", "vacuum"))


def as_it_carries(study: Study, ident: str) -> Iterator[Edit]:
    """An intake line that is labelled air, though mixture reaches it: from then on it is judged as one that burns."""
    label = study.model.fluid_lines[ident].medium
    reached = media(study).in_line(ident)
    if label in _HARMLESS and BURNS in reached and reached <= {BURNS, *_HARMLESS}:
        yield Edit(
            (Put(("fluid_lines", ident, "medium"), BURNS),),
            f"label {ident} {BURNS} in place of {label}",
            f"{ident} is labelled {label} and carries {BURNS}",
        )
