"""What is crimped on a wire: terminals, contacts and splices of its gauge, its current and its stud."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain

from ...analysis.power.run_currents import carries_power, run_current
from ...analysis.routing import GAUGE, wires
from ...analysis.study import Study
from ...document.source import DocPath
from ...model.installation import split_end
from ...model.power import Ground
from ...model.quantities import (
    Gauge,
    Quantity,
    in_unit,
    plain_number,
)
from ...model.wiring import Junction, Termination, WireRun
from ...physics.contacts import contact, contact_current
from ..verdicts import (
    Verdict,
    advisory,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

_STUD_SLACK, _STUD_PLAY = 0.98, 1.12
"""Share of the stud a ring is made for: 3/16 in counts for No. 10. A ring's hole is at most an eighth larger than its stud: a 1/4 in stud takes a 17/64 in hole, not a 5/16 in one."""


@rule(
    "terminal-fits",
    title="The terminals on a run take its gauge and its current, and fit the studs they land on",
    why="A terminal crimped on a wire too thin pulls off; one too large for its stud has half its contact.",
    source="AC 43.13-1B 11-174a",
    formula="smallest gauge of the terminal >= gauge >= largest; hole = stud; current of the terminal >= that of the run",
    example="a ring for 22 to 18 AWG and a No. 8 stud, on a 1/4 in stud: it does not go on",
    over="wire_runs",
)
def terminal_fits(study: Study) -> Iterator[Verdict]:
    """Every run, both ends; an end in a plug or a splice is judged there."""
    for ident, run in study.model.wire_runs.items():
        ends = _bare_ends(study, run)
        if ends:
            yield _terminals(study, ident, run, ends)


def _bare_ends(study: Study, run: WireRun) -> list[tuple[int, str]]:
    """Ends, first or second, that carry a terminal of their own, with one of the things they land on."""
    found = []
    sides = (tuple(w.ends[0] for w in wires(run)), tuple(w.ends[1] for w in wires(run)))
    for side, ends in enumerate(sides):
        if not ends:
            continue
        junction = study.model.junctions.get(split_end(ends[0])[0])
        if junction is None or junction.spec.kind not in ("plug", "splice", "disconnect"):
            found.append((side, ends[0]))
    return found


def _terminals(study: Study, ident: str, run: WireRun, ends: list[tuple[int, str]]) -> Verdict:
    path: DocPath = ("wire_runs", ident)
    if run.terminations is None:
        return undetermined(
            (ident,), path, "terminals on the ends of the run, with the gauges and stud they take"
        )
    gauges = [w.gauge for w in wires(run)]
    if any(g is None for g in gauges):
        return undetermined((ident,), path, GAUGE)
    open_points: list[str] = []
    for side, end in ends:
        one = run.terminations[side]
        for fault in _faults(study, ident, one, [g for g in gauges if g is not None], end, open_points):
            fault.path = (*path, "terminations", side)
            return fault
    if open_points:
        return undetermined((ident,), (*path, "terminations"), tuple(dict.fromkeys(open_points)))
    return meets(
        (ident,),
        (*path, "terminations"),
        f"the terminals of run {ident} take its {gauges[0]} AWG and their studs",
    )


def _faults(
    study: Study, ident: str, one: Termination, gauges: list[Gauge], end: str, open_points: list[str]
) -> Iterator[Verdict]:
    if one.kind == "none":
        yield advisory(
            (ident,),
            (),
            f"run {ident} has no terminal at {end}",
            remedy="crimp a ring terminal of its gauge on it",
        )
        return
    if one.kind == "soldered":
        return
    if one.smallest_gauge is None or one.largest_gauge is None:
        open_points.append("smallest and largest gauge the terminal takes")
    else:
        for gauge in gauges:
            if not one.largest_gauge.number <= gauge.number <= one.smallest_gauge.number:
                yield discrepancy(
                    (ident,),
                    (),
                    f"run {ident} of {gauge} AWG has a {one.kind} terminal at {end} for {one.smallest_gauge} to "
                    f"{one.largest_gauge} AWG",
                    remedy=f"crimp on a terminal that takes {gauge} AWG",
                )
    stud = _stud(study, end)
    if one.kind in ("ring", "spade") and stud is not None and one.stud is not None:
        yield from _stud_faults(ident, one.kind, one.stud, stud, end)
    if one.max_current is not None and carries_power(study, ident):
        amps = run_current(study, ident)
        if amps.value is None:
            open_points += amps.missing
        elif amps.value > one.max_current:
            yield discrepancy(
                (ident,),
                (),
                f"run {ident} carries {plain_number(amps.value)} A through a terminal for {one.max_current.text}",
                value=amps.value,
                limit=float(one.max_current),
                margin=float(one.max_current) - amps.value,
                unit="A",
                remedy="crimp on a terminal for that current",
            )


def _stud_faults(ident: str, kind: str, hole: Quantity, stud: Quantity, end: str) -> Iterator[Verdict]:
    if stud * _STUD_SLACK <= hole <= stud * _STUD_PLAY:
        return
    got, want = in_unit(hole, "in", "length"), in_unit(stud, "in", "length")
    why = "does not go on" if hole < stud else "has too little contact"
    yield discrepancy(
        (ident,),
        (),
        f"run {ident} has a {kind} for a {plain_number(got)} in stud at {end}, which is {plain_number(want)} in: it {why}",
        value=got,
        limit=want,
        margin=-abs(got - want),
        unit="in",
        remedy=f"crimp on a {kind} for a {plain_number(want)} in stud",
    )


def _stud(study: Study, end: str) -> Quantity | None:
    found = study.model.find(split_end(end)[0])
    if found is None:
        return None
    thing = found[1]
    if isinstance(thing, Ground):
        return thing.stud
    return getattr(getattr(thing, "spec", None), "stud", None)


@rule(
    "joint-takes-wire",
    title="The contacts of a plug and the barrels of a splice take the gauge and the current of every wire in them",
    why="A contact crimped on a wire too thin pulls out; one too small for the current burns its socket.",
    source="contact sizes: AS39029 (recalled); the lower of contact and wire rules: AC 43.13-1B 11-67",
    formula="smallest gauge >= gauge >= largest; current <= the lower of contact and wire",
    example="18 AWG in a size 20 contact, which takes 24 to 20 AWG",
    over="junctions",
)
def joint_takes_wire(study: Study) -> Iterator[Verdict]:
    """Every joint a run ends at, if its kind crimps or clamps the wire itself."""
    landing: dict[str, list[tuple[str, str, Gauge | None]]] = {}
    for ident, run in study.model.wire_runs.items():
        for wire in wires(run):
            for end in wire.ends:
                joint = split_end(end)[0]
                if joint in study.model.junctions:
                    landing.setdefault(joint, []).append((ident, end, wire.gauge))
    for ident, landed in landing.items():
        junction = study.model.junctions[ident]
        if not _crimps(junction):
            continue
        faults = list(chain.from_iterable(_in_joint(study, ident, junction, *one) for one in landed))
        yield from faults
        if not faults:
            yield meets((ident,), ("junctions", ident), f"{ident} takes every wire in it")


def _crimps(junction: Junction) -> bool:
    spec = junction.spec
    return (
        spec.contact_size is not None
        or spec.smallest_gauge is not None
        or (spec.kind in ("plug", "splice", "disconnect") and not _couple(junction))
    )


def _couple(junction: Junction) -> bool:
    """Whether a joint is made for the legs of a couple, whose contacts go by the couple."""
    return any(
        p.metal in ("chromel", "alumel", "iron", "constantan") for p in (junction.spec.pins or {}).values()
    )


def _in_joint(
    study: Study, ident: str, junction: Junction, run: str, end: str, gauge: Gauge | None
) -> Iterator[Verdict]:
    spec, at, path = junction.spec, (ident, run), ("junctions", ident)
    if gauge is None:
        yield undetermined(at, ("wire_runs", run), GAUGE)
        return
    if spec.contact_size is not None:
        size = contact(spec.contact_size)
        smallest, largest = Gauge(size.smallest), Gauge(size.largest)
    elif spec.smallest_gauge is not None and spec.largest_gauge is not None:
        smallest, largest = spec.smallest_gauge, spec.largest_gauge
    else:
        yield undetermined(at, path, "smallest and largest gauge the joint takes, or its contact size")
        return
    if not largest.number <= gauge.number <= smallest.number:
        fault = advisory if spec.smallest_gauge is None else discrepancy
        yield fault(
            at,
            path,
            f"{end} takes {smallest} to {largest} AWG, and run {run} is of {gauge} AWG",
            remedy=f"use a contact or splice that takes {gauge} AWG",
        )
        return
    yield from _joint_current(study, ident, junction, run, end, gauge)


def _joint_current(
    study: Study, ident: str, junction: Junction, run: str, end: str, gauge: Gauge
) -> Iterator[Verdict]:
    spec = junction.spec
    if not carries_power(study, run):
        return
    limits = [float(spec.max_current)] if spec.max_current is not None else []
    if spec.contact_size is not None:
        try:
            limits.append(contact_current(spec.contact_size, str(gauge)))
        except ValueError as bad:
            yield undetermined((ident, run), ("junctions", ident), "largest current of the contact", str(bad))
            return
    if not limits:
        return
    amps = run_current(study, run)
    if amps.value is None:
        if amps.missing:
            yield undetermined((ident, run), ("wire_runs", run), amps.missing)
    elif amps.value > min(limits):
        yield (discrepancy if spec.max_current is not None and amps.value > spec.max_current else advisory)(
            (ident, run),
            ("junctions", ident),
            f"run {run} carries {plain_number(amps.value)} A through {end}, good for {plain_number(min(limits))} A",
            value=amps.value,
            limit=min(limits),
            margin=min(limits) - amps.value,
            unit="A",
            remedy="use a larger contact, or share the current over two",
        )
