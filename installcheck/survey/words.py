"""What a survey found, in sentences for a mechanic: numbers first, then what they do and do not show."""

from collections.abc import Sequence

from ..logs.flight_log import FlightLog
from ..logs.values import show_difference, show_temperature
from .result import Phase, Survey

SUSPECT = 25.0
"""A head this much [degC] below the next lowest, in every phase of flight, raises doubt about its probe. Our
choice."""


def listed(numbers: Sequence[int]) -> str:
    """Numbers as a person lists them: '2, 4 and 5'."""
    texts = [str(number) for number in numbers]
    return texts[0] if len(texts) == 1 else f"{', '.join(texts[:-1])} and {texts[-1]}" if texts else "none"


def of_phase(phase: Phase, unit: str) -> str:
    """One phase: hottest by peak and by time, by how much, and whether the probes can tell."""
    ranking = phase.by_peak
    heads = {head.cylinder: head for head in phase.heads}
    top = heads[ranking.hottest[0]]
    value = top.peak if top.corrected is None else top.corrected
    shown = show_temperature(value, unit) + (" on the hot day" if top.corrected is not None else "")
    if ranking.next is None and len(heads) == 1:
        return f"{phase.name}: only cylinder {top.cylinder} is measured, {shown}; nothing to compare with"
    if len(ranking.hottest) > 1:
        first = f"cylinders {listed(ranking.hottest)} tie at {shown}"
    else:
        lead = show_difference(ranking.lead, unit)
        first = f"cylinder {top.cylinder} is hottest at {shown}, {lead} above cylinder {ranking.next}"
    doubled = show_difference(2 * ranking.tolerance, unit)
    if ranking.sure:
        second = f"more than the {doubled} by which two such probes can differ"
    else:
        others = [number for number in ranking.candidates if number not in ranking.hottest]
        second = (
            f"{listed(others)} cannot be excluded, as two such probes can differ by {doubled}"
            if others
            else f"two such probes can differ by {doubled}"
        )
    parts = [f"{phase.name}: {first}; {second}"]
    if phase.carried_in:
        parts.append("that peak is heat left from the phase before")
    if phase.by_steady is not None and phase.by_steady.hottest != ranking.hottest:
        steady = phase.by_steady
        lead = f" by {show_difference(steady.lead, unit)}" if steady.lead else ""
        parts.append(f"once settled, cylinder {listed(steady.hottest)} is the hottest{lead}")
    wins = {head.cylinder: head.rows_hottest for head in phase.heads}
    if phase.by_time:
        counted = f"{wins[phase.by_time[0]]:,} of {phase.rows_compared:,} rows"
        if set(phase.by_time) == set(ranking.hottest):
            parts.append(f"also hottest in most rows ({counted})")
        else:
            parts.append(f"but cylinder {listed(phase.by_time)} is hottest in most rows ({counted})")
    if phase.rows_tied:
        rows = "row has" if phase.rows_tied == 1 else "rows have"
        parts.append(f"{phase.rows_tied:,} {rows} no single hottest")
    if phase.repeat is not None:
        again = phase.repeat
        mean = show_difference(again.mean, unit)
        verdict = (
            "which holds against their scatter"
            if again.proven
            else "which does not stand out of their scatter"
        )
        parts.append(f"over {again.count} {phase.repeat_of} the lead is {mean} on average, {verdict}")
    return "; ".join(parts)


def overall(result: Survey) -> str:
    """The answer: the cylinder for a single probe, or why none can be named."""
    phase = next((one for one in result.phases if one.name == result.governing), None)
    if phase is None:
        return "no phase holds readings of every measured cylinder, so none can be called the hottest"
    ranking = phase.by_peak
    basis = "least margin to the limit" if result.limit is not None else "highest temperatures"
    where = f"in the {phase.name}" if phase.name in ("climb", "cruise", "descent") else f"in '{phase.name}'"
    parts = []
    if len(result.cylinders) == 1:
        parts.append(f"only cylinder {result.cylinders[0]} is measured, so none can be called the hottest")
    elif len(ranking.hottest) > 1:
        parts.append(
            f"cylinders {listed(ranking.hottest)} tie {where}, the phase with the {basis}: probe both, or swap probes and fly again"
        )
    elif ranking.sure:
        parts.append(
            f"cylinder {ranking.hottest[0]} is the hottest {where}, the phase with the {basis}, "
            f"by {show_difference(ranking.lead, result.unit)}"
        )
    else:
        others = [number for number in ranking.candidates if number not in ranking.hottest]
        parts.append(
            f"cylinder {ranking.hottest[0]} reads highest {where}, the phase with the {basis}, "
            f"by {show_difference(ranking.lead, result.unit)}, but {listed(others)} cannot be excluded with these probes: "
            "swap probes between them and fly again"
        )
    if phase.margin is not None and result.limit is not None:
        limit = show_temperature(result.limit, result.unit)
        left = show_difference(abs(phase.margin), result.unit)
        parts.append(f"{left} {'left to' if phase.margin >= 0 else 'above'} the {limit} limit")
    if result.unmeasured:
        parts.append(f"cylinder {listed(result.unmeasured)} is not measured and could be hotter")
    if result.probed is not None and phase.name in result.shortfall and result.probed not in ranking.hottest:
        short = show_difference(result.shortfall[phase.name], result.unit)
        parts.append(f"the probed cylinder {result.probed} reads {short} less than the hottest there")
    return "; ".join(parts)


def notes(
    log: FlightLog,
    cylinders: int | None,
    grade: str | None,
    corrected: bool,
    phases: Sequence[Phase],
    system_error: float,
    limit: float | None,
) -> list[str]:
    """What bounds the worth of the survey."""
    unit = log.temperature_unit
    told: list[str] = []
    if cylinders is None:
        told.append("the number of cylinders is not given; the channels that are used stand for all of them")
    if not log.connected:
        told.append("nothing in the log proves that the channels used are connected")
    if grade is None:
        told.append(
            "the grade of the probes is not given; the tolerance is that of new standard wire, the best it can be"
        )
    if corrected:
        told.append("outside air warmed by the engine would make the hot-day correction too small")
        if any(head.clamped for phase in phases for head in phase.heads):
            told.append("the day was hotter than the hot day in places; nothing was taken off there")
    else:
        missing = [
            name
            for name, values in (("outside air temperature", log.oat), ("altitude", log.altitude))
            if values is None
        ]
        why = (
            f"the log holds no usable {' and '.join(missing)}"
            if missing
            else "outside air or altitude is missing at a peak"
        )
        told.append(f"temperatures are as read, not carried to the hot day: {why}")
    if limit is not None and system_error == 0:
        told.append("no error of probe, lead and recorder is taken off the margin")
    if phases and not any(phase.steady for phase in phases):
        told.append(
            "in no stretch are all heads shown to have settled (less than 2 degF a minute, with 95 % band)"
        )
    climb = next((phase for phase in phases if phase.name == "climb"), None)
    if climb is not None and climb.passes < 3:
        times = {1: "one climb", 2: "two climbs"}[climb.passes]
        told.append(f"{times} only: three or more, and a swap of probes between the top two, make it sure")
    told.extend(_suspects(phases, unit))
    return told


def _suspects(phases: Sequence[Phase], unit: str) -> list[str]:
    """A head far below all others wherever it is seen: its probe or seat may be at fault."""
    flown = [phase for phase in phases if phase.name != "ground" and len(phase.heads) >= 3]
    gaps: dict[int, list[float]] = {}
    for phase in flown:
        means = sorted((head.mean, head.cylinder) for head in phase.heads)
        gaps.setdefault(means[0][1], []).append(means[1][0] - means[0][0])
    return [
        f"cylinder {number} reads at least {show_difference(min(found), unit)} below every other in every phase of "
        "flight: check its probe and seat before trusting the order"
        for number, found in gaps.items()
        if len(found) == len(flown) and min(found) > SUSPECT
    ]
