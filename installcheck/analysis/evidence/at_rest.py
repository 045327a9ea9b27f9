"""What an indicator should show with the engine stopped."""

from __future__ import annotations

from typing import Final

from ...model.devices import InputSpec
from ...model.fields import Measure
from ...model.installation import inputs_of, split_end
from ...model.quantities import Quantity
from ...model.records import Measurement
from ..study import Study

ENGINE_OFF: Final = "engine-off indication"
_NOTHING: frozenset[Measure] = frozenset(
    ("oil pressure", "fuel pressure", "hydraulic pressure", "vacuum", "engine speed", "fuel flow")
)
"""Measures that are nothing once the engine and what it drives stand still."""


def manifold_input(study: Study, one: Measurement) -> InputSpec | None:
    """The manifold pressure input that an engine-off pressure is of: that is the barometer then, and judged as such."""
    if one.what != ENGINE_OFF or isinstance(one.value, str) or one.value.kind != "pressure":
        return None
    ident, named = split_end(one.of or "")
    indicator = study.model.indicators.get(ident)
    if indicator is None:
        return None
    meant = [spec for name, spec in inputs_of(indicator) if named in ("", name)]
    return next((spec for spec in meant if spec.measures == "manifold pressure"), None)


def value_at_rest(measure: Measure | None, seen: Quantity) -> Quantity | None:
    """The true value of what stands still, in the unit of what was seen; ``None`` where it has to be read."""
    if measure not in _NOTHING or seen.kind.startswith("temperature"):
        return None
    return Quantity(0.0, f"0 {seen.unit}", seen.unit, seen.kind)
