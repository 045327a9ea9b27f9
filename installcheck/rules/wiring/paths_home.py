"""Ways home and ways astray: the engine's return to the structure, and supply joined straight to a signal."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ...analysis import missing
from ...analysis.fluid.facts import listed
from ...analysis.power.wiring import SOURCES
from ...analysis.study import Study
from ...graph import Edge, Walk
from ...model.devices import Indicator, InputSpec, Sender
from ...model.installation import inputs_of, split_end, terminals_of
from ...model.power import Ground
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_CARRIES = frozenset(("bond", "conductor", "joint"))
_METAL = frozenset(("conductor", "joint", "contact"))
_SHOWN = 4


@rule(
    "engine-strapped",
    title="An engine that current returns through is tied to the structure or the battery",
    why="Without a strap the starter's current goes home through control cables, primer lines and the shields of senders, "
    "and burns them.",
    source="plain physics (every current goes home); AC 43.13-1B 11-185 to 11-188 (recalled)",
    formula="engine case -> straps and wires -> structure or battery negative; not through a sender, probe or gauge",
    example="an alternator grounded on the engine case, and no strap from the case to the firewall",
    over=lambda study: [i for i, g in study.model.grounds.items() if g.kind == "engine case"],
)
def engine_strapped(study: Study) -> Iterator[Verdict]:
    """Every engine case that something is joined to."""
    for ident, ground in study.model.grounds.items():
        if ground.kind == "engine case":
            verdict = _strapped(Subject(study, (ident,), ("grounds", ident)))
            if verdict is not None:
                yield verdict


def _strapped(subject: Subject) -> Verdict | None:
    study, ident = subject.study, subject.ident
    users = list(dict.fromkeys(_user(edge, ident) for edge in study.graph.at(ident)))
    if not users:
        return None
    walk = Walk([ident], study.graph.at, lambda edge, there: _leads_on(study, edge, there))
    home = walk.first(lambda node: _is_home(study, node))
    if home is not None:
        return subject.along(home).meets(f"the {ident} is tied to {home}")
    heavy = [user for user in users if _is_heavy(study, user)]
    if not heavy or not (study.model.supplies or _frames(study)):
        return subject.lacks(missing.ENGINE_STRAP)
    return subject.along(*heavy).discrepancy(
        f"nothing ties the {ident} to the structure or the battery, and the current of {listed(heavy[:_SHOWN])} "
        "returns through it",
        remedy="fit a strap from the engine case to the structure, sized for the starter",
    )


def _user(edge: Edge, node: str) -> str:
    return split_end(edge.other(node))[0]


def _leads_on(study: Study, edge: Edge, there: str) -> bool:
    """Whether a return can go on by an edge: by straps and wires, past grounds, joints and the negative of a source."""
    ident, terminal = split_end(there)
    if edge.kind not in _CARRIES or not edge.closed:
        return False
    supply = study.model.supplies.get(ident)
    if supply is not None:
        return supply.spec.kind in SOURCES and terminal in ("-", "case")
    return ident in study.model.grounds or ident in study.model.junctions


def _frames(study: Study) -> list[str]:
    return [ident for ident, ground in study.model.grounds.items() if ground.kind == "structure"]


def _is_home(study: Study, node: str) -> bool:
    ident, terminal = split_end(node)
    ground: Ground | None = study.model.grounds.get(ident)
    if ground is not None:
        return ground.kind == "structure"
    supply = study.model.supplies.get(ident)
    return supply is not None and supply.spec.kind == "battery" and terminal == "-"


def _is_heavy(study: Study, ident: str) -> bool:
    """Whether a thing is a source or a load, whose whole current returns where it is grounded."""
    supply = study.model.supplies.get(ident)
    return ident in study.model.loads or (supply is not None and supply.spec.kind in SOURCES)


@rule(
    "supply-off-signal",
    title="No signal input and no passive sender is joined straight to a supply",
    why="The full voltage of the bus burns the movement, the input or the sender, or pins the pointer.",
    source="plain physics: the signal is what the sender leaves of a voltage, not the voltage",
    formula="signal terminal -> wires, joints and closed contacts: no bus and no positive of a source",
    example="the bus wire landed on S of an oil-pressure gauge in place of I",
    over=lambda study: [*study.model.indicators, *study.model.senders],
)
def supply_off_signal(study: Study) -> Iterator[Verdict]:
    """Every indicator and sender with a signal terminal; those that show the bus itself are left out."""
    for ident, indicator in study.model.indicators.items():
        terminals = [t for _, one in inputs_of(indicator) for t in _signals_of(indicator, one)]
        yield from _free(Subject(study, (ident,), ("indicators", ident)), terminals, "a signal input")
    for ident, sender in study.model.senders.items():
        subject = Subject(study, (ident,), ("senders", ident))
        yield from _free(subject, _outputs_of(sender), "an output without a supply of its own")


_OF_THE_BUS = frozenset(("bus voltage", "load current"))
_FED = frozenset(("warning light", "series meter", "voltage"))
"""Inputs that a supply can rightly reach: a lamp, a meter in line with its sender, a measured voltage."""
_PASSIVE = frozenset(("resistive", "thermistor", "resistance bulb"))
_THREE_WIRE = frozenset(("pressure transducer", "pulse pick-up"))


def _signals_of(indicator: Indicator, one: InputSpec) -> list[str]:
    names = list(one.terminals or ())
    if one.measures in _OF_THE_BUS or one.principle is None or one.principle in _FED:
        return []
    if one.principle == "pulse counter" and len(names) >= 3:
        names = names[1:2]
    elif one.principle in ("synchro receiver", "synchronous tachometer"):
        names = names[:3]
    return [name for name in names if name not in (indicator.spec.supply_terminals or ())]


def _outputs_of(sender: Sender) -> list[str]:
    names = list(sender.spec.terminals or terminals_of("senders", sender) or ())
    if sender.spec.principle in _PASSIVE:
        return [name for name in names if name != "case"]
    return names[1:2] if sender.spec.principle in _THREE_WIRE and len(names) >= 3 else []


def _free(subject: Subject, terminals: Iterable[str], what: str) -> Iterator[Verdict]:
    study, ident = subject.study, subject.ident
    own = list(dict.fromkeys(terminals))
    if not own:
        return
    fed = [(t, live) for t in own if (live := _live(study, f"{ident}.{t}")) is not None]
    if not fed:
        yield subject.meets(f"no supply is joined straight to {ident}.{' or '.join(own)}")
    for terminal, live in fed:
        yield subject.along(split_end(live)[0]).discrepancy(
            f"{ident}.{terminal}, {what}, is joined straight to {live}",
            remedy="part them: the supply belongs on a supply terminal, the signal on its sender",
        )


def _live(study: Study, start: str) -> str | None:
    """The live point of a supply that a terminal is joined to by metal alone."""
    graph = study.graph

    def passes(edge: Edge, there: str) -> bool:
        return edge.kind in _METAL and edge.closed and not graph.is_ground(there)

    def is_live(node: str) -> bool:
        ident, terminal = split_end(node)
        supply = study.model.supplies.get(ident)
        if supply is None:
            return False
        return supply.spec.kind == "bus" or (supply.spec.kind in SOURCES and terminal == "+")

    return Walk([start], graph.at, passes).first(is_live) if start in graph.multigraph else None
