"""Split a sheet that is too full to be read into several.

Runs stay together by circuit, else by what they join. A run is drawn whole on one sheet wherever the paper is wide
enough; a device, plug or fitting that serves runs of several sheets is drawn on each with the terminals used there,
and says where else it is. Only a run that crosses more zones than fit is cut, at connectors that name the other sheet.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from .cut import placed_ids
from .filling import Filler
from .search import most
from .setting import fits, numbered
from .sheet import Mark, Sheet
from .units import subjects_of

_SUBJECT = 72  # letters of a subject for which the title block has room


def split_sheets(sheets: Iterable[Sheet]) -> list[Sheet]:
    """Split each sheet as needed and number all of them through.

    A sheet of which everything stands together on one already made is left out.
    """
    parts: list[Sheet] = []
    on: dict[str, list[Sheet]] = defaultdict(list)
    for sheet in sheets:
        if sheet.runs and any(_shows(part, sheet) for part in on[sheet.runs[0].id]):
            continue
        for part in split_sheet(sheet, first=len(parts) + 1):
            parts.append(part)
            for run in part.runs:
                on[run.id].append(part)
    return [part.titled(number, len(parts)) for number, part in enumerate(parts, start=1)]


def _shows(part: Sheet, sheet: Sheet) -> bool:
    """Whether all that is drawn on a sheet, its verdicts included, is drawn on another, joined in the same way."""
    drawn = {mark.key for mark in part.marks}
    return (
        placed_ids(sheet) <= placed_ids(part)
        and {(run.id, run.start, run.end) for run in sheet.runs}
        <= {(run.id, run.start, run.end) for run in part.runs}
        and {mark.key for mark in sheet.marks} <= drawn
    )


def split_sheet(sheet: Sheet, *, first: int = 1) -> list[Sheet]:
    """Sheets that show everything on this one at a readable size, numbered from `first`."""
    if fits(sheet):
        return [sheet.titled(first, first)]
    filler = Filler(sheet)
    parts = filler.parts()
    lists = _list_sheets(sheet, filler.spilled)
    listed = {
        mark.number: first + number
        for number, part in reversed(list(enumerate([*parts, *lists])))
        for mark in part.marks
        if not mark.listed_on
    }
    parts = [_told(part, sheet.subject) for part in _cross_referenced(parts, first, listed)]
    last = first + len(parts) + len(lists) - 1
    return [part.titled(first + n, last) for n, part in enumerate([*parts, *lists])]


def _cross_referenced(parts: Sequence[Sheet], first: int, listed: Mapping[int, int]) -> list[Sheet]:
    """Tell every thing that is drawn more than once where else it is, and every verdict where it is listed."""
    on: dict[str, list[int]] = defaultdict(list)
    for number, part in enumerate(parts, start=first):
        for thing in part.placed:
            on[thing.id].append(number)

    def elsewhere(thing_id: str, number: int) -> tuple[int, ...]:
        twin = thing_id.replace(" > ", " < ") if " > " in thing_id else thing_id.replace(" < ", " > ")
        return tuple(
            other for other in on[thing_id] + (on[twin] if twin != thing_id else []) if other != number
        )

    return [
        numbered(
            part,
            replace(
                part,
                devices=tuple(replace(d, elsewhere=elsewhere(d.id, number)) for d in part.devices),
                blocks=tuple(replace(b, elsewhere=elsewhere(b.id, number)) for b in part.blocks),
                joints=tuple(replace(j, elsewhere=elsewhere(j.id, number)) for j in part.joints),
                marks=tuple(replace(m, listed_on=listed[m.number]) if m.listed_on else m for m in part.marks),
            ),
        )
        for number, part in enumerate(parts, start=first)
    ]


def _told(part: Sheet, subject: str) -> Sheet:
    """A part of a sheet, its subject followed by what it shows, where that is little."""
    shown = [word for word in subjects_of(part) if word not in subject]
    told = range(len(shown), 0, -1) if ":" not in subject else ()
    words = next((w for n in told if len(w := _of(subject, shown, n)) <= _SUBJECT), "")
    if words:
        named = replace(part, subject=words)
        object.__setattr__(named, "kept", part.kept)
        return named
    return part


def _of(subject: str, shown: Sequence[str], count: int) -> str:
    more = f" and {len(shown) - count} more" if count < len(shown) else ""
    return f"{subject}: {', '.join(shown[:count])}{more}"


def _list_sheets(sheet: Sheet, spilled: Iterable[Mark]) -> list[Sheet]:
    """Sheets that hold nothing but verdicts."""
    waiting = list({mark.number: replace(mark, listed_on=0) for mark in spilled}.values())
    waiting.sort(key=lambda mark: mark.number)
    sheets: list[Sheet] = []

    def of(count: int) -> Sheet:
        bare = replace(sheet, barriers=(), fittings=(), devices=(), blocks=(), joints=(), wires=(), lines=())
        return replace(bare, marks=tuple(waiting[:count]))

    while waiting:
        count = most(len(waiting), 40, lambda n: fits(of(n))) or 1
        sheets.append(of(count))
        waiting = waiting[count:]
    return sheets
