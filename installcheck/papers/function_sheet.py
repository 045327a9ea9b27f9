"""Function sheet: what to see once the ohms are right, with power on and before the first start."""

from __future__ import annotations

from collections.abc import Iterator

from ..analysis.circuit.drop_paths import Consumer, consumers
from ..analysis.evidence.spans import BENCH_C, METER_OHM, source_span
from ..analysis.power.feed_drops import Drop, drop_of, is_intermittent
from ..analysis.power.wiring import system_voltage
from ..analysis.study import Study
from ..graph.indications import source_of
from ..model.devices import InputSpec, Probe
from ..model.installation import inputs_of
from ..model.quantities import Quantity, in_unit, plain_number, show
from ..physics.capillaries import isa_pressure_pa
from ..physics.conductors import allowable_drop
from ..physics.water import boiling_point_c
from ..rules.measured.values import DOUBTFUL_OHM
from .figures import Figure, ohms
from .open_and_short import LEADS, open_and_short
from .tables import Cell, Table

COLUMNS = ("check", "of", "from", "to", "expected", "pass from", "pass to", "measured", "initials", "how")
_BOILS = ("oil temperature", "head temperature", "coolant temperature", "carburettor air temperature")


def function_sheet(study: Study) -> Table:
    """Volts under load, legs to body, open and short values, first power, boiling water and the barometer."""
    rows = (
        *_volts(study),
        *_legs(study),
        *(
            _row(check, of, ends, said, (None, None), how)
            for check, of, ends, said, how in open_and_short(study)
        ),
        *_at_rest(study),
        *_boiling_water(study),
        *_barometer(study),
    )
    notes = (
        "Volts under load are taken at the terminals with everything on that the operating point named has on; the least is the bus less AC 43.13-1B table 11-6.",
        "A leg to body is measured with the leads off the device. 1 Mohm is a working figure; the limit is the maker's.",
        "Open and short values tell the sender from the wire from the gauge: lift the signal lead, then touch it to its return.",
        _field(study),
    )
    return Table("function sheet", COLUMNS, rows, notes, ("measured", "initials"))


def _row(
    check: str, of: str, ends: tuple[str, str], expected: Cell, window: tuple[Cell, Cell], how: str
) -> tuple[Cell, ...]:
    return (check, of, *ends, expected, *window, None, None, how)


def _volt(value: float) -> Figure:
    return Figure(value, f"{value:.2f} V")


def _volts(study: Study) -> Iterator[tuple[Cell, ...]]:
    nominal = system_voltage(study)
    for one in consumers(study):
        drop = drop_of(study, one)
        bus = drop.net.voltage(one.bus) if drop is not None and one.bus is not None else None
        if drop is None or bus is None or nominal is None:
            continue
        try:
            most = allowable_drop(nominal, intermittent=is_intermittent(study, one)).drop
        except ValueError:
            continue
        least = max(bus - most, _least(study, one))
        said = "; ".join(f"give the {m}" for m in drop.missing)
        told = None if said else _volt(bus - drop.volts)
        if told is not None and bus - drop.volts < least:
            said = "as described it does not pass: put right first"
        window = (_volt(least), _volt(bus))
        how = _when(drop) + (f"; {said}" if said else "")
        yield _row("volts under load", one.ident, (one.edge.a, one.edge.b), told, window, how)


def _when(drop: Drop) -> str:
    return f"{drop.point}: {plain_number(drop.current)} A"


def _least(study: Study, one: Consumer) -> float:
    """Volts below which the thing's own papers say it does not work."""
    if one.section == "indicators":
        span = study.model.indicators[one.ident].spec.supply_voltage
        return float(span.lowest) if span is not None and span.lowest.kind == "voltage" else 0.0
    if one.section == "loads":
        least = study.model.loads[one.ident].spec.min_voltage
        return 0.0 if least is None else float(least)
    return 0.0


def _legs(study: Study) -> Iterator[tuple[Cell, ...]]:
    megohm = Figure(DOUBTFUL_OHM, "1 Mohm")
    seen: set[str] = set()
    for one in study.indications:
        source = source_of(study.graph, one)
        if one.source in seen:
            continue
        seen.add(one.source)
        if isinstance(source, Probe):
            junction = source.spec.junction
        elif source.spec.principle in LEADS:
            junction = "grounded" if source.spec.case_return else "isolated"
        else:
            continue
        legs = [leg.reaches for leg in one.legs if not leg.reaches.endswith(".case")]
        # All legs of an isolated probe are one metal; one reading tells of them together.
        for start in legs if junction == "grounded" else [" and ".join(legs)]:
            ends = (start, f"body of {one.source}")
            how = "leads off"
            window: tuple[Cell, Cell]
            if junction == "isolated":
                yield _row("leg to body", one.source, ends, "open", (megohm, "open"), how)
            elif junction == "grounded" and isinstance(source, Probe):
                span = source_span(source, BENCH_C)
                window = (None, None) if span is None else (ohms(0.0), ohms(span.highest + METER_OHM))
                yield _row("leg to body", one.source, ends, "through", window, f"{how}; grounded junction")
            elif junction == "grounded":
                span = source_span(source, BENCH_C)
                window = (None, None) if span is None else (ohms(span.lowest), ohms(span.highest + METER_OHM))
                told = "its element" if span is None else ohms(span.expected)
                yield _row("leg to body", one.source, ends, told, window, f"{how}; its element")
            else:
                yield _row(
                    "leg to body",
                    one.source,
                    ends,
                    None,
                    (None, None),
                    f"{how}; give the junction of the probe",
                )


def _inputs(study: Study) -> Iterator[tuple[str, InputSpec]]:
    for ident, indicator in study.model.indicators.items():
        for name, one in inputs_of(indicator):
            yield f"{ident} {name}".strip(), one


def _window(one: InputSpec, expected: Quantity | None) -> tuple[Cell, Cell]:
    """The budget of the indication either side of what it should show."""
    if expected is None or one.budget is None:
        return None, None
    kind, unit = expected.kind, expected.unit
    ends = [expected - one.budget, expected + one.budget]
    if one.scale is not None and one.scale.lowest.kind == kind:
        ends[0] = max(ends[0], one.scale.lowest)
    low, high = (Figure(end, show(end, unit, kind, 4 if kind == "pressure" else 3)) for end in ends)
    return low, high


def _unit(one: InputSpec, kind: str, otherwise: str) -> str:
    scale = one.scale
    return scale.lowest.unit if scale is not None and scale.lowest.kind == kind else otherwise


def _quantity(si: float, unit: str, kind: str, digits: int = 3) -> Quantity:
    return Quantity(si, show(si, unit, kind, digits), unit, kind)


def _at_rest(study: Study) -> Iterator[tuple[Cell, ...]]:
    for name, one in _inputs(study):
        measures = one.measures or ""
        ends = (name, "")
        if measures.endswith("temperature"):
            below = _below_scale(one)
            within = f", within {one.budget.text}" if one.budget is not None and not below else ""
            yield _row(
                "first power",
                name,
                ends,
                "the ambient is below its scale: at its rest" if below else "the ambient",
                (None, None),
                f"cold engine, against a thermometer beside the sensing element{within}",
            )
        elif measures.endswith("pressure") and measures != "manifold pressure":
            zero = _quantity(0.0, _unit(one, "pressure", "psi"), "pressure")
            yield _row(
                "first power", name, ends, zero.text, _window(one, zero), "engine stopped, no pressure"
            )
        elif measures == "engine speed":
            yield _row("first power", name, ends, "0 rpm", (None, None), "engine stopped")


def _below_scale(one: InputSpec) -> bool:
    scale = one.scale
    return scale is not None and scale.lowest.kind == "temperature" and scale.lowest > 50.0


def _boiling_water(study: Study) -> Iterator[tuple[Cell, ...]]:
    pressure = _field_pressure(study)
    for name, one in _inputs(study):
        scale = one.scale
        beyond = (
            scale is not None
            and scale.lowest.kind == "temperature"
            and not scale.lowest <= 100.0 <= scale.highest
        )
        if one.measures not in _BOILS or beyond:
            continue
        boils = None
        if isinstance(pressure, float):
            try:
                boils = _quantity(boiling_point_c(pressure), _unit(one, "temperature", "degF"), "temperature")
            except ValueError:
                boils = None
        how = "sensing element in boiling water" + ("" if boils is not None else f"; {_why(pressure)}")
        told = None if boils is None else boils.text
        yield _row("boiling water", name, (name, ""), told, _window(one, boils), how)


def _barometer(study: Study) -> Iterator[tuple[Cell, ...]]:
    pressure = _field_pressure(study)
    for name, one in _inputs(study):
        if one.measures != "manifold pressure":
            continue
        stands = (
            _quantity(pressure, _unit(one, "pressure", "inHg"), "pressure", 4)
            if isinstance(pressure, float)
            else None
        )
        how = "engine stopped, against the barometer of the day" + (
            "" if stands is not None else f"; {_why(pressure)}"
        )
        told = None if stands is None else f"{stands.text} in the standard atmosphere"
        yield _row("barometer", name, (name, ""), told, _window(one, stands), how)


def _field_pressure(study: Study) -> float | str:
    """Pressure in Pa at the field's elevation in the standard atmosphere, or why there is none."""
    elevation = study.whole.aircraft.field_elevation
    if elevation is None:
        return "give the field elevation"
    try:
        return isa_pressure_pa(float(elevation))
    except ValueError as outside:
        return str(outside)


def _why(pressure: float | str) -> str:
    return pressure if isinstance(pressure, str) else "no boiling point at this pressure"


def _field(study: Study) -> str:
    """Boiling point and barometer at the field, in words."""
    pressure, elevation = _field_pressure(study), study.whole.aircraft.field_elevation
    if isinstance(pressure, str) or elevation is None:
        return f"Field: {pressure}; at sea level water boils at 212 degF and the standard barometer is 29.92 inHg."
    inches = in_unit(pressure, "inHg", "pressure")
    try:
        celsius = boiling_point_c(pressure)
    except ValueError as outside:
        return f"Field at {elevation.text}: standard barometer {inches:.2f} inHg; {outside}."
    return (
        f"Field at {elevation.text}: water boils at {celsius * 9 / 5 + 32:.0f} degF ({celsius:.1f} degC); the standard barometer "
        f"is {inches:.2f} inHg, 1 inHg on the day moves the boiling point about 1.7 degF."
    )
