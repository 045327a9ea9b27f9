"""The drawing sheets of an installation: the whole, one for each indication, power, fluid lines and grounds."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from enum import StrEnum

from ..document import Document
from ..graph import Edge, Graph, Indication, build, indications
from ..rules.verdicts import Ledger, Verdict
from ..rules.verdicts import Outcome as Judged
from .diagram_parts import Parts, collect
from .sheet import Mark, Outcome, Paper, Sheet
from .sheet_split import split_sheets
from .wording import CAUTION

_FLAGGED = (Judged.DISCREPANCY, Judged.ACCEPTED, Judged.ADVISORY, Judged.UNDETERMINED)


class Subject(StrEnum):
    """What a set of sheets shows."""

    WHOLE = "whole"
    INDICATIONS = "indications"
    POWER = "power"
    FLUID = "fluid"
    GROUNDS = "grounds"


def flagged(ledger: Ledger) -> list[Verdict]:
    """Every verdict that asks for something, in the order their numbers follow."""
    return [v for outcome in _FLAGGED for v in ledger.verdicts if v.outcome is outcome]


def marks(ledger: Ledger) -> list[Mark]:
    """Every verdict that asks for something, numbered in the order of the ledger; targets are ids of the document."""
    return [
        Mark(n, Outcome(v.outcome.value), v.message, v.at[0] if v.at else "")
        for n, v in enumerate(flagged(ledger), start=1)
    ]


def sheets(
    document: Document,
    ledger: Ledger | None = None,
    subjects: Iterable[Subject] = (Subject.WHOLE,),
    paper: Paper = Paper.A4,
) -> list[Sheet]:
    """The sheets of the subjects asked for, split until everything on them can be read, numbered through."""
    drawer = _Drawer(document, ledger, paper)
    made: list[Sheet] = []
    for subject in subjects:
        made += list(drawer.of(subject))
    return split_sheets(made)


class _Drawer:
    def __init__(self, document: Document, ledger: Ledger | None, paper: Paper) -> None:
        self.document, self.paper = document, paper
        self.graph: Graph = build(document.installation)
        self.found: list[Indication] = indications(self.graph)[0]
        self.marks = marks(ledger) if ledger is not None else []
        self.ats: dict[int, tuple[str, ...]] = {}
        if ledger is not None:
            self.ats = {n: v.at for n, v in enumerate(flagged(ledger), start=1)}
        self.circuits = self._circuits()

    def _circuits(self) -> dict[tuple[str, str], str]:
        named: dict[tuple[str, str], str] = {}
        for indication in self.found:
            for leg in indication.legs:
                for step in leg.steps:
                    named.setdefault((step.edge.section, step.edge.ident), indication.indicator)
        for edge in self.graph.edges:
            key = (edge.section, edge.ident)
            if edge.kind == "conductor" and key not in named:
                for node in (edge.a, edge.b):
                    ident = node.partition(".")[0]
                    if (
                        ident in self.document.installation.indicators
                        or ident in self.document.installation.loads
                    ):
                        named[key] = ident
            elif edge.kind == "fluid line":
                for node in (edge.a, edge.b):
                    ident = node.partition(".")[0]
                    if (
                        ident in self.document.installation.indicators
                        or ident in self.document.installation.senders
                    ):
                        named[key] = ident
        return named

    def of(self, subject: Subject) -> Iterator[Sheet]:
        graph = self.graph
        if subject is Subject.WHOLE:
            yield self.sheet("Whole installation", graph.edges)
        elif subject is Subject.POWER:
            yield from self._unless_bare(
                "Power distribution", [e for e in graph.edges if self._carries_power(e)]
            )
        elif subject is Subject.FLUID:
            yield from self._unless_bare(
                "Fluid lines", [e for e in graph.edges if e.kind in ("fluid line", "passage")]
            )
        elif subject is Subject.GROUNDS:
            yield from self._unless_bare(
                "Grounds",
                [
                    e
                    for e in graph.edges
                    if e.kind == "bond"
                    or (e.kind == "conductor" and (graph.is_ground(e.a) or graph.is_ground(e.b)))
                ],
            )
        else:
            by_indicator: dict[str, dict[int, Edge]] = {}
            for indication in self.found:
                chosen = by_indicator.setdefault(indication.indicator, {})
                for leg in indication.legs:
                    chosen.update((id(s.edge), s.edge) for s in leg.steps)
                for key in ((indication.section, indication.source), ("indicators", indication.indicator)):
                    chosen.update((id(e), e) for e in graph.by_thing.get(key, ()))
            for edge in graph.edges:
                ident = self.circuits.get((edge.section, edge.ident))
                if ident in by_indicator and edge.kind in ("conductor", "fluid line"):
                    by_indicator[ident][id(edge)] = edge
            for ident, chosen in by_indicator.items():
                yield self.sheet(f"Indication: {ident}", [e for e in graph.edges if id(e) in chosen])

    def _carries_power(self, edge: Edge) -> bool:
        if edge.kind in ("supply", "contact", "load", "bond"):
            return edge.section != "junctions"
        if edge.kind != "conductor" or (edge.run is not None and edge.run.sensing):
            return False
        key = (edge.section, edge.ident)
        return not any(
            s.edge.section == key[0] and s.edge.ident == key[1]
            for i in self.found
            for leg in i.legs
            for s in leg.steps
            if not leg.through_ground
        )

    def _unless_bare(self, subject: str, edges: list[Edge]) -> Iterator[Sheet]:
        if any(e.kind in ("conductor", "fluid line") for e in edges):
            yield self.sheet(subject, edges)

    def sheet(self, subject: str, edges: Iterable[Edge]) -> Sheet:
        """One sheet of some edges, before it is split."""
        parts = collect(self.graph, edges, self.circuits)
        if not parts.bands:
            parts = _bare(self.document)
        header = self.document.installation.installation
        return Sheet(
            installation=header.name + (f", drawing {header.drawing}" if header.drawing else ""),
            subject=subject,
            bands=tuple(parts.bands.values()),
            caution=CAUTION,
            revision=header.revision or "",
            date=header.date or "",
            paper=self.paper,
            barriers=tuple(parts.barriers.values()),
            fittings=tuple(parts.fittings.values()),
            devices=tuple(parts.devices.values()),
            blocks=tuple(parts.blocks.values()),
            joints=tuple(parts.joints.values()),
            wires=tuple(parts.wires.values()),
            lines=tuple(parts.lines.values()),
            marks=tuple(self._marks_on(parts, whole=subject == "Whole installation")),
            notes=tuple(header.notes or ()),
        )

    def _marks_on(self, parts: Parts, *, whole: bool) -> Iterator[Mark]:
        """Marks of what is on the sheet; on the whole drawing also those that have no place of their own."""
        for mark in self.marks:
            targets = [parts.target[i] for i in self.ats[mark.number] if i in parts.target]
            if targets:
                yield Mark(mark.number, mark.outcome, mark.text, targets[0])
            elif whole:
                yield Mark(mark.number, mark.outcome, mark.text, "")


def _bare(document: Document) -> Parts:
    from .sheet import Band

    zones = list(document.installation.zones) or ["nothing to draw"]
    return Parts(bands={f"zone {z}": Band(f"zone {z}", z) for z in zones})
