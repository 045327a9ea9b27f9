"""What explains several measured resistances at once: a meter, the weather, an exchange, a joint they share."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from math import inf, isfinite
from statistics import median

from ...dataclass import dataclass
from ...graph import Edge
from ...model.quantities import show
from ..circuit.leads import temperature_coefficient
from ..study import Study
from .measured_ohms import Reading
from .spans import METER_OHM, is_couple

_FEWEST = 4
"""Readings it takes to speak of something common to all of them."""
_LIKE = 0.2
"""Share by which two added resistances may differ and still be one joint's."""
_SPREAD = 0.06
"""Share by which the ratios of warm copper runs may differ: half the spread of sound wire."""
_WARMEST = 80.0
"""degC above the stated temperature that are believed."""


@dataclass(frozen=True)
class Evidence:
    """All readings, with what was found to explain several of them at once."""

    study: Study
    readings: Sequence[Reading]

    @cached_property
    def wrong(self) -> list[Reading]:
        """Readings that are not sound."""
        return [r for r in self.readings if r.high or r.low]

    @cached_property
    def common(self) -> dict[int, str]:
        """By index, the one cause that explains most of the readings."""
        return _offset(self.readings, self.wrong) or _warmth(self.readings, self.wrong)

    @cached_property
    def exchanged(self) -> dict[int, str]:
        """By index, the run it seems to be exchanged with."""
        found: dict[int, str] = {}
        runs = [r for r in self.wrong if r.check.kind == "run" and isfinite(r.ohms)]
        for i, one in enumerate(runs):
            for other in runs[i + 1 :]:
                if one.index in found or other.index in found:
                    continue
                if one.fits(other.check) and other.fits(one.check):
                    found[one.index] = _exchange(one, other)
                    found[other.index] = _exchange(other, one)
        return found

    @cached_property
    def joints(self) -> dict[int, str]:
        """By index, the terminal that all high ways through it, and no sound one, have in common."""
        through: dict[str, list[Reading]] = {}
        sound: set[str] = set()
        for one in self.readings:
            if one.check.kind == "run":
                continue
            for node in {n for e in one.check.edges for n in (e.a, e.b)}:
                if one.sound:
                    sound.add(node)
                elif one.high and isfinite(one.ohms):
                    through.setdefault(node, []).append(one)
        found: dict[int, str] = {}
        for node, high in through.items():
            more = [added(r) for r in high]
            if len(high) < 2 or node in sound or max(more) - min(more) > _LIKE * max(more):
                continue
            names = " and ".join(r.check.ident for r in high)
            words = (
                f"one bad joint at {node}, about {show(median(more), 'ohm', 'resistance')}, explains {names}"
            )
            for one in high:
                found.setdefault(one.index, words)
        return found


def added(one: Reading) -> float:
    """Ohms a reading is above what is expected."""
    return one.ohms - (one.check.expected or 0.0)


def _exchange(one: Reading, other: Reading) -> str:
    mine, theirs = one.check.edges[0], other.check.edges[0]
    if mine.ident == theirs.ident and is_couple(mine):
        return f"its legs are swapped: it reads as {other.check.ident} should, and that as this one ({legs(mine, theirs)})"
    return f"its wires are exchanged with {other.check.ident}: each reads as the other should"


def legs(one: Edge, other: Edge) -> str:
    """How an ohmmeter tells two legs of a couple apart."""
    first, second = sorted((one, other), key=lambda e: e.metal not in ("chromel", "constantan"))
    times = {"chromel": "about 2.4 times alumel", "constantan": "about 4 times iron"}
    told = times.get(first.metal or "")
    return f"{first.metal} measures {told}" if told is not None else f"{first.metal} and {second.metal}"


def _offset(readings: Sequence[Reading], wrong: Sequence[Reading]) -> dict[int, str]:
    """Meter leads that were not zeroed: the same ohms on top of every reading."""
    known = [r for r in readings if r.known and isfinite(r.ohms) and r.check.kind in ("run", "loop")]
    high = [r for r in known if r.high]
    if len(known) < _FEWEST or len(high) < 2 or len(high) < 0.75 * len(known):
        return {}
    extra = median(added(r) for r in known)
    freed = [r for r in known if (r.check.lowest or 0.0) <= r.ohms - extra <= (r.check.highest or inf)]
    if extra <= METER_OHM or len(freed) < 0.9 * len(known):
        return {}
    ohms = show(extra, "ohm", "resistance")
    words = f"the meter was not zeroed with its leads together: {len(freed)} readings are about {ohms} high"
    return {r.index: words for r in wrong if r in freed}


def _warmth(readings: Sequence[Reading], wrong: Sequence[Reading]) -> dict[int, str]:
    """Wiring that was warmer than written down: the same share on top of every copper run."""
    runs = [
        r
        for r in readings
        if r.check.kind == "run" and r.check.expected and isfinite(r.ohms) and not is_couple(r.check.edges[0])
    ]
    ratios = [r.ohms / (r.check.expected or 1.0) for r in runs]
    if len(runs) < _FEWEST or sum(r.high for r in runs) < 0.75 * len(runs) or not ratios:
        return {}
    share = median(ratios)
    coefficient = temperature_coefficient("copper") or 0.0
    warmer = (share - 1) / coefficient
    if max(ratios) - min(ratios) > _SPREAD or not 0 < warmer < _WARMEST:
        return {}
    at = runs[0].temperature if runs[0].temperature is not None else 20.0
    words = (
        f"the wiring was warmer than written down: {len(runs)} copper runs are {share - 1:.0%} high, "
        f"which is what {warmer:.0f} degC above {at:.0f} degC does"
    )
    return {r.index: words for r in wrong if r in runs}
