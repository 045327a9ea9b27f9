"""What something wrong in a thermocouple circuit does to the reading, and what a lead may be off anyway."""

from __future__ import annotations

from ...dataclass import dataclass
from ...model.fields import ThermocoupleType
from ...physics.thermocouple_limits import limits
from .. import missing
from ..missing import Missing
from ..study import Point, Study
from .circuits import Loop
from .points import scale_of, true_values
from .readings import Shown, circuit_emf, read_scale, right_emf


@dataclass(frozen=True, slots=True)
class Effect:
    """What a circuit does at one operating point: the true value, and the shown and the right reading, in degC."""

    point: Point
    true: float
    shown: Shown
    right: float

    @property
    def error(self) -> float:
        """Shown less right in K; endless where the pointer leaves the scale."""
        if self.shown.c is None:
            return float("-inf") if self.shown.beyond == "below" else float("inf")
        return self.shown.c - self.right


def effects(study: Study, loop: Loop, scale: ThermocoupleType) -> tuple[list[Effect], tuple[Missing, ...]]:
    """What a circuit does at each operating point on a scale of a couple, the worst first; and what is missing.

    The reference junction is taken as compensated right, and no resistance counts.
    """
    found: list[Effect] = []
    lacking: list[Missing] = []
    points = true_values(study, loop)
    for point, true_c in points:
        emf = circuit_emf(study, loop, point, true_c)
        shown = read_scale(study, loop, point, emf, scale, ideal=True)
        right = read_scale(study, loop, point, right_emf(study, loop, point, true_c), scale, ideal=True)
        lacking += [*shown.missing, *right.missing]
        if not shown.missing and right.c is not None:
            found.append(Effect(point, true_c, shown, right.c))
    if not points:
        lacking.append(missing.POINT_READING)
    return sorted(found, key=lambda e: -abs(e.error)), tuple(dict.fromkeys(lacking))


def beyond_dial(loop: Loop, shown: Shown) -> str:
    """The side of its dial, or of its couple's table, on which the pointer stands: 'below', 'above'; empty if on it."""
    if shown.c is None:
        return shown.beyond or ""
    dial = loop.spec.scale
    if dial is None or dial.lowest.kind != "temperature":
        return ""
    return "below" if shown.c < dial.lowest else "above" if shown.c > dial.highest else ""


def told(study: Study, loop: Loop, effect: Effect) -> str:
    """An effect in words: 'head gauge shows 295 degF where 401 degF is right, 106 degF low, at climb'."""
    scale, side = scale_of(study, loop), beyond_dial(loop, effect.shown)
    if side or effect.shown.c is None:
        return f"{loop.name} is driven {side} its scale where {scale.at(effect.right)} is right, at {effect.point.name}"
    return (
        f"{loop.name} shows {scale.at(effect.shown.c)} where {scale.at(effect.right)} is right, "
        f"{scale.off(effect.error)}, at {effect.point.name}"
    )


def lead_limit_k(kind: str) -> float:
    """Limit of error of standard extension lead of a couple in K: what a lead may be off anyway."""
    return next(
        r.limit_c
        for r in limits("extension_limits")
        if (r.standard, r.grade, r.type) == ("ASTM E230", "standard", kind)
    )
