"""Cut a sheet between two zones, with connectors that name the other sheet."""

from collections.abc import Mapping
from dataclasses import replace
from typing import TypeVar

from .cut import UNKNOWN, homes_of, placed_ids
from .kinds import JointKind
from .sheet import FluidLine, Joint, Sheet, Wire

_R = TypeVar("_R", Wire, FluidLine)


def halves(sheet: Sheet) -> tuple[Sheet, ...]:
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
