"""What a leak takes away: oil from the engine, fuel before it is shut, clean air from the cabin."""

from __future__ import annotations

from ...model.aircraft import Engine
from ...model.quantities import in_unit, plain_number
from ...physics.spill import litres_per_minute, quarts_per_minute, time_to_explosive_limit, time_to_lose
from ..study import Study
from .leaks import Leak, fluid_of

_COLDEST_C = -60.0
"""degC below which no cabin is taken to be."""
_EXPLOSIVE_AT_C = 20.0
"""degC of the cabin air when fuel evaporates in it, where the zone gives no temperature."""


def rate(flow: float) -> str:
    """A flow in m3/s in both units a mechanic may want."""
    litres, quarts = plain_number(litres_per_minute(flow), 2), plain_number(quarts_per_minute(flow), 2)
    return f"{litres} L/min ({quarts} US qt/min)"


def engine_of(study: Study, leak: Leak) -> Engine | None:
    """The engine whose system leaks."""
    found = study.model.engine_of(study.model.taps[leak.taps[0]])
    return found[1] if found is not None else None


def oil_lasts(study: Study, leak: Leak, flow: float) -> tuple[float, str] | None:
    """Seconds until a leak takes the oil below its minimum, and what is then left, in words.

    ``None`` where the oil carried is not given; without a minimum, the time until none is left.
    """
    engine = engine_of(study, leak)
    if engine is None or engine.oil_quantity is None or flow <= 0:
        return None
    least = engine.oil_minimum
    usable = float(engine.oil_quantity) - (float(least) if least is not None else 0.0)
    if usable <= 0:
        return None
    left = f"below the {least.text} minimum" if least is not None else "gone"
    return time_to_lose(usable, flow), left


def shut_time(study: Study, leak: Leak) -> float | None:
    """Seconds until every source of a leak is shut; ``None`` if one does not say."""
    times = [study.model.taps[t].shutoff_time for t in leak.taps]
    return max(float(t) for t in times if t is not None) if None not in times else None


def spilled(study: Study, leak: Leak, flow: float) -> float | None:
    """Cubic metres that leave before the source is shut and the line has drained."""
    seconds = shut_time(study, leak)
    return None if seconds is None or leak.holds is None else flow * seconds + leak.holds


def explosive_after(study: Study, leak: Leak, flow: float) -> float | None:
    """Seconds until a fuel leak brings the closed air of its zone to the lower explosive limit."""
    zone = study.model.zones.get(leak.zone) if leak.zone is not None else None
    fluid = fluid_of(study, leak.taps[0])
    if zone is None or zone.volume is None or zone.volume <= 0 or fluid is None or flow <= 0:
        return None
    lel, mass = fluid.figures.lower_explosive_limit, fluid.figures.molar_mass
    if lel is None or mass is None:
        return None
    usual = zone.temperature.normal if zone.temperature is not None else None
    air = max(float(usual), _COLDEST_C) if usual is not None else _EXPLOSIVE_AT_C
    return time_to_explosive_limit(flow, lel, float(zone.volume), fluid.density, mass, air)


def duration(seconds: float) -> str:
    """A time as a person says it: ``14 s``, ``4.1 min``."""
    return f"{plain_number(seconds, 2)} s" if seconds < 120 else f"{plain_number(seconds / 60, 2)} min"


def volume(cubic_metres: float) -> str:
    """A spill in both units: ``0.22 L (0.23 US qt)``."""
    quarts = in_unit(cubic_metres, "qt", "volume")
    return f"{plain_number(cubic_metres * 1000, 2)} L ({plain_number(quarts, 2)} US qt)"
