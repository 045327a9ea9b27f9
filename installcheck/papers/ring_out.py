"""Ring-out sheet: what an ohmmeter should read for every run and loop, with blank columns to fill in."""

from __future__ import annotations

from ..analysis.evidence.bench import Check, all_checks
from ..analysis.evidence.spans import BENCH_C
from ..analysis.study import Study
from .tables import Cell, Table, rounded

COLUMNS = (
    "check",
    "of",
    "from",
    "to",
    "expected [ohm]",
    "lowest [ohm]",
    "highest [ohm]",
    "measured [ohm]",
    "initials",
    "first",
)
MEASURED = "measured [ohm]"


def ring_out_sheet(study: Study, temperature: float = BENCH_C) -> Table:
    """Runs, loops, straps, shields and insulation points."""
    notes = (
        "Disconnect every indicator first: an ohmmeter can wreck it. Voltage and limit of an insulation check are the aircraft manual's.",
        f"Computed for wiring, senders and probes at {temperature:g} degC; senders of pressure and quantity at zero.",
        "Copper may measure down to 0.89 of the table's maximum; thermocouple wire within 5 percent; 0.02 ohm for the meter and 3 milliohm a joint are allowed.",
        "Write what the meter shows in ohm under 'measured', 'open' where it shows no end; 'check --measured' reads the sheet back.",
        f"First power: temperatures show the ambient, pressures show zero. Boiling water check at the field: {_boiling(study)}.",
    )
    rows = tuple(_row(check) for check in all_checks(study, temperature))
    return Table("ring-out sheet", COLUMNS, rows, notes, (MEASURED, "initials"))


def _row(check: Check) -> tuple[Cell, ...]:
    needs = f"give the {' and the '.join(check.missing)}" if check.missing else ""
    first = "; ".join(words for words in (check.note, needs) if words)
    ohms = (rounded(check.expected), rounded(check.lowest), rounded(check.highest))
    return (check.kind, check.ident, check.start, check.end, *ohms, None, None, first or None)


def _boiling(study: Study) -> str:
    """Boiling point at the field's elevation, from the ISA pressure and water's vapour pressure near 100 degC."""
    elevation = study.whole.aircraft.field_elevation
    if elevation is None:
        return "field elevation not given; 212 degF at sea level"
    from ..physics.capillaries import isa_pressure_pa
    from ..physics.water import boiling_point_c

    try:
        celsius = boiling_point_c(isa_pressure_pa(float(elevation)))
    except ValueError as outside:
        return str(outside)
    return f"{celsius * 9 / 5 + 32:.0f} degF ({celsius:.1f} degC) at {elevation.text}"
