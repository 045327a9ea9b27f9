"""What an alteration leaves behind: open ports, bare terminals, return paths and feeds that are gone."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from itertools import pairwise
from typing import Literal

from ..dataclass import dataclass
from ..document.source import DocPath
from ..graph import Edge, Graph
from ..graph.walk import Walk
from ..model.fluid import Tap
from ..model.installation import split_end
from ..model.power import SOURCES
from .change import noun
from .differences import Pair

_PASSIVE = frozenset(("conductor", "joint", "contact", "bond", "spool"))
"""What current passes without doing work: copper, joints, switches."""
_WORKS = frozenset(("element", "couple", "coil", "winding", "load"))
LeftKind = Literal["open port", "bare terminal", "return lost", "feed lost", "left in place"]


@dataclass(frozen=True, slots=True)
class Left:
    """Something an alteration leaves behind.

    Attributes:
        kind: what sort of thing is left.
        at: ids or ends it concerns, as the new document names them.
        message: one sentence.
        remedy: what to do about it; empty if nothing need be done.
        path: where the new document tells of it.
    """

    kind: LeftKind
    at: tuple[str, ...]
    message: str
    remedy: str
    path: DocPath


def left_behind(pair: Pair, replaced: Collection[str]) -> list[Left]:
    """Everything left behind, the dangerous first. ``replaced`` names things that are another thing now.

    Cost: linear in the documents' size, and one search of the network for each return that is lost.
    """
    return [
        *_open_ports(pair),
        *_lost(pair, replaced, feed=False),
        *_lost(pair, replaced, feed=True),
        *_bare_terminals(pair),
        *_left_in_place(pair),
    ]


def _outside(graph: Graph, kinds: Collection[str]) -> dict[str, list[Edge]]:
    """By node, the edges of other things that meet it: a line at a port, a wire at a terminal."""
    found: dict[str, list[Edge]] = {}
    for edge in graph.edges:
        if edge.kind in kinds:
            for node in (edge.a, edge.b):
                if split_end(edge.a)[0] != split_end(edge.b)[0]:
                    found.setdefault(node, []).append(edge)
    return found


def _stands(graph: Graph, ident: str) -> bool:
    found = graph.whole.find(ident)
    return found is not None and getattr(found[1], "status", None) != "removed"


def _open_ports(pair: Pair) -> Iterator[Left]:
    kinds = ("fluid line", "passage")
    before, after = _outside(pair.old, kinds), _outside(pair.new, kinds)
    closed = {
        end
        for gone in pair.new.whole.removed.values()
        if gone.left in ("capped", "blanked")
        for end in gone.ends or ()
    }
    closed |= {
        end
        for line in pair.new.whole.fluid_lines.values()
        if line.status == "removed" and line.open_ends == "capped"
        for end in (line.from_, line.to)
    }
    for node, edges in before.items():
        here = pair.names.end(node)
        ident = split_end(here)[0]
        if here in after or not _stands(pair.new, ident):
            continue
        section, thing = pair.new.whole.find(ident) or ("", None)
        ports = getattr(getattr(thing, "spec", None), "ports", None)
        if (isinstance(thing, Tap) and thing.capped) or here in closed or ident in closed:
            continue
        if ports is None and not isinstance(thing, Tap) and section != "fittings":
            continue  # what stands there under that name has no ports any more
        if ports is not None and split_end(here)[1] not in ("", *ports):
            continue
        carried = (
            thing.medium if isinstance(thing, Tap) else next((e.line.medium for e in edges if e.line), None)
        )
        pressure = thing.pressure or thing.max_pressure if isinstance(thing, Tap) else None
        told = ", ".join(str(word) for word in (carried, pressure and pressure.text) if word)
        was = ", ".join(sorted({e.ident for e in edges}))
        message = f"{here}{f' ({told})' if told else ''} is left open: {was} is no longer there"
        yield Left("open port", (here,), message, f"cap or plug {here}, and say so", (section, ident))


def _bare_terminals(pair: Pair) -> Iterator[Left]:
    before, after = _outside(pair.old, ("conductor",)), _outside(pair.new, ("conductor",))
    for node, edges in before.items():
        here = pair.names.end(node)
        ident, terminal = split_end(here)
        if here in after or here not in pair.new.nodes or not _stands(pair.new, ident) or not terminal:
            continue
        section, thing = pair.new.whole.find(ident) or ("", None)
        if section not in ("supplies", "junctions") or thing is None:
            continue
        was = ", ".join(sorted({e.ident for e in edges}))
        message = f"{noun(section, thing)} {here} is left with no wire: {was} is no longer there"
        remedy = f"label {ident} as spare" if section == "supplies" else ""
        yield Left("bare terminal", (here,), message, remedy, (section, ident))


def _left_in_place(pair: Pair) -> Iterator[Left]:
    for ident, run in pair.new.whole.wire_runs.items():
        if run.status == "removed" and ident in pair.old.whole.wire_runs:
            state = run.connected_to
            message = f"run {ident} is out of use" + (f", its ends {state}" if state else "")
            remedy = (
                ""
                if state in ("capped", "tied back")
                else f"cap and stow both ends of {ident}, or take it out"
            )
            yield Left("left in place", (ident,), message, remedy, ("wire_runs", ident))
    for ident, line in pair.new.whole.fluid_lines.items():
        if line.status == "removed" and ident in pair.old.whole.fluid_lines:
            ends = line.open_ends
            message = f"line {ident} is out of use" + (f", its ends {ends}" if ends else "")
            remedy = "" if ends == "capped" else f"cap both ends of {ident}, or take it out"
            yield Left("left in place", (ident,), message, remedy, ("fluid_lines", ident))


def _lost(pair: Pair, replaced: Collection[str], *, feed: bool) -> Iterator[Left]:
    """Terminals that had a way to ground, or to a source, by metal alone and have none now; by what hangs together."""
    before, after = _reached(pair.old, feed=feed), _reached(pair.new, feed=feed)
    if not before or not after:
        return
    lost = []
    for node in before:
        here = pair.names.end(node)
        ident = split_end(here)[0]
        if here in after or here not in pair.new.nodes or not _stands(pair.new, ident):
            continue
        if ident not in replaced and _is_user(pair.new, here, feed=feed):
            lost.append(here)
    todo = set(lost)
    for start in lost:
        if start not in todo:
            continue
        together = _spread(pair.new, [start])
        group = [node for node in lost if node in together]
        todo.difference_update(group)
        yield _told_loss(pair.new, group, together, after, feed=feed)


def _is_user(graph: Graph, node: str, *, feed: bool) -> bool:
    section = graph.nodes[node]["section"]
    users = ("senders", "indicators", "loads", "probes", "supplies")
    return section in users or (section == "grounds" and not feed)


def _reached(graph: Graph, *, feed: bool) -> set[str]:
    """Nodes that metal joins to a source; or to the structure, where none is described to the sources' negative."""
    poles = [
        (f"{ident}.{names[0]}", f"{ident}.{names[1]}")
        for ident, supply in graph.whole.supplies.items()
        if supply.spec.kind in SOURCES
        and supply.status != "removed"
        and len(names := supply.spec.terminals or ["+", "-"]) > 1
    ]
    if feed:
        return _spread(graph, [plus for plus, _ in poles])
    grounds = graph.whole.grounds.items()
    structure = [ident for ident, ground in grounds if ground.kind == "structure"]
    engine = [ident for ident, ground in grounds if ground.kind == "engine case"]
    return _spread(graph, structure or [minus for _, minus in poles] or engine)


def _spread(graph: Graph, starts: Iterable[str]) -> set[str]:
    def passes(edge: Edge, there: str) -> bool:
        # A probe whose junction touches metal joins its legs to ground, but no leg needs that to work.
        return edge.kind in _PASSIVE and edge.section != "probes"

    return set(Walk((node for node in starts if node in graph.nodes), graph.at, passes))


def _told_loss(graph: Graph, group: list[str], together: set[str], sound: set[str], *, feed: bool) -> Left:
    users = list(dict.fromkeys(split_end(node)[0] for node in group))
    what = "feed" if feed else "return"
    goal = "a source" if feed else "ground"
    message = f"{', '.join(users)}: the {what} path to {goal} is gone"
    through = [] if feed else _way_left(graph, together, sound)
    if through:
        message += f"; current would come back through {' and '.join(through)}"
    remedy = (
        f"give {users[0]} a {what} path of its own" if len(users) == 1 else f"give these a {what} path again"
    )
    section = graph.nodes[group[0]]["section"]
    return Left("feed lost" if feed else "return lost", tuple(group), message, remedy, (section, users[0]))


def _way_left(graph: Graph, together: set[str], sound: set[str]) -> list[str]:
    """Devices the current must pass on the shortest way from what is cut off back to ground."""
    import networkx as nx  # takes a quarter of a check to import

    plain: nx.Graph[str] = nx.Graph()
    for edge in graph.edges:
        passive = edge.kind in _PASSIVE
        if passive or (edge.kind in _WORKS and not plain.has_edge(edge.a, edge.b)):
            plain.add_edge(edge.a, edge.b, ident=edge.ident, cost=0 if passive else 1)
    starts = {node for node in together if node in plain}
    if not starts:
        return []
    costs = nx.multi_source_dijkstra_path_length(plain, starts, weight="cost")
    goals = [node for node in costs if node in sound]
    if not goals:
        return []
    way = nx.multi_source_dijkstra_path(plain, starts, weight="cost")[min(goals, key=lambda n: costs[n])]
    steps = [plain.edges[a, b] for a, b in pairwise(way)]
    return list(dict.fromkeys(step["ident"] for step in steps if step["cost"]))
