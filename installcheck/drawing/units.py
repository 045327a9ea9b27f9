"""Runs that belong on one sheet, and the branches in which they can be told apart where one sheet cannot hold them."""

from __future__ import annotations

from collections import Counter, defaultdict
from enum import Enum

from ..dataclass import dataclass
from .cut import Cutter, homes_of
from .items import Run
from .kinds import DeviceKind, WireKind
from .sheet import FluidLine, Sheet

_TRUNK = 4  # a device with more runs of one circuit than this is what its branches share
_HUB = 12  # a device with more runs than this does not tie them together


class Rank(Enum):
    """In which order sheets are bound: power, each indication, fluid lines, grounds, then what nothing joins."""

    POWER = 0
    INDICATION = 1
    FLUID = 2
    GROUND = 3
    ALONE = 4


@dataclass(frozen=True, slots=True)
class Unit:
    """Runs that belong on one sheet, and things without any run; ``rest`` where the first of them stand on another."""

    runs: tuple[str, ...] = ()
    alone: tuple[str, ...] = ()
    rank: Rank = Rank.ALONE
    rest: bool = False


class _Leaders(dict[str, str]):
    """Names that hang together have one leader."""

    def of(self, name: str) -> str:
        while self.setdefault(name, name) != name:
            name = self[name]
        return name

    def tie(self, name: str, other: str) -> None:
        self[self.of(other)] = self.of(name)


def units_of(sheet: Sheet) -> list[Unit]:
    """Runs grouped by circuit, or by the devices and joints that they share; then all that has no run."""
    homes = homes_of(sheet)
    load: dict[str, int] = defaultdict(int)
    for run in sheet.runs:
        for home in {homes[run.start], homes[run.end]}:
            load[home] += 1
    rails = {d.id for d in sheet.devices if d.kind in (DeviceKind.SUPPLY, DeviceKind.GROUND)}
    rails |= {home for home, runs in load.items() if runs > _HUB}
    kinds = {device.id: device.kind for device in sheet.devices}
    leaders = _Leaders()

    def tied(run: Run) -> list[str]:
        circuit = [f"circuit {run.circuit}"] if run.circuit else []
        ends = (homes[run.start], homes[run.end])
        grounded = any(kinds.get(home) is DeviceKind.GROUND for home in ends)
        between = ["rails to ground" if grounded else "rails"]
        return circuit or [home for home in ends if home not in rails] or between

    for run in sheet.runs:
        names = tied(run)
        leaders.tie(names[0], names[-1])
    groups: dict[str, list[str]] = defaultdict(list)
    for run in sheet.runs:
        groups[leaders.of(tied(run)[0])].append(run.id)
    crossed = {name for run in sheet.runs for name in run.through}
    alone = [device.id for device in sheet.devices if not load[device.id]]
    alone += [joint.id for joint in sheet.joints if not load[joint.id]]
    alone += [fitting.id for fitting in sheet.fittings if fitting.id not in crossed]
    runs_of = {run.id: run for run in sheet.runs}

    def rank(names: list[str]) -> Rank:
        runs = [runs_of[name] for name in names]
        ends = [{kinds.get(homes[run.start]), kinds.get(homes[run.end])} for run in runs]
        if any(DeviceKind.DIAL in kind for kind in ends):
            return Rank.INDICATION
        if all(isinstance(run, FluidLine) for run in runs):
            return Rank.FLUID
        return Rank.GROUND if all(DeviceKind.GROUND in kind for kind in ends) else Rank.POWER

    found = [Unit(tuple(names), (), rank(names)) for names in groups.values()]
    return found + [Unit(alone=(name,)) for name in alone]


def subjects_of(part: Sheet) -> list[str]:
    """What a part of a drawing shows: power, circuits by name, grounds."""
    kinds = {terminal.id: device.kind for device in part.devices for terminal in device.terminals}
    bare = [wire for wire in part.wires if not wire.circuit and wire.kind is not WireKind.SHIELD]
    power = any(DeviceKind.GROUND not in (kinds.get(w.start), kinds.get(w.end)) for w in bare)
    grounds = any(wire.kind is WireKind.STRAP for wire in bare) or bool(bare and not power)
    circuits = dict.fromkeys(run.circuit for run in part.runs if run.circuit)
    return [*(["power"] if power else []), *circuits, *(["grounds"] if grounds else [])]


def branches_of(unit: Unit, cutter: Cutter) -> list[tuple[str, ...]]:
    """Runs of a unit that hang together by anything but what many of them share."""
    ends = {name: cutter.ends_of(name) for name in unit.runs}
    load = Counter(home for homes in ends.values() for home in homes)
    leaders = _Leaders()
    for name, homes in ends.items():
        for home in homes:
            if load[home] <= _TRUNK:
                leaders.tie(f"run {name}", f"home {home}")
    groups: dict[str, list[str]] = defaultdict(list)
    for name in unit.runs:
        groups[leaders.of(f"run {name}")].append(name)
    return [tuple(names) for names in groups.values()]
