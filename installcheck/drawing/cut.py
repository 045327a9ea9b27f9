"""Cut some runs out of a sheet, with what they join and cross; the cost is that of the part, not of the whole."""

from collections import defaultdict
from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace
from typing import Protocol, TypeVar

from .items import Run
from .sheet import Band, Barrier, Mark, Sheet

UNKNOWN = (880, 881, 890, 891)
"""Stands for the numbers of other sheets until they are known, and is as wide as any."""


class _Named(Protocol):
    @property
    def id(self) -> str: ...


_T = TypeVar("_T", bound=_Named)


def placed_ids(sheet: Sheet) -> set[str]:
    """Ids of all that a verdict can stand at, zones and barriers apart."""
    terminals = {terminal.id for device in sheet.devices for terminal in device.terminals}
    runs = {run.id for run in sheet.runs} | {fitting.id for fitting in sheet.fittings}
    return terminals | runs | {thing.id for thing in sheet.placed}


def homes_of(sheet: Sheet) -> dict[str, str]:
    """Device or joint at which each run end lies."""
    homes = {terminal.id: device.id for device in sheet.devices for terminal in device.terminals}
    return homes | {joint.id: joint.id for joint in sheet.joints}


class Cutter:
    """Cuts parts out of one sheet."""

    def __init__(self, sheet: Sheet) -> None:
        self.sheet = sheet
        self.homes = homes_of(sheet)
        drawn = [run.id for run in sheet.runs] + [thing.id for thing in sheet.placed]
        drawn += [fitting.id for fitting in sheet.fittings]
        self.order = {ident: number for number, ident in enumerate(drawn)}
        self.wires = {wire.id: wire for wire in sheet.wires}
        self.lines = {line.id: line for line in sheet.lines}
        self.devices = {device.id: device for device in sheet.devices}
        self.joints = {joint.id: joint for joint in sheet.joints}
        self.blocks = {block.id: block for block in sheet.blocks}
        self.fittings = {fitting.id: fitting for fitting in sheet.fittings}
        self.bands = {band.id: number for number, band in enumerate(sheet.bands)}
        self.barriers = {barrier.id: barrier for barrier in sheet.barriers}
        self.at: dict[str, list[str]] = defaultdict(list)
        for run in sheet.runs:
            for home in {self.homes[run.start], self.homes[run.end]}:
                self.at[home].append(run.id)
        self.held: dict[str, list[str]] = defaultdict(list)
        for joint in sheet.joints:
            self.held[joint.block].append(joint.id)
        self.marks: dict[str, list[tuple[int, Mark]]] = defaultdict(list)
        self.mark_order: dict[tuple[int, str], int] = {}
        for number, mark in enumerate(sheet.marks):
            self.marks[mark.target].append((number, mark))
            self.mark_order[mark.key] = number

    def ends_of(self, name: str) -> set[str]:
        """Devices and joints that a run joins."""
        run = self.wires.get(name) or self.lines[name]
        return {self.homes[run.start], self.homes[run.end]}

    def part(
        self, names: Collection[str], alone: Collection[str], pending: Sequence[Mark], spare: Collection[str]
    ) -> Sheet:
        """The sheet reduced to the runs of some names, what they join and cross, and some things without runs.

        `pending` are verdicts on zones, barriers or the whole, and `spare` terminals without a run, not yet shown.
        """
        wires = self._in_order(self.wires[name] for name in names if name in self.wires)
        lines = self._in_order(self.lines[name] for name in names if name in self.lines)
        runs: tuple[Run, ...] = (*wires, *lines)
        ends = {end for run in runs for end in (run.start, run.end)}
        at = {self.homes[end] for end in ends} | set(alone)
        shared = {home for home in at if any(run not in names for run in self.at.get(home, ()))}
        devices = tuple(
            replace(
                device,
                terminals=tuple(t for t in device.terminals if t.id in ends or t.id in spare),
                elsewhere=UNKNOWN,
            )
            if device.id in shared
            else device
            for device in self._in_order(self.devices[name] for name in at if name in self.devices)
        )
        joints = tuple(
            replace(joint, elsewhere=UNKNOWN) if joint.id in shared else joint
            for joint in self._in_order(self.joints[name] for name in at if name in self.joints)
        )
        blocks = tuple(
            replace(block, elsewhere=UNKNOWN)
            if any(j not in at or j in shared for j in self.held[block.id])
            else block
            for block in self._in_order(
                self.blocks[name] for name in {joint.block for joint in joints} - {""}
            )
        )
        crossed = {name for run in runs for name in run.through} | set(alone)
        fittings = self._in_order(self.fittings[name] for name in crossed if name in self.fittings)
        pierced = {fitting.barrier for fitting in fittings}
        bands, barriers = self._stretch({d.band for d in devices} | {j.band for j in joints}, pierced, runs)
        part = replace(
            self.sheet,
            bands=bands,
            barriers=barriers,
            fittings=fittings,
            devices=devices,
            blocks=blocks,
            joints=joints,
            wires=wires,
            lines=lines,
            marks=(),
        )
        return replace(part, marks=self._marks_of(part, pending))

    def _in_order(self, things: Iterable[_T]) -> tuple[_T, ...]:
        return tuple(sorted(things, key=lambda thing: self.order[thing.id]))

    def _marks_of(self, part: Sheet, pending: Sequence[Mark]) -> tuple[Mark, ...]:
        zones = self.sheet.zone_ids
        places = placed_ids(part)
        here = places | part.zone_ids
        waiting = {mark.key for mark in pending}
        found = [(self.mark_order[m.key], m) for m in pending if m.target in here or m.target not in zones]
        found += [
            (number, mark)
            for place in places
            for number, mark in self.marks.get(place, ())
            if mark.key not in waiting
        ]
        return tuple(mark for _, mark in sorted(found, key=lambda pair: pair[0]))

    def _stretch(
        self, standing: Collection[str], pierced: Collection[str], runs: Iterable[Run]
    ) -> tuple[tuple[Band, ...], tuple[Barrier, ...]]:
        """Bands in use and barriers between them; a band that nothing stands in and nothing crosses to is left out.

        A barrier beside a band left out stands between those that are drawn, where a run crosses it; one that a run crosses and
        comes back through has the bands of its two sides.
        """
        used = {self.bands[band] for band in standing}
        crossed = {barrier for run in runs for barrier in run.crosses}
        for barrier in self.sheet.barriers:
            before = self.bands[barrier.after]
            between = min(used, default=before + 1) <= before < max(used, default=0)
            if barrier.id in pierced or (barrier.id in crossed and not between):
                used.add(before)
                if max(used) <= before < len(self.bands) - 1:
                    used.add(before + 1)
        bands = tuple(band for number, band in enumerate(self.sheet.bands) if number in used)
        kept = {band.id for band in bands[:-1]}
        barriers: list[Barrier] = []
        for barrier in self.sheet.barriers:
            number = self.bands[barrier.after]
            if barrier.id in pierced or barrier.after in kept:
                barriers.append(barrier)
            elif barrier.id in crossed and min(used) <= number < max(used):
                left = max(n for n in used if n <= number)
                barriers.append(replace(barrier, after=self.sheet.bands[left].id))
        return bands, tuple(barriers)
