"""A thermocouple circuit as a walk round the loop, from the junction down each side to the meter.

Each piece of wire, splice, pin or screw is a `Segment`: one metal between two temperatures. Only the
temperatures at its ends matter, never its length. Temperatures are in degC, emf in mV.
"""

from collections import defaultdict
from collections.abc import Iterable, Sequence

from ..dataclass import dataclass
from .scale import OffScaleError, Side, on_scale
from .thermocouples import (
    J_CONSTANTAN,
    J_CONSTANTAN_UNCERTAINTY_MV,
    UnknownLegError,
    emf_mv,
    j_constantan_minus_constantan_mv,
    temperature_c,
    temperature_range_c,
)
from .validity import finite

_SAME_POINT_C = 1e-6
_DECIMALS = 9


@dataclass(frozen=True, slots=True)
class Segment:
    """One metal (trade word: chromel, alumel, iron, J constantan, constantan, copper, brass...) between two
    temperatures [degC]: the end towards the hot junction and the end towards the meter."""

    material: str
    t_hot_end_c: float
    t_meter_end_c: float


@dataclass(frozen=True, slots=True)
class LoopEmf:
    """Emf at the open meter terminals [mV], and its doubt [mV] where type J constantan works without iron
    beside it."""

    emf_mv: float
    uncertainty_mv: float


@dataclass(frozen=True, slots=True)
class Reading:
    """Emf on the indicator's scale [mV] and the temperature shown [degC], None where the pointer is `beyond`
    the scale."""

    emf_mv: float
    indicated_c: float | None
    beyond: Side | None = None


def side(t_junction_c: float, pieces: Iterable[tuple[str, float]]) -> tuple[Segment, ...]:
    """Segments of one side from the junction at `t_junction_c` [degC]: each piece a metal and its meter end
    [degC]."""
    segments = []
    t_c = t_junction_c
    for metal, t_end_c in pieces:
        segments.append(Segment(metal, t_c, t_end_c))
        t_c = t_end_c
    return tuple(segments)


def loop_emf(t_junction_c: float, positive: Sequence[Segment], negative: Sequence[Segment]) -> LoopEmf:
    """Emf [mV] between the meter terminals of a loop with its junction at `t_junction_c` [degC].

    V = sum over the positive side of e(hot end) - e(meter end), less the same sum over the negative side (law
    of successive temperatures and of intermediate metals; ASTM E230 scope 1.5 for the legs). A meter whose
    two terminals differ in temperature is closed with copper. Whatever cancels is left out before any table
    is read, so a pair of legs is good over the whole range of its type, equal pieces of any metal in both
    sides drop out, and only a metal that does act by itself has to be known: else `UnknownLegError`.

    >>> k = loop_emf(205, side(205, [("chromel", 82), ("copper", 25)]), side(205, [("alumel", 82), ("copper", 25)]))
    >>> round(k.emf_mv, 3)  # E_K(205) - E_K(82)
    4.989
    """
    weights = _weights(t_junction_c, positive, negative)
    emf = 0.0

    # Chromel is the zero because the types that hold it reach furthest; the loop is closed, so any zero would
    # serve.
    emf += _replace(weights, "nicrosil", "N", "nisil")
    emf += _replace(weights, "iron", "J", J_CONSTANTAN)
    lone_j_constantan = _acting(weights.pop(J_CONSTANTAN, {}))
    emf += sum(w * j_constantan_minus_constantan_mv(t) for t, w in lone_j_constantan.items())
    for t_c, weight in lone_j_constantan.items():
        weights["constantan"][t_c] += weight
    emf += _replace(weights, "copper", "T", "constantan")
    emf -= sum(w * emf_mv("E", t) for t, w in _acting(weights.pop("constantan", {})).items())
    emf -= sum(w * emf_mv("K", t) for t, w in _acting(weights.pop("alumel", {})).items())
    weights.pop("chromel", None)

    for metal, at in weights.items():
        ends = ", ".join(f"{t:g}" for t in sorted(_acting(at)))
        if ends:
            raise UnknownLegError(
                f"no published emf of {metal} by itself, and its ends at {ends} degC are not matched in the other side"
            )
    return LoopEmf(emf, J_CONSTANTAN_UNCERTAINTY_MV * sum(map(abs, lone_j_constantan.values())) / 2)


def _weights(
    t_junction_c: float, positive: Sequence[Segment], negative: Sequence[Segment]
) -> dict[str, dict[float, float]]:
    """How often the emf of each metal at each temperature counts in the loop; 0 where it cancels."""
    weights: dict[str, dict[float, float]] = defaultdict(lambda: defaultdict(float))
    for name, sign, segments in (("positive", 1.0, positive), ("negative", -1.0, negative)):
        t_c = finite("junction temperature", t_junction_c, "degC")
        for segment in segments:
            if abs(finite("segment temperature", segment.t_hot_end_c, "degC") - t_c) > _SAME_POINT_C:
                raise ValueError(
                    f"the {segment.material} of the {name} side starts at {segment.t_hot_end_c:g} degC "
                    f"where the piece before it ends at {t_c:g} degC"
                )
            at = weights[segment.material]
            at[round(t_c, _DECIMALS)] += sign
            t_c = finite("segment temperature", segment.t_meter_end_c, "degC")
            at[round(t_c, _DECIMALS)] -= sign
        weights["copper"][round(t_c, _DECIMALS)] += sign
    return weights


def _acting(at: dict[float, float]) -> dict[float, float]:
    return {t: weight for t, weight in at.items() if weight}


def _replace(weights: dict[str, dict[float, float]], metal: str, kind: str, partner: str) -> float:
    """Turn `metal` into its partner in type `kind` plus the emf of the type; return that emf [mV]."""
    emf = 0.0
    for t_c, weight in _acting(weights.pop(metal, {})).items():
        on_scale(f"temperature of {metal} by itself", t_c, *temperature_range_c(kind), "degC")
        weights[partner][t_c] += weight
        emf += weight * emf_mv(kind, t_c)
    return emf


def scale_reading(emf_on_scale_mv: float, scale: str) -> Reading:
    """Temperature [degC] marked where the scale of type `scale` has `emf_on_scale_mv` [mV].

    >>> scale_reading(57.9, "K").beyond
    'above'
    """
    try:
        return Reading(emf_on_scale_mv, temperature_c(scale, emf_on_scale_mv))
    except OffScaleError as off:
        return Reading(emf_on_scale_mv, None, off.side)


def reading(loop_emf_mv: float, scale: str, t_compensation_c: float) -> Reading:
    """What an indicator that draws no current shows for `loop_emf_mv` [mV] at its terminals.

    `scale` is the thermocouple type its scale and compensation are made for, `t_compensation_c` [degC] the
    temperature its compensation takes its terminals to have: that of the terminals where it is right, that of
    its own sensor or spring where that lies elsewhere, 0 where there is none and the scale supposes ice.

    >>> round(reading(emf_mv("J", 205) - emf_mv("J", 25), "K", 25).indicated_c, 1)
    265.3
    """
    return scale_reading(loop_emf_mv + emf_mv(scale, t_compensation_c), scale)
