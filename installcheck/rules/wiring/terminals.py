"""What is crimped on a wire: terminals, contacts and splices of its gauge, its current and its stud."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.power.bypasses import taking_out
from ...analysis.power.run_currents import carries_power, run_current
from ...analysis.routing import wires
from ...analysis.study import Study, once
from ...model.comparing import at_least, at_most
from ...model.installation import split_end
from ...model.power import Ground
from ...model.quantities import Gauge, Quantity, in_unit, plain_number
from ...model.wiring import Junction, Termination, WireRun
from ...physics.contacts import contact, contact_current
from ..verdicts import Verdict
from ..vocabulary import Subject, rule, worst_over

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
def terminal_fits(study: Study, subject: Subject, run: WireRun) -> Verdict | None:
    """Both ends of a run; an end in a plug or a splice is judged there."""
    ends = _bare_ends(study, run)
    if not ends:
        return None
    if run.terminations is None:
        return subject.lacks(missing.RUN_TERMINALS)
    gauges = [w.gauge for w in wires(run)]
    known = [g for g in gauges if g is not None]
    if len(known) < len(gauges):
        return subject.lacks(missing.RUN_GAUGE)
    found: list[Verdict] = []
    for side, end in ends:
        found += _terminal(study, subject.field("terminations", side), run.terminations[side], known, end)
    on_studs = all(
        _stud(study, end) is not None and run.terminations[side].stud is not None for side, end in ends
    )
    return worst_over(found, lambda one: one) or subject.field("terminations").meets(
        f"the terminals of run {subject.ident} take its {gauges[0]} AWG{' and their studs' if on_studs else ''}"
    )


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


def _terminal(
    study: Study, subject: Subject, one: Termination, gauges: list[Gauge], end: str
) -> Iterator[Verdict]:
    """What is wrong with a terminal, or not known of it."""
    ident = subject.ident
    if one.kind == "none":
        yield subject.advisory(
            f"run {ident} has no terminal at {end}", remedy="crimp a ring terminal of its gauge on it"
        )
    if one.kind in ("none", "soldered"):
        return
    if one.smallest_gauge is None or one.largest_gauge is None:
        yield subject.lacks(missing.TERMINAL_GAUGES)
    else:
        for gauge in gauges:
            if not one.largest_gauge.number <= gauge.number <= one.smallest_gauge.number:
                yield subject.discrepancy(
                    f"run {ident} of {gauge} AWG has a {one.kind} terminal at {end} for {one.smallest_gauge} to "
                    f"{one.largest_gauge} AWG",
                    remedy=f"crimp on a terminal that takes {gauge} AWG",
                )
    stud = _stud(study, end)
    unknown = study.document.declared_unknown
    on_stud = one.kind in ("ring", "spade") and stud is not None
    if one.stud is None and (on_stud or unknown((*subject.path, "stud"))):
        yield subject.lacks(missing.TERMINAL_STUD)
    elif on_stud and stud is not None and one.stud is not None:
        yield from _on_stud(subject, one.kind, one.stud, stud, end)
    if unknown((*subject.path, "max_current")):
        yield subject.lacks(missing.TERMINAL_CURRENT)
    if one.max_current is not None and carries_power(study, ident):
        amps = run_current(study, ident)
        if amps.missing:
            yield subject.lacks(*amps.missing)
        elif amps.value is not None and not at_most(amps.value, one.max_current):
            yield subject.at_most(
                amps.value,
                float(one.max_current),
                "A",
                f"run {ident} carries {plain_number(amps.value)} A through a terminal for {one.max_current.text}",
                remedy=lambda: taking_out(study, ident) or "crimp on a terminal for that current",
            )


def _on_stud(subject: Subject, kind: str, hole: Quantity, stud: Quantity, end: str) -> Iterator[Verdict]:
    small = not at_least(hole, stud * _STUD_SLACK)
    if not small and at_most(hole, stud * _STUD_PLAY):
        return
    got, want = in_unit(hole, "in", "length"), in_unit(stud, "in", "length")
    yield (subject.at_least if small else subject.at_most)(
        got,
        want,
        "in",
        f"run {subject.ident} has a {kind} for a {plain_number(got)} in stud at {end}, which is {plain_number(want)} in: it "
        f"{'does not go on' if small else 'has too little contact'}",
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
def joint_takes_wire(study: Study, subject: Subject, junction: Junction) -> list[Verdict]:
    """A joint a run ends at, if its kind crimps or clamps the wire itself, or it says what current it may carry."""
    landed = _landing(study).get(subject.ident)
    crimps = _crimps(junction)
    if not landed or not (crimps or _limited(study, subject, junction)):
        return []
    found: list[Verdict] = []
    for run, end, gauge in landed:
        inside = _in_joint if crimps else _joint_current
        found += inside(study, subject.along(run), junction, run, end, gauge)
    return found or [subject.meets(f"{subject.ident} takes every wire in it")]


@once
def _landing(study: Study) -> dict[str, list[tuple[str, str, Gauge | None]]]:
    """Run, end and gauge of every wire in each joint."""
    landing: dict[str, list[tuple[str, str, Gauge | None]]] = {}
    for ident, run in study.model.wire_runs.items():
        for wire in wires(run):
            for end in wire.ends:
                landing.setdefault(split_end(end)[0], []).append((ident, end, wire.gauge))
    return landing


def _crimps(junction: Junction) -> bool:
    spec = junction.spec
    couple = any(
        p.metal in ("chromel", "alumel", "iron", "constantan") for p in (spec.pins or {}).values()
    )  # the contacts of a couple go by the couple
    return (
        spec.contact_size is not None
        or spec.smallest_gauge is not None
        or (spec.kind in ("plug", "splice", "disconnect") and not couple)
    )


def _limited(study: Study, subject: Subject, junction: Junction) -> bool:
    """Whether a joint says what current it may carry, or that it is unknown; a shunt is judged with the contacts of power."""
    said = junction.spec.max_current is not None or _current_unknown(study, subject)
    return said and junction.spec.kind != "shunt"


def _current_unknown(study: Study, subject: Subject) -> bool:
    return study.document.declared_unknown(("junctions", subject.ident, "max_current"))


def _in_joint(
    study: Study, subject: Subject, junction: Junction, run: str, end: str, gauge: Gauge | None
) -> Iterator[Verdict]:
    """What is wrong with a wire in a joint, or not known of it."""
    spec = junction.spec
    if gauge is None:
        yield subject.placed("wire_runs", run).lacks(missing.RUN_GAUGE)
        return
    if spec.contact_size is not None:
        size = contact(spec.contact_size)
        smallest, largest = Gauge(size.smallest), Gauge(size.largest)
    elif spec.smallest_gauge is not None and spec.largest_gauge is not None:
        smallest, largest = spec.smallest_gauge, spec.largest_gauge
    else:
        yield subject.lacks(missing.JOINT_GAUGES)
        return
    if largest.number <= gauge.number <= smallest.number:
        yield from _joint_current(study, subject, junction, run, end, gauge)
        return
    yield (subject.advisory if spec.smallest_gauge is None else subject.discrepancy)(
        f"{end} takes {smallest} to {largest} AWG, and run {run} is of {gauge} AWG",
        remedy=f"use a contact or splice that takes {gauge} AWG",
    )


def _joint_current(
    study: Study, subject: Subject, junction: Junction, run: str, end: str, gauge: Gauge | None
) -> Iterator[Verdict]:
    spec = junction.spec
    if not carries_power(study, run):
        return
    if _current_unknown(study, subject):
        yield subject.lacks(missing.JOINT_CURRENT)
        return
    limits = [float(spec.max_current)] if spec.max_current is not None else []
    if spec.contact_size is not None and gauge is not None:
        try:
            limits.append(contact_current(spec.contact_size, str(gauge)))
        except ValueError as bad:
            yield subject.lacks(missing.JOINT_CURRENT, because=str(bad))
            return
    amps = run_current(study, run)
    if limits and amps.missing:
        yield subject.placed("wire_runs", run).lacks(*amps.missing)
    elif limits and amps.value is not None and not at_most(amps.value, min(limits)):
        own = spec.max_current is not None and not at_most(amps.value, spec.max_current)
        yield subject.at_most(
            amps.value,
            min(limits),
            "A",
            f"run {run} carries {plain_number(amps.value)} A through {end}, good for {plain_number(min(limits))} A",
            remedy="use a larger contact, or share the current over two",
            practice=not own,
        )
