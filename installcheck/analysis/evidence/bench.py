"""What an ohmmeter should read on the bench or the parked aircraft: every run, loop, strap and shield, with the spread to allow."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from ...graph import (
    Edge,
    Indication,
    Step,
    total_length,
)
from ...graph.indications import source_of
from ...model.devices import Probe, Sender
from ...model.installation import inputs_of, terminals_of
from ...model.quantities import Quantity
from ...physics.thermocouple_wire import at_temperature, loop_tcr
from ..circuit.leads import (
    LENGTH,
    WIRE,
    joint_ohms,
    ohm_per_metre,
    temperature_coefficient,
)
from ..sender_curves import output
from ..study import Study

BENCH_C = 20.0
"""degC, the temperature wire tables are drawn up for."""
COPPER_LOWEST = 25.38 / 28.40
"""Share of the AC's maximum a sound copper wire may measure: a public stranded-conductor table gives 25.38 ohm/1000 ft
nominal for size 24 where AC 43.13-1B table 11-9 gives 28.40 at most."""
THERMOCOUPLE_SPREAD = 0.05
"""Two public thermocouple-wire tables differ by up to 5 percent."""
SOURCE_SPREAD = 0.1
"""Share by which the resistance of a probe or winding may differ from the stated one; working figure of this tool."""
METER_OHM = 0.02
"""What the meter's own leads and last digit add, after zeroing."""
JOINT_OHM = 0.003
"""What one sound joint may add when the document gives no figure: 3 milliohm, the limit of a bonding connection
(AC 43.13-1B 11-189)."""

SOURCE = "resistance of the sender or probe at bench temperature"
_QUIET = frozenset(
    ("resistive", "thermistor", "resistance bulb", "tachometer generator", "synchro transmitter")
)
"""Principles of senders whose element an ohmmeter can read."""


@dataclass(frozen=True, slots=True)
class Check:
    """One measurement: between two terminals, with what it should be.

    Attributes:
        ident: what it is of: 'W12', 'W12 +', 'exhaust gauge at 3'.
        kind: 'run', 'loop', 'strap', 'shield' or 'insulation'.
        thing: section and id of what a verdict about it points to.
        start, end: terminals the meter goes to.
        expected, lowest, highest: ohm; ``None`` if the document does not say enough.
        note: what to do first.
        missing: the data to add.
        edges: conductors and joints the meter's current passes.
    """

    ident: str
    kind: str
    thing: tuple[str, str]
    start: str
    end: str
    expected: float | None = None
    lowest: float | None = None
    highest: float | None = None
    note: str = ""
    missing: tuple[str, ...] = ()
    edges: tuple[Edge, ...] = ()


@dataclass(frozen=True, slots=True)
class Span:
    """Ohms expected, and the least and the most that is sound."""

    expected: float
    lowest: float
    highest: float

    def plus(self, other: Span) -> Span:
        """Two in series."""
        return Span(self.expected + other.expected, self.lowest + other.lowest, self.highest + other.highest)


def sum_of(spans: Iterable[Span]) -> Span:
    """All in series."""
    total = Span(0.0, 0.0, 0.0)
    for one in spans:
        total = total.plus(one)
    return total


def is_couple(edge: Edge) -> bool:
    """Whether a conductor is thermocouple wire."""
    return edge.run is not None and edge.run.spec.thermocouple is not None


def made_to_loop(edge: Edge) -> bool:
    """Whether a leg has no figure of its own because its lead is made to a loop resistance."""
    return (
        ohm_per_metre(edge) is None
        and edge.run is not None
        and edge.run.spec.loop_length_resistance is not None
    )


def wire_span(edge: Edge, temperature: float) -> Span | None:
    """Ohms of one conductor at a temperature in degC, or of both legs of a lead made to a loop resistance."""
    run = edge.run
    length = total_length(run) if run is not None else None
    if run is None or length is None:
        return None
    couple = run.spec.thermocouple
    if made_to_loop(edge):
        per_metre: float | None = float(run.spec.loop_length_resistance or 0.0)
        coefficient = loop_tcr(couple) if couple is not None and couple != "N" else None
    else:
        per_metre, coefficient = ohm_per_metre(edge), temperature_coefficient(edge.metal)
    if per_metre is None:
        return None
    ohms = per_metre * length
    if coefficient is not None:
        ohms = at_temperature(ohms, coefficient, temperature)
    if is_couple(edge):
        return Span(ohms, ohms * (1 - THERMOCOUPLE_SPREAD), ohms * (1 + THERMOCOUPLE_SPREAD))
    return Span(ohms, ohms * COPPER_LOWEST, ohms)


def metered(span: Span, joints: int) -> Span:
    """A span with what the meter, and joints without a figure, may add."""
    return Span(
        span.expected, max(0.0, span.lowest - METER_OHM), span.highest + METER_OHM + joints * JOINT_OHM
    )


def run_checks(study: Study, temperature: float = BENCH_C) -> Iterator[Check]:
    """Every conductor, both ends free."""
    for edge in study.graph.edges:
        if edge.kind != "conductor":
            continue
        check = Check(edge.label, "run", ("wire_runs", edge.ident), edge.a, edge.b, edges=(edge,))
        if made_to_loop(edge):
            yield replace(check, note="one leg of a lead made to a loop resistance: measure the loop")
            continue
        span = wire_span(edge, temperature)
        if span is None:
            lacks = LENGTH if edge.run is not None and total_length(edge.run) is None else WIRE
            yield replace(check, missing=(lacks,))
            continue
        yield _filled(check, metered(span, 2))


def _filled(check: Check, span: Span) -> Check:
    return replace(check, expected=span.expected, lowest=span.lowest, highest=span.highest)


def loop_checks(study: Study, temperature: float = BENCH_C) -> Iterator[Check]:
    """Every indication whose loop an ohmmeter can read, from the indicator's two terminals with the indicator off."""
    for indication in study.indications:
        made = _loop(study, indication, temperature)
        if made is not None:
            yield made


def _loop(study: Study, indication: Indication, temperature: float) -> Check | None:
    source = source_of(study.graph, indication)
    terminals = _ends(source, indication)
    if terminals is None:
        return None
    legs = [leg for t in terminals if (leg := indication.leg_to(f"{indication.source}.{t}")) is not None]
    if len(legs) < 2:
        return None
    first, second = legs
    name, note = indication.name, "indicator off"
    if indication.position is not None:
        name += f" at {indication.position}"
        note += f"; selector at {indication.position}"
    if indication.averaged:
        name += f" from {indication.source}"
        note += "; lift the other probes from the block"
    if isinstance(source, Sender) and source.spec.measures in ("fuel quantity", "oil quantity"):
        note += "; tank empty"
    steps = (*first.steps, *second.steps)
    check = Check(
        name,
        "loop",
        ("indicators", indication.indicator),
        f"{indication.indicator}.{first.terminal}",
        f"{indication.indicator}.{second.terminal}",
        note=note,
        edges=tuple(s.edge for s in steps),
    )
    inner = source_span(source, temperature)
    path = path_span(study, steps, temperature)
    missing = ([SOURCE] if inner is None else []) + (path if isinstance(path, list) else [])
    if inner is None or isinstance(path, list):
        return replace(check, missing=tuple(dict.fromkeys(missing)))
    conductors = sum(1 for s in steps if s.edge.kind == "conductor")
    return _filled(check, metered(inner.plus(path), 2 * conductors))


def path_span(study: Study, steps: Iterable[Step], temperature: float) -> Span | list[str]:
    """Ohms along a way through conductors and joints; or the data that is missing."""
    spans: list[Span] = []
    missing: list[str] = []
    whole_loops: set[str] = set()
    for step in steps:
        edge = step.edge
        if edge.kind == "conductor":
            to_loop = made_to_loop(edge)
            if to_loop and edge.ident in whole_loops:
                continue
            if to_loop:
                whole_loops.add(edge.ident)
            span = wire_span(edge, temperature)
            if span is None:
                missing.append(LENGTH if edge.run is not None and total_length(edge.run) is None else WIRE)
                continue
            joints = sum(joint_ohms(study, edge, node) for node in (edge.a, edge.b))
            spans += [span, Span(joints, joints, joints)]
        elif edge.resistance is not None:
            spans.append(Span(edge.resistance, edge.resistance, edge.resistance))
    return missing or sum_of(spans)


def _ends(source: Sender | Probe, indication: Indication) -> tuple[str, str] | None:
    if isinstance(source, Probe):
        names = list(source.spec.terminals or ("+", "-"))
        return names[0], names[1]
    if source.spec.principle not in _QUIET:
        return None
    names = list(terminals_of("senders", source) or ())
    if source.spec.case_return and "case" not in names:
        names.append("case")
    return (names[0], names[1]) if len(names) >= 2 else None


def source_span(source: Sender | Probe, temperature: float) -> Span | None:
    """Ohms of a sender or probe on the bench; a sender of pressure or quantity at zero."""
    if isinstance(source, Probe):
        return _about(source.spec.resistance)
    spec = source.spec
    if spec.winding_resistance is not None or spec.principle in (
        "tachometer generator",
        "synchro transmitter",
    ):
        return _about(spec.winding_resistance)
    if spec.curve is None:
        return None
    warm = spec.principle in ("thermistor", "resistance bulb") or "temperature" in (spec.measures or "")
    quiet = temperature if warm else 0.0
    spread = float(spec.tolerance) if isinstance(spec.tolerance, Quantity) else 0.0
    try:
        values = [output(spec.curve, quiet + d) for d in (0.0, -spread, spread)]
    except ValueError:
        return None
    return Span(values[0], min(values), max(values))


def _about(ohms: Quantity | None) -> Span | None:
    if ohms is None:
        return None
    return Span(float(ohms), (1 - SOURCE_SPREAD) * float(ohms), (1 + SOURCE_SPREAD) * float(ohms))


def strap_checks(study: Study) -> Iterator[Check]:
    """Every ground strap and joint, by a milliohmmeter."""
    for edge in study.graph.edges:
        if edge.kind != "bond":
            continue
        stated = edge.resistance
        name = edge.ident if edge.section == "grounds" else f"{edge.ident} case"
        note = "milliohmmeter with four leads" if edge.section == "grounds" else ""
        check = Check(name, "strap", (edge.section, edge.ident), edge.a, edge.b, note=note, edges=(edge,))
        if stated is None:
            yield replace(check, highest=JOINT_OHM if edge.section == "grounds" else None)
        elif edge.section == "grounds":
            yield replace(check, expected=stated, highest=max(JOINT_OHM, stated))
        else:
            yield replace(check, expected=stated)


def shield_checks(study: Study) -> Iterator[Check]:
    """Every shield that is grounded at one end: through to its ground, and clear of what it shields."""
    for ident, run in study.model.wire_runs.items():
        if run.shield is None:
            continue
        ends = [e for e in (run.shield.from_, run.shield.to) if e is not None and e != "open"]
        length = total_length(run)
        per_metre = run.spec.shield_resistance
        check = Check(f"{ident} shield", "shield", ("wire_runs", ident), f"{ident} shield", "")
        for end in ends:
            if length is None or per_metre is None:
                yield replace(check, end=end, note="from the far end of the shield: reads through")
            else:
                ohms = float(per_metre) * length
                span = metered(Span(ohms, 0.5 * ohms, ohms), 2)
                yield _filled(replace(check, end=end, note="from the far end of the shield"), span)


def insulation_checks(study: Study) -> Iterator[Check]:
    """Every signal terminal of an indicator to ground, with the sender end free and the indicator off."""
    ground = next(
        (g for g, one in study.model.grounds.items() if one.kind == "structure"),
        next(iter(study.model.grounds), "ground"),
    )
    for ident, indicator in study.model.indicators.items():
        for terminal in dict.fromkeys(t for _, one in inputs_of(indicator) for t in one.terminals or ()):
            yield Check(
                ident,
                "insulation",
                ("indicators", ident),
                f"{ident}.{terminal}",
                ground,
                note="indicator off, sender free",
            )


def all_checks(study: Study, temperature: float = BENCH_C) -> list[Check]:
    """Every check of the ring-out sheet, in its order."""
    return [
        *run_checks(study, temperature),
        *loop_checks(study, temperature),
        *strap_checks(study),
        *shield_checks(study),
        *insulation_checks(study),
    ]
