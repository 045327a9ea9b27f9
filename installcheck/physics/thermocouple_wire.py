"""Thermocouple and extension wire: resistance of loops and single legs, and the colour codes.

Resistance at 20 degC comes from a wire table that another of its kind contradicts by up to `TABLE_DOUBT`; the
installed loop is a matter of measurement.
"""

from functools import cache

from ..dataclass import dataclass
from .tables import read_table, unknown
from .thermocouples import J_CONSTANTAN, LEGS, TYPES, UnknownLegError
from .validity import ABSOLUTE_ZERO, finite

FOOT = 0.3048
"""One foot [m], exact: NIST SP 811, appendix B.8."""

TABLE_DOUBT = 0.05
"""Share by which two public loop tables differ at most, misprints left out."""

_TABLE_T_C = 20.0


@dataclass(frozen=True, slots=True)
class LegWire:
    """Metal of a leg: temperature coefficient of resistance [1/degC] nominal, lowest, highest; magnetic or
    not."""

    tcr: float
    tcr_low: float
    tcr_high: float
    magnetic: bool


@dataclass(frozen=True, slots=True)
class Colours:
    """Insulation colours of one type in one code; a jacket is '' where the code names none."""

    scheme: str
    type: str
    positive: str
    negative: str
    thermocouple_jacket: str
    extension_jacket: str
    recalled: bool


@cache
def leg_wire(metal: str) -> LegWire:
    """Wire properties of `metal`; J constantan counts as constantan, nicrosil and nisil raise
    `UnknownLegError`."""
    name = "constantan" if metal == J_CONSTANTAN else metal
    rows = read_table("thermoelement_wire")
    for row in rows:
        if row["metal"] == name:
            tcr, low, high = (float(row[column]) for column in ("tcr", "tcr_low", "tcr_high"))
            return LegWire(tcr, low, high, row["magnetic"] == "yes")
    if metal in LEGS["N"]:
        raise UnknownLegError(
            f"no published resistance of {metal} by itself, nor its change with temperature"
        )
    raise unknown("thermocouple metal", metal, [row["metal"] for row in rows])


@cache
def loop_ohm_per_m(kind: str, awg: int) -> float:
    """Resistance at 20 degC [ohm per metre of run] of both conductors of solid wire of type `kind`, size
    `awg`.

    >>> round(12 * 0.3048 * loop_ohm_per_m("K", 20), 2)  # 12 ft of AWG 20
    7.07
    """
    if kind not in TYPES:
        raise unknown("thermocouple type", kind, TYPES)
    rows = read_table("thermocouple_loop_resistance")
    for row in rows:
        if (row["type"], row["awg"]) == (kind, str(awg)):
            return float(row["ohm_per_double_foot"]) / FOOT
    raise unknown("thermocouple wire size AWG", str(awg), {row["awg"] for row in rows})


@cache
def leg_ohm_per_m(metal: str, awg: int) -> float:
    """Resistance at 20 degC [ohm/m] of one solid conductor of `metal`, size `awg`.

    >>> round(leg_ohm_per_m("chromel", 20) / leg_ohm_per_m("alumel", 20), 1)
    2.4
    """
    leg_wire(metal)
    name = "constantan" if metal == J_CONSTANTAN else metal
    rows = read_table("thermocouple_leg_resistance")
    for row in rows:
        if (row["metal"], row["awg"]) == (name, str(awg)):
            return float(row["ohm_per_foot"]) / FOOT
    raise unknown("thermocouple wire size AWG", str(awg), {row["awg"] for row in rows})


def at_temperature(ohm: float, tcr: float, t_c: float, reference_c: float = _TABLE_T_C) -> float:
    """Resistance [ohm] at `t_c` [degC] of a wire that has `ohm` at `reference_c` [degC]; `tcr` [1/degC].

    >>> round(at_temperature(0.35, 0.0039, 80), 4)
    0.4319
    """
    if (
        min(finite("wire temperature", t_c, "degC"), finite("reference temperature", reference_c, "degC"))
        < ABSOLUTE_ZERO
    ):
        raise ValueError(f"wire temperatures must be above {ABSOLUTE_ZERO} degC")
    return finite("resistance", ohm, "ohm") * (
        1 + finite("temperature coefficient", tcr, "1/degC") * (t_c - reference_c)
    )


@cache
def loop_tcr(kind: str) -> float:
    """Temperature coefficient [1/degC] of a loop of type `kind`, near 20 degC: its legs by their share of
    resistance.

    >>> round(loop_tcr("K"), 4)
    0.0009
    """
    if kind not in TYPES:
        raise unknown("thermocouple type", kind, TYPES)
    # The shares are those of AWG 20; the table gives the same shares in every size within its rounding.
    shares = [(leg_ohm_per_m(metal, 20), leg_wire(metal).tcr) for metal in LEGS[kind]]
    return sum(ohm * tcr for ohm, tcr in shares) / sum(ohm for ohm, _ in shares)


@cache
def colours(scheme: str, kind: str) -> Colours:
    """Colours of type `kind` in `scheme`: US (ASTM E230), IEC (60584-3) or military (US aircraft leads)."""
    table = _colour_table()
    for row in table:
        if (row.scheme, row.type) == (scheme, kind):
            return row
    if scheme not in {row.scheme for row in table}:
        raise unknown("thermocouple colour code", scheme, {row.scheme for row in table})
    raise unknown(
        f"{scheme} colours of thermocouple type", kind, {r.type for r in table if r.scheme == scheme}
    )


def meanings(colour: str) -> tuple[tuple[str, str, str], ...]:
    """Every (scheme, type, 'positive' or 'negative') whose insulation is `colour`: it alone settles no
    polarity.

    >>> ("US", "J", "positive") in meanings("white") and ("IEC", "J", "negative") in meanings("white")
    True
    """
    return tuple(
        (row.scheme, row.type, end)
        for row in _colour_table()
        for end, name in (("positive", row.positive), ("negative", row.negative))
        if name == colour
    )


@cache
def _colour_table() -> tuple[Colours, ...]:
    return tuple(
        Colours(
            row["scheme"],
            row["type"],
            row["positive"],
            row["negative"],
            row["thermocouple_jacket"],
            row["extension_jacket"],
            "recalled" in row["status"],
        )
        for row in read_table("thermocouple_colours")
    )
