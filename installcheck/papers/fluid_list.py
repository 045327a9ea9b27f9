"""Fluid line list: every line from port to port, with what must stand on its bands."""

from __future__ import annotations

from typing import Literal

from ..analysis.study import Study
from ..graph import total_length
from ..model.fluid import FluidLine
from ..model.quantities import in_unit, plain_number
from ..physics.tubes import flare_torque
from .figures import length, route
from .standing import status_of
from .tables import Cell, Table

_BANDS = {
    "fuel": "red, FLAM",
    "primer fuel": "red, FLAM",
    "oil": "yellow",
    "hydraulic fluid": "blue and yellow",
    "air": "orange and grey",
    "coolant": "blue",
}
"""Colours of the identification bands (fluid line identification code; recalled to match MIL-STD-1247)."""


def fluid_list(study: Study) -> Table:
    """Every fluid line that is not removed."""
    rows: list[tuple[Cell, ...]] = []
    for ident, line in study.whole.fluid_lines.items():
        if line.status == "removed":
            continue
        crossings = ", ".join(
            f"{s.barrier} by {s.fitting or s.through or 'not given'}" for s in line.route or () if s.barrier
        )
        rows.append(
            (
                ident,
                line.medium,
                line.from_,
                line.to,
                line.part or line.spec.title or line.spec.kind,
                line.size,
                length(total_length(line), line),
                route(line),
                crossings or None,
                None if line.support_spacing is None else line.support_spacing.text,
                None if line.bend_radius is None else line.bend_radius.text,
                _nuts(line),
                _BANDS.get(line.medium or ""),
                status_of(study, "fluid_lines", ident),
            )
        )
    columns = (
        "id",
        "medium",
        "from",
        "to",
        "type",
        "size",
        "length",
        "route",
        "crosses",
        "supports every",
        "bend radius",
        "flare nuts",
        "bands",
        "status",
    )
    torque = "Torque of flared nuts: AC 43.13-1B table 9-2 (recalled) and US Army TM 55-1520-240-23-1, what both allow; the maker's own comes first."
    note = "One band 1 in wide at each end and at least one in every compartment; a line of 24 in or less in one compartment needs one."
    return Table("fluid line list", columns, tuple(rows), (note, torque))


def _nuts(line: FluidLine) -> str | None:
    """Torque of the nuts of a flared line, as a range; ``None`` where it has none, or no table gives it."""
    spec = line.spec
    if "flare" not in (spec.end_form or "") or spec.outside_diameter is None:
        return None
    material = spec.material or ""
    nut: Literal["aluminium", "steel", "hose"] | None = (
        "hose"
        if spec.kind == "hose"
        else "aluminium"
        if "aluminium" in material
        else "steel"
        if "stainless" in material
        else None
    )
    torque = flare_torque(float(spec.outside_diameter), nut) if nut is not None else None
    if torque is None:
        return None
    low, high = (plain_number(in_unit(t, "in-lb", "torque")) for t in (torque.least, torque.most))
    return f"{low} to {high} in-lb"
