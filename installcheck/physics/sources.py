"""Load on the alternator and what the battery carries when it is gone."""

from collections.abc import Iterable
from enum import Enum

from ..dataclass import dataclass
from .validity import not_negative, positive, within

SOURCE_SHARE = 0.80
"""Share of a generator's or alternator's rating for continuous load without placard or monitoring [-]: AC 43.13-1B
11-35a, a rule of thumb."""


class Duty(Enum):
    """How long a load is on."""

    CONTINUOUS = "continuous"
    INTERMITTENT = "intermittent"


@dataclass(frozen=True, slots=True)
class Load:
    """One load: `current` [A], `duty`, and whether it is `essential` after the source is lost."""

    current: float
    duty: Duty = Duty.CONTINUOUS
    essential: bool = False


@dataclass(frozen=True, slots=True)
class LoadTotals:
    """Sums of loads [A]: `continuous`, `intermittent`, both together as `peak`, and `essential` continuous ones."""

    continuous: float
    intermittent: float
    peak: float
    essential: float


def load_totals(loads: Iterable[Load]) -> LoadTotals:
    """Add up loads by duty.

    >>> totals = load_totals([Load(12.0), Load(4.5, essential=True), Load(8.0, Duty.INTERMITTENT)])
    >>> totals.continuous, totals.peak, totals.essential
    (16.5, 24.5, 4.5)
    """
    continuous = intermittent = essential = 0.0
    for load in loads:
        not_negative("load current", load.current, "A")
        if load.duty is Duty.CONTINUOUS:
            continuous += load.current
            essential += load.current * load.essential
        else:
            intermittent += load.current
    return LoadTotals(continuous, intermittent, continuous + intermittent, essential)


def continuous_load_limit(rating: float, monitored: bool = False) -> float:
    """Largest continuous load [A] on a source of `rating` [A]; the whole rating where it is placarded or monitored.

    >>> continuous_load_limit(60.0)
    48.0
    """
    return positive("source rating", rating, "A") * (1.0 if monitored else SOURCE_SHARE)


def battery_endurance(capacity: float, usable: float, load: float) -> float:
    """Time [s] a battery carries a `load` [A]: its `capacity` [A s] times the `usable` share [0-1] over the load.

    The usable share allows for age and cold: 0.75 to 0.8 by practice, recalled.

    >>> battery_endurance(24 * 3600, 0.8, 12.0) / 60
    96.0
    """
    return battery_endurance_after_shedding(capacity, usable, load, 0.0, load)


def battery_endurance_after_shedding(
    capacity: float, usable: float, full_load: float, recognition: float, essential_load: float
) -> float:
    """Time [s] a battery lasts when `full_load` [A] stays on for the `recognition` time [s], then `essential_load` [A].

    The recognition time is part of the result. Arguments otherwise as in `battery_endurance`.

    >>> round(battery_endurance_after_shedding(24 * 3600, 0.75, 30.0, 300.0, 10.0) / 60, 1)  # 5 + 60 (18 - 2.5) / 10
    98.0
    """
    charge = positive("battery capacity", capacity, "A s") * within("usable share", usable, 0, 1, "(no unit)")
    positive("load", full_load, "A")
    positive("load", essential_load, "A")
    first = min(not_negative("recognition time", recognition, "s"), charge / full_load)
    return first + (charge - first * full_load) / essential_load
