"""One indication, true against indicated, as strokes of an SVG drawing: what is shown above, the error below."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor, log10
from xml.sax.saxutils import escape

from ...analysis.errors.truth_curves import (
    AtLimit,
    Sample,
    Track,
    TruthCurve,
)
from ...analysis.true_value import difference_kind
from ...drawing.text_width import text_width
from ...model.quantities import in_unit, plain_number
from .survey import ROOMY

SMALL = 10.0
AXIS, RIGHT = 48.0, 10.0
LOWER, BETWEEN, FOOT = 84.0, 16.0, 34.0


@dataclass(frozen=True, slots=True)
class _Area:
    """A plotting area: its corner and size, and the numbers at its ends."""

    x: float
    y: float
    width: float
    height: float
    left: float
    right: float
    low: float
    high: float

    def across(self, value: float) -> float:
        return self.x + self.width * (value - self.left) / (self.right - self.left)

    def up(self, value: float) -> float:
        held = min(max(value, self.low), self.high)
        return self.y + self.height * (1 - (held - self.low) / (self.high - self.low))


def text_at(x: float, y: float, text: str, size: float, *, anchor: str = "start", bold: bool = False) -> str:
    """A line of text on its baseline."""
    weight = ' font-weight="bold"' if bold else ""
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" font-size="{size:g}" text-anchor="{anchor}"{weight} fill="#000">'
        f"{escape(text)}</text>"
    )


def _upright(x: float, y: float, text: str) -> str:
    return (
        f'<text transform="translate({x:.1f} {y:.1f}) rotate(-90)" font-size="{SMALL:g}" text-anchor="middle" '
        f'fill="#000">{escape(text)}</text>'
    )


def stroke(
    x1: float, y1: float, x2: float, y2: float, width: float, *, grey: str = "#000", dash: str = ""
) -> str:
    """A straight line."""
    dashed = f' stroke-dasharray="{dash}"' if dash else ""
    return f'<line x1="{x1:.1f}" y1="{y1:.1f}" x2="{x2:.1f}" y2="{y2:.1f}" stroke="{grey}" stroke-width="{width:g}"{dashed}/>'


def _polyline(points: Iterable[tuple[float, float]], dash: str) -> str:
    dashed = f' stroke-dasharray="{dash}"' if dash else ""
    told = " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
    return f'<polyline points="{told}" fill="none" stroke="#000" stroke-width="1.5"{dashed}/>'


def panel(curve: TruthCurve, dashes: dict[str, str], x: float, top: float, side: float) -> list[str]:
    """Both areas of an indication, ``side`` being the side of the upper one: shown above, error below."""
    low, high = (in_unit(v, curve.unit, curve.kind) for v in (curve.low, curve.high))
    upper = _Area(x + AXIS, top, side, side, low, high, low, high)
    reach = _reach(curve)
    lower = _Area(x + AXIS, top + side + BETWEEN, side, LOWER, low, high, -reach, reach)
    parts = [*_bands(curve, upper, lower), *_grid(curve, upper, lower)]
    for track in curve.tracks:
        parts += _track(curve, track, dashes[track.point], upper, lower)
    labels: list[str] = []
    for limit in curve.limits:
        lines, words = _limit(curve, limit, upper, lower)
        parts += lines
        labels += words
    for area in (upper, lower):
        parts.append(
            f'<rect x="{area.x:.1f}" y="{area.y:.1f}" width="{area.width:.1f}" height="{area.height:.1f}" '
            'fill="none" stroke="#000" stroke-width="0.9"/>'
        )
    return parts + labels


def _number(curve: TruthCurve, value: float) -> float:
    return in_unit(value, curve.unit, curve.kind)


def _difference(curve: TruthCurve, value: float) -> float:
    return in_unit(value, curve.unit, difference_kind(curve.kind))


def _reach(curve: TruthCurve) -> float:
    """Half the height of the error area in the unit: room for every error with its tolerances, and for the budget."""
    sizes = [_difference(curve, curve.budget)] if curve.budget is not None else []
    for track in curve.tracks:
        for one in track.samples:
            sizes += [
                abs(_difference(curve, v - one.true)) for v in (one.shown, one.low, one.high) if v is not None
            ]
    return _nice(1.08 * max(sizes, default=1.0) or 1.0)


def _nice(size: float) -> float:
    """The round number next above a size: 1, 2, 4, 5 or 10 times a power of ten."""
    power = 10.0 ** floor(log10(size))
    return next(step * power for step in (1, 2, 4, 5, 10) if step * power >= size * (1 - 1e-9))


def _ticks(low: float, high: float) -> list[float]:
    step = _nice((high - low) / 6)
    first = ceil(low / step - 1e-9)
    last = floor(high / step + 1e-9)
    return [i * step for i in range(first, last + 1)]


def _grid(curve: TruthCurve, upper: _Area, lower: _Area) -> list[str]:
    parts: list[str] = []
    bottom = lower.y + lower.height
    for value in _ticks(upper.left, upper.right):
        across, up = upper.across(value), upper.up(value)
        parts += [stroke(across, a.y, across, a.y + a.height, 0.4, grey="#bbb") for a in (upper, lower)]
        parts.append(stroke(upper.x, up, upper.x + upper.width, up, 0.4, grey="#bbb"))
        parts.append(text_at(upper.x - 5, up + 3.5, plain_number(value), SMALL, anchor="end"))
        parts.append(text_at(across, bottom + 13, plain_number(value), SMALL, anchor="middle"))
    parts.append(stroke(upper.x, upper.y + upper.height, upper.x + upper.width, upper.y, 0.7, grey="#888"))
    for value in (-lower.high, 0.0, lower.high):
        parts.append(
            stroke(lower.x, lower.up(value), lower.x + lower.width, lower.up(value), 0.5, grey="#888")
        )
        # The ends of the scale stand inside it, clear of the numbers of the area above.
        y = lower.up(value) + (9 if value > 0 else -2 if value < 0 else 3.5)
        sign = "+" if value > 0 else ""
        parts.append(text_at(lower.x - 5, y, f"{sign}{plain_number(value)}", SMALL, anchor="end"))
    if curve.budget is not None:
        for size in (-curve.budget, curve.budget):
            y = lower.up(_difference(curve, size))
            parts.append(stroke(lower.x, y, lower.x + lower.width, y, 0.9, dash="1.5 2.5"))
    middle = upper.x + upper.width / 2
    parts.append(text_at(middle, bottom + 27, f"true, {curve.unit}", SMALL, anchor="middle"))
    parts.append(_upright(upper.x - AXIS + 10, upper.y + upper.height / 2, f"indicated, {curve.unit}"))
    parts.append(_upright(lower.x - AXIS + 10, lower.y + lower.height / 2, "error"))
    return parts


def _bands(curve: TruthCurve, upper: _Area, lower: _Area) -> list[str]:
    """What the tolerances leave open, in grey under everything."""
    parts: list[str] = []
    for track in curve.tracks:
        known = [s for s in track.samples if s.low is not None and s.high is not None]
        if len(known) < 2:
            continue
        for area, base in ((upper, False), (lower, True)):
            edge = [_spot(curve, s, s.high, area, base) for s in known]
            edge += [_spot(curve, s, s.low, area, base) for s in reversed(known)]
            told = " ".join(f"{x:.1f},{y:.1f}" for x, y in edge)
            parts.append(f'<polygon points="{told}" fill="#ddd"/>')
    return parts


def _spot(
    curve: TruthCurve, one: Sample, value: float | None, area: _Area, error: bool
) -> tuple[float, float]:
    assert value is not None
    up = _difference(curve, value - one.true) if error else _number(curve, value)
    return area.across(_number(curve, one.true)), area.up(up)


def _track(curve: TruthCurve, track: Track, dash: str, upper: _Area, lower: _Area) -> list[str]:
    parts: list[str] = []
    for run in _runs(track.samples):
        points = []
        for one in run:
            end = {"above": curve.high, "below": curve.low}.get(one.beyond)
            points.append(_spot(curve, one, end if one.shown is None else one.shown, upper, False))
        parts.append(_polyline(points, dash))
        shown = [_spot(curve, one, one.shown, lower, True) for one in run if one.shown is not None]
        if len(shown) > 1:
            parts.append(_polyline(shown, dash))
    if track.here is not None and curve.low <= track.here <= curve.high:
        at = _between(track.samples, track.here)
        if at is not None:
            x = upper.across(_number(curve, track.here))
            spots = ((x, upper.up(_number(curve, at))), (x, lower.up(_difference(curve, at - track.here))))
            parts += [
                f'<circle cx="{cx:.1f}" cy="{cy:.1f}" r="2.8" fill="#fff" stroke="#000" stroke-width="1.1"/>'
                for cx, cy in spots
            ]
    return parts


def _runs(samples: Sequence[Sample]) -> list[list[Sample]]:
    """Stretches in which something is shown, a pointer at its stop included."""
    runs: list[list[Sample]] = [[]]
    for one in samples:
        if one.shown is None and not one.beyond:
            runs.append([])
        else:
            runs[-1].append(one)
    return [run for run in runs if len(run) > 1]


def _between(samples: Sequence[Sample], true: float) -> float | None:
    for a, b in pairwise(samples):
        if a.true <= true <= b.true and a.shown is not None and b.shown is not None:
            return a.shown + (b.shown - a.shown) * (true - a.true) / (b.true - a.true)
    return None


def _limit(curve: TruthCurve, limit: AtLimit, upper: _Area, lower: _Area) -> tuple[list[str], list[str]]:
    """The limit as a line across both areas, and how the pointer stands there; its words come last, on white."""
    x = upper.across(_number(curve, limit.value))
    lines = [stroke(x, upper.y, x, lower.y + lower.height, 1.4, dash="8 3")]
    words = [_at_side(x, upper, f"{limit.side} {limit.text}")]
    if limit.shown is not None:
        y = upper.up(_number(curve, limit.shown))
        highest = limit.side == "highest"
        lines.append(stroke(upper.x if highest else x, y, x if highest else upper.x + upper.width, y, 0.9))
        text = f"shows {plain_number(_number(curve, limit.shown))}"
        # Above the slanting line the upper left is free, below it the lower right.
        wide = ROOMY * text_width(text, SMALL) + 4
        left = upper.x + 4 if highest else upper.x + upper.width - wide - 4
        above = y - 4 if y - 14 > upper.y else y + 12
        base = above if highest else y + 12 if y + 16 < upper.y + upper.height else y - 4
        words.append(
            f'<rect x="{left:.1f}" y="{base - 8.5:.1f}" width="{wide:.1f}" height="10.5" fill="#fff"/>'
        )
        words.append(text_at(left + 2, base, text, SMALL))
    return lines, words


def _at_side(x: float, area: _Area, text: str) -> str:
    """The name of a limit above the area, kept within it."""
    half = ROOMY * text_width(text, SMALL, bold=True) / 2
    middle = min(max(x, area.x + half), area.x + area.width - half)
    return text_at(middle, area.y - 5, text, SMALL, anchor="middle", bold=True)
