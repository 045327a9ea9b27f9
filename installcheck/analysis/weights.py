"""Everything of a document that has a weight or could have one."""

from __future__ import annotations

from collections.abc import Iterator

from ..dataclass import dataclass
from ..graph import total_length
from ..model.installation import SPECS
from ..model.quantities import in_unit
from ..model.things import Placed
from .study import Study


@dataclass(frozen=True, slots=True)
class Weighed:
    """One thing with its weight in kg and its arm in m; either may not be given."""

    ident: str
    kind: str
    title: str
    quantity: float
    unit: str
    weight: float | None
    arm: float | None
    status: str
    source: str


def weighed_things(study: Study) -> Iterator[Weighed]:
    """Everything of the document that has a weight or could have one."""
    for section in SPECS:
        for ident, thing in study.whole.section(section).items():
            if not isinstance(thing, Placed):
                continue
            spec = getattr(thing, "spec", None)
            title = thing.title or thing.part or getattr(spec, "title", None) or ident
            size = getattr(thing, "size", None)
            gauge = getattr(thing, "gauge", None)
            title += f", {gauge} AWG" if gauge is not None else f", {size}" if size else ""
            arm = None if thing.station is None else float(thing.station)
            status = thing.status or ""
            source = getattr(spec, "source", None) or ""
            if section in ("wire_runs", "fluid_lines"):
                length = total_length(thing)  # type: ignore[arg-type]
                linear = getattr(spec, "linear_weight", None)
                weight = None if length is None or linear is None else float(linear) * length
                feet = in_unit(length, "ft", "length") if length is not None else 0.0
                yield Weighed(ident, section, title, feet, "ft", weight, arm, status, source)
            else:
                count = thing.quantity or 1
                own = getattr(spec, "weight", None)
                weight = None if own is None else float(own) * count
                yield Weighed(ident, section, title, count, "", weight, arm, status, source)


@dataclass(frozen=True, slots=True)
class WeightChange:
    """What an alteration adds: kg and kg m; what is new or removed without a weight or an arm is named."""

    weight: float
    moment: float
    unweighed: tuple[str, ...]
    without_arm: tuple[str, ...]


def weight_change(study: Study) -> WeightChange:
    """Weight and moment of what is new, less what is removed."""
    weight = moment = 0.0
    unweighed: list[str] = []
    without_arm: list[str] = []
    changes = [
        (one.ident, one.weight, one.arm, -1.0 if one.status == "removed" else 1.0)
        for one in weighed_things(study)
        if one.status in ("new", "removed")
    ]
    for ident, gone in study.whole.removed.items():
        changes.append(
            (
                ident,
                None if gone.weight is None else float(gone.weight),
                None if gone.station is None else float(gone.station),
                -1.0,
            )
        )
    for ident, kg, arm, sign in changes:
        if kg is None:
            unweighed.append(ident)
            continue
        weight += sign * kg
        if arm is None:
            without_arm.append(ident)
        else:
            moment += sign * kg * arm
    return WeightChange(weight, moment, tuple(unweighed), tuple(without_arm))
