"""Burst and blocked lines: what each takes away, how much leaks until it is shut, and how the pointer misleads."""

from __future__ import annotations

from collections.abc import Iterator

from ..analysis.errors.direct_budget import direct_budget, direct_gauges
from ..analysis.errors.in_state import off_dial
from ..analysis.errors.read_through import ReadThrough, read_through
from ..analysis.errors.reading import indicated
from ..analysis.fluid.facts import Part
from ..analysis.fluid.leaks import Leak, leaks
from ..analysis.fluid.losses import duration, oil_lasts, rate, shut_time, spilled, volume
from ..analysis.study import Point, Study
from ..analysis.true_value import difference_kind
from ..model.quantities import conversion, parse, plain_number, show
from .effects import LOST, Effect, required

_ABSOLUTE = frozenset(("manifold pressure",))
"""Measures told from nothing, so that an open line shows the barometer."""
_BAROMETER = float(parse("29.92 inHg", "pressure"))
"""Pa of the standard day at sea level (ICAO Doc 7488), where the operating point gives no altitude."""
_SCALE_HEIGHT = (2.25577e-5, 5.2559)
"""1/m and exponent of the standard atmosphere's pressure below 11 km (ICAO Doc 7488)."""


def line_effects(study: Study, point: Point, line: str, *, burst: bool) -> tuple[Effect, ...]:
    """What a burst or blocked line does to each indication that is read through it."""
    found: dict[str, Effect] = {}
    for one in read_through(study):
        if line in one.lines:
            found.setdefault(one.name, _burst(study, point, one) if burst else _blocked(one))
    return tuple(found.values())


def surroundings(point: Point, one: ReadThrough) -> float:
    """What a gauge reads with its line open: the barometer where it is told from nothing, else nothing [Pa]."""
    if one.measure not in _ABSOLUTE:
        return 0.0
    height = (
        float(point.given.altitude) if point.given is not None and point.given.altitude is not None else 0.0
    )
    slope, power = _SCALE_HEIGHT
    return float(_BAROMETER * max(0.0, 1 - slope * height) ** power)


def _burst(study: Study, point: Point, one: ReadThrough) -> Effect:
    left = surroundings(point, one)
    value = _shown(study, point, one, left)
    told = (
        "the barometer, however the engine runs"
        if one.measure in _ABSOLUTE
        else "no pressure, however the engine runs"
    )
    side = off_dial(one.spec, value) if value is not None else "below"
    if value is None or side:
        what = f"off scale {'high' if side == 'above' else 'low'}"
        return Effect(
            one.name,
            one.indicator,
            "off scale high" if side == "above" else "off scale low",
            f"{what}: it shows {told}",
        )
    dial = one.spec.scale
    unit = dial.highest.unit if dial is not None else "psi"
    true = point.reading(one.measure)
    amount = (
        None if true is None else (value - float(true)) / conversion(difference_kind("pressure"), unit)[0]
    )
    off = "" if amount is None or not plain_number(abs(amount)).strip("0.") else (
        f", {plain_number(abs(amount))} {unit} {'high' if amount > 0 else 'low'} here"
    )  # fmt: skip
    text = f"shows {show(value, unit, 'pressure')}: {told}{off}"
    return Effect(one.name, one.indicator, "shows a fixed value", text, amount, unit)


def _shown(study: Study, point: Point, one: ReadThrough, pressure: float) -> float | None:
    """What the pointer shows with a pressure at the port; ``None`` beyond what can be told."""
    if one.indication is None:
        gauge = next((g for g in direct_gauges(study) if g.name == one.name), None)
        return None if gauge is None else direct_budget(study, gauge, point, pressure).indicated
    try:
        return indicated(study, one.indication, point, pressure).value
    except ValueError:
        return None


def _blocked(one: ReadThrough) -> Effect:
    text = "frozen at the pressure shut in: a pressure that is lost is not shown, and engine stopped it does not fall"
    if one.measure in _ABSOLUTE:
        text = "frozen: it follows no power change, and engine stopped it does not go to the barometer"
    return Effect(one.name, one.indicator, "frozen", text)


def together(study: Study, effects: tuple[Effect, ...]) -> tuple[str, ...]:
    """Required indications lost together, where there are two or more."""
    lost = sorted({e.indicator for e in effects if e.what in LOST and required(study, e.indicator)})
    return tuple(lost) if len(lost) > 1 else ()


def loss(study: Study, line: str) -> str:
    """What a burst line spills, in words; empty for a line of gas, or where the document does not say enough."""
    part = Part(line, study.model.fluid_lines[line], ("fluid_lines", line))
    found = leaks(study, part)
    if not found.each:
        lacks = ", ".join(str(m) for m in found.missing)
        return f"how much leaks is not known: {lacks}" if lacks else ""
    return "; ".join(_loss(study, found.each[0]))


def _loss(study: Study, leak: Leak) -> Iterator[str]:
    where = f" into {leak.zone}" if leak.zone is not None else ""
    restrained = "" if leak.restrictors else ", no restrictor holding it back"
    yield f"leaks {rate(leak.flow)}{where}{restrained}"
    oil = all(study.model.taps[t].medium == "oil" for t in leak.taps)
    lasting = oil_lasts(study, leak, leak.flow) if oil else None
    if lasting is not None:
        yield f"the oil is {lasting[1]} after {duration(lasting[0])}"
    shut, out = shut_time(study, leak), spilled(study, leak, leak.flow)
    if out is not None and shut is not None:
        yield f"{volume(out)} are out when it is shut after {duration(shut)}"
    else:
        yield "how long until it is shut is not told"


def lines_played(study: Study) -> list[str]:
    """Lines that something is read through, or that hold a liquid under pressure."""
    through = {line for one in read_through(study) for line in one.lines}
    return [
        ident
        for ident, line in study.model.fluid_lines.items()
        if ident in through or leaks(study, Part(ident, line, ("fluid_lines", ident))).each
    ]
