"""What the document leaves to be inferred when the network is laid: bodies as terminals, the reference, undescribed loads."""

from __future__ import annotations

from ...graph import Edge
from ...physics.network_parts import SMALLEST_RESISTANCE, DrawKind
from ..of_no_kind import kind_lacking_at, of_no_kind
from ..study import Study
from .assembly import Assembly, Undrawn, runs_with_own_current
from .measuring_inputs import Measuring


def join_cases(assembly: Assembly) -> None:
    """A load that returns through its body has no wire at its second terminal: its body is that terminal."""
    study = assembly.study
    for ident, load in study.model.loads.items():
        if load.grounding is None:
            continue
        for edge in study.graph.by_thing.get(("loads", ident), ()):
            if (
                edge.kind == "load"
                and edge.b != f"{ident}.case"
                and not any(e.ident != ident for e in study.graph.at(edge.b))
            ):
                assembly.branch(edge.b, f"{ident}.case", fixed=SMALLEST_RESISTANCE)


def references_of(assembly: Assembly, measuring: Measuring) -> tuple[str, list[int]]:
    """The structure is at 0 V; without one the first ground, the negative of a supply, or a return of an input."""
    model = assembly.study.model
    grounds = [i for i, g in model.grounds.items() if g.kind not in ("strap", "bond")]
    structure = [i for i in grounds if model.grounds[i].kind == "structure"]
    if structure or grounds:
        names = structure or grounds[:1]
        return names[0], [assembly.node(n) for n in names]
    for edge in assembly.study.graph.of("supply"):
        return edge.b, [assembly.node(edge.b)]
    name = next(iter((*measuring.tied, *measuring.loose, *assembly.nodes)), "ground")
    return name, [assembly.node(name)]


def lay_undescribed(assembly: Assembly, reference: str) -> None:
    """Loads fed at a bus whose wiring is not described, runs that say themselves what they carry, and things of no kind."""
    study = assembly.study
    for name in list(assembly.nodes) if of_no_kind(study) else ():
        if (lacking := kind_lacking_at(study, name)) is not None:
            assembly.undrawn.append(Undrawn(lacking, assembly.node(name), assembly.node(reference)))
    for ident, load in study.model.loads.items():
        if load.connected_at is not None and ident in assembly.loads_on:
            edge = _load_edge(study, ident)
            if edge is not None:
                assembly.load(edge, load, study.graph.node_of(load.connected_at), reference)
    for ident, run in runs_with_own_current(study):
        for edge in study.edges(ident):
            if edge in assembly.branch_of and run.current is not None:
                ends = [n for n in (edge.b, edge.a) if len(list(study.graph.at(n))) == 1]
                assembly.draw((ends or [edge.b])[0], reference, float(run.current), DrawKind.CURRENT_LOAD)


def _load_edge(study: Study, ident: str) -> Edge | None:
    return next((e for e in study.graph.by_thing.get(("loads", ident), ()) if e.kind == "load"), None)
