"""Required indications: each there, powered and in view."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterator

from ...analysis.required import (
    Asked,
    asked,
    open_questions,
    required_inputs,
    serving,
)
from ...analysis.shown import Shown, listed, shown
from ...analysis.study import Study
from ...document.source import DocPath
from ...graph.edges import CARRIES_SIGNAL, Edge
from ...model.installation import split_end
from ..fluid.part_23 import breach
from ..verdicts import (
    Verdict,
    advisory,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

SUPPLY = "wiring of the indicator's supply"
SUPPLY_TERMINALS = "supply terminals of the indicator"
GROUND = "wiring of the indicator's ground"
IN_VIEW = "view of the indicator from the pilot's seat ('in_view')"
PRINCIPLE = "principle of the indicator"

_UNPOWERED = frozenset(("direct pressure", "capillary", "moving-coil thermocouple", "synchronous tachometer"))
"""Principles that work without a supply."""
_SELF = frozenset(("bus voltage", "load current"))
"""What a plain meter shows by the very voltage it measures."""


@rule(
    "required-indication",
    title="Every indication the rules and the papers ask for is there",
    why="Which instruments are required follows from the certification basis, the operation and the equipment. An extra does not "
    "stand in for a required one.",
    source="the regulation named in the verdict; the type design, equipment list and flight manual add to it",
    formula="indications asked for by basis, operation and equipment, against those shown",
    example="CAR 3, air-cooled with cowl flaps: head temperature for each engine",
    over="engines",
)
def required_indication(study: Study) -> Iterator[Verdict]:
    """What is asked of each engine and of the aircraft."""
    if not study.model.engines:
        return
    missing = open_questions(study.model.aircraft)
    if missing:
        yield undetermined(("aircraft",), ("aircraft",), missing)
    for one in asked(study):
        yield _present(study, one)


def _present(study: Study, one: Asked) -> Verdict:
    path: DocPath = ("engines", one.engine) if one.engine is not None else ("aircraft",)
    at = (one.engine or "aircraft",)
    found = serving(study, one)
    counted = [s for s in found if s.item.required is not False]
    of = f" of engine {one.engine}" if one.engine is not None and len(study.model.engines) > 1 else ""
    if counted:
        names = [s.name for s in counted]
        return meets(
            (*at, *names), counted[0].path, f"{one.words}{of} is shown by {listed(names)} ({one.by})"
        )
    if one.missing:
        return undetermined(
            at,
            path,
            one.missing,
            f"whether {one.words}{of} is required ({one.by}) hangs on the {one.missing}",
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
    place: DocPath = (*found[0].path[:2], "required") if found else path
    if not one.firm:
        return advisory(
            (*at, *extras),
            place,
            f"{told}; that rule is recalled, not read: look it up",
            remedy=remedy,
            source=one.by,
        )
    return breach(study, (*at, *extras), place, told, remedy=remedy, source=one.by)


@rule(
    "required-powered",
    title="A required indicator has its supply and its ground",
    why="An instrument whose supply ends at an open terminal is dead from the start.",
    source="14 CFR 23.1301, 23.1309(a): installed equipment works as intended",
    formula="supply terminal to a bus or source, ground terminal to ground, through closed switches and protectors",
    example="power terminal wired to block screw 4, which nothing feeds: dead",
    over="indicators",
)
def required_powered(study: Study) -> Iterator[Verdict]:
    """Every indicator that serves as a required indication, once."""
    done: set[str] = set()
    for one in _required(study):
        if one.indicator not in done:
            done.add(one.indicator)
            yield from _powered(study, one)


def _required(study: Study) -> list[Shown]:
    names = required_inputs(study)
    return [s for s in shown(study) if s.name in names]


def _powered(study: Study, one: Shown) -> Iterator[Verdict]:
    at, path = (one.indicator,), ("indicators", one.indicator)
    spec = one.item.spec
    principle = one.spec.principle
    if principle is None:
        yield undetermined(at, path, PRINCIPLE)
        return
    if principle in _UNPOWERED:
        yield meets(at, path, f"{one.indicator} needs no supply ({principle})")
        return
    ends = spec.supply_terminals
    if principle == "synchro receiver":
        rotor = list(one.spec.terminals or ())[3:5]
        ends = (rotor[0], rotor[1]) if len(rotor) == 2 else None
    if ends is None and one.measure in _SELF:
        yield meets(at, path, f"{one.indicator} works on what it measures")
        return
    if ends is None:
        yield undetermined(at, path, SUPPLY_TERMINALS)
        return
    yield from _fed(study, one, ends, rotor=principle == "synchro receiver")


def _fed(study: Study, one: Shown, ends: tuple[str, str], *, rotor: bool) -> Iterator[Verdict]:
    at, path = (one.indicator,), ("indicators", one.indicator)
    feed, back = (f"{one.indicator}.{t}" for t in ends)
    way = _reach(study, feed, lambda n: _is_source(study, n))
    home = _reach(study, back, lambda n: _is_return(study, n))
    unwired = [
        word
        for word, node, got in ((SUPPLY, feed, way), (GROUND, back, home))
        if got is None and not any(e.kind == "conductor" for e in study.graph.at(node))
    ]
    if unwired:
        yield undetermined(at, path, unwired)
    elif way is None:
        yield discrepancy(
            at,
            path,
            f"{one.indicator} is dead: its supply terminal {ends[0]} reaches no bus or source",
            remedy=f"feed {feed} from a bus through a protector",
        )
    elif home is None:
        yield discrepancy(
            at,
            path,
            f"{one.indicator} is dead: its terminal {ends[1]} reaches no ground",
            remedy=f"join {back} to a ground",
        )
    else:
        through = [e.ident for e in way if e.section == "supplies" and e.kind == "contact"]
        source = _last(way, feed)
        supply = study.model.supplies[source]
        if (
            supply.spec.kind == "inverter"
            and _reach(study, f"{source}.in", lambda n: _is_source(study, n)) is None
        ):
            yield undetermined((*at, source), ("supplies", source), "wiring of the inverter's supply")
            return
        by = f" through {listed(through)}" if through else ""
        what = "rotor" if rotor else "supply"
        yield meets(at, path, f"the {what} of {one.indicator} reaches {source}{by}")


def _last(way: list[Edge], start: str) -> str:
    node = start
    for edge in way:
        node = edge.other(node)
    return split_end(node)[0]


def _is_source(study: Study, node: str) -> bool:
    ident, terminal = split_end(node)
    supply = study.model.supplies.get(ident)
    if supply is None:
        return False
    kind = supply.spec.kind
    return (
        kind == "bus"
        or (kind in ("battery", "alternator", "generator") and terminal == "+")
        or (kind == "inverter" and terminal == "out")
    )


def _is_return(study: Study, node: str) -> bool:
    ident, terminal = split_end(node)
    return study.graph.is_ground(node) or (ident in study.model.supplies and terminal == "-")


def _reach(study: Study, start: str, wanted: Callable[[str], bool]) -> list[Edge] | None:
    """The shortest way from a terminal through conductors, joints and closed contacts to a node that is wanted."""
    came: dict[str, tuple[str, Edge] | None] = {start: None}
    queue = deque([start])
    while queue:
        here = queue.popleft()
        if wanted(here) and here != start:
            way = []
            step = came[here]
            while step is not None:
                way.append(step[1])
                step = came[step[0]]
            return way[::-1]
        for edge in study.graph.at(here):
            there = edge.other(here)
            if edge.kind in CARRIES_SIGNAL and edge.closed and there not in came:
                came[there] = (here, edge)
                if not study.graph.is_ground(there) or wanted(there):
                    queue.append(there)
    return None


@rule(
    "required-in-view",
    title="The pilot sees every required indicator from the seat",
    why="A red line that is not seen protects nothing.",
    source="14 CFR 25.1543(b): each marking is clearly visible to the crew member; 23.1543(b) alike (recalled)",
    formula="in view from the pilot's seat: yes",
    example="oil pressure behind the control column: not in view",
    over="indicators",
)
def required_in_view(study: Study) -> Iterator[Verdict]:
    """Every indicator that serves as a required indication, once."""
    for ident in dict.fromkeys(s.indicator for s in _required(study)):
        at, path = (ident,), ("indicators", ident)
        seen = study.model.indicators[ident].in_view
        if seen is None:
            yield undetermined(at, path, IN_VIEW)
        elif seen:
            yield meets(at, (*path, "in_view"), f"{ident} is in view")
        else:
            yield breach(
                study,
                at,
                (*path, "in_view"),
                f"{ident} serves a required indication and is not in view from the pilot's seat",
                remedy="move it to where the pilot sees it",
            )
