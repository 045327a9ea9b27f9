"""What a terminal stands at by the metal that lands on it: ground, a live source or bus, or a signal of an indicator."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, Literal, TypeAlias

from ..graph import Edge, Walk
from ..graph.edges import EdgeKind
from ..model.installation import inputs_of
from ..model.power import SOURCES
from .power.wiring import PROTECTORS
from .study import Study, once

Standing: TypeAlias = Literal["ground", "live", "signal"]

_WIRES: Final[frozenset[EdgeKind]] = frozenset(("conductor", "joint", "bond"))
_METAL: Final[frozenset[EdgeKind]] = _WIRES | {"contact", "spool"}
_FED_OF_THREE = ("voltage", "pulse counter")
"""Principles whose three terminals are the sender's supply, its signal and their return."""
_ALL_SIGNAL = (
    "moving-coil thermocouple",
    "electronic thermocouple",
    "synchro receiver",
    "synchronous tachometer",
)
"""Principles whose terminals all carry the signal, none of them being a return to ground."""


def standing(study: Study, node: str) -> Standing | None:
    """What a terminal stands at; ``None`` where the document joins it to nothing that tells.

    A switch or protector passes on what is live, open or closed, but makes no ground.
    """
    known = _told(study)
    if any(known.get(one) == "source" for one in _reached(study, node, _METAL)):
        return "live"
    wired = list(_reached(study, node, _WIRES))
    if any(known.get(one) == "signal" for one in wired):
        return "signal"
    returns = _returns(study)
    wired += [far for one in wired if one in returns for far in _reached(study, returns[one], _WIRES)]
    if any(study.graph.is_ground(one) for one in wired):
        return "ground"
    if any(known.get(one) == "bus" for one in _reached(study, node, _METAL)):
        return "live"
    return None


def _reached(study: Study, node: str, kinds: frozenset[EdgeKind]) -> Iterator[str]:
    """Nodes joined to one by some kinds of metal; nothing beyond a ground."""

    def leaving(here: str) -> Iterator[Edge]:
        return (edge for edge in study.graph.at(here) if edge.kind in kinds)

    return iter(Walk([node], leaving, stops=study.graph.is_ground))


@once
def _told(study: Study) -> dict[str, Literal["source", "bus", "signal"]]:
    """Terminals that are live by what they are: posts of sources, buses and protectors, and signals of indicators."""
    found: dict[str, Literal["source", "bus", "signal"]] = {}
    for ident, supply in study.model.supplies.items():
        kind, names = supply.spec.kind, supply.spec.terminals
        if kind in SOURCES:
            found[f"{ident}.{(names or ['+'])[0]}"] = "source"
        elif kind == "inverter":
            found[f"{ident}.{(names or ['in', 'out'])[1]}"] = "source"
        elif kind == "bus":
            found[study.graph.node_of(ident)] = "bus"
        elif kind in PROTECTORS:
            found |= {f"{ident}.{name}": "bus" for name in names or ["in", "out"]}
    for ident, indicator in study.model.indicators.items():
        for _, one in inputs_of(indicator):
            names = list(one.terminals or ())
            if one.principle in _FED_OF_THREE and len(names) >= 3:
                names = names[:2]
            elif one.principle not in _ALL_SIGNAL:
                names = names[:1]
            found |= {f"{ident}.{name}": "signal" for name in names if name != "case"}
    return found


@once
def _returns(study: Study) -> dict[str, str]:
    """The return of an indicator's three-terminal input, and the supply ground it is one with inside the indicator."""
    return {
        f"{ident}.{one.terminals[2]}": f"{ident}.{indicator.spec.supply_terminals[1]}"
        for ident, indicator in study.model.indicators.items()
        for _, one in inputs_of(indicator)
        if indicator.spec.supply_terminals is not None
        and one.principle in _FED_OF_THREE
        and one.terminals is not None
        and len(one.terminals) >= 3
    }
