"""Coloured marks of a dial painted where the limits of the engine are."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.study import Study
from ...model.aircraft import Limit
from ...model.devices import Marking
from ...model.edits import Edit, Put
from ...model.quantities import Quantity
from ...rules.indications.ranges import Dial, dials
from .spots import written

_CLOSE = 1e-6
"""Share of a value within which a mark stands on it."""


def painted(study: Study, ident: str) -> Iterator[Edit]:
    """The marks of each dial of an indicator as its limits say; marks no limit asks for stay."""
    for dial in dials(study):
        marks = dial.shown.spec.markings
        if dial.path[1] == ident and dial.limit is not None and marks is not None:
            wanted = _wanted(dial.limit, marks)
            wrong = [m for m in marks if m not in wanted] or [m for m in wanted if m not in marks]
            if wrong:
                yield _as(dial, wanted, wrong[0], stands=wrong[0] in marks)


def _as(dial: Dial, wanted: list[Marking], wrong: Marking, *, stands: bool) -> Edit:
    name = dial.shown.name
    heading = (
        f"the {wrong.colour} mark of {name} stands at {_where(wrong)}"
        if stands
        else f"{name} has no {wrong.colour} mark at {_where(wrong)}"
    )
    told = ", ".join(f"{m.colour} {_where(m)}" for m in wanted)
    put = Put((*dial.path, "markings"), written(wanted))
    return Edit((put,), f"mark {name} by the limits of the engine: {told}", heading)


def _where(mark: Marking) -> str:
    if mark.at is not None:
        return mark.at.text
    ends = [v.text for v in (mark.lowest, mark.highest) if v is not None]
    return " to ".join(ends)


def _wanted(limit: Limit, marks: list[Marking]) -> list[Marking]:
    """Red at each limit, green and yellow over their ranges; a mark that stands so already is kept as it is."""
    asked = [_line("red", v) for v in (limit.minimum, limit.maximum) if v is not None]
    for colour, low, high in (
        ("green", limit.normal_low, limit.normal_high),
        ("yellow", limit.caution_low, limit.caution_high),
    ):
        if low is not None and high is not None:
            asked.append(Marking.model_validate({"colour": colour, "lowest": low.text, "highest": high.text}))
    kept = [next((m for m in marks if _same(m, a)), a) for a in asked]
    colours = {a.colour for a in asked}
    return [*kept, *(m for m in marks if m.colour not in colours)]


def _line(colour: str, value: Quantity) -> Marking:
    return Marking.model_validate({"colour": colour, "at": value.text})


def _same(one: Marking, other: Marking) -> bool:
    """Whether two marks are of one colour and cover each other: a red arc that begins at a limit is a red line there."""
    if one.colour != other.colour:
        return False
    if other.at is not None:
        return any(v is not None and _on(v, other.at) for v in (one.at, one.lowest, one.highest))
    pairs = ((one.lowest, other.lowest), (one.highest, other.highest))
    return all(a is not None and b is not None and _on(a, b) for a, b in pairs)


def _on(one: Quantity, other: Quantity) -> bool:
    return one.kind == other.kind and abs(float(one) - float(other)) <= _CLOSE * max(abs(float(other)), 1.0)
