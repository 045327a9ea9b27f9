"""Wires from a load back to ground: a fault in the load sends through them what its protector lets by."""

from __future__ import annotations

from ...analysis import missing
from ...analysis.circuit.drop_paths import consumers
from ...analysis.power.bypasses import leads_round, taking_out, to_take_out
from ...analysis.power.feeds import branches
from ...analysis.power.guards import guards, listed_amps, together
from ...analysis.power.wire_limits import sizes
from ...analysis.study import Study, once
from ...dataclass import dataclass
from ...document.source import DocPath
from ...graph import Edge
from ...model.comparing import at_most
from ...model.quantities import Gauge, plain_number
from ..verdicts import Verdict
from ..vocabulary import Subject, rule, worst_over


@dataclass(frozen=True, slots=True)
class Return:
    """A conductor on the way home of loads, each with the protectors that come first before it, and the wire that feeds it."""

    wire: Edge
    loads: tuple[tuple[str, tuple[str, ...], Edge], ...]

    @property
    def ident(self) -> str:
        return self.wire.ident

    @property
    def path(self) -> DocPath:
        return ("wire_runs", self.wire.ident)


@once
def returns(study: Study) -> list[Return]:
    """Every conductor that loads behind a protector return by, and that feeds nothing itself."""
    found: dict[Edge, dict[str, tuple[tuple[str, ...], Edge]]] = {}
    known, feeding = guards(study), branches(study)
    for one in consumers(study):
        fed = [e for e in one.out or () if e.kind == "conductor"]
        guard = known.get((fed[0].ident, fed[0].name)) if fed else None
        if guard is None or not guard.protectors:
            continue
        for edge in one.back or ():
            branch = feeding.get((edge.ident, edge.name))
            if edge.kind == "conductor" and (branch is None or branch.side == "return"):
                found.setdefault(edge, {})[one.ident] = guard.protectors, fed[0]
    return [Return(wire, tuple((i, *by) for i, by in loads.items())) for wire, loads in found.items()]


@rule(
    "return-protected",
    title="The wire a load returns by bears what the protector of its feed lets by",
    why="A load that fails inside sends through its return all that its breaker holds, for as long as that takes to open.",
    source="plain physics: one current goes out and comes home; figures AC 43.13-1B tables 11-3 and 11-9. 11-47 and 11-48 tell "
    "of the feed: of a return it is good practice",
    formula="rating of the first protector before the load <= table 11-3 for the gauge of the return, or table 11-9",
    example="22 AWG from a pump behind 7.5 A to ground: 5 A is the most it bears",
    over=returns,
)
def return_protected(study: Study, subject: Subject, one: Return) -> Verdict | None:
    """A conductor from a load, an indicator or a coil to ground, by the largest protector of those that use it."""
    run = study.model.wire_runs[one.ident]
    named = (run.conductors or {}).get(one.wire.name)
    gauge = named.gauge if named is not None and named.gauge is not None else run.gauge
    if gauge is None:
        return subject.lacks(missing.RUN_GAUGE)
    return worst_over(one.loads, lambda load: _judged(subject, one.ident, gauge, *load))


def _judged(
    subject: Subject, run: str, gauge: Gauge, load: str, protectors: tuple[str, ...], feed: Edge
) -> Verdict:
    study = subject.study
    amps, kind = together(study, protectors)
    if amps is None:
        return subject.lacks(missing.PROTECTOR_RATING)
    listed = listed_amps(study, run, gauge, kind) or 0.0
    if at_most(amps, listed) and study.model.wire_runs[run].spec.temperature_rating is None:
        return subject.lacks(missing.RUN_RATING)
    told = f"run {run} of {gauge} AWG returns {load}, behind {' and '.join(protectors)} of {plain_number(amps)} A"
    better = next((g for g in sizes() if _bears(study, run, g, kind, amps, than=gauge)), None)
    heavier = f"use {better} AWG" if better is not None else "lead it home by a heavier wire"
    first = taking_out(study, feed.ident) or next(map(to_take_out, leads_round(study, feed.a)), "")
    first = (
        first
        or f"feed {load} behind a protector that its feed {feed.ident} bears; what its return then needs follows from that"
    )
    return subject.field("gauge").at_most(
        amps,
        listed,
        "A",
        told,
        remedy=heavier if _feed_bears(study, feed, kind, amps) else first,
        practice=True,
    )


def _feed_bears(study: Study, feed: Edge, kind: str, amps: float) -> bool:
    """Whether the wire that feeds a load bears its protector; where it does not, the protector is what is wrong."""
    own = feed.conductor.gauge if feed.conductor is not None else None
    gauge = own or (feed.run.gauge if feed.run is not None else None)
    listed = listed_amps(study, feed.ident, gauge, kind) if gauge is not None else None
    return listed is None or at_most(amps, listed)


def _bears(study: Study, run: str, gauge: str, kind: str, amps: float, *, than: Gauge) -> bool:
    listed = listed_amps(study, run, Gauge(gauge), kind)
    return Gauge(gauge).number < than.number and listed is not None and listed >= amps
