"""Resistance bulbs: curves both ways, lead errors, and the indicators that read them.

Resistance in ohm, temperature in degC. Every fault ends in an apparent resistance, the one the indicator
takes for the bulb's; `temperature_c` of the curve the indicator is made for turns it into the reading.
"""

from functools import cache

from ..dataclass import dataclass
from .scale import OffScaleError, on_scale
from .tables import read_table, unknown
from .validity import finite, not_negative, positive

NICKEL = "nickel 90.38"
PT100 = "Pt100"

_SETTLED_C = 1e-7
_MOST_STEPS = 60


@dataclass(frozen=True, slots=True)
class _Span:
    t_low: float
    t_high: float
    r0: float
    terms: tuple[float, float, float, float]
    doubt_ohm: float
    status: str

    def ohm(self, t: float) -> float:
        a, b, c, d = self.terms
        return self.r0 * (1 + t * (a + t * (b + t * (c + t * d))))

    def slope(self, t: float) -> float:
        a, b, c, d = self.terms
        return self.r0 * (a + t * (2 * b + t * (3 * c + t * 4 * d)))


@cache
def _spans(bulb: str) -> tuple[_Span, ...]:
    rows = read_table("bulb_curves")
    spans = tuple(
        _Span(
            float(row["t_low_c"]),
            float(row["t_high_c"]),
            float(row["r0"]),
            (float(row["a"]), float(row["b"]), float(row["c"]), float(row["d"])),
            float(row["doubt_ohm"]),
            row["status"],
        )
        for row in rows
        if row["bulb"] == bulb
    )
    if not spans:
        raise unknown("resistance bulb", bulb, {row["bulb"] for row in rows})
    return spans


def _span_at(bulb: str, t_c: float) -> _Span:
    spans = _spans(bulb)
    on_scale(f"temperature of {bulb} bulb", t_c, spans[0].t_low, spans[-1].t_high, "degC")
    return next(span for span in spans if t_c <= span.t_high)


def temperature_range_c(bulb: str) -> tuple[float, float]:
    """Lowest and highest temperature [degC] for which the curve of `bulb` is known."""
    spans = _spans(bulb)
    return spans[0].t_low, spans[-1].t_high


def resistance_ohm(bulb: str, t_c: float) -> float:
    """Resistance [ohm] of `bulb` at `t_c` [degC].

    nickel 90.38: MIL-T-7990 / MS28034, -70 to 120 degC (`curve_doubt` says how good); Pt100: IEC 60751, -200
    to 850 degC.

    >>> round(resistance_ohm("Pt100", 100), 3)
    138.505
    """
    return _span_at(bulb, t_c).ohm(t_c)


def slope_ohm_per_c(bulb: str, t_c: float) -> float:
    """Rise of `resistance_ohm` [ohm/degC] at `t_c` [degC]."""
    return _span_at(bulb, t_c).slope(t_c)


def curve_doubt(bulb: str, t_c: float) -> tuple[float, str]:
    """Doubt [ohm] of the curve of `bulb` at `t_c` [degC], and where the figures come from."""
    span = _span_at(bulb, t_c)
    return span.doubt_ohm, span.status


def temperature_c(bulb: str, ohm: float) -> float:
    """Temperature [degC] at which `bulb` has `ohm` [ohm]: the reading of an indicator made for that bulb.

    >>> round(temperature_c("Pt100", 138.505), 2)
    100.0
    """
    spans = _spans(bulb)
    on_scale(
        f"resistance of {bulb} bulb",
        ohm,
        spans[0].ohm(spans[0].t_low),
        spans[-1].ohm(spans[-1].t_high),
        "ohm",
    )
    span = next(span for span in spans if ohm <= span.ohm(span.t_high))
    # The curves bend little: Newton's method from the low end settles in a few steps and the bounds only stop
    # rounding.
    t_c = span.t_low
    for _ in range(_MOST_STEPS):
        better = min(max(t_c - (span.ohm(t_c) - ohm) / span.slope(t_c), span.t_low), span.t_high)
        if abs(better - t_c) <= _SETTLED_C:
            return better
        t_c = better
    return t_c


def two_lead_ohm(bulb_ohm: float, out_ohm: float, back_ohm: float) -> float:
    """Apparent resistance [ohm] of a bulb behind two leads; for one wire and case return, `back_ohm` is the
    case joint and the ground path to the indicator.

    >>> two_lead_ohm(124.5, 0.25, 0.25)
    125.0
    """
    positive("bulb resistance", bulb_ohm, "ohm")
    return (
        bulb_ohm
        + not_negative("lead resistance", out_ohm, "ohm")
        + not_negative("return resistance", back_ohm, "ohm")
    )


def three_lead_ohm(
    bulb_ohm: float, bulb_arm_ohm: float, comparison_arm_ohm: float, ratio: float = 1.0
) -> float:
    """Apparent resistance [ohm] of a bulb with a lead in its own bridge arm and one in the comparison arm.

    `ratio` is that of the bulb's arm to the comparison arm at balance. The third lead, in series with the
    supply or the detector, does not move the balance; in a bridge read by its deflection use
    `bridge_current_a`.
    """
    positive("bulb resistance", bulb_ohm, "ohm")
    not_negative("lead resistance", bulb_arm_ohm, "ohm")
    not_negative("lead resistance", comparison_arm_ohm, "ohm")
    return bulb_ohm + bulb_arm_ohm - positive("arm ratio", ratio, "ohm/ohm") * comparison_arm_ohm


@dataclass(frozen=True, slots=True)
class Bridge:
    """A bridge indicator, resistances [ohm]. Bulb side: `above_bulb_ohm` from the supply to the bulb, then
    the bulb to the common; other side: `above_comparison_ohm`, then `comparison_ohm`. The galvanometer joins
    the two middles; `supply_ohm` is in series with the supply. The scale was drawn at `scale_supply_v` [V]
    without leads."""

    above_bulb_ohm: float
    above_comparison_ohm: float
    comparison_ohm: float
    galvanometer_ohm: float
    scale_supply_v: float
    supply_ohm: float = 0.0

    def __post_init__(self) -> None:
        for name in ("above_bulb_ohm", "above_comparison_ohm", "comparison_ohm"):
            positive(name, getattr(self, name), "ohm")
        not_negative("galvanometer_ohm", self.galvanometer_ohm, "ohm")
        not_negative("supply_ohm", self.supply_ohm, "ohm")
        positive("scale_supply_v", self.scale_supply_v, "V")


def _bridge_denominator(bridge: Bridge, comparison_ohm: float, supply_ohm: float) -> tuple[float, float]:
    """The two terms of (fixed + per_ohm x bulb arm) under the galvanometer current, in ohm^3 and ohm^2."""
    p, q, r = bridge.above_bulb_ohm, bridge.above_comparison_ohm, comparison_ohm
    g, s = bridge.galvanometer_ohm, supply_ohm
    fixed = p * q * r + g * p * (q + r) + s * (p + q) * r + s * g * (p + q + r)
    per_ohm = p * (q + r) + q * r + g * (q + r) + s * (p + q) + s * g
    return fixed, per_ohm


def bridge_current_a(
    bridge: Bridge,
    bulb_arm_ohm: float,
    supply_v: float,
    comparison_lead_ohm: float = 0.0,
    supply_lead_ohm: float = 0.0,
) -> float:
    """Galvanometer current [A] of the unbalanced bridge, positive when the bulb arm is above balance.

    `bulb_arm_ohm` is bulb and leads in its arm [ohm], `supply_v` the bus voltage [V]; of three leads, one
    adds to the comparison arm and one to the supply. Exact: the spanning-tree solution
    of the Wheatstone network with the resistance of its source.

    >>> bridge_current_a(Bridge(100, 100, 90.38, 50, 28), 90.38, 28)
    0.0
    """
    positive("bulb arm resistance", bulb_arm_ohm, "ohm")
    r = bridge.comparison_ohm + not_negative("lead resistance", comparison_lead_ohm, "ohm")
    s = bridge.supply_ohm + not_negative("lead resistance", supply_lead_ohm, "ohm")
    fixed, per_ohm = _bridge_denominator(bridge, r, s)
    unbalance = bridge.above_comparison_ohm * bulb_arm_ohm - bridge.above_bulb_ohm * r
    return not_negative("supply voltage", supply_v, "V") * unbalance / (fixed + per_ohm * bulb_arm_ohm)


def bridge_apparent_ohm(bridge: Bridge, current_a: float) -> float:
    """Bulb resistance [ohm] marked on the scale where the galvanometer carries `current_a` [A].

    A current that no bulb would give at the scale's own supply raises `OffScaleError`.
    """
    fixed, per_ohm = _bridge_denominator(bridge, bridge.comparison_ohm, bridge.supply_ohm)
    v = bridge.scale_supply_v
    above = (
        finite("galvanometer current", current_a, "A") * fixed
        + v * bridge.above_bulb_ohm * bridge.comparison_ohm
    )
    below = v * bridge.above_comparison_ohm - current_a * per_ohm
    if below <= 0:
        raise OffScaleError(f"galvanometer current {current_a:g} A is more than an open bulb gives", "above")
    if above <= 0:
        raise OffScaleError(
            f"galvanometer current {current_a:g} A is less than a shorted bulb gives", "below"
        )
    return above / below


def ratio_meter_ratio(bulb_arm_ohm: float, bulb_coil_ohm: float, fixed_arm_ohm: float) -> float:
    """Ratio [A/A] of the current in the fixed coil's branch to that in the bulb coil's, both on one supply.

    `fixed_arm_ohm` and `bulb_coil_ohm` + `bulb_arm_ohm` [ohm] are the branches; the supply voltage divides
    out.
    """
    positive("bulb arm resistance", bulb_arm_ohm, "ohm")
    not_negative("coil resistance", bulb_coil_ohm, "ohm")
    return (bulb_coil_ohm + bulb_arm_ohm) / positive("fixed arm resistance", fixed_arm_ohm, "ohm")


def ratio_meter_apparent_ohm(ratio: float, bulb_coil_ohm: float, fixed_arm_ohm: float) -> float:
    """Bulb resistance [ohm] marked on the scale of a ratio-meter at `ratio` [A/A] of its coil currents."""
    positive("ratio of currents", ratio, "A/A")
    positive("fixed arm resistance", fixed_arm_ohm, "ohm")
    return ratio * fixed_arm_ohm - not_negative("coil resistance", bulb_coil_ohm, "ohm")


def self_heating_c(current_a: float, ohm: float, dissipation_w_per_c: float) -> float:
    """Rise [degC] of an element above what it measures: I^2 R / dissipation constant [W/degC].

    >>> round(self_heating_c(0.005, 138.505, 0.005), 3)
    0.693
    """
    power = finite("current", current_a, "A") ** 2 * positive("element resistance", ohm, "ohm")
    return power / positive("dissipation constant", dissipation_w_per_c, "W/degC")
