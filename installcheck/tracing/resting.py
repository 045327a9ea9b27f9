"""What a resistive sender has on the bench: parked and cold, as its curve tells, or what stands in its place."""

from __future__ import annotations

from ..analysis.evidence.spans import source_span
from ..analysis.sender_curves import output, output_carried, output_kind
from ..analysis.study import Point, Study
from .changes import OtherCurve, Sends, World
from .channels import channels, stated_truth
from .feeling import around, sensed
from .looks import Setup
from .other_parts import curve_called
from .states import DAY_C


def at_rest(study: Study, setup: Setup, point: Point, ident: str, world: World) -> float | None:
    """Ohm of a sender in a world; ``None`` where nothing tells, or it is no resistance."""
    sender = study.model.senders[ident]
    curve = sender.spec.curve
    for change in world:
        if isinstance(change, Sends) and change.sender == ident:
            return change.out
    for held, ohms in setup.replaced:
        if held == ident:
            return ohms
    if curve is not None and output_kind(curve) != "resistance":
        return None
    if curve is None:
        span = source_span(sender, DAY_C)
        return None if span is None else span.expected
    value = _felt(study, setup, point, ident, world)
    parts = [c.part for c in world if isinstance(c, OtherCurve) and c.sender == ident]
    return output_carried(curve_called(parts[0]) if parts else curve, value)


def beyond_its_curve(study: Study, setup: Setup, point: Point, ident: str, world: World) -> bool:
    """Whether a sender feels what its curve does not tell, so that its ohms may be others than those at the end of that."""
    curve = study.model.senders[ident].spec.curve
    known = any(held == ident for held, _ in setup.replaced) or any(
        isinstance(c, (Sends, OtherCurve)) and c.sender == ident for c in world
    )
    if curve is None or known or output_kind(curve) != "resistance":
        return False
    value = _felt(study, setup, point, ident, world)
    try:
        return output(curve, value) != output_carried(curve, value)
    except ValueError:
        return True


def _felt(study: Study, setup: Setup, point: Point, ident: str, world: World) -> float:
    channel = next((c for c in channels(study) if ident in c.sources), None)
    told = stated_truth(study, channel, point) if channel is not None else None
    stated = told if told is not None else around(study, point, ident)
    return sensed(study, setup, point, ident, stated, world)
