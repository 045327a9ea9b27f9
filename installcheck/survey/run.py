"""The survey of a flight log. Temperatures and differences in degC, times in s."""

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from ..dataclass import dataclass
from ..logs.flight_log import FlightLog
from ..physics.cooling import HEADS_AND_FLUIDS, HOT_DAY, Corrected, HotDay, corrected_temperature
from ..physics.cooling import margin as margin_to
from ..physics.hottest import weigh_stages
from ..physics.settling import Floats
from ..physics.validity import kelvin, not_negative, positive
from . import words
from .phases import NAMES, STOPPED, Phases, find_phases
from .ranking import Probes, difference_repeats, rank
from .result import Head, OrderChange, Phase, Survey
from .settled import settled_rates, steady_ranking, stretches

WINDOW = 120.0
"""Time [s] over which a slope is fitted to tell whether a temperature has settled. Our choice."""
NEAR = 60.0
"""Greatest time [s] between a peak and the outside air and height it is corrected with. Our choice."""

CARRIED = 60.0
"""A peak within this time [s] of the start of a phase is heat left from the phase before. Our choice."""


@dataclass(frozen=True, slots=True)
class _Settings:
    limit: float | None
    probes: Probes
    system_error: float
    share: float
    clamp: bool
    day: HotDay
    window: float


@dataclass(frozen=True, slots=True)
class _Peak:
    row: int
    value: float
    carried: Corrected | None


def survey(
    log: FlightLog,
    *,
    cylinders: int | None = None,
    limit: float | None = None,
    probed: int | None = None,
    grade: str | None = None,
    kind: str = "K",
    standard: str = "ASTM E230",
    system_error: float = 0.0,
    share: float = HEADS_AND_FLUIDS,
    clamp: bool = True,
    day: HotDay = HOT_DAY,
    window: float = WINDOW,
) -> Survey:
    """Survey the head temperatures of `log`.

    Args:
        cylinders: how many the engine has; channels beyond are not used, missing ones are told.
        limit: head temperature limit [degC].
        probed: the cylinder the aircraft's own probe is on.
        grade: of the survey's thermocouples; unknown counts as standard wire, the best it can be taken for.
        kind: thermocouple type of the survey's probes.
        standard: that gives their tolerance, ASTM E230 or IEC 60584-1.
        system_error: bound of the error of probe, lead and recorder at the limit [degC], taken off the
        margin. share: of the difference from the hot day that is added, see `corrected_temperature`. clamp:
        whether a day hotter than the hot day takes nothing off. day: the hot day of the rule that applies.
        window: time [s] over which slopes are fitted.

    Raises:
        ValueError: an argument that cannot be.
    """
    if limit is not None:
        kelvin("limit", limit)
    ordinary = "class 2" if standard.startswith("IEC") else "standard"
    probes = Probes(grade or ordinary, kind, standard)
    settings = _Settings(
        limit,
        probes,
        not_negative("system error", system_error, "degC"),
        share,
        clamp,
        day,
        max(positive("window", window, "s"), 6 * log.interval),
    )
    heads = {
        number: log.cht[number] for number in sorted(log.cht) if cylinders is None or number <= cylinders
    }
    if not heads:
        raise ValueError(f"no channel of the log is on a cylinder of an engine that has {cylinders}")
    if probed is not None and (probed < 1 or (cylinders is not None and probed > cylinders)):
        raise ValueError(f"there is no cylinder {probed} on this engine")
    phases = find_phases(log)
    peaks = _peaks(log, heads, phases, settings)
    corrected = all(peak.carried is not None for one in peaks.values() for peak in one.values())
    settled = settled_rates(log, heads, settings.window)
    found = tuple(
        _phase(log, heads, phases, code, peaks[code], corrected, settled, settings) for code in sorted(peaks)
    )
    governing, hottest, weighted = _govern(
        [phase for phase in found if len(phase.heads) == len(heads)], settings
    )
    highest = cylinders or max(heads)
    result = Survey(
        file=log.file,
        unit=log.temperature_unit,
        limit=limit,
        grade=f"{standard} {probes.grade} type {kind}" + ("" if grade else ", as none is stated"),
        cylinders=tuple(heads),
        unmeasured=tuple(number for number in range(1, highest + 1) if number not in heads),
        corrected=corrected,
        phases=found,
        governing=governing,
        hottest=hottest,
        weighted=weighted,
        probed=probed,
        shortfall=_shortfalls(found, probed),
        changes=_changes(found),
        left_out=log.left_out,
        log_notes=log.notes,
        notes=(
            *phases.notes,
            *words.notes(log, cylinders, grade, corrected, found, settings.system_error, limit),
        ),
        finding="",
    )
    return replace(result, finding=words.overall(result))


def _near(log: FlightLog, values: Floats | None, row: int) -> float | None:
    """The value at `row`, or the nearest one in time within `NEAR`."""
    if values is None:
        return None
    first, last = np.searchsorted(log.time, [log.time[row] - NEAR, log.time[row] + NEAR])
    close = np.flatnonzero(np.isfinite(values[first : last + 1])) + first
    if not len(close):
        return None
    return float(values[close[np.argmin(np.abs(log.time[close] - log.time[row]))]])


def _peaks(
    log: FlightLog, heads: Mapping[int, Floats], phases: Phases, settings: _Settings
) -> dict[int, dict[int, _Peak]]:
    """First occurrence of the highest value of each head in each phase, carried to the hot day where the log
    allows."""
    peaks: dict[int, dict[int, _Peak]] = {}
    for code in range(len(NAMES)):
        rows = np.flatnonzero(phases.codes == code)
        for number, values in heads.items() if code != STOPPED else ():
            inside = values[rows]
            if np.isfinite(inside).any():
                row = int(rows[int(np.nanargmax(inside))])
                peak = _Peak(row, float(values[row]), _carried(log, float(values[row]), row, settings))
                peaks.setdefault(code, {})[number] = peak
    return peaks


def _carried(log: FlightLog, value: float, row: int, settings: _Settings) -> Corrected | None:
    outside, height = _near(log, log.oat, row), _near(log, log.altitude, row)
    if outside is None or height is None:
        return None
    return corrected_temperature(
        value, outside, height, share=settings.share, clamp=settings.clamp, day=settings.day
    )


def _phase(
    log: FlightLog,
    heads: Mapping[int, Floats],
    phases: Phases,
    code: int,
    peaks: Mapping[int, _Peak],
    corrected: bool,
    settled: Floats,
    settings: _Settings,
) -> Phase:
    rows = np.flatnonzero(phases.codes == code)
    passes = list(phases.passes(code, log.starts))
    table = np.stack([heads[number][rows] for number in peaks])
    complete = np.isfinite(table).all(axis=0)
    full = table[:, complete]
    at_top = full == full.max(axis=0) if full.shape[1] else np.zeros_like(full, dtype=bool)
    alone = at_top.sum(axis=0) == 1
    wins = (at_top & alone).sum(axis=1)
    measured = tuple(
        Head(
            cylinder=number,
            peak=peak.value,
            line=int(log.lines[peak.row]),
            time=float(log.time[peak.row]),
            mean=float(np.nanmean(table[i])),
            rows=int(np.isfinite(table[i]).sum()),
            rows_hottest=int(wins[i]),
            corrected=peak.carried.temperature if corrected and peak.carried is not None else None,
            clamped=corrected and peak.carried is not None and peak.carried.clamped,
        )
        for i, (number, peak) in enumerate(peaks.items())
    )
    values = {head.cylinder: head.peak if head.corrected is None else head.corrected for head in measured}
    ranking = rank(values, log.division, settings.probes)
    steady = tuple(stretches(log, heads, passes, settled, settings.window))
    top = max(values.values())
    best = peaks[ranking.order[0]].row
    starts = [one.start for one in passes if one.start and one.start not in log.starts]
    carried_in = any(0 <= log.time[best] - log.time[start] <= CARRIED for start in starts)
    by_steady = steady_ranking(steady, log.division, settings.probes)
    # Peaks left over from the phase before say nothing of how the lead repeats in this one.
    flown = [] if carried_in else [{number: heads[number][one] for number in peaks} for one in passes]
    repeat, of = difference_repeats(by_steady or ranking, steady, flown)
    most = int(wins.max()) if len(wins) else 0
    phase = Phase(
        name=NAMES[code],
        rows=len(rows),
        seconds=float(sum(log.time[one.stop - 1] - log.time[one.start] for one in passes)),
        passes=len(passes),
        heads=measured,
        by_peak=ranking,
        carried_in=carried_in,
        by_steady=by_steady,
        by_time=tuple(head.cylinder for head in measured if most and head.rows_hottest == most),
        rows_compared=int(complete.sum()),
        rows_tied=int((~alone).sum()),
        steady=steady,
        repeat=repeat,
        repeat_of=of,
        margin=None if settings.limit is None else margin_to(settings.limit, top, settings.system_error),
        finding="",
    )
    return replace(phase, finding=words.of_phase(phase, log.temperature_unit))


def _govern(phases: list[Phase], settings: _Settings) -> tuple[str | None, tuple[int, ...], dict[int, float]]:
    """The phase with the least margin to the limit, who is hottest there, and the weighted shortfall of each
    cylinder."""
    if not phases:
        return None, (), {}
    numbers = [head.cylinder for head in phases[0].heads]
    table = [
        [head.peak if head.corrected is None else head.corrected for head in phase.heads] for phase in phases
    ]
    limit = settings.limit
    # Without a limit the highest phase governs, as it does with any limit that is the same in all phases.
    bound = max(map(max, table)) if limit is None else limit - settings.system_error
    stages = weigh_stages(table, [bound] * len(table))
    governing = phases[stages.governing]
    weighted = dict(zip(numbers, stages.index, strict=True)) if limit is not None else {}
    return governing.name, governing.by_peak.hottest, weighted


def _shortfalls(phases: tuple[Phase, ...], probed: int | None) -> dict[str, float]:
    shortfalls = {}
    for phase in phases:
        values = {
            head.cylinder: head.peak if head.corrected is None else head.corrected for head in phase.heads
        }
        if probed in values:
            shortfalls[phase.name] = max(values.values()) - values[probed]
    return shortfalls


def _changes(phases: tuple[Phase, ...]) -> tuple[OrderChange, ...]:
    """Pairs of phases with another hottest cylinder; sure where neither is a candidate in the other's
    phase."""
    changes = []
    for i, phase in enumerate(phases):
        for other in phases[i + 1 :]:
            one, two = phase.own, other.own
            if not set(one.hottest) & set(two.hottest):
                sure = not set(one.candidates) & set(two.candidates)
                changes.append(OrderChange(phase.name, one.hottest, other.name, two.hottest, sure))
    return tuple(changes)
