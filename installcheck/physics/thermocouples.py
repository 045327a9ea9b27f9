"""Emf of thermocouples and of their single legs on the ITS-90 scale, both ways.

Emf is in mV with the reference junction at 0 degC, temperature in degC.
"""

from bisect import bisect_right
from functools import cache
from math import exp
from typing import NamedTuple

from .scale import on_scale
from .tables import read_table, unknown

TYPES = ("J", "K", "E", "T", "N")

J_CONSTANTAN = "J constantan"
"""Constantan of type J iron/constantan pairs: an alloy matched to iron, not the constantan of types E and
T."""

LEGS = {
    "J": ("iron", J_CONSTANTAN),
    "K": ("chromel", "alumel"),
    "E": ("chromel", "constantan"),
    "T": ("copper", "constantan"),
    "N": ("nicrosil", "nisil"),
}
"""Metals of the positive and the negative leg of each type: ASTM E230, paragraph 1.5."""

J_CONSTANTAN_UNCERTAINTY_MV = 0.03
"""Doubt of `j_constantan_minus_constantan_mv` between two temperatures [mV]: the recalled table is rounded to
0.1 microvolt/degC and its pairs miss the reference functions by as much as 0.16 microvolt/degC over part of
the range."""

_KNOT_STEP = 10.0
_SETTLED_C = 1e-7
_MOST_STEPS = 60
# The terms of a polynomial near -270 degC reach thousands of mV and cancel; this is well above what that loses.
_ROUNDING_MV = 1e-9


class UnknownLegError(ValueError):
    """The emf of a metal by itself is asked for and no published figure gives it."""


class _Span(NamedTuple):
    t_low: float
    t_high: float
    coefficients: tuple[float, ...]
    slopes: tuple[float, ...]
    bump: tuple[float, float, float] | None


@cache
def _spans(kind: str) -> tuple[_Span, ...]:
    terms: dict[tuple[float, float], dict[str, float]] = {}
    for row in read_table("its90_coefficients"):
        if row["type"] == kind:
            span = float(row["t_low_c"]), float(row["t_high_c"])
            terms.setdefault(span, {})[row["term"]] = float(row["coefficient"])
    if not terms:
        raise unknown("thermocouple type", kind, TYPES)
    spans = []
    for (low, high), term in terms.items():
        rising = [term[f"c{i}"] for i in range(sum(name.startswith("c") for name in term))]
        slopes = [i * c for i, c in enumerate(rising)][1:]
        bump = (term["a0"], term["a1"], term["a2"]) if "a0" in term else None
        spans.append(_Span(low, high, tuple(reversed(rising)), tuple(reversed(slopes)), bump))
    return tuple(spans)


def _span_at(kind: str, t_c: float) -> _Span:
    spans = _spans(kind)
    on_scale(f"temperature of type {kind}", t_c, spans[0].t_low, spans[-1].t_high, "degC")
    return next(span for span in spans if t_c <= span.t_high)


def _emf(span: _Span, t_c: float) -> float:
    total = 0.0
    for coefficient in span.coefficients:
        total = total * t_c + coefficient
    if span.bump:
        a0, a1, a2 = span.bump
        total += a0 * exp(a1 * (t_c - a2) ** 2)
    return total


def _slope(span: _Span, t_c: float) -> float:
    total = 0.0
    for coefficient in span.slopes:
        total = total * t_c + coefficient
    if span.bump:
        a0, a1, a2 = span.bump
        total += 2 * a1 * (t_c - a2) * a0 * exp(a1 * (t_c - a2) ** 2)
    return total


def temperature_range_c(kind: str) -> tuple[float, float]:
    """Lowest and highest temperature [degC] the reference function of type `kind` covers."""
    spans = _spans(kind)
    return spans[0].t_low, spans[-1].t_high


def emf_mv(kind: str, t_c: float) -> float:
    """Emf [mV] of type `kind` (J, K, E, T or N) with its junction at `t_c` [degC], reference at 0 degC.

    NIST SRD 60 reference functions (NIST Monograph 175), valid over `temperature_range_c`.

    >>> round(emf_mv("K", 100), 3)
    4.096
    """
    return _emf(_span_at(kind, t_c), t_c)


def seebeck_mv_per_c(kind: str, t_c: float) -> float:
    """Slope of `emf_mv` [mV/degC] of type `kind` at `t_c` [degC].

    >>> round(1000 * seebeck_mv_per_c("J", 25), 1)
    51.8
    """
    return _slope(_span_at(kind, t_c), t_c)


@cache
def _knots(kind: str) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Emf [mV] and temperature [degC] at every tenth degree and at each end of a span."""
    temperatures: list[float] = []
    for span in _spans(kind):
        count = round((span.t_high - span.t_low) / _KNOT_STEP)
        temperatures += [span.t_low + i * _KNOT_STEP for i in range(count)]
    temperatures.append(_spans(kind)[-1].t_high)
    return tuple(emf_mv(kind, t) for t in temperatures), tuple(temperatures)


def temperature_c(kind: str, emf: float) -> float:
    """Temperature [degC] at which type `kind` gives `emf` [mV], reference at 0 degC.

    Newton's method on the reference function, held inside the ten degrees that bracket the answer, so that it
    cannot stray and is as exact as the function itself; the published inverse polynomials are only good to
    0.06 degC.

    >>> round(temperature_c("K", 8.338), 2)
    204.99
    """
    emfs, temperatures = _knots(kind)
    on_scale(f"emf of type {kind}", emf, emfs[0] - _ROUNDING_MV, emfs[-1] + _ROUNDING_MV, "mV")
    upper = min(max(bisect_right(emfs, emf), 1), len(emfs) - 1)
    low, high = temperatures[upper - 1], temperatures[upper]
    span = _span_at(kind, high)
    t_c = low + (high - low) * (emf - emfs[upper - 1]) / (emfs[upper] - emfs[upper - 1])
    for _ in range(_MOST_STEPS):
        better = min(max(t_c - (_emf(span, t_c) - emf) / _slope(span, t_c), low), high)
        if abs(better - t_c) <= _SETTLED_C:
            return better
        t_c = better
    return t_c


def j_constantan_minus_constantan_mv(t_c: float) -> float:
    """Emf [mV] of type J constantan less that of type E and T constantan at `t_c` [degC], both from 0 degC.

    The integral of the difference of their Seebeck coefficients (ASTM MNL 12 nominal table, recalled), -75 to
    700 degC, good to about `J_CONSTANTAN_UNCERTAINTY_MV`.

    >>> round(j_constantan_minus_constantan_mv(100), 3)
    0.03
    """
    temperatures, slopes = _j_constantan_table()
    on_scale("temperature of type J constantan by itself", t_c, temperatures[0], temperatures[-1], "degC")
    return _area(temperatures, slopes, t_c) - _area(temperatures, slopes, 0.0)


@cache
def _j_constantan_table() -> tuple[tuple[float, ...], tuple[float, ...]]:
    rows = read_table("j_constantan")
    slopes = tuple((float(row["jn_uv_per_c"]) - float(row["tn_uv_per_c"])) / 1000 for row in rows)
    return tuple(float(row["t_c"]) for row in rows), slopes


def _area(xs: tuple[float, ...], ys: tuple[float, ...], end: float) -> float:
    """Area under the straight lines through the points, from the first x to `end`."""
    total = 0.0
    for x0, x1, y0, y1 in zip(xs, xs[1:], ys, ys[1:], strict=False):
        if end <= x0:
            break
        x = min(end, x1)
        y = y0 + (y1 - y0) * (x - x0) / (x1 - x0)
        total += (x - x0) * (y0 + y) / 2
    return total


def leg_emf_mv(metal: str, t_c: float) -> float:
    """Emf [mV] of one leg `metal` against copper between 0 degC and `t_c` [degC].

    Chromel of K is chromel of E, and constantan of T is constantan of E (ASTM E230, paragraph 1.5), so with
    type T copper as the zero: constantan = -E_T, chromel = E_E - E_T, alumel = E_E - E_T - E_K, exact from
    -270 to 400 degC. Iron and type J constantan carry `J_CONSTANTAN_UNCERTAINTY_MV` and hold from -75 to 400
    degC. Nicrosil, nisil and every other metal raise `UnknownLegError`.

    >>> round(leg_emf_mv("alumel", 100), 3)
    -2.056
    """
    match metal:
        case "copper":
            on_scale("temperature of copper", t_c, *temperature_range_c("T"), "degC")
            return 0.0
        case "constantan":
            return -emf_mv("T", t_c)
        case "chromel":
            return emf_mv("E", t_c) - emf_mv("T", t_c)
        case "alumel":
            return emf_mv("E", t_c) - emf_mv("T", t_c) - emf_mv("K", t_c)
        case "J constantan":
            return j_constantan_minus_constantan_mv(t_c) - emf_mv("T", t_c)
        case "iron":
            return leg_emf_mv(J_CONSTANTAN, t_c) + emf_mv("J", t_c)
    known = "chromel, alumel, iron, constantan, J constantan and copper are known"
    raise UnknownLegError(f"no published emf of {metal} by itself; {known}")
