"""Split a sheet that is too full to be read into several.

Runs stay together by circuit, else by what they join. A run is drawn whole on one sheet wherever the paper is wide
enough; a device, plug or fitting that serves runs of several sheets is drawn on each with the terminals used there,
and says where else it is. Only a run that crosses more zones than fit is cut, at connectors that name the other sheet.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from .foot import PAPERS, foot
from .items import Run
from .page import fits
from .sheet import (
    Band,
    Barrier,
    DeviceKind,
    FluidLine,
    Joint,
    JointKind,
    Mark,
    Sheet,
    Wire,
)

_R = TypeVar("_R", Wire, FluidLine)
_UNKNOWN = (880, 881, 890, 891)  # stands for sheet numbers until they are known, and is as wide as any
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
    parts = [_refer(part, listed) for part in _cross_referenced(parts, first)]
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
        self.spilled: list[Mark] = []
        ends = {end for run in sheet.runs for end in (run.start, run.end)}
        self.spare = {t.id for device in sheet.devices for t in device.terminals} - ends
        placed = _placed_ids(sheet)
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
            count = _most(len(waiting), guess, lambda n: fits(self._part(waiting[:n])))  # noqa: B023
            if count:
                parts.append(self._take(waiting[:count]))
                waiting, guess = waiting[count:], count
                continue
            unit, waiting = waiting[0], waiting[1:]
            head, rest = self._divide(unit)
            waiting = [rest, *waiting] if rest else waiting
            part = self._take([head])
            parts += [part] if fits(part) else self._squeeze(part)
        self.spilled += [mark for mark in self.pending if not mark.listed_on]
        return parts

    def _divide(self, unit: _Unit) -> tuple[_Unit, _Unit | None]:
        """As many runs of a unit as fit on one sheet, at least one, and the others."""
        whole = len(unit.runs)
        if whole < 2:
            return unit, None
        count = _most(whole - 1, whole // 2, lambda n: fits(self._part([_Unit(unit.runs[:n])]))) or 1
        return _Unit(unit.runs[:count]), _Unit(unit.runs[count:], unit.alone)

    def _part(self, units: Sequence[_Unit]) -> Sheet:
        runs = {name for unit in units for name in unit.runs}
        alone = {name for unit in units for name in unit.alone}
        return _part(self.sheet, runs, alone, self.pending, self.spare)

    def _take(self, units: Sequence[_Unit]) -> Sheet:
        part = self._part(units)
        self.pending = [mark for mark in self.pending if mark not in part.marks]
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
    return mark if mark.listed_on else replace(mark, listed_on=_UNKNOWN[0])


def _placed_ids(sheet: Sheet) -> set[str]:
    """Ids of all that a verdict can stand at, zones and barriers apart."""
    terminals = {terminal.id for device in sheet.devices for terminal in device.terminals}
    runs = {run.id for run in sheet.runs} | {fitting.id for fitting in sheet.fittings}
    return terminals | runs | {thing.id for thing in sheet.placed}


def _homes(sheet: Sheet) -> dict[str, str]:
    """Device or joint at which each run end lies."""
    homes = {terminal.id: device.id for device in sheet.devices for terminal in device.terminals}
    return homes | {joint.id: joint.id for joint in sheet.joints}


def _units(sheet: Sheet) -> list[_Unit]:
    """Runs grouped by circuit, or by the devices and joints that they share; then all that has no run."""
    homes = _homes(sheet)
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


def _part(sheet: Sheet, names: set[str], alone: set[str], pending: Sequence[Mark], spare: set[str]) -> Sheet:
    """The sheet reduced to some runs, what they join and cross, and some things without runs."""
    homes = _homes(sheet)
    kept = [run for run in sheet.runs if run.id in names]
    ends = {end for run in kept for end in (run.start, run.end)}
    others = {homes[end] for run in sheet.runs if run.id not in names for end in (run.start, run.end)}
    at = {homes[end] for end in ends} | alone
    devices = tuple(
        replace(
            device,
            terminals=tuple(t for t in device.terminals if t.id in ends or t.id in spare),
            elsewhere=_UNKNOWN,
        )
        if device.id in others
        else device
        for device in sheet.devices
        if device.id in at
    )
    joints = tuple(
        replace(joint, elsewhere=_UNKNOWN) if joint.id in others else joint
        for joint in sheet.joints
        if joint.id in at
    )
    held = {joint.block for joint in joints}
    shared = {joint.block for joint in sheet.joints if joint.id not in at}
    blocks = tuple(
        replace(block, elsewhere=_UNKNOWN) if block.id in shared else block
        for block in sheet.blocks
        if block.id in held
    )
    crossed = {name for run in kept for name in run.through} | alone
    fittings = tuple(fitting for fitting in sheet.fittings if fitting.id in crossed)
    pierced = {fitting.barrier for fitting in fittings}
    order = {band.id: number for number, band in enumerate(sheet.bands)}
    used = [order[device.band] for device in devices] + [order[joint.band] for joint in joints]
    for barrier in sheet.barriers:
        if barrier.id in pierced:
            used.append(order[barrier.after])
            if max(used) <= order[barrier.after] < len(order) - 1:
                used.append(order[barrier.after] + 1)
    bands, barriers = _stretch(sheet, set(used), pierced)
    part = replace(
        sheet,
        bands=bands,
        barriers=barriers,
        fittings=fittings,
        devices=devices,
        blocks=blocks,
        joints=joints,
        wires=tuple(wire for wire in sheet.wires if wire.id in names),
        lines=tuple(line for line in sheet.lines if line.id in names),
        marks=(),
    )
    here = _placed_ids(part) | part.zone_ids
    zones = sheet.zone_ids
    waiting = {mark.number for mark in pending if mark.target in here or mark.target not in zones}
    moved = {mark.number: mark for mark in pending}
    marks = tuple(
        moved.get(mark.number, mark)
        for mark in sheet.marks
        if mark.number in waiting or (mark.number not in moved and mark.target in here - zones)
    )
    return replace(part, marks=marks)


def _stretch(sheet: Sheet, used: set[int], pierced: set[str]) -> tuple[tuple[Band, ...], tuple[Barrier, ...]]:
    """Bands in use and barriers between them; a band that nothing stands in and nothing crosses to is left out."""
    bands = tuple(band for number, band in enumerate(sheet.bands) if number in used)
    kept = {band.id for band in bands[:-1]}
    barriers = tuple(b for b in sheet.barriers if b.id in pierced or b.after in kept)
    return bands, barriers


def _halves(sheet: Sheet) -> tuple[Sheet, ...]:
    """The left and the right zones of a sheet, with a connector wherever a run goes from one to the other."""
    if len(sheet.bands) < 3:
        return ()
    middle = len(sheet.bands) // 2
    hinge = sheet.bands[middle].id
    left = {band.id for band in sheet.bands[:middle]}
    bands = {thing.id: thing.band for thing in sheet.placed}
    on_left = {end: bands[home] in left for end, home in _homes(sheet).items()}
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
        connectors.append(Joint(name, JointKind.OFF_SHEET, hinge, run.id, elsewhere=_UNKNOWN[:1]))
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
    here = _placed_ids(half) | half.zone_ids
    there = _placed_ids(sheet) | sheet.zone_ids
    marks = tuple(m for m in sheet.marks if m.target in here or (left and m.target not in there))
    return replace(half, marks=marks)


def _cross_referenced(parts: Sequence[Sheet], first: int) -> list[Sheet]:
    """Tell every thing that is drawn more than once where else it is."""
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
        replace(
            part,
            devices=tuple(replace(d, elsewhere=elsewhere(d.id, number)) for d in part.devices),
            blocks=tuple(replace(b, elsewhere=elsewhere(b.id, number)) for b in part.blocks),
            joints=tuple(replace(j, elsewhere=elsewhere(j.id, number)) for j in part.joints),
        )
        for number, part in enumerate(parts, start=first)
    ]


def _refer(part: Sheet, listed: Mapping[int, int]) -> Sheet:
    marks = (replace(m, listed_on=listed[m.number]) if m.listed_on else m for m in part.marks)
    return replace(part, marks=tuple(marks))


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
