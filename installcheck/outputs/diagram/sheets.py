"""The drawing sheets of an installation: the whole, one for each indication, power, fluid lines and grounds."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from enum import StrEnum
from functools import cached_property

from ...analysis.study import Study
from ...causes.found import Causes
from ...document import Document
from ...document.source import DocPath
from ...drawing.kinds import Outcome, Paper
from ...drawing.sheet import Band, Mark, Sheet
from ...drawing.split import split_sheets
from ...graph import Edge, Graph, build
from ...model.aircraft import Header
from ...rules.verdicts import Ledger
from ..numbering import Finding, findings
from ..wording import CAUTION
from .circuits import circuits_of, edges_by_indicator
from .collect import collect
from .overview import overview, worth_it
from .parts import Parts
from .removed import add_idle, add_removed, removed_things, with_removed_things

WHOLE = "Whole installation"


class Subject(StrEnum):
    """What a set of sheets shows, in the order in which they are bound."""

    WHOLE = "whole"
    POWER = "power"
    INDICATIONS = "indications"
    FLUID = "fluid"
    GROUNDS = "grounds"


def sheets(
    document: Document,
    ledger: Ledger | None = None,
    subjects: Iterable[Subject] = (Subject.WHOLE,),
    paper: Paper = Paper.A4,
    causes: Causes | None = None,
) -> list[Sheet]:
    """The sheets of the subjects asked for, split until everything on them can be read, numbered through.

    With ``causes`` the flags are numbered as the things to put right are.
    """
    found = findings(ledger, causes) if ledger is not None else ()
    drawer = _Drawer(document, ledger, paper, found)
    made: list[Sheet] = []
    for subject in subjects:
        made += list(drawer.of(subject))
    return split_sheets(made)


class _Drawer:
    def __init__(
        self, document: Document, ledger: Ledger | None, paper: Paper, found: Sequence[Finding]
    ) -> None:
        self.document, self.found, self.paper = document, found, paper
        self.study = ledger.study if ledger is not None else Study(document)
        self.graph = self.study.graph
        self.circuits = circuits_of(self.study)

    def of(self, subject: Subject) -> Iterator[Sheet]:
        graph = self.graph
        if subject is Subject.WHOLE:
            whole = self.whole()
            if worth_it(whole):
                yield self.sheet("Overview: devices and cables", overview(self.study), marked=False)
            yield self.sheet(WHOLE, whole)
        elif subject is Subject.POWER:
            edges = [e for e in graph.edges if self._carries_power(e)]
            yield from self._unless_bare("Power distribution", edges)
        elif subject is Subject.FLUID:
            edges = [e for e in graph.edges if e.kind in ("fluid line", "passage")]
            yield from self._unless_bare("Fluid lines", edges)
        elif subject is Subject.GROUNDS:
            yield from self._unless_bare("Grounds", [e for e in graph.edges if _grounds(graph, e)])
        else:
            for ident, edges in edges_by_indicator(self.study, self.circuits).items():
                yield self.sheet(f"Indication: {ident}", self.parts(edges))

    @cached_property
    def _signals(self) -> frozenset[tuple[str, str]]:
        """Runs that carry a signal to an indicator."""
        return frozenset(
            (s.edge.section, s.edge.ident)
            for i in self.study.indications
            for leg in i.legs
            for s in leg.steps
            if s.edge.kind == "conductor" and not leg.through_ground
        )

    def _carries_power(self, edge: Edge) -> bool:
        if edge.kind == "bond":
            return edge.section in ("grounds", "loads", "supplies", "indicators")
        if edge.kind in ("supply", "contact", "load"):
            return edge.section not in ("junctions", "senders")
        if edge.kind != "conductor" or (edge.run is not None and edge.run.sensing):
            return False
        return (edge.section, edge.ident) not in self._signals

    def _unless_bare(self, subject: str, edges: list[Edge]) -> Iterator[Sheet]:
        if any(e.kind in ("conductor", "fluid line") for e in edges):
            yield self.sheet(subject, self.parts(edges))

    def parts(self, edges: Iterable[Edge]) -> Parts:
        return collect(self.graph, edges, self.circuits)

    def whole(self) -> Parts:
        """Everything of the document, and what the alteration takes out."""
        gone = removed_things(self.document.installation)
        if not gone:
            parts = self.parts(self.graph.edges)
        else:
            full = build(with_removed_things(self.document.installation))
            parts = collect(full, full.edges, self.circuits, gone)
        add_removed(parts, self.document.installation)
        add_idle(parts, self.graph)
        return parts

    def sheet(self, subject: str, parts: Parts, *, marked: bool = True) -> Sheet:
        """One sheet of some parts, before it is split."""
        found = place_marks(self.found if marked else (), parts, whole=subject == WHOLE)
        return sheet_of(self.document, subject, parts, self.paper, tuple(found))


def place_marks(found: Iterable[Finding], parts: Parts, *, whole: bool) -> Iterator[Mark]:
    """Marks of what is on a sheet; on the whole drawing also those that have no place of their own."""
    for one in found:
        named = [tuple(_places(one.at))]
        for v in one.verdicts:
            # What several make wrong is flagged where it is read, not at the thing that another of them is to change.
            exact = () if any(v is shared for shared in one.shared) else _places(v.path)
            named.append((*exact, *(v.at if whole else v.at[:1])))
        found_at = (next((parts.target[i] for i in ids if i in parts.target), "") for ids in named)
        targets = dict.fromkeys(target for target in found_at if target)
        for target in targets or ([""] if whole else ()):
            yield Mark(one.number, Outcome(one.outcome.value), one.text, target)


def _places(path: DocPath) -> Iterator[str]:
    """Ids that a path of the document stands at, the most exact first."""
    if len(path) >= 4 and path[0] == "wire_runs" and path[2] == "conductors":
        yield f"{path[1]} {path[3]}"
    if len(path) >= 2 and isinstance(path[1], str):
        if path[0] == "wire_runs" and len(path) > 2 and path[2] == "shield":
            yield f"{path[1]} shield"
        if path[0] == "zones" or path[0] == "barriers":
            yield f"{path[0]} {path[1]}"
        else:
            yield path[1]


def _grounds(graph: Graph, edge: Edge) -> bool:
    return edge.kind == "bond" or (
        edge.kind == "conductor" and (graph.is_ground(edge.a) or graph.is_ground(edge.b))
    )


def sheet_of(
    document: Document,
    subject: str,
    parts: Parts,
    paper: Paper,
    marked: tuple[Mark, ...] = (),
    notes: tuple[str, ...] = (),
) -> Sheet:
    """A sheet of some parts with the title block of a document."""
    header = document.installation.installation
    shown = parts if parts.bands else Parts(bands=_bare(document))
    return Sheet(
        installation=header.name,
        subject=subject,
        bands=tuple(shown.bands.values()),
        caution=CAUTION,
        revision=header.revision or "",
        date=header.date or "",
        drawing=header.drawing or "",
        creator=header.drawn_by or "",
        revisions=((header.revision or "-", _revised(header), header.date or ""),),
        paper=paper,
        barriers=tuple(shown.barriers.values()),
        fittings=tuple(shown.fittings.values()),
        devices=tuple(shown.devices.values()),
        blocks=tuple(shown.blocks.values()),
        joints=tuple(shown.joints.values()),
        wires=tuple(shown.wires.values()),
        lines=tuple(shown.lines.values()),
        marks=marked,
        notes=(*notes, *(header.notes or ())),
    )


def _revised(header: Header) -> str:
    return f"replaces {header.replaces}" if header.replaces else "as described"


def _bare(document: Document) -> dict[str, Band]:
    zones = list(document.installation.zones) or ["nothing to draw"]
    return {f"zone {z}": Band(f"zone {z}", z) for z in zones}
