"""Ring-out sheet: what an ohmmeter should read for every run and loop, with blank columns to fill in."""

from __future__ import annotations

from collections.abc import Iterable

from ..analysis.evidence.bench import Check, all_checks
from ..analysis.evidence.spans import BENCH_C, METER_OHM
from ..analysis.study import Study
from ..analysis.thermocouple.readings import LOOP_TOLERANCE_OHM
from ..model.installation import inputs_of
from ..rules.verdicts import Ledger, Outcome
from .figures import ohms
from .tables import Cell, Table

COLUMNS = (
    "check",
    "of",
    "from",
    "to",
    "computed",
    "pass from",
    "pass to",
    "measured [ohm]",
    "initials",
    "first",
)
MEASURED = "measured [ohm]"


def ring_out_sheet(ledger: Ledger, temperature: float = BENCH_C) -> Table:
    """Runs, loops, straps, shields and insulation points.

    The window to pass is a standard's or an instrument's own where there is one. Where there is none, it is that of a sound
    wire of the kind described, unless the ledger faults the run: a mistake is never what the meter ought to show.
    """
    study = ledger.study
    checks = list(all_checks(study, temperature))
    faulted = _faulted(ledger)
    for ident in _in_wrong_loops_only(study, checks):
        faulted.setdefault(ident, []).append("thermocouple-loop-resistance")
    notes = (
        "Disconnect every indicator first: an ohmmeter can wreck it. Voltage and limit of an insulation check are the aircraft manual's.",
        f"Computed for wiring, senders and probes at {temperature:g} degC; senders of pressure and quantity at zero.",
        "Copper may measure down to 0.89 of the table's maximum; thermocouple wire within 5 percent; 0.02 ohm for the meter and 3 milliohm a joint are allowed.",
        "A ground joint passes at 3 milliohm (AC 43.13-1B 11-189), a strap with both its joints at 5 milliohm (FAA-H-8083-32 chapter 4), a loop at what its indicator is calibrated for, whatever is computed beside it.",
        "Write what the meter shows in ohm under 'measured', 'open' where it shows no end; 'check --measured' reads the sheet back.",
    )
    rows = tuple(_row(study, check, faulted) for check in checks)
    return Table("ring-out sheet", COLUMNS, rows, notes, (MEASURED, "initials"))


def _faulted(ledger: Ledger) -> dict[str, list[str]]:
    """Rules broken by each thing, by its id."""
    found: dict[str, list[str]] = {}
    for verdict in ledger.verdicts:
        if verdict.outcome is Outcome.DISCREPANCY:
            for ident in dict.fromkeys(verdict.at):
                found.setdefault(ident, []).append(verdict.rule)
    return found


def _in_wrong_loops_only(study: Study, checks: Iterable[Check]) -> set[str]:
    """Runs of which every loop comes to what its indicator is not calibrated for: any of them may be the wrong one."""
    wrong: set[str] = set()
    right: set[str] = set()
    for check in checks:
        window = _calibrated(study, check)
        if window is not None and check.expected is not None:
            within = window[0] <= check.expected <= window[1]
            (right if within else wrong).update(
                edge.ident for edge in check.edges if edge.kind == "conductor"
            )
    return wrong - right


def _row(study: Study, check: Check, faulted: dict[str, list[str]]) -> tuple[Cell, ...]:
    lowest, highest = check.lowest, check.highest
    calibrated = _calibrated(study, check)
    if calibrated is not None:
        lowest, highest = calibrated
    rules: list[str] = []
    if check.kind in ("run", "loop"):
        things = dict.fromkeys((*(e.ident for e in check.edges), *([check.thing[1]] * (check.kind == "run"))))
        rules = list(dict.fromkeys(rule for ident in things for rule in faulted.get(ident, ())))
    if rules and calibrated is None:
        lowest = highest = None
    words = [check.note] if check.note else []
    if check.missing:
        words.append(f"give the {' and the '.join(check.missing)}")
    if rules:
        more = f" and {len(rules) - 2} more" if len(rules) > 2 else ""
        words.append(f"put right first: {', '.join(rules[:2])}{more}")
    elif check.kind == "strap" and check.expected is not None and _above(check.expected, highest):
        words.append("as described it does not pass: clean both faces to bright metal")
    return (
        check.kind,
        check.ident,
        check.start,
        check.end,
        ohms(check.expected),
        ohms(lowest),
        ohms(highest),
        None,
        None,
        "; ".join(words) or None,
    )


def _above(value: float, limit: float | None) -> bool:
    return limit is not None and value > limit


def _calibrated(study: Study, check: Check) -> tuple[float, float] | None:
    """Ohms within which the loop of a moving-coil indicator is calibrated, with what the meter adds."""
    indicator = study.model.indicators.get(check.thing[1]) if check.kind == "loop" else None
    if indicator is None:
        return None
    for _, one in inputs_of(indicator):
        if one.loop_resistance is not None and one.principle == "moving-coil thermocouple":
            within = float(one.loop_tolerance) if one.loop_tolerance is not None else LOOP_TOLERANCE_OHM
            return (
                max(0.0, one.loop_resistance - within - METER_OHM),
                one.loop_resistance + within + METER_OHM,
            )
    return None
