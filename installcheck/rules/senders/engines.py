"""Of an aircraft with more than one engine: what is shown of an engine comes from that engine."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.fluid.facts import media
from ...analysis.shown import Shown, listed, shown
from ...analysis.study import Study
from ...dataclass import dataclass
from ...document.source import DocPath
from ...graph.indications import source_of
from ..verdicts import Verdict
from ..vocabulary import Subject, rule


@dataclass(frozen=True, slots=True)
class Joined:
    """A gauge or sender, and what it takes its indication from.

    Attributes:
        ident, path: the gauge or sender, and where the document tells of it.
        engine: the engine it is said to serve, if any.
        sources: what it reads, each with the engine it is said to be on, if any.
    """

    ident: str
    path: DocPath
    engine: str | None
    sources: dict[str, str | None]


def joined(study: Study) -> Iterator[Joined]:
    """Inputs by what they read by wire, senders and gauges by the taps that reach their ports; in a single none."""
    if len(study.model.engines) < 2:
        return
    for one in shown(study):
        sources = _wired(study, one)
        if sources:
            yield Joined(one.name, one.path, one.item.engine, sources)
    things = (("senders", study.model.senders), ("indicators", study.model.indicators))
    for section, held in things:
        for ident, thing in held.items():
            taps = _taps(study, ident)
            if taps:
                yield Joined(ident, (section, ident), thing.engine, taps)


def _wired(study: Study, one: Shown) -> dict[str, str | None]:
    return {r.source: source_of(study.graph, r).engine for r in one.reads}


def _taps(study: Study, ident: str) -> dict[str, str | None]:
    """Taps of an engine that reach a port of a thing; one of no engine, such as a tank's, serves any."""
    model = study.model
    nodes = [n for n in study.graph.fluid if n.partition(".")[0] == ident]
    found = {f.source.ident for n in nodes for f in media(study).feeds(n) if f.source.section == "taps"}
    return {tap: model.taps[tap].engine for tap in sorted(found) if model.taps[tap].engine is not None}


@rule(
    "indication-engine",
    title="What is shown of an engine comes from that engine",
    why="Two engines have the same senders side by side in one loom: of exchanged leads the pilot shuts down the good engine.",
    source="14 CFR 23.1301: labelled as to its function; 33.29(a): connections that cannot be crossed or are marked",
    formula="engine of the indicator = engine of what it reads; engine of a sender or gauge = engine of a tap that reaches it",
    example="the left oil temperature gauge joined to the bulb of the right engine",
    over=joined,
)
def indication_engine(study: Study, subject: Subject, one: Joined) -> Verdict | None:
    """An input, or a sender or gauge on a line, of an aircraft with two engines or more."""
    subject = Subject(study, (str(one.path[1]), *one.sources), one.path)
    of = {engine for engine in one.sources.values() if engine is not None}
    if one.engine is None and len(of) < 2:
        return None
    if one.engine is None:
        return subject.meets(f"{one.ident} is of no single engine and reads {listed(sorted(of))}")
    silent = [i for i, engine in one.sources.items() if engine is None]
    other = [i for i, engine in one.sources.items() if engine not in (None, one.engine)]
    if one.engine in of and not other:
        return subject.meets(f"{one.ident} and what it reads are of engine {one.engine}")
    if other and one.engine not in of:
        engines = listed(sorted({str(one.sources[i]) for i in other}))
        return subject.discrepancy(
            f"{one.ident} is of engine {one.engine}, but reads {listed(other)} of engine {engines}",
            remedy=f"join {one.ident} to what is on engine {one.engine}, or put right the engine it is said to serve",
        )
    if other:
        return subject.discrepancy(
            f"{one.ident} is of engine {one.engine}, and reads {listed(other)} of another engine beside its own",
            remedy=f"part it from {listed(other)}",
        )
    return subject.along(*silent).lacks(missing.SOURCE_ENGINE)
