"""The causes of the review record: a line of each for the first page, its picture, its consequences and its cure."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from typing import Any

from ...causes.danger import ENDANGERS, danger
from ...causes.found import Cause, Causes
from ...dataclass import dataclass
from ...drawing.border import inside
from ...drawing.foot import PAD
from ...drawing.ink import Page, Spot, Text, Trace
from ...drawing.setting import setting
from ...drawing.sheet import Mark, Sheet
from ...drawing.text_width import text_width
from ...files.names import visible
from ...rules.verdicts import Outcome, Verdict
from ..cause_words import cure_of, first_of, path_of, sentences, wrong_of
from ..wording import clause, count_of

_LINE = 72
"""Characters of what is wrong for which a line of the first page has room on A4 and Letter."""
_AROUND = 14.0
_LEAST = (330.0, 110.0)
_MOST_HIGH = 240.0
"""Room around what is shown, and the least and the greatest size of a picture cropped to it [pt]."""
_WORD, _GAP = 70.0, 2.0
"""How far a picture grows to show a word whole, and what it leaves beside one [pt]."""
_FRAME = 3.0
"""From the middle of the frame of a sheet to what is shown of it [pt]."""

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


def cause_rows(causes: Causes, drawn: list[DrawnSheet]) -> Iterator[dict[str, Any]]:
    """Every cause as plain values."""
    pictured: tuple[int, tuple[DrawnSheet | None, Box | None]] | None = None
    for number, cause in enumerate(causes.causes, start=1):
        sheet, box = _place(number, str(next(iter(path_of(cause)[1:2]), "")), drawn)
        as_of = (
            pictured[0] if pictured is not None and box is not None and pictured[1] == (sheet, box) else None
        )
        if as_of is None:
            pictured = number, (sheet, box)
        yield {
            "number": number,
            "wrong": wrong_of(cause),
            "short": clause(wrong_of(cause), _LINE),
            "first": first_of(cause),
            "others": list(sentences(cause)),
            "cure": cure_of(causes, cause),
            "tried": bool(cause.edits),
            "endangers": ENDANGERS[min(danger(v) for v in _graded(cause))],
            "verdicts": count_of(len(cause.verdicts), "verdict", "verdicts"),
            "sources": list(dict.fromkeys(f"{v.rule}: {v.source}" for v in cause.verdicts)),
            "keys_json": json.dumps([{"rule": v.rule, "at": v.at[0] if v.at else ""} for v in _own(cause)]),
            "place": visible(str(causes.ledger.document.place(path_of(cause)))),
            "sheet": None
            if sheet is None
            else {"id": sheet.id, "number": sheet.number, "subject": sheet.subject},
            "as_of": as_of,
            "picture": None if sheet is None or box is None or as_of is not None else _picture(sheet, box),
        }


def _graded(cause: Cause) -> list[Verdict]:
    """What a cause is ranked by: its discrepancies, those it shares with others included."""
    return [v for v in cause.verdicts if v.outcome is Outcome.DISCREPANCY] or list(cause.verdicts)


def _own(cause: Cause) -> Iterable[Verdict]:
    """The verdicts a decision on the cause is about: what vanishes with it alone."""
    return cause.explains or cause.verdicts[:1]


def _place(number: int, ident: str, drawn: list[DrawnSheet]) -> tuple[DrawnSheet | None, Box | None]:
    """The sheet that shows what is to be changed with most of what it makes wrong, and the box around that."""

    def targets(one: DrawnSheet) -> list[str]:
        found = [m.target for m in one.marks if m.number == number and m.target]
        return sorted(found, key=lambda target: not _is(target, ident))

    def shows(one: DrawnSheet) -> tuple[bool, int]:
        found = targets(one)
        return bool(found) and _is(found[0], ident), len(found)

    best = max(drawn, key=shows, default=None)
    if best is None or not targets(best):
        return None, None
    return best, crop(best, targets(best))


def _is(target: str, ident: str) -> bool:
    """Whether a place on a sheet is a thing of the document, or a conductor or terminal of it."""
    name = target.removeprefix("device ")
    return name == ident or name.startswith((f"{ident} ", f"{ident}."))


def crop(one: DrawnSheet, targets: Iterable[str]) -> Box | None:
    """Left, top, width and height of the part of a page in which some things stand, the first of them in any case [pt].

    A device that would be cut through is shown whole while the picture stays of a readable height.
    """
    spots = {name: box for ink in one.page.inks if (name := _name(ink)) and (box := _box(ink)) is not None}
    boxes = [
        spots[name]
        for target in targets
        for word in ("at", "run", "zone")
        if (name := f"{word}-{target}") in spots
    ]
    if not boxes:
        return None
    left, top, right, bottom = inside(one.sheet.paper)
    foot = min(bottom, top + PAD + setting(one.sheet).high)
    left, top, right, bottom = left + _FRAME, top + _FRAME, right - _FRAME, foot - _FRAME
    shown = boxes[0]
    for box in boxes[1:]:
        wider = _around(shown, box)
        if wider[3] - wider[1] <= _MOST_HIGH - 2 * _AROUND:
            shown = wider
    x0, x1 = _widened(shown[0] - _AROUND, shown[2] + _AROUND, _LEAST[0], left, right)
    y0, y1 = _widened(shown[1] - _AROUND, shown[3] + _AROUND, _LEAST[1], top, bottom)
    x0, y0, x1, y1 = max(left, x0), max(top, y0), min(right, x1), min(bottom, y1)
    for box in sorted(
        (b for name, b in spots.items() if name.startswith("at-")),
        key=lambda b: max(y0 - b[1], 0) + max(b[3] - y1, 0),
    ):
        cut = box[0] < x1 and box[2] > x0 and box[1] < y1 and box[3] > y0
        wider = _around((x0, y0, x1, y1), (box[0] - 3, box[1] - 3, box[2] + 3, box[3] + 3))
        if cut and wider[3] - wider[1] <= _MOST_HIGH:
            x0, y0, x1, y1 = (
                max(left, wider[0]),
                max(top, wider[1]),
                min(right, wider[2]),
                min(bottom, wider[3]),
            )
    x0, y0, x1, y1 = _whole_words(one.page, (x0, y0, x1, y1), (left, top, right, bottom))
    return x0, y0, x1 - x0, y1 - y0


def _whole_words(page: Page, box: Box, most: Box) -> Box:
    """A box that cuts no word: moved out to the end of one that is soon whole, else in to where it begins."""
    for side in (2, 0, 3, 1) * 2:
        low, high = side % 2, side % 2 + 2
        across, beyond = 1 - low, 3 - low
        cut = [
            w
            for w in _words(page)
            if w[low] < box[side] < w[high] and w[across] < box[beyond] and w[beyond] > box[across]
        ]
        if not cut:
            continue
        outer, inner = max(w[high] for w in cut) + _GAP, min(w[low] for w in cut) - _GAP
        if side < 2:
            outer, inner = inner, outer
        moves = [
            to for to in (outer, inner) if most[low] <= to <= most[high] and abs(to - box[side]) <= _WORD
        ]
        if moves:
            to = moves[0] if low == 0 else min(moves, key=lambda to: abs(to - box[side]))
            box = (*box[:side], to, *box[side + 1 :])  # type: ignore[assignment]
    return box


def _words(page: Page) -> Iterator[Box]:
    """Where each word of a page stands."""
    for ink in page.inks:
        if isinstance(ink, Text) and not ink.upright:
            wide = text_width(ink.text, ink.size, bold=ink.bold)
            start = ink.x - {"start": 0.0, "middle": wide / 2, "end": wide}[ink.anchor]
            yield start, ink.y - ink.size, start + wide, ink.y + ink.size / 4


def _around(one: Box, other: Box) -> Box:
    return min(one[0], other[0]), min(one[1], other[1]), max(one[2], other[2]), max(one[3], other[3])


def _widened(start: float, end: float, least: float, low: float, high: float) -> tuple[float, float]:
    more = max(0.0, least - (end - start)) / 2
    start, end = start - more, end + more
    if start < low:
        start, end = low, min(high, end + low - start)
    elif end > high:
        start, end = max(low, start - (end - high)), high
    return start, end


def _name(ink: object) -> str:
    return ink.id if isinstance(ink, Spot | Trace) else ""


def _box(ink: object) -> Box | None:
    if isinstance(ink, Spot):
        return ink.x, ink.y, ink.x + ink.width, ink.y + ink.height
    if isinstance(ink, Trace):
        xs, ys = [p[0] for p in ink.points], [p[1] for p in ink.points]
        return min(xs), min(ys), max(xs), max(ys)
    return None


def _picture(one: DrawnSheet, box: Box) -> dict[str, Any]:
    x, y, wide, high = (round(v, 1) for v in box)
    return {
        "of": one.id.replace("sheet", "art"),
        "box": f"{x:g} {y:g} {wide:g} {high:g}",
        "shape": round(wide / high, 4),
        "wide": wide,
        "high": high,
        "page": [round(one.page.width, 2), round(one.page.height, 2)],
        "number": one.number - 1,
    }
