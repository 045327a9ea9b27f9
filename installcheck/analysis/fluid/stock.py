"""What lines and fittings are made of: strength, hose figures, and what they bear of fire."""

from __future__ import annotations

from typing import Literal, TypeAlias

from ...model.fluid import Fitting, FluidLine
from ...physics.hoses import HoseRating, mil_h_8794_hoses
from ...physics.tubes import TubeMaterial, tube_material

Bears: TypeAlias = Literal["fire", "aluminium", "nothing", "unknown"]

_METALS = {
    "5052-O aluminium": "5052-O",
    "6061-T6 aluminium": "6061-T6",
    "3003-O aluminium": "3003-O",
    "304 stainless": "304 annealed",
    "copper": "copper C12200 annealed",
    "brass": "brass",
}
"""Materials of a line and the row of tube_materials.csv that gives their strength."""
_BEARS_FIRE = frozenset(("steel", "stainless steel", "brass", "copper", "bronze"))
"""Steel and copper-base fittings need no test (14 CFR 23.1191(h) as before amendment 23-64)."""


def metal_of(line: FluidLine) -> TubeMaterial | None:
    """Strength and family of a line's metal; ``None`` for hose, plastic or a metal not given."""
    name = _METALS.get(line.spec.material or "")
    return tube_material(name) if name is not None else None


def is_soft(line: FluidLine) -> bool:
    """Whether a line is of rubber or plastic."""
    return line.spec.material in ("rubber", "PTFE", "nylon")


def is_mil_h_8794(line: FluidLine) -> bool:
    """Whether the figures of MIL-H-8794 are those of a hose."""
    return line.spec.kind == "hose" and "8794" in (line.spec.standard or "")


def hose_row(line: FluidLine) -> HoseRating | None:
    """The MIL-H-8794 hose of a hose's dash number, whatever its make."""
    dash = (line.size or line.spec.end_form or "").rpartition("-")[2]
    return mil_h_8794_hoses().get(int(dash)) if dash.isdigit() else None


def line_bears(line: FluidLine) -> Bears:
    """What a line bears of fire: as stated, by its sleeve, or by its metal."""
    spec = line.spec
    if spec.fire in ("fire resistant", "fireproof") or line.sleeve:
        return "fire"
    if spec.material is None:
        return "unknown" if spec.fire is None else "nothing"
    if spec.material.endswith("aluminium"):
        return "aluminium"
    return (
        "fire" if spec.material in ("304 stainless", "copper", "brass") and spec.fire is None else "nothing"
    )


def fitting_bears(fitting: Fitting) -> Bears:
    """What a fitting bears of fire: as stated, else by its material; plastic nothing, whatever is stated."""
    spec = fitting.spec
    if spec.material == "plastic":
        return "nothing"
    if spec.fireproof:
        return "fire"
    if spec.material == "aluminium":
        return "aluminium"
    if spec.material is None:
        return "unknown" if spec.fireproof is None else "nothing"
    return "fire" if spec.material in _BEARS_FIRE else "nothing"
