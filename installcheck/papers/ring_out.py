"""Ring-out sheet: what an ohmmeter should read for every run and loop, at bench temperature, with the spread to allow."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ..document.installation import inputs_of
from ..document.items import Probe, Sender
from ..document.quantities import Quantity
from ..graph import Edge, Indication
from ..graph.indications import source_of
from ..rules.case import Case, Point
from ..rules.leads import conductor_ohms, joint_ohms, loop_ohms, ohm_per_metre
from ..rules.sender_curves import output
from .tables import Cell, Table, rounded

BENCH_C = 20.0
COPPER_LOWEST = 25.38 / 28.40
"""Share of the AC's maximum a sound copper wire may measure: a public stranded-conductor table gives 25.38 ohm/1000 ft
nominal for size 24 where AC 43.13-1B table 11-9 gives 28.40 at most."""
THERMOCOUPLE_SPREAD = 0.05
"""Two public thermocouple-wire tables differ by up to 5 percent."""
METER_OHM = 0.02
"""What the meter's own leads and last digit add, after zeroing."""
JOINT_OHM = 0.003
"""What one sound joint may add when the document gives no figure: 3 milliohm, the limit of a bonding connection
(AC 43.13-1B 11-189)."""


@dataclass(frozen=True, slots=True)
class Check:
    """One measurement: between two terminals, with what it should be.

    Attributes:
        ident: run or indication it checks.
        kind: 'run', 'loop' or 'insulation'.
        start, end: terminals the meter goes to.
        expected, lowest, highest: ohm; ``None`` if the document does not say enough.
        note: what to do first.
        missing: the data to add.
    """

    ident: str
    kind: str
    start: str
    end: str
    expected: float | None
    lowest: float | None
    highest: float | None
    note: str = ""
    missing: tuple[str, ...] = ()


def bench_point(case: Case, temperature: float = BENCH_C) -> Point:
    """All zones at the temperature of the bench."""
    return Point("bench", dict.fromkeys(case.model.zones, temperature))


def _spread(edge: Edge, ohms: float) -> tuple[float, float]:
    couple = edge.run is not None and edge.run.spec.thermocouple is not None
    low = ohms * (1 - THERMOCOUPLE_SPREAD if couple else COPPER_LOWEST)
    high = ohms * (1 + THERMOCOUPLE_SPREAD if couple else 1.0)
    return low, high


def run_checks(case: Case, temperature: float = BENCH_C) -> Iterator[Check]:
    """Every conductor, both ends free."""
    point = bench_point(case, temperature)
    for edge in case.graph.edges:
        if edge.kind != "conductor":
            continue
        if (
            ohm_per_metre(edge) is None
            and edge.run is not None
            and edge.run.spec.loop_length_resistance is not None
        ):
            yield Check(
                edge.label,
                "run",
                edge.a,
                edge.b,
                None,
                None,
                None,
                "one leg of a lead made to a loop resistance: measure the loop",
            )
            continue
        ohms = conductor_ohms(edge, point)
        if ohms.hot is None and ohms.cold is None:
            yield Check(edge.label, "run", edge.a, edge.b, None, None, None, missing=ohms.missing)
            continue
        value = ohms.hot if ohms.hot is not None else ohms.cold
        assert value is not None
        low, high = _spread(edge, value)
        yield Check(
            edge.label,
            "run",
            edge.a,
            edge.b,
            value,
            max(0.0, low - METER_OHM),
            high + METER_OHM + 2 * JOINT_OHM,
        )


def loop_checks(case: Case, temperature: float = BENCH_C) -> Iterator[Check]:
    """Every indication whose loop an ohmmeter can read, from the indicator's two terminals with the indicator off."""
    for indication in case.indications:
        made = _loop(case, indication, temperature)
        if made is not None:
            yield made


def _loop(case: Case, indication: Indication, temperature: float) -> Check | None:
    source = source_of(case.graph, indication)
    terminals = _ends(source, indication)
    if terminals is None:
        return None
    legs = [indication.leg_to(f"{indication.source}.{t}") for t in terminals]
    if any(leg is None for leg in legs):
        return None
    first, second = (leg for leg in legs if leg is not None)
    start, end = f"{indication.indicator}.{first.terminal}", f"{indication.indicator}.{second.terminal}"
    note = "indicator off"
    if indication.position is not None:
        note += f"; selector at {indication.position}"
    if indication.averaged:
        note += "; lift the other probes from the block"
    inner = _inner(source, temperature)
    if inner is None:
        return Check(
            indication.name,
            "loop",
            start,
            end,
            None,
            None,
            None,
            note,
            ("resistance of the sender or probe at bench temperature",),
        )
    point = bench_point(case, temperature)
    expected, lowest, highest = inner
    missing: list[str] = []
    made_to_loop: set[str] = set()
    for leg in (first, second):
        for step in leg.steps:
            edge = step.edge
            if edge.kind == "conductor":
                to_loop = (
                    ohm_per_metre(edge) is None
                    and edge.run is not None
                    and edge.run.spec.loop_length_resistance is not None
                )
                if to_loop and edge.ident in made_to_loop:
                    continue
                ohms = loop_ohms(edge, point) if to_loop else conductor_ohms(edge, point)
                made_to_loop.add(edge.ident)
                value = ohms.hot if ohms.hot is not None else ohms.cold
                if value is None:
                    missing += ohms.missing
                    continue
                low, high = _spread(edge, value)
                joints = sum(joint_ohms(case, edge, node) for node in (edge.a, edge.b))
                expected, lowest, highest = (
                    expected + value + joints,
                    lowest + low,
                    highest + high + joints + 2 * JOINT_OHM,
                )
            elif edge.resistance is not None:
                expected, lowest, highest = (
                    expected + edge.resistance,
                    lowest + edge.resistance,
                    highest + edge.resistance,
                )
    if missing:
        return Check(
            indication.name, "loop", start, end, None, None, None, note, tuple(dict.fromkeys(missing))
        )
    return Check(
        indication.name, "loop", start, end, expected, max(0.0, lowest - METER_OHM), highest + METER_OHM, note
    )


def _ends(source: Sender | Probe, indication: Indication) -> tuple[str, str] | None:
    if isinstance(source, Probe):
        names = source.spec.terminals or ["+", "-"]
        return names[0], names[1]
    if source.spec.principle not in (
        "resistive",
        "thermistor",
        "resistance bulb",
        "tachometer generator",
        "synchro transmitter",
    ):
        return None
    names = list(source.spec.terminals or ())
    if len(names) >= 2:
        return names[0], names[1]
    return (names[0], "case") if names and source.spec.case_return else None


def _inner(source: Sender | Probe, temperature: float) -> tuple[float, float, float] | None:
    """Ohms of a sender or probe on the bench: expected, lowest, highest."""
    if isinstance(source, Probe):
        own = source.spec.resistance
        return None if own is None else (float(own), 0.9 * float(own), 1.1 * float(own))
    spec = source.spec
    if spec.winding_resistance is not None:
        winding = float(spec.winding_resistance)
        return winding, 0.9 * winding, 1.1 * winding
    if spec.curve is None:
        return None
    quiet = (
        temperature
        if spec.measures is None
        or "temperature" in (spec.measures or "")
        or spec.principle in ("thermistor", "resistance bulb")
        else 0.0
    )
    spread = float(spec.tolerance) if isinstance(spec.tolerance, Quantity) else 0.0
    try:
        values = [output(spec.curve, quiet + d) for d in (0.0, -spread, spread)]
    except ValueError:
        return None
    return values[0], min(values), max(values)


def insulation_checks(case: Case) -> Iterator[Check]:
    """Every signal terminal of an indicator to ground, with the sender end connected and the indicator off."""
    ground = next(
        (g for g, one in case.model.grounds.items() if one.kind == "structure"),
        next(iter(case.model.grounds), "ground"),
    )
    for ident, indicator in case.model.indicators.items():
        if indicator.status == "removed":
            continue
        for _, one in inputs_of(indicator):
            for terminal in one.terminals or ():
                yield Check(
                    ident,
                    "insulation",
                    f"{ident}.{terminal}",
                    ground,
                    None,
                    None,
                    None,
                    "indicator off, sender free",
                )


def ring_out_sheet(case: Case, temperature: float = BENCH_C) -> Table:
    """Runs, loops and insulation points with blank columns to fill in; grounded senders are noted."""
    rows: list[tuple[Cell, ...]] = []
    for check in (*run_checks(case, temperature), *loop_checks(case, temperature), *insulation_checks(case)):
        note = check.note or ("give the " + " and the ".join(check.missing) if check.missing else "")
        rows.append(
            (
                check.kind,
                check.ident,
                check.start,
                check.end,
                rounded(check.expected),
                rounded(check.lowest),
                rounded(check.highest),
                None,
                None,
                note or None,
            )
        )
    columns = (
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
    notes = (
        "Disconnect every indicator first: an ohmmeter can wreck it. Voltage and limit of an insulation check are the aircraft manual's.",
        f"Computed for wiring, senders and probes at {temperature:g} degC; senders of pressure at zero.",
        "Copper may measure down to 0.89 of the table's maximum; thermocouple wire within 5 percent; 0.02 ohm for the meter and 3 milliohm a joint are allowed.",
        f"First power: temperatures show the ambient, pressures show zero. Boiling water check at the field: {_boiling(case)}.",
    )
    return Table("ring-out sheet", columns, tuple(rows), notes, ("measured [ohm]", "initials"))


def _boiling(case: Case) -> str:
    """Boiling point at the field's elevation, from the ISA pressure and water's vapour pressure near 100 degC."""
    elevation = case.model.aircraft.field_elevation
    if elevation is None:
        return "field elevation not given; 212 degF at sea level"
    from ..physics.capillaries import isa_pressure_pa

    celsius = boiling_point_c(isa_pressure_pa(float(elevation)))
    return f"{celsius * 9 / 5 + 32:.0f} degF ({celsius:.1f} degC) at {elevation.text}"


def boiling_point_c(pressure_pa: float) -> float:
    """Boiling point of water in degC at a pressure in Pa, 50 to 110 kPa.

    Clausius-Clapeyron from 100 degC at 101325 Pa with 40.66 kJ/mol (textbook enthalpy of vaporisation).

    >>> round(boiling_point_c(101325.0), 1), round(boiling_point_c(84556.0), 0)
    (100.0, 95.0)
    """
    from math import log

    if not 50_000 <= pressure_pa <= 110_000:
        raise ValueError(f"boiling point is worked out from 50 to 110 kPa, not {pressure_pa / 1000:.1f} kPa")
    return 1 / (1 / 373.15 - 8.314 / 40_660 * log(pressure_pa / 101_325)) - 273.15
