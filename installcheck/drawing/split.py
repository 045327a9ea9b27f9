"""Split a sheet that is too full to be read into several.

Runs stay together by circuit, else by what they join. A run is drawn whole on one sheet wherever the paper is wide
enough; a device, plug or fitting that serves runs of several sheets is drawn on each with the terminals used there,
and says where else it is. Only a run that crosses more zones than fit is cut, at connectors that name the other sheet.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from .cut import UNKNOWN, Cutter, homes_of, placed_ids
from .foot import PAPERS, foot
from .items import Run
from .setting import fits, may_fit, numbered
from .sheet import (
    DeviceKind,
    FluidLine,
    Joint,
    JointKind,
    Mark,
    Sheet,
    Wire,
)

_R = TypeVar("_R", Wire, FluidLine)
_HUB = 12  # a device with more runs than this does not tie them together
_LIST_SHARE = 0.35  # part of the paper that verdicts on the sheet as a whole may take


def split_sheets(sheets: Iterable[Sheet]) -> list[Sheet]:
    """Split each sheet as needed and number all of them through."""
    parts: list[Sheet] = []
    for sheet in sheets:
        parts += split_sheet(sheet, first=len(parts) + 1)
    return [part.titled(number, len(parts)) for number, part in enumerate(parts, start=1)]


def split_sheet(sheet: Sheet, *, first: int = 1) -> list[Sheet]:
    """Sheets that show everything on this one at a readable size, numbered from `first`."""
    if fits(sheet):
        return [sheet.titled(first, first)]
    splitter = _Splitter(sheet)
    parts = splitter.parts()
    lists = _list_sheets(sheet, splitter.spilled)
    listed = {mark.number: first + len(parts) + n for n, part in enumerate(lists) for mark in part.marks}
    parts = _cross_referenced(parts, first, listed)
    last = first + len(parts) + len(lists) - 1
    return [part.titled(first + n, last) for n, part in enumerate([*parts, *lists])]


@dataclass(frozen=True, slots=True)
class _Unit:
    """Runs that belong on one sheet, and things without any run."""

    runs: tuple[str, ...] = ()
    alone: tuple[str, ...] = ()


class _Splitter:
    """Fills one sheet after another.

    `pending` are the verdicts on zones, barriers or the sheet as a whole, `spare` the terminals without a run: each
    is shown on the first sheet that has its place.
    """

    def __init__(self, sheet: Sheet) -> None:
        self.sheet = sheet
        self.cutter = Cutter(sheet)
        self.spilled: list[Mark] = []
        ends = {end for run in sheet.runs for end in (run.start, run.end)}
        self.spare = {t.id for device in sheet.devices for t in device.terminals} - ends
        placed = placed_ids(sheet)
        self.pending = [mark for mark in sheet.marks if mark.target not in placed]
        if foot(replace(sheet, marks=tuple(self.pending))).height > _LIST_SHARE * PAPERS[sheet.paper][1]:
            self.spilled += self.pending
            self.pending = [_moved(mark) for mark in self.pending]

    def parts(self) -> list[Sheet]:
        """Sheets in order; verdicts whose text found no room on them are in `spilled`."""
        parts: list[Sheet] = []
        waiting = _units(self.sheet)
        guess = max(1, len(waiting) // 4)
        while waiting:
            part, count = self._fullest(len(waiting), guess, lambda n: waiting[:n])  # noqa: B023
            if part:
                parts.append(self._taken(part))
                waiting, guess = waiting[count:], count
                continue
            unit, waiting = waiting[0], waiting[1:]
            part, rest = self._divide(unit)
            waiting = [rest, *waiting] if rest else waiting
            self._taken(part)
            parts += [part] if fits(part) else self._squeeze(part)
        self.spilled += [mark for mark in self.pending if not mark.listed_on]
        return parts

    def _fullest(
        self, limit: int, guess: int, units: Callable[[int], Sequence[_Unit]]
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

    def _divide(self, unit: _Unit) -> tuple[Sheet, _Unit | None]:
        """A sheet of as many runs of a unit as fit, at least one, and the others."""
        whole = len(unit.runs)
        if whole < 2:
            return self._part([unit]), None
        part, count = self._fullest(whole - 1, whole // 2, lambda n: [_Unit(unit.runs[:n])])
        if part is None:
            part, count = self._part([_Unit(unit.runs[:1])]), 1
        return part, _Unit(unit.runs[count:], unit.alone)

    def _part(self, units: Sequence[_Unit]) -> Sheet:
        runs = {name for unit in units for name in unit.runs}
        alone = {name for unit in units for name in unit.alone}
        return self.cutter.part(runs, alone, self.pending, self.spare)

    def _taken(self, part: Sheet) -> Sheet:
        """Note what a sheet shows, so that it is not shown again."""
        shown = {mark.number for mark in part.marks}
        self.pending = [mark for mark in self.pending if mark.number not in shown]
        self.spare -= {terminal.id for device in part.devices for terminal in device.terminals}
        return part

    def _squeeze(self, part: Sheet) -> list[Sheet]:
        """A single run or device that does not fit: move its verdicts to a list, else cut the run at a zone."""
        moved = replace(part, marks=tuple(_moved(mark) for mark in part.marks))
        if part.marks and fits(moved):
            self.spilled += [mark for mark in part.marks if not mark.listed_on]
            return [moved]
        halves = _halves(part)
        pieces: list[Sheet] = []
        for half in halves:
            if fits(half):
                pieces.append(half)
                continue
            inner = _Splitter(half)
            pieces += inner.parts()
            self.spilled += inner.spilled
        return pieces or [part]


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


def _units(sheet: Sheet) -> list[_Unit]:
    """Runs grouped by circuit, or by the devices and joints that they share; then all that has no run."""
    homes = homes_of(sheet)
    load: dict[str, int] = defaultdict(int)
    for run in sheet.runs:
        for home in {homes[run.start], homes[run.end]}:
            load[home] += 1
    rails = {d.id for d in sheet.devices if d.kind in (DeviceKind.SUPPLY, DeviceKind.GROUND)}
    rails |= {home for home, runs in load.items() if runs > _HUB}
    leader: dict[str, str] = {}

    def lead(name: str) -> str:
        while leader.setdefault(name, name) != name:
            name = leader[name]
        return name

    def tied(run: Run) -> list[str]:
        circuit = [f"circuit {run.circuit}"] if run.circuit else []
        return (
            circuit or [home for home in (homes[run.start], homes[run.end]) if home not in rails] or ["rails"]
        )

    for run in sheet.runs:
        names = tied(run)
        leader[lead(names[-1])] = lead(names[0])
    groups: dict[str, list[str]] = defaultdict(list)
    for run in sheet.runs:
        groups[lead(tied(run)[0])].append(run.id)
    crossed = {name for run in sheet.runs for name in run.through}
    alone = [device.id for device in sheet.devices if not load[device.id]]
    alone += [joint.id for joint in sheet.joints if not load[joint.id]]
    alone += [fitting.id for fitting in sheet.fittings if fitting.id not in crossed]
    return [_Unit(tuple(runs)) for runs in groups.values()] + [_Unit(alone=(name,)) for name in alone]


def _halves(sheet: Sheet) -> tuple[Sheet, ...]:
    """The left and the right zones of a sheet, with a connector wherever a run goes from one to the other."""
    if len(sheet.bands) < 3:
        return ()
    middle = len(sheet.bands) // 2
    hinge = sheet.bands[middle].id
    left = {band.id for band in sheet.bands[:middle]}
    bands = {thing.id: thing.band for thing in sheet.placed}
    on_left = {end: bands[home] in left for end, home in homes_of(sheet).items()}
    barrier_left = {barrier.id: barrier.after in left for barrier in sheet.barriers}
    fitting_left = {fitting.id: barrier_left[fitting.barrier] for fitting in sheet.fittings}
    return tuple(
        _half(sheet, side, hinge, middle, on_left, fitting_left, barrier_left) for side in (True, False)
    )


def _half(
    sheet: Sheet,
    left: bool,
    hinge: str,
    middle: int,
    on_left: Mapping[str, bool],
    fitting_left: Mapping[str, bool],
    barrier_left: Mapping[str, bool],
) -> Sheet:
    connectors: list[Joint] = []

    def piece(run: _R) -> _R | None:
        if on_left[run.start] != left and on_left[run.end] != left:
            return None
        through = tuple(name for name in run.through if fitting_left[name] == left)
        if on_left[run.start] == on_left[run.end]:
            return replace(run, through=through)
        name = f"{run.id} {'>' if left else '<'} {hinge}"
        connectors.append(Joint(name, JointKind.OFF_SHEET, hinge, run.id, elsewhere=UNKNOWN[:1]))
        if on_left[run.start] == left:
            return replace(run, end=name, through=through)
        return replace(run, start=name, through=through)

    wires = tuple(p for wire in sheet.wires if (p := piece(wire)))
    lines = tuple(q for line in sheet.lines if (q := piece(line)))
    joints = tuple(joint for joint in sheet.joints if on_left[joint.id] == left)
    blocks = {joint.block for joint in joints}
    left_bands = {band.id for band in sheet.bands[:middle]}
    half = replace(
        sheet,
        bands=sheet.bands[: middle + 1] if left else sheet.bands[middle:],
        barriers=tuple(b for b in sheet.barriers if barrier_left[b.id] == left),
        fittings=tuple(f for f in sheet.fittings if fitting_left[f.id] == left),
        devices=tuple(d for d in sheet.devices if (d.band in left_bands) == left),
        blocks=tuple(b for b in sheet.blocks if b.id in blocks),
        joints=(*joints, *connectors),
        wires=wires,
        lines=lines,
        marks=(),
    )
    here = placed_ids(half) | half.zone_ids
    there = placed_ids(sheet) | sheet.zone_ids
    marks = tuple(m for m in sheet.marks if m.target in here or (left and m.target not in there))
    return replace(half, marks=marks)


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
