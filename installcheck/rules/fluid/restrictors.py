"""Restrictors at the source of pressure, their bore, and how a broken line is shut off."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.fluid.facts import LIQUID, Part, carried, listed, media, pressurised, readers, runs
from ...analysis.fluid.leaks import USUAL_BORE, Leak, leaks, restricting_bore
from ...analysis.fluid.losses import duration, oil_lasts, rate, shut_time, spilled, volume
from ...analysis.fluid.purposes import INSTRUMENT, purpose, taken_from
from ...analysis.missing import Missing
from ...analysis.study import Study, once
from ...dataclass import dataclass
from ...document.source import DocPath
from ...graph.media import Feed, line_bore
from ...model.comparing import at_most
from ...model.fields import Medium
from ...model.fluid import Fitting, Tap
from ...model.quantities import in_unit, plain_number, show
from ...physics.flow import area_ratio
from ..part_23 import breach
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_HARDLY = 0.25
"""Share of the line's area above which a hole hardly restricts: half the bore."""
_RESTRICTED: frozenset[Medium] = LIQUID - {"primer fuel"}
"""A primer line is under pressure only while it is pumped, and a restrictor would defeat it."""


@rule(
    "restrictor-at-source",
    title="A line with flammable liquid under pressure has a restrictor at the source of pressure",
    why="If the line fails, the restrictor is all that keeps the oil in the engine or the fuel out of the zone. One at the "
    "gauge or the firewall leaves everything before it unprotected; a tee before it leaves the branch unprotected.",
    source="14 CFR 23.1337(a)(2)(i), as before amendment 23-64; CAR 3.671 (recalled)",
    formula="every way from every source to the line passes a restrictor; leak as for a line broken at its start",
    example="0.169 in port, 60 psi: 6 US qt of oil gone in 21 s; with a 0.040 in hole at Cd 0.62 in 366 s",
    over=lambda study: (p for p in runs(study) if purpose(study, p.ident).may_be_instrument),
)
def restrictor_at_source(study: Study, subject: Subject, part: Part) -> Verdict | None:
    """An instrument line a liquid that burns is pressed into."""
    flooded, told = media(study), carried(study, part.ident)
    if not told:
        return subject.lacks(missing.LINE_MEDIUM)
    entries = [
        (node, feed)
        for node, feed in flooded.into_line(part.ident)
        if feed.source.medium in _RESTRICTED and pressurised(study, feed)
    ]
    if not entries:
        unfed = told & _RESTRICTED and not flooded.in_line(part.ident) & _RESTRICTED
        return subject.lacks(missing.LINE_TAP) if unfed else None
    if purpose(study, part.ident).word is None:
        return subject.lacks(missing.LINE_PURPOSE)
    for node, feed in entries:
        way = flooded.unrestricted(node, feed.source.medium)
        if way is not None and _is_before(way, part):
            return _unprotected(subject, part, way)
    return _protected(subject, part, entries[0][1])


def _instrument_runs(study: Study) -> Iterator[Part]:
    return (part for part in runs(study) if purpose(study, part.ident).word == INSTRUMENT)


def _is_before(way: Feed, part: Part) -> bool:
    """Whether a way comes to the line rather than through it."""
    return way.last is None or way.last.edge.line is None or way.last.edge.ident != part.ident


def _unprotected(subject: Subject, part: Part, way: Feed) -> Verdict:
    study = subject.study
    late = sorted(
        {
            r
            for _, ident, _ in readers(study, part.ident)
            for r in _restrictors_beyond(study, ident, part.ident)
        }
    )
    message = f"line {part.ident} carries {way.source.medium} from {way.source.ident} with no restrictor at the source"
    if late:
        message += f": {listed(late)} stands beyond it and protects only what follows"
    leak = next(iter(leaks(study, part).each), None)
    bore = line_bore(part.line)
    bore = restricting_bore(bore) if bore is not None else USUAL_BORE
    remedy = _restrict(study, part.ident, way.source.ident, _thousandths(bore))
    if leak is not None:
        small = leak.flow_with(bore)
        message += (
            f"; broken at its start it leaks {rate(leak.flow)} at {show(leak.pressure, 'psi', 'pressure')}"
        )
        message += _lasting(study, leak, leak.flow)
        remedy += f": the leak is then {rate(small)}{_lasting(study, leak, small)}"
    return breach(subject.along(way.source.ident, *late), message, remedy=remedy)


def _thousandths(bore: float) -> str:
    """A bore as a drill is named: ``0.040 in``."""
    return f"{in_unit(bore, 'in', 'length'):.3f} in"


def _restrict(study: Study, line: str, tap: str, bore: str) -> str:
    """Where the restrictor goes: into the tap, or where the line leaves what the engine is fed by, which stays open."""
    port = taken_from(study, line)
    feeding = [
        e.ident
        for e in study.graph.at(tap)
        if e.line is not None and not purpose(study, e.ident).may_be_instrument
    ]
    if port in (None, tap) and not feeding:
        return f"screw a restrictor of {bore} bore into the port of {tap}, before any tee"
    return f"put a restrictor of {bore} bore at {port or tap} in the line to the instrument alone, and none in what feeds the engine"


def _restrictors_beyond(study: Study, reader: str, line: str) -> Iterator[str]:
    """Restrictors that stand on the way to a reader after a line."""
    flooded = media(study)
    for node in _ports(study, reader):
        for feed in flooded.feeds(node):
            passed = False
            for hop in feed.hops:
                passed = passed or hop.edge.ident == line
                if passed and hop.edge.ident in feed.restrictors:
                    yield hop.edge.ident


def _ports(study: Study, ident: str) -> Iterator[str]:
    found = study.model.find(ident)
    names = getattr(found[1].spec, "ports", None) if found is not None and hasattr(found[1], "spec") else None
    for name in names or ("P",):
        yield f"{ident}.{name}"


def _protected(subject: Subject, part: Part, feed: Feed) -> Verdict:
    leak = next(iter(leaks(subject.study, part).each), None)
    message = f"line {part.ident} lies behind the restrictor {listed(list(feed.restrictors))} at {feed.source.ident}"
    if leak is not None:
        message += (
            f"; broken at its start it leaks {rate(leak.flow)}{_lasting(subject.study, leak, leak.flow)}"
        )
    return subject.along(*feed.restrictors).meets(message)


def _lasting(study: Study, leak: Leak, flow: float) -> str:
    """What a leak takes away, in time or volume; empty where the document does not tell."""
    medium = study.model.taps[leak.taps[0]].medium
    if medium == "oil":
        lasts = oil_lasts(study, leak, flow)
        return f", the oil {lasts[1]} in {duration(lasts[0])}" if lasts is not None else ""
    seconds = shut_time(study, leak)
    if medium != "fuel" or seconds is None:
        return ""
    return f", {volume(flow * seconds)} before it is shut in {duration(seconds)}"


@dataclass(slots=True)
class _Restrictor:
    """A restrictor with the instrument lines behind it.

    Attributes:
        bores: bores of those lines that give one, in metres.
        worst: the worst leak of those lines; ``None`` if none is known.
        missing: what is missing to know the others.
    """

    ident: str
    fitting: Fitting
    path: DocPath
    bores: list[float]
    worst: Leak | None
    missing: dict[Missing, None]


@once
def _restrictors(study: Study) -> tuple[_Restrictor, ...]:
    found: dict[str, _Restrictor] = {}
    for part in _instrument_runs(study):
        passed = {
            r
            for _, feed in media(study).into_line(part.ident)
            if feed.source.medium in _RESTRICTED and pressurised(study, feed)
            for r in feed.restrictors
        }
        known, bore = leaks(study, part), line_bore(part.line)
        worst = next(iter(known.each), None)
        for ident in passed:
            fitting = study.model.fittings[ident]
            one = found.setdefault(ident, _Restrictor(ident, fitting, ("fittings", ident), [], None, {}))
            one.missing.update(dict.fromkeys(known.missing))
            if bore is not None:
                one.bores.append(bore)
            if worst is not None and (one.worst is None or worst.flow > one.worst.flow):
                one.worst = worst
    return tuple(found.values())


@rule(
    "restrictor-bore",
    title="A restrictor is small enough to restrict",
    why="A hole of half the bore passes nearly as much as the line. Even a small one empties an engine in minutes: the time is "
    "what counts, not that a restrictor is there.",
    source="No rule names a bore. 0.040 in is practice (recalled); half the bore is a quarter of the area, 14 CFR 23.1337(a)(2)(i)",
    formula="area ratio (d/D)^2 <= 0.25; bore <= 0.040 in; leak with Cd 0.80",
    example="0.040 in in a line of 0.180 in bore: 4.9 % of the area; oil at 60 psi 1.22 L/min, 4 US qt in 3.1 min",
    over=_restrictors,
)
def restrictor_bore(study: Study, subject: Subject, one: _Restrictor) -> Verdict:
    """A restrictor that liquid under pressure passes on its way to an instrument line."""
    hole, worst = one.fitting.spec.bore, one.worst
    if hole is None:
        return subject.lacks(missing.FITTING_BORE)
    if not one.bores or (worst is None and one.missing):
        return subject.lacks(*(one.missing or (missing.LINE_BORE_BEHIND,)))
    share = area_ratio(float(hole), min(one.bores))
    text = (
        f"restrictor {one.ident} of {hole.text} has {plain_number(100 * share, 2)} % of the area of its line"
    )
    if worst is not None:
        text += f" and passes {rate(worst.flow)} to a break{_lasting(study, worst, worst.flow)}"
    if not at_most(share, _HARDLY):
        return subject.at_most(
            100 * share,
            100 * _HARDLY,
            "%",
            f"{text}: it hardly restricts",
            remedy=lambda: _smaller(study, one),
        )
    return subject.at_most(
        in_unit(hole, "in", "length"),
        in_unit(USUAL_BORE, "in", "length"),
        "in",
        text,
        broken=f"{text}; 0.040 in is the usual bore",
        remedy=lambda: _smaller(study, one),
        practice=True,
    )


def _smaller(study: Study, one: _Restrictor) -> str:
    bore = restricting_bore(*one.bores)
    text = f"fit a restrictor of {_thousandths(bore)} bore"
    if one.worst is None:
        return text
    flow = one.worst.flow_with(bore)
    return f"{text}: the leak is then {rate(flow)}{_lasting(study, one.worst, flow)}"


@rule(
    "fuel-line-shutoff",
    title="A fuel source that feeds instrument lines can be shut before much runs out",
    why="What has leaked when the cock is reached, and what the line still drains, is what burns.",
    source="14 CFR 23.1189(a)(5) as before amendment 23-64 (the quart recalled): one US quart after shutoff, or the rest contained; a rule for more than one engine, taken as a yardstick",
    formula="V = Q t + volume of the line, against 1 US qt",
    example="0.65 L/min for 20 s and 33 mL in the line: 0.25 L, 0.26 US qt",
    over="taps",
)
def fuel_line_shutoff(study: Study, subject: Subject, tap: Tap) -> Verdict | None:
    """A fuel tap with an instrument line, by its worst break."""
    fed = _fuel_fed(study)
    if subject.ident not in fed:
        return None
    if tap.shutoff is None or tap.shutoff_time is None:
        return subject.lacks(missing.TAP_SHUTOFF if tap.shutoff is None else missing.TAP_SHUTOFF_TIME)
    leak = fed[subject.ident]
    if leak is None or leak.holds is None:
        return subject.lacks(missing.LINE_FEED)
    out = spilled(study, leak, leak.flow)
    if out is None:
        silent = [t for t in leak.taps if study.model.taps[t].shutoff_time is None]
        told = f"a break of the line that {subject.ident} feeds is fed by {listed(silent)} too, which does not say how it is shut"
        return subject.along(*silent).lacks(missing.TAP_SHUTOFF_TIME, because=told)
    text = (
        f"a break leaks {rate(leak.flow)}: {volume(out)} of fuel from {subject.ident} run out before '{tap.shutoff}' shuts it "
        "and the line drains"
    )
    return subject.field("shutoff_time").at_most(
        in_unit(out, "qt", "volume"),
        1.0,
        "qt",
        text,
        broken=f"{text}, more than 1 US qt",
        remedy="fit a smaller restrictor where the instrument line is taken off, or a shutoff that is reached sooner",
        practice=True,
    )


@once
def _fuel_fed(study: Study) -> dict[str, Leak | None]:
    """The worst leak of the instrument lines each fuel tap feeds, if it is known."""
    fed: dict[str, Leak | None] = {}
    for part in _instrument_runs(study):
        for _, feed in media(study).into_line(part.ident):
            if feed.source.medium == "fuel" and pressurised(study, feed):
                fed.setdefault(feed.source.ident, None)
        for leak in leaks(study, part).each[:1]:
            for name in leak.taps:
                worst = fed.get(name)
                if worst is None or leak.flow > worst.flow:
                    fed[name] = leak
    return {name: leak for name, leak in fed.items() if study.model.taps[name].medium == "fuel"}
