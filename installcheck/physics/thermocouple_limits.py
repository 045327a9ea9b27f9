"""Limits of error of thermocouples and their extension wire, by standard and grade."""

from collections.abc import Iterable
from functools import cache
from math import hypot

from ..dataclass import dataclass
from .scale import on_scale
from .tables import optional_number, read_table, unknown
from .thermocouples import seebeck_mv_per_c
from .validity import finite, not_negative


@dataclass(frozen=True, slots=True)
class Limit:
    """A limit of error and the temperatures it is given for [degC].

    The limit is the greater of `limit_c` [degC] and `fraction` of |t|, or `limit_mv` [mV] where the standard
    says so.
    """

    standard: str
    grade: str
    type: str
    t_low_c: float
    t_high_c: float
    limit_c: float
    fraction: float
    limit_mv: float | None
    recalled: bool


def limit_of_error_c(standard: str, grade: str, kind: str, t_c: float) -> float:
    """Largest error allowed [degC] of a thermocouple of type `kind` with its junction at `t_c` [degC].

    `standard` is ASTM E230 (`grade` standard or special) or IEC 60584-1 (class 1, 2 or 3). Outside the range
    the standard gives, `OffScaleError`: no limit is promised there.

    >>> limit_of_error_c("ASTM E230", "standard", "K", 700)
    5.25
    """
    found = _find("thermocouple_limits", standard, grade, kind)
    low, high = min(limit.t_low_c for limit in found), max(limit.t_high_c for limit in found)
    on_scale(f"temperature of {grade} type {kind} in {standard}", t_c, low, high, "degC")
    limit = next(limit for limit in found if limit.t_low_c <= t_c <= limit.t_high_c)
    return max(limit.limit_c, limit.fraction * abs(t_c))


def extension_limit_mv(
    standard: str, grade: str, kind: str, t_hot_end_c: float, t_meter_end_c: float
) -> float:
    """Largest emf error allowed [mV] of extension wire of type `kind` between two temperatures [degC].

    `standard` is ASTM E230 (`grade` standard or special) or IEC 60584-3 (class 1 or 2). The first gives
    degrees, taken here at the slope of the hotter end; the second gives microvolts. Either end outside the
    range of extension wire: `OffScaleError`, the error there is undefined.
    """
    (limit,) = _find("extension_limits", standard, grade, kind)
    for t_c in (t_hot_end_c, t_meter_end_c):
        on_scale(
            f"temperature of {grade} type {kind} extension wire in {standard}",
            t_c,
            limit.t_low_c,
            limit.t_high_c,
            "degC",
        )
    if limit.limit_mv is not None:
        return limit.limit_mv
    return limit.limit_c * seebeck_mv_per_c(kind, max(t_hot_end_c, t_meter_end_c))


def as_degrees_c(emf_error_mv: float, scale: str, t_c: float) -> float:
    """Error of the reading [degC] that `emf_error_mv` [mV] makes at `t_c` [degC] on a scale of type
    `scale`."""
    return finite("emf error", emf_error_mv, "mV") / seebeck_mv_per_c(scale, t_c)


def root_sum_square(errors: Iterable[float]) -> float:
    """Likely total of independent errors, in their own unit; their plain sum is the worst.

    >>> round(root_sum_square([2.2, 2.2]), 1)
    3.1
    """
    return hypot(*(not_negative("limit of error", error, "its unit") for error in errors))


@cache
def limits(table: str) -> tuple[Limit, ...]:
    """All rows of `table`: thermocouple_limits or extension_limits."""
    return tuple(
        Limit(
            row["standard"],
            row["grade"],
            row["type"],
            float(row["t_low_c"]),
            float(row["t_high_c"]),
            float(row["limit_c"]),
            float(row.get("fraction") or 0),
            None if (uv := optional_number(row.get("limit_uv", ""))) is None else uv / 1000,
            "recalled" in row["status"],
        )
        for row in read_table(table)
    )


@cache
def _find(table: str, standard: str, grade: str, kind: str) -> tuple[Limit, ...]:
    rows = limits(table)
    for name, wanted, column in (
        ("standard", standard, "standard"),
        ("grade", grade, "grade"),
        ("type", kind, "type"),
    ):
        found = tuple(row for row in rows if getattr(row, column) == wanted)
        if not found:
            raise unknown(
                f"{name} among the {table.replace('_', ' ')}", wanted, {getattr(r, column) for r in rows}
            )
        rows = found
    return rows
