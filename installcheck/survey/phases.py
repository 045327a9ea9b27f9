"""The phases of a flight, found from what its log has: height, vertical speed, airspeed, engine speed."""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from ..dataclass import dataclass
from ..logs.flight_log import FlightLog

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

NAMES = ("ground", "climb", "cruise", "descent", "flight", "whole log", "engine stopped")
GROUND, CLIMB, CRUISE, DESCENT, FLIGHT, WHOLE, STOPPED = range(len(NAMES))

# Our choices: plain figures between what is flown and what is noise.
CLIMBING = 1.0
"""Vertical speed [m/s] above which an airplane climbs, and below whose opposite it descends: about 200
ft/min."""
OVER = 60.0
"""Time [s] over which a vertical speed is taken from the heights: one step of a coarse altimeter must not
count."""
FLYING = 18.0
"""Speed [m/s] below which the airplane is on the ground: 35 kt, below the stall of what is surveyed here."""
LEAST = 45.0
"""Shortest phase [s]; shorter ones belong to the phase before."""
TURNING = 100.0
"""Engine speed [1/min] below which the engine is stopped."""
FIELD = 30.0
"""Height [m] above or below the first or last height of a log that still counts as the field."""


@dataclass(frozen=True, slots=True)
class Phases:
    """The phase of each row (index into `NAMES`) and what could not be told."""

    codes: NDArray[np.int8]
    notes: tuple[str, ...]

    def passes(self, code: int, starts: NDArray[np.intp]) -> Iterator[slice]:
        """The unbroken runs of rows of one phase."""
        here = np.flatnonzero(self.codes == code)
        if len(here):
            cut = np.flatnonzero((np.diff(here) > 1) | np.isin(here[1:], starts)) + 1
            for run in np.split(here, cut):
                yield slice(int(run[0]), int(run[-1]) + 1)


def find_phases(log: FlightLog) -> Phases:
    """Tell ground, climb, cruise (level flight at any power) and descent apart, as far as the log allows."""
    notes: list[str] = []
    vertical = _vertical_speed(log)
    ground = _on_ground(log, vertical, notes)
    if vertical is None:
        notes.append(
            "the log holds neither height nor vertical speed, so climb, cruise and descent cannot be told apart"
        )
        codes = np.full(len(log.time), WHOLE if ground is None else FLIGHT, dtype=np.int8)
    else:
        codes = np.full(len(log.time), CRUISE, dtype=np.int8)
        codes[vertical > CLIMBING] = CLIMB
        codes[vertical < -CLIMBING] = DESCENT
    if ground is not None:
        codes[ground] = GROUND
    elif vertical is not None:
        notes.append("the log shows neither speed nor a field, so time on the ground counts as level flight")
    if log.rpm is not None:
        codes[_known(log.rpm) < TURNING] = STOPPED
    return Phases(_without_short(codes, log), tuple(notes))


def _known(values: Floats) -> Floats:
    """Values with each gap filled by the last value before it."""
    known = np.isfinite(values)
    if not known.any():
        return values
    at = np.maximum.accumulate(np.where(known, np.arange(len(values)), 0))
    filled: Floats = np.where(np.isfinite(values[at]), values[at], values[np.argmax(known)])
    return filled


def _usable(values: Floats | None) -> bool:
    return values is not None and np.isfinite(values).sum() * 2 >= len(values)


def _vertical_speed(log: FlightLog) -> Floats | None:
    """Vertical speed [m/s] from the heights, or from its own column where there are none."""
    heights = log.altitude if _usable(log.altitude) else None
    if heights is None and not _usable(log.vertical_speed):
        return None
    speed = np.zeros(len(log.time))
    ends = np.append(log.starts[1:], len(log.time))
    for begin, end in zip(log.starts, ends, strict=True):
        t = log.time[begin:end]
        early, late = np.maximum(t - OVER / 2, t[0]), np.minimum(t + OVER / 2, t[-1])
        span = np.maximum(late - early, 1e-9)
        if heights is not None:
            h = heights[begin:end]
            known = np.isfinite(h)
            if known.sum() >= 2 and t[-1] > t[0]:
                speed[begin:end] = (
                    np.interp(late, t[known], h[known]) - np.interp(early, t[known], h[known])
                ) / span
        elif log.vertical_speed is not None and t[-1] > t[0]:
            # The height it adds up to gives the mean over the same time.
            v = _known(log.vertical_speed[begin:end])
            v = np.where(np.isfinite(v), v, 0.0)
            h = np.concatenate(([0.0], np.cumsum((v[1:] + v[:-1]) / 2 * np.diff(t))))
            speed[begin:end] = (np.interp(late, t, h) - np.interp(early, t, h)) / span
    return speed


def _on_ground(log: FlightLog, vertical: Floats | None, notes: list[str]) -> Flags | None:
    for speed, name in ((log.ias, "airspeed"), (log.ground_speed, "ground speed")):
        if speed is not None and _usable(speed):
            known = _known(speed)
            if (
                float(np.nanmax(known)) >= FLYING
                or vertical is None
                or float(np.max(np.abs(vertical))) < CLIMBING
            ):
                flags: Flags = known < FLYING
                return flags
            notes.append(
                f"the {name} stays below {FLYING * 3600 / 1852:.0f} kt while the height changes; it is not used"
            )
    if vertical is None or log.altitude is None or not _usable(log.altitude):
        return None
    height = _known(log.altitude)
    level = np.abs(vertical) <= CLIMBING
    moving = np.flatnonzero(~level)
    if not len(moving):
        return None
    flags = np.zeros(len(height), dtype=bool)
    first, last = int(moving[0]), int(moving[-1])
    if vertical[first] > 0:
        flags[:first] = np.abs(height[:first] - height[0]) < FIELD
    if vertical[last] < 0:
        flags[last + 1 :] = np.abs(height[last + 1 :] - height[-1]) < FIELD
    return flags if flags.any() else None


def _without_short(codes: NDArray[np.int8], log: FlightLog) -> NDArray[np.int8]:
    """Phases shorter than `LEAST` given to the one before, or to the next where a piece of the log begins
    with one."""
    edge = np.concatenate(([True], np.diff(codes) != 0))
    edge[log.starts] = True
    first = np.flatnonzero(edge)
    last = np.append(first[1:], len(codes))
    piece = np.searchsorted(log.starts, first, "right")
    long = log.time[last - 1] - log.time[first] + log.interval >= LEAST
    merged = codes.copy()
    before: tuple[int, int] | None = None
    waiting: list[int] = []
    for i in range(len(first)):
        rows = slice(int(first[i]), int(last[i]))
        code, this = int(codes[first[i]]), int(piece[i])
        if before is not None and before[0] != this:
            before, waiting = None, []
        if long[i]:
            for j in waiting:
                if piece[j] == this:
                    merged[first[j] : last[j]] = code
            before, waiting = (this, code), []
        elif before is not None:
            merged[rows] = before[1]
        else:
            waiting.append(i)
    return merged
