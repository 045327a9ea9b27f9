"""Split a sheet that is too full to be read into several.

Runs stay together by circuit, else by what they join. A run is drawn whole on one sheet wherever the paper is wide
enough; a device, plug or fitting that serves runs of several sheets is drawn on each with the terminals used there,
and says where else it is. Only a run that crosses more zones than fit is cut, at connectors that name the other sheet.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from math import ceil

from .border import PAPERS
from .cut import UNKNOWN, Cutter, placed_ids
from .foot import foot
from .halve import halves
from .setting import fits, may_fit, numbered
from .sheet import Mark, Sheet
from .units import Unit, branches_of, units_of

_SUBJECT = 72  # letters of a subject for which the title block has room
_FEW = 6  # so many things without a run are put on a sheet with others, if one has room
_LIST_SHARE = 0.35  # part of the paper that verdicts on the sheet as a whole may take


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
    drawn = {(mark.number, mark.target) for mark in part.marks}
    return (
        placed_ids(sheet) <= placed_ids(part)
        and {(run.id, run.start, run.end) for run in sheet.runs}
        <= {(run.id, run.start, run.end) for run in part.runs}
        and {(mark.number, mark.target) for mark in sheet.marks} <= drawn
    )


def split_sheet(sheet: Sheet, *, first: int = 1) -> list[Sheet]:
    """Sheets that show everything on this one at a readable size, numbered from `first`."""
    if fits(sheet):
        return [sheet.titled(first, first)]
    splitter = _Splitter(sheet)
    parts = splitter.parts()
    lists = _list_sheets(sheet, splitter.spilled)
    listed = {mark.number: first + len(parts) + n for n, part in enumerate(lists) for mark in part.marks}
    parts = [_told(part, sheet.subject) for part in _cross_referenced(parts, first, listed)]
    last = first + len(parts) + len(lists) - 1
    return [part.titled(first + n, last) for n, part in enumerate([*parts, *lists])]


class _Splitter:
    """Fills one sheet after another.

    `pending` are the verdicts on zones, barriers or the sheet as a whole, `spare` the terminals without a run: each
    is shown on the first sheet that has its place.
    """

    def __init__(self, sheet: Sheet) -> None:
        self.sheet = sheet
        self.cutter = Cutter(sheet)
        self.spilled: list[Mark] = []
        self.made: list[Sheet] = []
        self.joined: list[tuple[Sheet, Sequence[Unit], list[Mark], set[str]]] = []
        ends = {end for run in sheet.runs for end in (run.start, run.end)}
        self.spare = {t.id for device in sheet.devices for t in device.terminals} - ends
        placed = placed_ids(sheet)
        self.pending = [mark for mark in sheet.marks if mark.target not in placed]
        if foot(replace(sheet, marks=tuple(self.pending))).height > _LIST_SHARE * PAPERS[sheet.paper][1]:
            self.spilled += self.pending
            self.pending = [_moved(mark) for mark in self.pending]

    def parts(self) -> list[Sheet]:
        """Sheets in order; verdicts whose text found no room on them are in `spilled`."""
        units = units_of(self.sheet)
        self._fill([unit for unit in units if unit.runs])
        self._fill([unit for unit in units if not unit.runs])
        self.spilled += [mark for mark in self.pending if not mark.listed_on]
        return self.made

    def _fill(self, waiting: list[Unit]) -> None:
        """Make one sheet after another of some units."""
        guess = max(1, len(waiting) // 4)
        while waiting:
            part, count = self._fullest(len(waiting), guess, lambda n: waiting[:n])  # noqa: B023
            if part is None:
                unit, waiting = waiting[0], waiting[1:]
                part, rest = self._divide(unit)
                waiting = [rest, *waiting] if rest else waiting
                self._taken(part)
                self.made += [part] if fits(part) else self._squeeze(part)
                continue
            few = count == len(waiting) <= _FEW and not waiting[0].runs
            if not (few and self._squeezed_in(waiting)):
                self.joined.append((part, waiting[:count], self.pending, self.spare))
                self.made.append(self._taken(part))
            waiting, guess = waiting[count:], count

    def _squeezed_in(self, units: Sequence[Unit]) -> bool:
        """Put a few things that nothing joins on a sheet that has room for them, in place of one of their own."""
        names = {name for unit in units for name in unit.alone}
        for part, others, pending, spare in reversed(self.joined):
            runs = {name for unit in others for name in unit.runs}
            alone = names | {name for unit in others for name in unit.alone}
            fuller = self.cutter.part(runs, alone, pending, spare)
            if may_fit(fuller) and fits(fuller):
                self.made[next(n for n, one in enumerate(self.made) if one is part)] = self._taken(fuller)
                return True
        return False

    def _fullest(
        self, limit: int, guess: int, units: Callable[[int], Sequence[Unit]]
    ) -> tuple[Sheet | None, int]:
        """The sheet of the most units that fit, and how many they are; none when not even one does.

        Only sheets that may well fit are laid out, the fullest first: nearly every one that is laid out is kept.
        """
        tried: dict[int, Sheet] = {}

        def part(count: int) -> Sheet:
            if count not in tried:
                tried[count] = self._part(units(count))
            return tried[count]

        count = _most(limit, guess, lambda n: may_fit(part(n)))
        while count and not fits(part(count)):
            count -= 1
        return (tried[count] if count else None), count

    def _divide(self, unit: Unit) -> tuple[Sheet, Unit | None]:
        """A sheet of as many branches of a unit as fit, or of its runs where not even one does, and the others.

        Branches are spread evenly: twelve probes of which seven fit come six and six.
        """
        branches = branches_of(unit, self.cutter)
        if len(branches) > 1:
            part, count = self._fullest(
                len(branches) - 1, len(branches) // 2, lambda n: [Unit(_joined(branches[:n]))]
            )
            if part is not None:
                even = ceil(len(branches) / ceil(len(branches) / count))
                evened = self._part([Unit(_joined(branches[:even]))]) if even < count else part
                if fits(evened):
                    part, count = evened, even
                return part, Unit(_joined(branches[count:]), unit.alone)
        whole = len(unit.runs)
        if whole < 2:
            return self._part([unit]), None
        part, count = self._fullest(whole - 1, whole // 2, lambda n: [Unit(unit.runs[:n])])
        if part is None:
            part, count = self._part([Unit(unit.runs[:1])]), 1
        return part, Unit(unit.runs[count:], unit.alone)

    def _part(self, units: Sequence[Unit]) -> Sheet:
        runs = {name for unit in units for name in unit.runs}
        alone = {name for unit in units for name in unit.alone}
        return self.cutter.part(runs, alone, self.pending, self.spare)

    def _taken(self, part: Sheet) -> Sheet:
        """Note what a sheet shows, so that it is not shown again."""
        shown = {mark.number for mark in part.marks}
        self.pending = [mark for mark in self.pending if mark.number not in shown]
        self.spare = self.spare - {terminal.id for device in part.devices for terminal in device.terminals}
        return part

    def _squeeze(self, part: Sheet) -> list[Sheet]:
        """A single run or device that does not fit: move its verdicts to a list, else cut the run at a zone."""
        moved = replace(part, marks=tuple(_moved(mark) for mark in part.marks))
        if part.marks and fits(moved):
            self.spilled += [mark for mark in part.marks if not mark.listed_on]
            return [moved]
        pieces: list[Sheet] = []
        for half in halves(part):
            if fits(half):
                pieces.append(half)
                continue
            inner = _Splitter(half)
            pieces += inner.parts()
            self.spilled += inner.spilled
        return pieces or [part]


def _joined(branches: Iterable[tuple[str, ...]]) -> tuple[str, ...]:
    return tuple(name for branch in branches for name in branch)


def _most(limit: int, guess: int, fit: Callable[[int], bool]) -> int:
    """Largest count from 1 to `limit` that fits, searched outward from a guess; 0 when not even one does."""
    low, high = 0, limit + 1
    step = min(max(guess, 1), limit)
    while high - low > 1:
        if fit(step):
            low = step
            step += max(1, step // 3)
        else:
            high = step
        if not low < step < high:
            step = (low + high) // 2 if high <= limit else min(max(step, low + 1), limit)
    return low


def _moved(mark: Mark) -> Mark:
    return mark if mark.listed_on else replace(mark, listed_on=UNKNOWN[0])


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
    """A part of a sheet, its subject followed by the circuits that it shows, where they are few."""
    circuits = dict.fromkeys(run.circuit for run in part.runs if run.circuit and run.circuit not in subject)
    words = f"{subject}: {', '.join(circuits)}"
    if circuits and len(words) <= _SUBJECT and ":" not in subject:
        named = replace(part, subject=words)
        object.__setattr__(named, "kept", part.kept)
        return named
    return part


def _list_sheets(sheet: Sheet, spilled: Iterable[Mark]) -> list[Sheet]:
    """Sheets that hold nothing but verdicts."""
    waiting = list({mark.number: replace(mark, listed_on=0) for mark in spilled}.values())
    waiting.sort(key=lambda mark: mark.number)
    sheets: list[Sheet] = []

    def of(count: int) -> Sheet:
        bare = replace(sheet, barriers=(), fittings=(), devices=(), blocks=(), joints=(), wires=(), lines=())
        return replace(bare, marks=tuple(waiting[:count]))

    while waiting:
        count = _most(len(waiting), 40, lambda n: fits(of(n))) or 1
        sheets.append(of(count))
        waiting = waiting[count:]
    return sheets
