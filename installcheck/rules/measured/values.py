"""Values measured on the aircraft against what the description gives, and what would explain those that differ."""

from __future__ import annotations

from collections.abc import Iterator
from math import inf

from ...analysis import missing
from ...analysis.circuit.solved import circuit
from ...analysis.evidence.bench import Check
from ...analysis.evidence.causes import causes
from ...analysis.evidence.measured_ohms import DOUBT_C, Reading, ohms_of, path_of, readings, what_of
from ...analysis.evidence.shared_causes import Evidence
from ...analysis.evidence.spans import BENCH_C
from ...analysis.power.run_currents import run_current
from ...analysis.study import Point, Study
from ...graph import total_length
from ...model.comparing import at_least
from ...model.quantities import Quantity, in_unit, show
from ...model.records import Measurement
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

SHORTED_OHM = 1000.0
"""ohm, below this an insulated signal wire touches something: wet or charred insulation still reads thousands."""
DOUBTFUL_OHM = 1e6
"""ohm, working figure of this tool below which insulation wants looking at; the limit is the aircraft manual's."""
_LENGTH_SHARE = 0.05
"""Share a measured length may differ from the drawn one: what cutting adds for dressing."""
_METER_SHARE = 0.02
"""Share a measured voltage or current may lie outside the computed range: a good hand meter and the regulator's own
spread."""


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
        yield _resistance(Subject(study, (one.check.thing[1],), one.path), evidence, one)
    for i in stray:
        yield Subject(study, (_thing(study, study.model.measured[i]),), ("measured", i)).lacks(
            missing.MEASURED_CHECK
        )
    for i, value in enumerate(study.model.measured):
        kind, ident = what_of(value), _thing(study, value)
        found_in = study.model.find(ident)
        thing = (found_in[0], ident) if found_in is not None else None
        subject = Subject(study, (ident,), path_of(study, i, thing))
        if kind == "insulation":
            yield _insulation(subject, value)
        elif kind == "length":
            yield _length(subject, value)
        elif kind == "voltage":
            yield _voltage(subject, value)
        elif kind not in ("resistance", "engine-off indication") and _is_current(value):
            yield _current(subject, value)


def _thing(study: Study, one: Measurement) -> str:
    named = one.of or (one.between[0] if one.between is not None else "")
    ident = named.partition(".")[0]
    if ident in study.model.wire_runs or study.model.find(ident) is not None:
        return ident
    return next((r for r in study.model.wire_runs if ident.startswith(f"{r} ")), ident or "measured value")


def _resistance(subject: Subject, evidence: Evidence, one: Reading) -> Verdict:
    check = one.check
    if not one.known:
        return subject.lacks(*(check.missing or (missing.SENDER_OR_LOOP_RESISTANCE,)))
    lowest, highest = check.lowest or 0.0, check.highest or 0.0
    degrees = f"at {one.temperature:.3g} degC" if one.temperature is not None else (
        f"between {BENCH_C - DOUBT_C:g} and {BENCH_C + DOUBT_C:g} degC, the temperature not being written down"
    )  # fmt: skip
    sound = f"{_ohms(lowest)} to {_ohms(highest)} is sound {degrees}"

    def remedy() -> str:
        return _explained(causes(evidence, one))

    if lowest == inf:
        if one.ohms == inf:
            return subject.meets(f"{_named(check)} is open, and nothing in the description joins it")
        if at_least(one.ohms, DOUBTFUL_OHM):
            return subject.meets(
                f"{_named(check)} measures {_ohms(one.ohms)}: insulated, as nothing in the description joins it"
            )
        return subject.discrepancy(
            f"{_named(check)} measures {_ohms(one.ohms)}, and nothing in the description joins it",
            remedy=remedy,
        )
    if one.ohms == inf:
        return subject.discrepancy(f"{_named(check)} is open, where {sound}", remedy=remedy)
    return subject.between(
        one.ohms,
        lowest,
        highest,
        "ohm",
        f"{_named(check)} measures {_ohms(one.ohms)}, and {sound}",
        remedy=remedy,
    )


def _named(check: Check) -> str:
    return {"run": "run ", "loop": "the loop of ", "strap": "the ground of ", "path": ""}.get(
        check.kind, ""
    ) + check.ident


def _ohms(ohms: float) -> str:
    if ohms >= 1e6:
        return show(ohms, "Mohm", "resistance")
    return show(ohms, "milliohm" if 0 < ohms < 0.01 else "ohm", "resistance")


def _explained(found: list[str]) -> str:
    if not found:
        return "measure the parts of it one by one"
    first, *others = found
    return f"explained by: {first}" + (f"; or by: {'; or by: '.join(others)}" if others else "")


def _insulation(subject: Subject, one: Measurement) -> Verdict:
    ohms = ohms_of(one)
    if ohms is None:
        return subject.lacks(missing.MEASURED_INSULATION)
    where = " to ".join(one.between) if one.between is not None else subject.ident
    if ohms == inf:
        return subject.meets(f"{where} is clear of ground")
    by_design = _joined_by_design(subject.study, one)
    if by_design is not None and not at_least(ohms, SHORTED_OHM):
        return subject.meets(f"{where} reads {_ohms(ohms)}: {by_design} joins it to ground as drawn")
    if not at_least(ohms, SHORTED_OHM):
        return subject.at_least(
            ohms,
            SHORTED_OHM,
            "ohm",
            f"{where} reads {_ohms(ohms)}: the wire touches ground or another wire",
            remedy="free the sender's end and read again; then look where the wire is clamped, bent or passes an edge, "
            "and whether the sender's body is its own return",
        )
    return subject.at_least(
        ohms,
        DOUBTFUL_OHM,
        "ohm",
        f"{where} reads {_ohms(ohms)}",
        broken=f"{where} reads {_ohms(ohms)}, low for dry insulation; the limit is the aircraft manual's",
        remedy="dry it, look for chafing and contamination, and read again",
        practice=True,
    )


def _joined_by_design(study: Study, one: Measurement) -> str | None:
    """The probe or sender whose own body puts a lead on ground, its junction grounded or its case its return."""
    if one.between is None:
        return None
    ends = set(study.graph.nodes_of(one.between))
    for indication in study.indications:
        passed = {n for leg in indication.legs for s in leg.steps for n in (s.near, s.far)}
        if not any(n in passed and not study.graph.is_ground(n) for n in ends):
            continue
        probe = study.model.probes.get(indication.source)
        if probe is not None and probe.spec.junction == "grounded":
            return f"the grounded junction of {indication.source}"
        sender = study.model.senders.get(indication.source)
        if sender is not None and sender.spec.case_return:
            return f"the case of {indication.source}"
    return None


def _length(subject: Subject, one: Measurement) -> Verdict:
    model, value = subject.study.model, one.value
    run = model.wire_runs.get(subject.ident) or model.fluid_lines.get((one.of or "").partition(".")[0])
    if run is None or not isinstance(value, Quantity):
        return subject.lacks(missing.MEASURED_LENGTH_OF)
    drawn = total_length(run)
    if drawn is None:
        return subject.lacks(missing.RUN_LENGTH_DRAWN)
    read, told = in_unit(value, value.unit, "length"), in_unit(drawn, value.unit, "length")
    share = read / told if told else inf
    return subject.between(
        read,
        (1 - _LENGTH_SHARE) * told,
        (1 + _LENGTH_SHARE) * told,
        value.unit,
        f"{subject.ident} is {value.text} long, and {show(drawn, value.unit, 'length')} in the description",
        remedy=f"write the measured length: all that goes by it is {share:.3g} times what was worked out",
        practice=True,
    )


def _voltage(subject: Subject, one: Measurement) -> Verdict:
    study, value = subject.study, one.value
    if one.between is None or not isinstance(value, Quantity):
        return subject.lacks(missing.MEASURED_BETWEEN)
    if one.connected is False:
        return subject.lacks(missing.MEASURED_CONNECTED)
    known = [v for point in study.points if (v := _across(study, one.between, point)) is not None]
    if not known:
        return subject.lacks(missing.MEASURED_VOLTS_CIRCUIT)
    lowest, highest = min(known), max(known)
    slack = _METER_SHARE * highest
    read = abs(float(value))
    text = f"{' to '.join(one.between)} measures {value.text}, and works out at {show(lowest, 'V', 'voltage')} to {show(highest, 'V', 'voltage')} over the operating points"
    way = (
        "a joint, switch or ground on the way that drops it"
        if read < lowest
        else "a load that is off, or a lost ground"
    )
    return subject.between(
        read,
        lowest - slack,
        highest + slack,
        "V",
        text,
        remedy=f"look for {way}; a drop test from terminal to terminal with the load on shows where",
    )


def _across(study: Study, ends: tuple[str, str], point: Point) -> float | None:
    net = circuit(study, point)
    nodes = study.graph.nodes_of(ends)
    volts = [net.voltage(n) for n in nodes]
    known = [v for v in volts if v is not None]
    return abs(known[0] - known[1]) if len(known) == 2 else None


def _is_current(one: Measurement) -> bool:
    return isinstance(one.value, Quantity) and one.value.kind == "current" and one.what is None


def _current(subject: Subject, one: Measurement) -> Verdict:
    study, value = subject.study, one.value
    if subject.ident not in study.model.wire_runs or not isinstance(value, Quantity):
        return subject.lacks(missing.MEASURED_RUN)
    most = run_current(study, subject.ident)
    if most.value is None:
        return subject.lacks(*(most.missing or (missing.RUN_LOADS,)))
    return subject.at_most(
        float(value),
        (1 + _METER_SHARE) * most.value,
        "A",
        f"run {subject.ident} carries {value.text}, and at most {show(most.value, 'A', 'current')} by the description",
        remedy="look for a load that is not described, or one that draws too much",
    )
