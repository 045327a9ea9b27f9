"""Required indications: each there, powered and in view."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterator

from ..document.installation import split_end
from ..document.source import DocPath
from ..graph.edges import CARRIES_SIGNAL, Edge
from .case import Case
from .fluid_facts import breach
from .required_table import Asked, asked, open_questions, required_inputs, serving
from .shown_facts import Shown, listed, shown
from .verdicts import Verdict, advisory, discrepancy, meets, rule, undetermined

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
def required_indication(case: Case) -> Iterator[Verdict]:
    """What is asked of each engine and of the aircraft."""
    if not case.model.engines:
        return
    missing = open_questions(case.model.aircraft)
    if missing:
        yield undetermined(("aircraft",), ("aircraft",), missing)
    for one in asked(case):
        yield _present(case, one)


def _present(case: Case, one: Asked) -> Verdict:
    path: DocPath = ("engines", one.engine) if one.engine is not None else ("aircraft",)
    at = (one.engine or "aircraft",)
    found = serving(case, one)
    counted = [s for s in found if s.item.required is not False]
    of = f" of engine {one.engine}" if one.engine is not None and len(case.model.engines) > 1 else ""
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
    return breach(case, (*at, *extras), place, told, remedy=remedy, source=one.by)


@rule(
    "required-powered",
    title="A required indicator has its supply and its ground",
    why="An instrument whose supply ends at an open terminal is dead from the start.",
    source="14 CFR 23.1301, 23.1309(a): installed equipment works as intended",
    formula="supply terminal to a bus or source, ground terminal to ground, through closed switches and protectors",
    example="power terminal wired to block screw 4, which nothing feeds: dead",
    over="indicators",
)
def required_powered(case: Case) -> Iterator[Verdict]:
    """Every indicator that serves as a required indication, once."""
    done: set[str] = set()
    for one in _required(case):
        if one.indicator not in done:
            done.add(one.indicator)
            yield from _powered(case, one)


def _required(case: Case) -> list[Shown]:
    names = required_inputs(case)
    return [s for s in shown(case) if s.name in names]


def _powered(case: Case, one: Shown) -> Iterator[Verdict]:
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
    yield from _fed(case, one, ends, rotor=principle == "synchro receiver")


def _fed(case: Case, one: Shown, ends: tuple[str, str], *, rotor: bool) -> Iterator[Verdict]:
    at, path = (one.indicator,), ("indicators", one.indicator)
    feed, back = (f"{one.indicator}.{t}" for t in ends)
    way = _reach(case, feed, lambda n: _is_source(case, n))
    home = _reach(case, back, lambda n: _is_return(case, n))
    unwired = [
        word
        for word, node, got in ((SUPPLY, feed, way), (GROUND, back, home))
        if got is None and not any(e.kind == "conductor" for e in case.graph.at(node))
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
        supply = case.model.supplies[source]
        if (
            supply.spec.kind == "inverter"
            and _reach(case, f"{source}.in", lambda n: _is_source(case, n)) is None
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


def _is_source(case: Case, node: str) -> bool:
    ident, terminal = split_end(node)
    supply = case.model.supplies.get(ident)
    if supply is None:
        return False
    kind = supply.spec.kind
    return (
        kind == "bus"
        or (kind in ("battery", "alternator", "generator") and terminal == "+")
        or (kind == "inverter" and terminal == "out")
    )


def _is_return(case: Case, node: str) -> bool:
    ident, terminal = split_end(node)
    return case.graph.is_ground(node) or (ident in case.model.supplies and terminal == "-")


def _reach(case: Case, start: str, wanted: Callable[[str], bool]) -> list[Edge] | None:
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
        for edge in case.graph.at(here):
            there = edge.other(here)
            if edge.kind in CARRIES_SIGNAL and edge.closed and there not in came:
                came[there] = (here, edge)
                if not case.graph.is_ground(there) or wanted(there):
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
def required_in_view(case: Case) -> Iterator[Verdict]:
    """Every indicator that serves as a required indication, once."""
    for ident in dict.fromkeys(s.indicator for s in _required(case)):
        at, path = (ident,), ("indicators", ident)
        seen = case.model.indicators[ident].in_view
        if seen is None:
            yield undetermined(at, path, IN_VIEW)
        elif seen:
            yield meets(at, (*path, "in_view"), f"{ident} is in view")
        else:
            yield breach(
                case,
                at,
                (*path, "in_view"),
                f"{ident} serves a required indication and is not in view from the pilot's seat",
                remedy="move it to where the pilot sees it",
            )
