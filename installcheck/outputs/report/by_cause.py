"""The causes of the review record: a line of each for the first page, its picture, its consequences and its cure."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from ...causes.found import Cause, Causes
from ...drawing.border import inside
from ...drawing.ink import Page, Spot, Trace
from ...drawing.sheet import Mark, Sheet
from ...files.names import visible
from ...rules.verdicts import Verdict
from ..cause_words import consequences, cure_of, path_of, wrong_of
from ..wording import numbers

_AROUND = 34.0
_LEAST = (330.0, 120.0)
_MOST_HIGH = 230.0
"""Room around a place, and the least and the greatest size of a picture cropped to it [pt]."""

Box = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class DrawnSheet:
    """A sheet with its page, its SVG, its number and its anchor in the record."""

    id: str
    number: int
    subject: str
    svg: str
    page: Page
    marks: tuple[Mark, ...]
    sheet: Sheet


def cause_rows(
    causes: Causes, drawn: list[DrawnSheet], number_of: dict[int, int]
) -> Iterator[dict[str, Any]]:
    """Every cause as plain values; ``number_of`` gives the number of a verdict in the ledger, by its ``id``."""
    for number, cause in enumerate(causes.causes, start=1):
        numbers_here = [number_of[id(v)] for v in cause.verdicts if id(v) in number_of]
        sheet, box = _place(numbers_here, drawn)
        first, *others = consequences(cause)
        yield {
            "number": number,
            "wrong": wrong_of(cause),
            "first": first,
            "others": others,
            "cure": cure_of(causes, cause),
            "tried": bool(cause.edits),
            "verdicts": numbers_here,
            "sources": list(dict.fromkeys(f"{v.rule}: {v.source}" for v in cause.verdicts)),
            "figures": numbers(cause.verdicts[0]),
            "keys_json": json.dumps([{"rule": v.rule, "at": v.at[0] if v.at else ""} for v in _own(cause)]),
            "place": visible(str(causes.ledger.document.place(path_of(cause)))),
            "sheet": None
            if sheet is None
            else {"id": sheet.id, "number": sheet.number, "subject": sheet.subject},
            "picture": None if sheet is None or box is None else _picture(sheet, box),
        }


def _own(cause: Cause) -> Iterable[Verdict]:
    """The verdicts a decision on the cause is about: what vanishes with it alone."""
    return cause.explains or cause.verdicts[:1]


def _place(numbers_here: list[int], drawn: list[DrawnSheet]) -> tuple[DrawnSheet | None, Box | None]:
    """The sheet with the first of some verdicts, and the box around those of them that stand on it."""
    for number in numbers_here:
        for one in drawn:
            targets = [m.target for m in one.marks if m.number in numbers_here and m.target]
            if any(m.number == number and m.target for m in one.marks):
                return one, crop(one, targets)
    return None, None


def crop(one: DrawnSheet, targets: Iterable[str]) -> Box | None:
    """Left, top, width and height of the part of a page in which some things stand [pt]."""
    names = {f"{word}-{target}" for target in targets for word in ("at", "run", "zone")}
    boxes = [box for ink in one.page.inks if (box := _box(ink, names)) is not None]
    if not boxes:
        return None
    left, top, right, bottom = inside(one.sheet.paper)
    x0 = max(left, min(b[0] for b in boxes) - _AROUND)
    y0 = max(top, min(b[1] for b in boxes) - _AROUND)
    x1 = min(right, max(b[2] for b in boxes) + _AROUND)
    y1 = min(bottom, max(b[3] for b in boxes) + _AROUND)
    if y1 - y0 > _MOST_HIGH:
        first = boxes[0]
        middle = (first[1] + first[3]) / 2
        y0, y1 = max(y0, middle - _MOST_HIGH / 2), min(y1, middle + _MOST_HIGH / 2)
    x0, x1 = _widened(x0, x1, _LEAST[0], left, right)
    y0, y1 = _widened(y0, y1, _LEAST[1], top, bottom)
    return x0, y0, x1 - x0, y1 - y0


def _widened(start: float, end: float, least: float, low: float, high: float) -> tuple[float, float]:
    more = max(0.0, least - (end - start)) / 2
    start, end = start - more, end + more
    if start < low:
        start, end = low, min(high, end + low - start)
    elif end > high:
        start, end = max(low, start - (end - high)), high
    return start, end


def _box(ink: object, names: set[str]) -> Box | None:
    if isinstance(ink, Spot) and ink.id in names:
        return ink.x, ink.y, ink.x + ink.width, ink.y + ink.height
    if isinstance(ink, Trace) and ink.id in names:
        xs, ys = [p[0] for p in ink.points], [p[1] for p in ink.points]
        return min(xs), min(ys), max(xs), max(ys)
    return None


def _picture(one: DrawnSheet, box: Box) -> dict[str, Any]:
    x, y, wide, high = (round(v, 1) for v in box)
    return {
        "of": one.id.replace("sheet", "art"),
        "box": f"{x:g} {y:g} {wide:g} {high:g}",
        "wide": wide,
        "high": high,
        "page": [round(one.page.width, 2), round(one.page.height, 2)],
        "number": one.number - 1,
    }
