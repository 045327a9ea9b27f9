"""What an ohmmeter should read on the bench or the parked aircraft: every run, loop, strap and shield, with the spread to allow."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from ...dataclass import dataclass
from ...graph import Edge, Indication, total_length
from ...graph.indications import source_of
from ...model.devices import Probe, Sender
from ...model.installation import inputs_of, terminals_of
from ...model.quantities import Quantity
from .. import missing
from ..circuit.leads import lacking_wire
from ..missing import Missing
from ..study import Study
from .spans import (
    BENCH_C,
    JOINT_OHM,
    STRAP_OHM,
    Span,
    made_to_loop,
    metered,
    path_span,
    source_span,
    wire_span,
)

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
    missing: tuple[Missing, ...] = ()
    edges: tuple[Edge, ...] = ()


def run_checks(study: Study, temperature: float = BENCH_C) -> Iterator[Check]:
    """Every conductor, both ends free."""
    for edge in study.graph.of("conductor"):
        check = Check(edge.label, "run", ("wire_runs", edge.ident), edge.a, edge.b, edges=(edge,))
        if made_to_loop(edge):
            yield replace(check, note="one leg of a lead made to a loop resistance: measure the loop")
            continue
        span = wire_span(edge, temperature)
        if span is None:
            lacks = (
                missing.RUN_LENGTH
                if edge.run is not None and total_length(edge.run) is None
                else lacking_wire(edge)
            )
            yield replace(check, missing=(lacks,))
            continue
        yield _filled(check, metered(span, 2))


def _filled(check: Check, span: Span) -> Check:
    return replace(check, expected=span.expected, lowest=span.lowest, highest=span.highest)


def loop_checks(study: Study, temperature: float = BENCH_C, true: Quantity | None = None) -> Iterator[Check]:
    """Every indication whose loop an ohmmeter can read, from the indicator's two terminals with the indicator off.

    Senders stand at ``true`` where that is told, else at rest.
    """
    for indication in study.indications:
        made = _loop(study, indication, temperature, true)
        if made is not None:
            yield made


def _loop(study: Study, indication: Indication, temperature: float, true: Quantity | None) -> Check | None:
    source = source_of(study.graph, indication)
    terminals = _ends(source)
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
    inner = source_span(source, temperature, true)
    path = path_span(study, steps, temperature)
    lacks = ([missing.SENDER_BENCH_RESISTANCE] if inner is None else []) + (
        path if isinstance(path, list) else []
    )
    if inner is None or isinstance(path, list):
        return replace(check, missing=tuple(dict.fromkeys(lacks)))
    conductors = sum(1 for s in steps if s.edge.kind == "conductor")
    return _filled(check, metered(inner.plus(path), 2 * conductors))


def _ends(source: Sender | Probe) -> tuple[str, str] | None:
    if isinstance(source, Probe):
        names = list(source.spec.terminals or ("+", "-"))
        return names[0], names[1]
    if source.spec.principle not in _QUIET:
        return None
    names = list(terminals_of("senders", source) or ())
    if source.spec.case_return and "case" not in names:
        names.append("case")
    return (names[0], names[1]) if len(names) >= 2 else None


def strap_checks(study: Study) -> Iterator[Check]:
    """Every ground strap and joint, by a milliohmmeter. What is sound is the standard's limit, not what the document states."""
    for edge in study.graph.of("bond"):
        ground = study.model.grounds.get(edge.ident) if edge.section == "grounds" else None
        most = STRAP_OHM if ground is not None and ground.kind in ("strap", "bond") else JOINT_OHM
        yield Check(
            edge.ident if ground is not None else f"{edge.ident} case",
            "strap",
            (edge.section, edge.ident),
            edge.a,
            edge.b,
            expected=edge.resistance,
            highest=most,
            note="milliohmmeter with four leads",
            edges=(edge,),
        )


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


def all_checks(study: Study, temperature: float = BENCH_C, true: Quantity | None = None) -> list[Check]:
    """Every check of the ring-out sheet, in its order."""
    return [
        *run_checks(study, temperature),
        *loop_checks(study, temperature, true),
        *strap_checks(study),
        *shield_checks(study),
        *insulation_checks(study),
    ]
