"""One indication, true against indicated: what is shown above, the error below."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import ceil, floor, log10

from ...analysis.errors.truth_curves import AtLimit, Sample, Track, TruthCurve
from ...analysis.true_value import difference_kind
from ...dataclass import dataclass
from ...drawing.ink import Disc, Ink, Path, Text, line, rectangle
from ...drawing.text_width import text_width
from ...model.quantities import in_unit, plain_number
from .flow import SMALL

AXIS, RIGHT = 48.0, 10.0
LOWER, BETWEEN, FOOT = 84.0, 16.0, 34.0
TOLERANCE, UNITY, _GRID = "#dddddd", "#888888", "#bbbbbb"
"""Greys of what the tolerances leave open, of 'shown = true', and of the grid."""


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


def panel(curve: TruthCurve, dashes: dict[str, str], x: float, top: float, side: float) -> list[Ink]:
    """Both areas of an indication, ``side`` being the side of the upper one: shown above, error below."""
    low, high = (in_unit(v, curve.unit, curve.kind) for v in (curve.low, curve.high))
    upper = _Area(x + AXIS, top, side, side, low, high, low, high)
    reach = _reach(curve)
    lower = _Area(x + AXIS, top + side + BETWEEN, side, LOWER, low, high, -reach, reach)
    parts: list[Ink] = [*_bands(curve, upper, lower), *_grid(curve, upper, lower)]
    for track in curve.tracks:
        parts += _track(curve, track, dashes[track.point], upper, lower)
    labels: list[Ink] = []
    for limit in curve.limits:
        lines, words = _limit(curve, limit, upper, lower)
        parts += lines
        labels += words
    for area in (upper, lower):
        parts.append(rectangle(area.x, area.y, area.width, area.height, fill=""))
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


def _grid(curve: TruthCurve, upper: _Area, lower: _Area) -> list[Ink]:
    parts: list[Ink] = []
    bottom = lower.y + lower.height
    for value in _ticks(upper.left, upper.right):
        across, up = upper.across(value), upper.up(value)
        parts += [line(across, a.y, across, a.y + a.height, 0.4, color=_GRID) for a in (upper, lower)]
        parts.append(line(upper.x, up, upper.x + upper.width, up, 0.4, color=_GRID))
        parts.append(Text(upper.x - 5, up + 3.5, plain_number(value), SMALL, anchor="end"))
        parts.append(Text(across, bottom + 13, plain_number(value), SMALL, anchor="middle"))
    parts.append(line(upper.x, upper.y + upper.height, upper.x + upper.width, upper.y, 0.7, color=UNITY))
    for value in (-lower.high, 0.0, lower.high):
        parts.append(line(lower.x, lower.up(value), lower.x + lower.width, lower.up(value), 0.5, color=UNITY))
        # The ends of the scale stand inside it, clear of the numbers of the area above.
        y = lower.up(value) + (9 if value > 0 else -2 if value < 0 else 3.5)
        sign = "+" if value > 0 else ""
        parts.append(Text(lower.x - 5, y, f"{sign}{plain_number(value)}", SMALL, anchor="end"))
    if curve.budget is not None:
        for size in (-curve.budget, curve.budget):
            y = lower.up(_difference(curve, size))
            parts.append(line(lower.x, y, lower.x + lower.width, y, 0.9, dash="1.5 2.5"))
    middle = upper.x + upper.width / 2
    parts.append(Text(middle, bottom + 27, f"true, {curve.unit}", SMALL, anchor="middle"))
    for area, words in ((upper, f"indicated, {curve.unit}"), (lower, "error")):
        x, y = area.x - AXIS + 10, area.y + area.height / 2
        parts.append(Text(x, y, words, SMALL, anchor="middle", upright=True))
    return parts


def _bands(curve: TruthCurve, upper: _Area, lower: _Area) -> list[Ink]:
    """What the tolerances leave open, in grey under everything."""
    parts: list[Ink] = []
    for track in curve.tracks:
        known = [s for s in track.samples if s.low is not None and s.high is not None]
        if len(known) < 2:
            continue
        for area, base in ((upper, False), (lower, True)):
            edge = [_spot(curve, s, s.high, area, base) for s in known]
            edge += [_spot(curve, s, s.low, area, base) for s in reversed(known)]
            parts.append(Path(tuple(edge), 0, closed=True, fill=TOLERANCE))
    return parts


def _spot(
    curve: TruthCurve, one: Sample, value: float | None, area: _Area, error: bool
) -> tuple[float, float]:
    assert value is not None
    up = _difference(curve, value - one.true) if error else _number(curve, value)
    return area.across(_number(curve, one.true)), area.up(up)


def _track(curve: TruthCurve, track: Track, dash: str, upper: _Area, lower: _Area) -> list[Ink]:
    parts: list[Ink] = []
    for run in _runs(track.samples):
        points = []
        for one in run:
            end = {"above": curve.high, "below": curve.low}.get(one.beyond)
            points.append(_spot(curve, one, end if one.shown is None else one.shown, upper, False))
        parts.append(Path(tuple(points), 1.5, dash))
        shown = [_spot(curve, one, one.shown, lower, True) for one in run if one.shown is not None]
        if len(shown) > 1:
            parts.append(Path(tuple(shown), 1.5, dash))
    if track.here is not None and curve.low <= track.here <= curve.high:
        at = _between(track.samples, track.here)
        if at is not None:
            x = upper.across(_number(curve, track.here))
            spots = ((x, upper.up(_number(curve, at))), (x, lower.up(_difference(curve, at - track.here))))
            parts += [Disc(cx, cy, 2.8, 1.1) for cx, cy in spots]
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


def _limit(curve: TruthCurve, limit: AtLimit, upper: _Area, lower: _Area) -> tuple[list[Ink], list[Ink]]:
    """The limit as a line across both areas, and how the pointer stands there; its words come last, on white."""
    x = upper.across(_number(curve, limit.value))
    lines: list[Ink] = [line(x, upper.y, x, lower.y + lower.height, 1.4, dash="8 3")]
    words: list[Ink] = [_at_side(x, upper, f"{limit.side} {limit.text}")]
    if limit.shown is not None:
        y = upper.up(_number(curve, limit.shown))
        highest = limit.side == "highest"
        lines.append(line(upper.x if highest else x, y, x if highest else upper.x + upper.width, y, 0.9))
        text = f"shows {plain_number(_number(curve, limit.shown))}"
        # Above the slanting line the upper left is free, below it the lower right.
        wide = text_width(text, SMALL) + 4
        left = upper.x + 4 if highest else upper.x + upper.width - wide - 4
        above = y - 4 if y - 14 > upper.y else y + 12
        base = above if highest else y + 12 if y + 16 < upper.y + upper.height else y - 4
        words.append(rectangle(left, base - 8.5, wide, 10.5, stroke=0))
        words.append(Text(left + 2, base, text, SMALL))
    return lines, words


def _at_side(x: float, area: _Area, text: str) -> Text:
    """The name of a limit above the area, kept within it."""
    half = text_width(text, SMALL, bold=True) / 2
    middle = min(max(x, area.x + half), area.x + area.width - half)
    return Text(middle, area.y - 5, text, SMALL, anchor="middle", bold=True)
