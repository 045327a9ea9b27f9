"""The parts of a drawing sheet: devices, joints, wires, lines and crossings in words to print."""

from __future__ import annotations

from dataclasses import field

from ...dataclass import dataclass
from ...drawing.sheet import Band, Barrier, Block, Device, Fitting, FluidLine, Joint, Wire
from ...model.installation import Installation

UNPLACED = "zone not given"


@dataclass(slots=True)
class Parts:
    """What is drawn, in the order it was met; each kind of thing once."""

    bands: dict[str, Band] = field(default_factory=dict)
    barriers: dict[str, Barrier] = field(default_factory=dict)
    fittings: dict[str, Fitting] = field(default_factory=dict)
    devices: dict[str, Device] = field(default_factory=dict)
    blocks: dict[str, Block] = field(default_factory=dict)
    joints: dict[str, Joint] = field(default_factory=dict)
    wires: dict[str, Wire] = field(default_factory=dict)
    lines: dict[str, FluidLine] = field(default_factory=dict)
    target: dict[str, str] = field(default_factory=dict)
    """Id in the document -> id on the sheet that a verdict about it points to."""


def zone_band(parts: Parts, model: Installation, zone: str | None) -> str:
    """The id of a zone's band, made if need be."""
    name = zone if zone in model.zones else UNPLACED
    ident = f"zone {name}"
    if ident not in parts.bands:
        title = model.zones[name].title if name in model.zones else None
        parts.bands[ident] = Band(ident, name, title if title and title != name else "")
        order = [f"zone {z}" for z in model.zones_abreast] + [f"zone {UNPLACED}"]
        parts.bands = {b: parts.bands[b] for b in order if b in parts.bands}
    return ident
