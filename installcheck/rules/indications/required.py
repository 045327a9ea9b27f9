"""Required indications: each there, powered and in view."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.excitation import Wrong, rotor_wrong, rotors
from ...analysis.power.unfed import unfed
from ...analysis.required import Asked, asked, open_questions, required_inputs, serving
from ...analysis.sender_pairs import pairs
from ...analysis.shown import Shown, listed, shown_on
from ...analysis.study import Study
from ...graph.edges import CARRIES_SIGNAL, Edge
from ...graph.walk import Step, Walk
from ...model.devices import Indicator
from ...model.installation import split_end
from ...model.power import SOURCES
from ..part_23 import breach
from ..verdicts import Outcome, Verdict
from ..vocabulary import Subject, rule

_UNPOWERED = frozenset(("direct pressure", "capillary", "moving-coil thermocouple", "synchronous tachometer"))
"""Principles that work without a supply."""
_SELF = frozenset(("bus voltage", "load current"))
"""What a plain meter shows by the very voltage it measures."""


@rule(
    "required-indication",
    title="Every indication the rules and the papers ask for is there",
    why="Which instruments are required follows from the certification basis, the operation and the equipment. An extra does not "
    "stand in for a required one. A document that draws a part of an aircraft says so ('scope: part') and is not asked.",
    source="the regulation named in the verdict; the type design, equipment list and flight manual add to it",
    formula="indications asked for by basis, operation and equipment, against those shown",
    example="CAR 3, air-cooled with cowl flaps: head temperature for each engine",
    over="engines",
)
def required_indication(study: Study) -> Iterator[Verdict]:
    """What is asked of each engine and of the aircraft; of a part of an aircraft only what is there."""
    if not study.model.engines:
        return
    part = study.model.installation.scope == "part"
    aircraft = Subject(study, ("aircraft",), ("aircraft",))
    lacking = open_questions(study.model.aircraft)
    if lacking and not part:
        yield aircraft.lacks(*lacking)
    for one in asked(study):
        engine = one.engine
        subject = aircraft if engine is None else Subject(study, (engine,), ("engines", engine))
        verdict = _present(subject, one)
        if not part or verdict.outcome is Outcome.MEETS:
            yield verdict


def _present(subject: Subject, one: Asked) -> Verdict:
    found = serving(subject.study, one)
    counted = [s for s in found if s.item.required is not False]
    engines = subject.study.model.engines
    of = f" of engine {one.engine}" if one.engine is not None and len(engines) > 1 else ""
    if counted:
        names = [s.name for s in counted]
        return (
            subject.along(*names)
            .placed(*counted[0].path)
            .meets(f"{one.words}{of} is shown by {listed(names)} ({one.by})")
        )
    if one.lacks is not None:
        fact = one.lacks if one.lacks.startswith("whether") else f"the {one.lacks}"
        return subject.lacks(
            one.lacks, because=f"whether {one.words}{of} is required ({one.by}) hangs on {fact}"
        )
    extras = [s.name for s in found]
    told = (
        f"{one.words}{of} is required by {one.by}, and only {listed(extras)} shows it, which is said to be an extra"
        if extras
        else f"{one.words}{of} is required by {one.by}, and nothing shows it"
    )
    remedy = (
        f"state that {extras[0]} is the required one, with the data that says so, or fit one"
        if extras
        else f"fit an indicator of {one.words}"
    )
    if found:
        subject = subject.along(*extras).placed(*found[0].path[:2], "required")
    if not one.firm:
        return subject.advisory(
            f"{told}; that rule is recalled, not read: look it up", remedy=remedy, source=one.by
        )
    return breach(subject, told, remedy=remedy, source=one.by)


@rule(
    "required-powered",
    title="A required indicator has its supply and its ground",
    why="An instrument whose supply ends at an open terminal is dead from the start.",
    source="14 CFR 23.1301, 23.1309(a): installed equipment works as intended",
    formula="supply terminal to a bus or source, ground terminal to ground, through closed switches and protectors; of a rotor "
    "either end to the source, and the other to ground",
    example="power terminal wired to block screw 4, which nothing feeds: dead",
    over="indicators",
)
def required_powered(study: Study, subject: Subject, indicator: Indicator) -> Verdict | None:
    """Every indicator that serves as a required indication."""
    serves = _serves(study, subject.ident)
    return _powered(subject, serves[0]) if serves else None


def _serves(study: Study, indicator: str) -> list[Shown]:
    """The inputs of an indicator that serve as required indications."""
    return [s for s in shown_on(study).get(indicator, ()) if s.name in required_inputs(study)]


def _powered(subject: Subject, one: Shown) -> Verdict:
    principle = one.spec.principle
    if principle is None:
        return subject.lacks(missing.INDICATOR_PRINCIPLE)
    if principle in _UNPOWERED:
        return subject.meets(f"{one.indicator} needs no supply ({principle})")
    ends = one.item.spec.supply_terminals
    if principle == "synchro receiver":
        rotor = list(one.spec.terminals or ())[3:5]
        ends = (rotor[0], rotor[1]) if len(rotor) == 2 else None
    if ends is None and one.measure in _SELF:
        return subject.meets(f"{one.indicator} works on what it measures")
    if ends is None:
        return subject.lacks(missing.INDICATOR_SUPPLY_TERMINALS)
    if principle != "synchro receiver":
        return _fed(subject, ends, "supply")
    wrong = _of_rotor(subject)
    if wrong is not None:
        return subject.discrepancy(f"{one.indicator} is dead: {wrong.told}", remedy=wrong.remedy)
    return _fed(subject, _live_first(subject, ends), "rotor")


def _of_rotor(subject: Subject) -> Wrong | None:
    """What is wrong with how the rotor of a synchro receiver itself is wired."""
    study = subject.study
    both = (rotors(study, pair) for pair in pairs(study) if pair.ident == subject.ident)
    found = (rotor_wrong(study, one[1]) for one in both if one is not None)
    return next((wrong for wrong in found if wrong is not None), None)


def _live_first(subject: Subject, ends: tuple[str, str]) -> tuple[str, str]:
    """Ends of a rotor, the one that reaches a source first: alternating current has no plus side."""
    study, (first, second) = subject.study, ends
    exchanged = _to_source(study, f"{subject.ident}.{first}") is None
    return (second, first) if exchanged and _to_source(study, f"{subject.ident}.{second}") else ends


def _fed(subject: Subject, ends: tuple[str, str], what: str) -> Verdict:
    study, ident = subject.study, subject.ident
    feed, back = (f"{ident}.{t}" for t in ends)
    out, home = _to_source(study, feed), _to_return(study, back)
    wanted = ((missing.INDICATOR_SUPPLY, feed, out), (missing.INDICATOR_GROUND, back, home))
    unwired = [
        word
        for word, node, got in wanted
        if got is None and not any(e.kind == "conductor" for e in study.graph.at(node))
    ]
    if unwired:
        return subject.lacks(*unwired)
    if out is None:
        return subject.discrepancy(
            f"{ident} is dead: its supply terminal {ends[0]} reaches no bus or source",
            remedy=f"feed {feed} from a bus through a protector",
        )
    if home is None:
        return subject.discrepancy(
            f"{ident} is dead: its terminal {ends[1]} reaches no ground", remedy=f"join {back} to a ground"
        )
    source = split_end(out[-1].far)[0]
    if source in unfed(study):
        return subject.along(source).lacks(missing.BUS_FEED)
    inverter = study.model.supplies[source].spec.kind == "inverter"
    if inverter and _to_source(study, f"{source}.in") is None:
        return subject.along(source).placed("supplies", source).lacks(missing.INVERTER_SUPPLY)
    through = [s.edge.ident for s in out if s.edge.section == "supplies" and s.edge.kind == "contact"]
    by = f" through {listed(through)}" if through else ""
    return subject.meets(f"the {what} of {ident} reaches {source}{by}")


def _to_source(study: Study, start: str) -> tuple[Step, ...] | None:
    """The shortest way from a terminal to a bus or source, through closed switches and protectors."""

    def is_source(node: str) -> bool:
        ident, terminal = split_end(node)
        kind = study.model.supplies[ident].spec.kind if ident in study.model.supplies else None
        return (
            kind == "bus"
            or (kind in SOURCES and terminal == "+")
            or (kind == "inverter" and terminal == "out")
        )

    def passes(edge: Edge, there: str) -> bool:
        return edge.kind in CARRIES_SIGNAL and edge.closed and not study.graph.is_ground(there)

    walk = Walk([start], study.graph.at, passes)
    source = walk.first(is_source)
    return None if source is None else walk.way(source)


def _to_return(study: Study, start: str) -> tuple[Step, ...] | None:
    """The shortest way from a terminal to ground or the negative of a source."""

    def is_return(node: str) -> bool:
        ident, terminal = split_end(node)
        return study.graph.is_ground(node) or (ident in study.model.supplies and terminal == "-")

    def passes(edge: Edge, there: str) -> bool:
        return edge.kind in CARRIES_SIGNAL and edge.closed

    walk = Walk([start], study.graph.at, passes)
    home = walk.first(is_return)
    return None if home is None else walk.way(home)


@rule(
    "required-in-view",
    title="The pilot sees every required indicator from the seat",
    why="A red line that is not seen protects nothing.",
    source="14 CFR 23.1543(b) (an older printing), CAR 3.756: arcs and lines are clear to the pilot; 25.1543(b): each marking to the "
    "crew member it concerns",
    formula="in view from the pilot's seat: yes",
    example="oil pressure behind the control column: not in view",
    over="indicators",
)
def required_in_view(study: Study, subject: Subject, indicator: Indicator) -> Verdict | None:
    """Every indicator that serves as a required indication."""
    if not _serves(study, subject.ident):
        return None
    if indicator.in_view is None:
        return subject.lacks(missing.INDICATOR_IN_VIEW)
    subject, ident = subject.field("in_view"), subject.ident
    if indicator.in_view:
        return subject.meets(f"{ident} is in view")
    return breach(
        subject,
        f"{ident} serves a required indication and is not in view from the pilot's seat",
        remedy="move it to where the pilot sees it",
    )
