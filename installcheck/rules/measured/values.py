"""Values measured on the aircraft against what the description gives, and what would explain those that differ."""

from __future__ import annotations

from collections.abc import Iterator
from math import inf

from ...analysis.circuit.solved import circuit
from ...analysis.evidence.bench import BENCH_C, Check
from ...analysis.evidence.causes import causes
from ...analysis.evidence.measured_ohms import (
    DOUBT_C,
    NO_CHECK,
    Reading,
    ohms_of,
    path_of,
    readings,
    what_of,
)
from ...analysis.evidence.shared_causes import Evidence
from ...analysis.power.run_currents import run_current
from ...analysis.study import Study
from ...document.source import DocPath
from ...graph import total_length
from ...model.quantities import Quantity, in_unit, show
from ...model.records import Measurement
from ..verdicts import (
    Verdict,
    advisory,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

SHORTED_OHM = 1000.0
"""ohm, below this an insulated signal wire touches something: wet or charred insulation still reads thousands."""
DOUBTFUL_OHM = 1e6
"""ohm, working figure of this tool below which insulation wants looking at; the limit is the aircraft manual's."""
_LENGTH_SHARE = 0.05
"""Share a measured length may differ from the drawn one: what cutting adds for dressing."""
_VOLT_SHARE = 0.02
"""Share a measured voltage may lie outside the computed range: a good hand meter and the regulator's own spread."""


def _population(study: Study) -> list[str]:
    return [str(i) for i, one in enumerate(study.model.measured) if one.what != "engine-off indication"]


@rule(
    "measured-agrees",
    title="A value measured on the aircraft is the one the description gives",
    why="A reading that differs says that the aircraft, or the description, is not what it is taken for; the set of readings "
    "often says where.",
    source="plain physics; AC 43.13-1B table 11-9, 11-66 and 11-189",
    formula="R = R20 (234.5 + T) / 254.5 at the stated T for copper; sound copper measures 0.89 to 1 of the table, thermocouple "
    "wire within 5 percent, and 0.02 ohm for the meter and 3 milliohm a joint are allowed",
    example="12 ft of 20 AWG reads 0.35 ohm where 0.086 to 0.145 ohm is sound: a joint that adds 0.231 ohm",
    over=_population,
)
def measured_agrees(study: Study) -> Iterator[Verdict]:
    """Every measured value but the engine-off indications, which are judged with the line they are read through."""
    found, stray = readings(study)
    evidence = Evidence(study, found)
    for one in found:
        yield _resistance(evidence, one)
    for i in stray:
        yield undetermined((_thing(study, study.model.measured[i]),), ("measured", i), NO_CHECK)
    for i, value in enumerate(study.model.measured):
        kind, at = what_of(value), (_thing(study, value),)
        found_in = study.model.find(at[0])
        path = path_of(study, i, (found_in[0], at[0]) if found_in is not None else None)
        if kind == "insulation":
            yield _insulation(at, path, value)
        elif kind == "length":
            yield _length(study, at, path, value)
        elif kind == "voltage":
            yield _voltage(study, at, path, value)
        elif kind not in ("resistance", "engine-off indication") and _is_current(value):
            yield _current(study, at, path, value)


def _thing(study: Study, one: Measurement) -> str:
    named = one.of or (one.between[0] if one.between is not None else "")
    ident = named.partition(".")[0]
    if ident in study.model.wire_runs or study.model.find(ident) is not None:
        return ident
    return next((r for r in study.model.wire_runs if ident.startswith(f"{r} ")), ident or "measured value")


def _resistance(evidence: Evidence, one: Reading) -> Verdict:
    check, at = one.check, (one.check.thing[1],)
    if not one.known:
        return undetermined(at, one.path, check.missing or ("resistance of the part, or the loop it is in",))
    lowest, highest = check.lowest or 0.0, check.highest or 0.0
    degrees = f"at {one.temperature:.3g} degC" if one.temperature is not None else (
        f"between {BENCH_C - DOUBT_C:g} and {BENCH_C + DOUBT_C:g} degC, the temperature not being written down"
    )  # fmt: skip
    sound = f"{_ohms(lowest)} to {_ohms(highest)} is sound {degrees}"
    if one.ohms == inf:
        text = f"{_named(check)} is open, where {sound}"
        return discrepancy(at, one.path, text, remedy=_likeliest(causes(evidence, one)), unit="ohm")
    limit, margin = (
        (highest, highest - one.ohms)
        if highest - one.ohms <= one.ohms - lowest
        else (lowest, one.ohms - lowest)
    )
    text = f"{_named(check)} measures {_ohms(one.ohms)}, and {sound}"
    numbers = {"value": one.ohms, "limit": limit, "margin": margin, "unit": "ohm"}
    if one.sound:
        return meets(at, one.path, text, **numbers)
    return discrepancy(at, one.path, text, remedy=_likeliest(causes(evidence, one)), **numbers)


def _named(check: Check) -> str:
    return {"run": "run ", "loop": "the loop of ", "strap": "the ground of ", "path": ""}.get(
        check.kind, ""
    ) + check.ident


def _ohms(ohms: float) -> str:
    if ohms >= 1e6:
        return show(ohms, "Mohm", "resistance")
    return show(ohms, "milliohm" if 0 < ohms < 0.01 else "ohm", "resistance")


def _likeliest(found: list[str]) -> str:
    if not found:
        return "measure the parts of it one by one"
    first, *others = found
    return f"likeliest: {first}" + (f"; else: {'; '.join(others)}" if others else "")


def _insulation(at: tuple[str, ...], path: DocPath, one: Measurement) -> Verdict:
    ohms = ohms_of(one)
    if ohms is None:
        return undetermined(at, path, "insulation as a resistance, or 'open'")
    where = " to ".join(one.between) if one.between is not None else at[0]
    if ohms == inf:
        return meets(at, path, f"{where} is clear of ground")
    numbers = {"value": ohms, "limit": DOUBTFUL_OHM, "margin": ohms - DOUBTFUL_OHM, "unit": "ohm"}
    if ohms < SHORTED_OHM:
        return discrepancy(
            at,
            path,
            f"{where} reads {_ohms(ohms)}: the wire touches ground or another wire",
            remedy="free the sender's end and read again; then look where the wire is clamped, bent or passes an edge, "
            "and whether the sender's body is its own return",
            **numbers,
        )
    if ohms < DOUBTFUL_OHM:
        return advisory(
            at,
            path,
            f"{where} reads {_ohms(ohms)}, low for dry insulation; the limit is the aircraft manual's",
            remedy="dry it, look for chafing and contamination, and read again",
            **numbers,
        )
    return meets(at, path, f"{where} reads {_ohms(ohms)}", **numbers)


def _length(study: Study, at: tuple[str, ...], path: DocPath, one: Measurement) -> Verdict:
    run = study.model.wire_runs.get(at[0]) or study.model.fluid_lines.get((one.of or "").partition(".")[0])
    value = one.value
    if run is None or not isinstance(value, Quantity):
        return undetermined(at, path, "run or line whose length was measured ('of')")
    drawn = total_length(run)
    if drawn is None:
        return undetermined(at, path, "length of the run, to compare the measured one with")
    read, told = in_unit(value, value.unit, "length"), in_unit(drawn, value.unit, "length")
    allowed = _LENGTH_SHARE * told
    numbers = {"value": read, "limit": told, "margin": allowed - abs(read - told), "unit": value.unit}
    text = f"{at[0]} is {value.text} long, and {show(drawn, value.unit, 'length')} in the description"
    if abs(read - told) <= allowed * 1.000001:
        return meets(at, path, text, **numbers)
    share = read / told if told else inf
    return advisory(
        at,
        path,
        text,
        remedy=f"write the measured length: all that goes by it is {share:.3g} times what was worked out",
        **numbers,
    )


def _voltage(study: Study, at: tuple[str, ...], path: DocPath, one: Measurement) -> Verdict:
    value = one.value
    if one.between is None or not isinstance(value, Quantity):
        return undetermined(at, path, "two terminals the voltage was measured between ('between')")
    known = [v for point in study.points if (v := _across(study, one.between, point.name)) is not None]
    if not known:
        return undetermined(at, path, "circuit of the two terminals, from supply to ground")
    lowest, highest = min(known), max(known)
    slack = _VOLT_SHARE * max(abs(lowest), abs(highest))
    read = abs(float(value))
    text = f"{' to '.join(one.between)} measures {value.text}, and works out at {show(lowest, 'V', 'voltage')} to {show(highest, 'V', 'voltage')} over the operating points"
    outside = max(lowest - slack - read, read - highest - slack)
    numbers = {"value": read, "limit": lowest if read < lowest else highest, "margin": -outside, "unit": "V"}
    if outside <= 0:
        return meets(at, path, text, **numbers)
    way = (
        "a joint, switch or ground on the way that drops it"
        if read < lowest
        else "a load that is off, or a lost ground"
    )
    return discrepancy(
        at,
        path,
        text,
        remedy=f"look for {way}; a drop test from terminal to terminal with the load on shows where",
        **numbers,
    )


def _across(study: Study, ends: tuple[str, str], point_name: str) -> float | None:
    point = next(p for p in study.points if p.name == point_name)
    net = circuit(study, point)
    nodes = [study.graph.node_of(e) for e in ends if study.model.find(e.partition(".")[0]) is not None]
    volts = [net.voltage(n) for n in nodes]
    known = [v for v in volts if v is not None]
    return abs(known[0] - known[1]) if len(known) == 2 else None


def _is_current(one: Measurement) -> bool:
    return isinstance(one.value, Quantity) and one.value.kind == "current" and one.what is None


def _current(study: Study, at: tuple[str, ...], path: DocPath, one: Measurement) -> Verdict:
    value = one.value
    if at[0] not in study.model.wire_runs or not isinstance(value, Quantity):
        return undetermined(at, path, "run the current was measured in ('of')")
    most = run_current(study, at[0])
    if most.value is None:
        return undetermined(at, path, most.missing or ("loads behind the run",))
    numbers = {"value": float(value), "limit": most.value, "margin": most.value - float(value), "unit": "A"}
    text = (
        f"run {at[0]} carries {value.text}, and at most {show(most.value, 'A', 'current')} by the description"
    )
    if value <= most.value * (1 + _VOLT_SHARE):
        return meets(at, path, text, **numbers)
    return discrepancy(
        at, path, text, remedy="look for a load that is not described, or one that draws too much", **numbers
    )
