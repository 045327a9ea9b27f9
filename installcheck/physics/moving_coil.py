"""Thermocouple indicators that draw current: the loop resistance sets the reading.

Emf is in mV, resistance in ohm. The pointer of such an indicator rests at the temperature its own spring
compensates for, and the current of the loop moves it from there, so every emf here is the emf of the loop
above that rest, and `thermocouple_loop.reading` turns what comes out into a temperature.
"""

from collections.abc import Sequence
from math import inf

from ..dataclass import dataclass
from .tables import INCH
from .validity import finite, not_negative, positive


def shown_emf_mv(loop_emf_mv: float, calibrated_ohm: float, external_ohm: float, meter_ohm: float) -> float:
    """Emf [mV] at which the pointer stands when the loop gives `loop_emf_mv` [mV].

    The scale was drawn with `calibrated_ohm` outside the indicator; with `external_ohm` there the current is
    (calibrated + meter) / (external + meter) of what the scale supposes. `meter_ohm` is the indicator's own
    resistance.

    >>> round(shown_emf_mv(11.168, 2, 2.6, 10), 3)
    10.636
    """
    positive("external resistance", external_ohm, "ohm")
    not_negative("calibrated external resistance", calibrated_ohm, "ohm")
    not_negative("indicator resistance", meter_ohm, "ohm")
    return finite("loop emf", loop_emf_mv, "mV") * (calibrated_ohm + meter_ohm) / (external_ohm + meter_ohm)


def shown_emf_bounds_mv(
    loop_emf_mv: float, calibrated_ohm: float, external_ohm: float
) -> tuple[float, float]:
    """Lowest and highest `shown_emf_mv` [mV] whatever the indicator's own resistance is.

    The error is largest for an indicator of no resistance and none at all for one that draws no current.
    """
    worst = shown_emf_mv(loop_emf_mv, calibrated_ohm, external_ohm, 0.0)
    return min(worst, loop_emf_mv), max(worst, loop_emf_mv)


def meter_ohm_from_trial(
    inserted_ohm: float, emf_without_mv: float, emf_with_mv: float, external_ohm: float
) -> float:
    """Indicator resistance [ohm] from two pointer positions, without and with `inserted_ohm` in the loop.

    Both emfs [mV] are the scale emf of the reading above the rest of the pointer, at the same junction
    temperature: R_m = r E_with / (E_without - E_with) - R_external.
    """
    positive("inserted resistance", inserted_ohm, "ohm")
    not_negative("external resistance", external_ohm, "ohm")
    fall = positive("fall of the reading", emf_without_mv - emf_with_mv, "mV")
    return not_negative("indicator resistance", inserted_ohm * emf_with_mv / fall - external_ohm, "ohm")


def spool_ohm(calibrated_ohm: float, couple_ohm: float, lead_ohm: float) -> float:
    """Resistance [ohm] of the trim spool that brings the loop to `calibrated_ohm`; lead at its working
    temperature.

    Below zero no spool can help: the lead is too long or too thin.

    >>> round(spool_ohm(8, 0.60, 20 * 0.280), 2)
    1.8
    """
    finite("calibrated external resistance", calibrated_ohm, "ohm")
    return (
        calibrated_ohm
        - not_negative("couple resistance", couple_ohm, "ohm")
        - not_negative("lead resistance", lead_ohm, "ohm")
    )


def loop_ohm_per_inch(loop_ohm_per_m: float) -> float:
    """Change of the loop [ohm] for each inch of lead cut or added; `loop_ohm_per_m` counts both conductors
    [ohm/m]."""
    return positive("loop resistance per length", loop_ohm_per_m, "ohm/m") * INCH


def length_to_cut_m(excess_ohm: float, loop_ohm_per_m: float) -> float:
    """Length of lead [m] to cut to lose `excess_ohm` [ohm] of loop; negative: length to add."""
    finite("excess resistance", excess_ohm, "ohm")
    return excess_ohm / positive("loop resistance per length", loop_ohm_per_m, "ohm/m")


@dataclass(frozen=True, slots=True)
class ParallelCouples:
    """Thermocouples joined in parallel, as one source: its emf [mV] and its resistance [ohm]."""

    emf_mv: float
    ohm: float


def parallel_couples(emfs_mv: Sequence[float], branches_ohm: Sequence[float]) -> ParallelCouples:
    """The one source that stands for couples in parallel: each weighs by 1 / its branch resistance.

    `emfs_mv` are those of the branches [mV], `branches_ohm` couple and lead up to the common point [ohm].
    Leave an open branch out. The mean is the true one only where all branches are equal in resistance.

    >>> parallel_couples([10, 12], [1, 2])
    ParallelCouples(emf_mv=10.666666666666666, ohm=0.6666666666666666)
    """
    if not emfs_mv:
        raise ValueError("parallel couples need at least one branch")
    conductances = [1 / positive("branch resistance", ohm, "ohm") for ohm in branches_ohm]
    currents = [finite("emf", e, "mV") * g for e, g in zip(emfs_mv, conductances, strict=True)]
    return ParallelCouples(sum(currents) / sum(conductances), 1 / sum(conductances))


def common_point_mv(source: ParallelCouples, load_ohm: float = inf) -> float:
    """Voltage [mV] across parallel couples that feed `load_ohm` [ohm], the meter with its common lead; inf:
    no current."""
    if load_ohm == inf:
        return source.emf_mv
    return source.emf_mv / (1 + source.ohm / positive("load resistance", load_ohm, "ohm"))


def circulating_ma(
    emfs_mv: Sequence[float], branches_ohm: Sequence[float], load_ohm: float = inf
) -> tuple[float, ...]:
    """Current [mA] each of the parallel couples drives into the common point; negative: driven backwards."""
    across = common_point_mv(parallel_couples(emfs_mv, branches_ohm), load_ohm)
    return tuple((emf - across) / ohm for emf, ohm in zip(emfs_mv, branches_ohm, strict=True))
