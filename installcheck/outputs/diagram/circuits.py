"""Which runs and lines belong to which indication or load, and what an indication's own sheet shows."""

from __future__ import annotations

from ...analysis.circuit.drop_paths import consumers
from ...analysis.study import Study, once
from ...graph import Edge, Walk
from .lines import Lines

Key = tuple[str, str]


def circuits_of(study: Study) -> dict[Key, str]:
    """By section and id of a run or line, the indicator or load it belongs to; what feeds several belongs to none."""
    model, graph, lines = study.whole, study.graph, Lines(study.graph)
    named: dict[Key, str] = {}
    reader: dict[str, str] = {}
    for indication in study.indications:
        reader.setdefault(indication.source, indication.indicator)
        for leg in indication.legs:
            for step in leg.steps:
                named.setdefault((step.edge.section, step.edge.ident), indication.indicator)
    for edge in graph.edges:
        key = (edge.section, edge.ident)
        if edge.kind not in ("conductor", "fluid line") or key in named:
            continue
        for node in (edge.a, edge.b):
            ident = lines.fold(node).partition(".")[0]
            if ident in model.indicators or ident in model.loads:
                named[key] = ident
            elif ident in reader or ident in model.senders:
                named.setdefault(key, reader.get(ident, ident))
    _follow_lines(study, named)
    return named


def _follow_lines(study: Study, named: dict[Key, str]) -> None:
    """Lines upstream of a named line, through tees and bulkheads, belong with it unless they are named themselves."""
    graph = study.graph
    lines = [e for e in graph.edges if e.kind == "fluid line"]
    queue = [e for e in lines if (e.section, e.ident) in named]
    while queue:
        edge = queue.pop()
        name = named[(edge.section, edge.ident)]
        for node in (edge.a, edge.b):
            fitting = node.partition(".")[0]
            if fitting not in study.whole.fittings:
                continue
            for other in _lines_at(study, fitting):
                if (other.section, other.ident) not in named:
                    named[(other.section, other.ident)] = name
                    queue.append(other)


def _lines_at(study: Study, fitting: str) -> list[Edge]:
    """Lines at any port of a fitting, or of what is screwed into it."""
    return _by_fitting(study).get(fitting, [])


@once
def _by_fitting(study: Study) -> dict[str, list[Edge]]:
    found: dict[str, list[Edge]] = {}
    for edge in study.graph.edges:
        if edge.kind != "fluid line":
            continue
        for node in (edge.a, edge.b):
            ident = node.partition(".")[0]
            found.setdefault(ident, []).append(edge)
            fitting = study.whole.fittings.get(ident)
            if fitting is not None and fitting.screwed_into is not None:
                found.setdefault(fitting.screwed_into.partition(".")[0], []).append(edge)
    return found


def edges_by_indicator(study: Study, circuits: dict[Key, str]) -> dict[str, list[Edge]]:
    """By indicator, all that its sheet shows: from source, tap or probe to pointer, its feed from the bus and its ground."""
    model, graph = study.whole, study.graph
    chosen: dict[str, set[Edge]] = {
        ident: set() for ident, one in model.indicators.items() if one.status != "removed"
    }
    for indication in study.indications:
        mine = chosen[indication.indicator]
        mine.update(s.edge for leg in indication.legs for s in leg.steps)
        mine.update(graph.by_thing.get((indication.section, indication.source), ()))
    for ident, mine in chosen.items():
        mine.update(graph.by_thing.get(("indicators", ident), ()))
    for edge in graph.edges:
        ident = circuits.get((edge.section, edge.ident), "")
        if ident in chosen and edge.kind in ("conductor", "fluid line"):
            chosen[ident].add(edge)
    for consumer in consumers(study):
        if consumer.section == "indicators" and consumer.ident in chosen:
            chosen[consumer.ident].update((*(consumer.out or ()), *(consumer.back or ())))
    for mine in chosen.values():
        _down_to_structure(study, mine)
    order = {edge: n for n, edge in enumerate(graph.edges)}
    return {
        ident: sorted(mine, key=order.__getitem__)
        for ident, mine in chosen.items()
        if any(e.kind in ("conductor", "fluid line") for e in mine)
    }


def _down_to_structure(study: Study, mine: set[Edge]) -> None:
    """Add the joints and straps from each ground point on the sheet to what it is fastened to."""
    graph, grounds = study.graph, study.whole.grounds
    starts = [n for e in mine if e.kind in ("conductor", "bond") for n in (e.a, e.b) if graph.is_ground(n)]

    def holds(node: str) -> list[Edge]:
        """What a ground point is fastened by; an engine case, by any strap."""
        ground = grounds.get(node)
        if ground is None or ground.kind == "structure":
            return []
        own = (e for e in graph.at(node) if e.kind == "bond" and e.section == "grounds")
        return [e for e in own if e.ident == node or ground.kind == "engine case"]

    for node in Walk(starts, holds):
        mine.update(holds(node))
