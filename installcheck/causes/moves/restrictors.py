"""A restrictor where a line is taken off its source."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.study import Study
from ...model.edits import Edit
from ...model.installation import split_end
from .parts import in_place

_FAR = 12
"""Lines and fittings followed from a line to its source at most."""


def restricted(study: Study, tap: str) -> Iterator[Edit]:
    """A restrictor in place of the plain fitting in a tap, its bore one the document uses, else each of the library's."""
    for ident in study.model.fittings:
        if _holder(study, ident) == tap:
            yield from _restricting(study, ident)


def at_source(study: Study, line: str) -> Iterator[Edit]:
    """A restrictor in place of a plain fitting between a line and the tap it is fed from, the nearest to the tap first."""
    reached, last = [line], 0
    while last < len(reached) and len(reached) < _FAR:
        reached += [one for one in _beside(study, reached[last]) if one not in reached]
        last += 1
    for ident in reached:
        if ident in study.model.fittings and _at_tap(study, ident):
            yield from _restricting(study, ident)


def _restricting(study: Study, ident: str) -> Iterator[Edit]:
    fitting = study.model.fittings[ident]
    if fitting.spec.kind != "restrictor" and fitting.part is not None:
        yield from in_place(study, "fittings", ident, "restrictor")


def _holder(study: Study, ident: str) -> str:
    """What a fitting is screwed into."""
    into = study.model.fittings[ident].screwed_into
    return split_end(into)[0] if into is not None else ""


def _at_tap(study: Study, ident: str) -> bool:
    """Whether a fitting is screwed into a tap, or into one that is."""
    holder = _holder(study, ident)
    return holder in study.model.taps or (holder in study.model.fittings and _at_tap(study, holder))


def _beside(study: Study, ident: str) -> list[str]:
    """What a line ends at; the lines at a fitting, and what it is screwed into."""
    model = study.model
    if ident in model.fluid_lines:
        ends = [split_end(e)[0] for e in (model.fluid_lines[ident].from_, model.fluid_lines[ident].to)]
        return [e for e in ends if e in model.fittings]
    holder = _holder(study, ident)
    held = [holder] if holder in model.fittings else []
    return held + [
        name
        for name, line in model.fluid_lines.items()
        if ident in (split_end(line.from_)[0], split_end(line.to)[0])
    ]
