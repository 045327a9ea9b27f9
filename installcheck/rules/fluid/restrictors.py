"""Restrictors at the source of pressure, their bore, and how a broken line is shut off."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.fluid.facts import (
    LIQUID,
    MEDIUM,
    Part,
    carried,
    is_supply_line,
    listed,
    media,
    pressurised,
    readers,
    runs,
)
from ...analysis.fluid.leaks import (
    RESTRICTOR_BORE,
    USUAL_BORE,
    Leak,
    leaks,
)
from ...analysis.fluid.losses import (
    duration,
    oil_lasts,
    rate,
    shut_time,
    spilled,
    volume,
)
from ...analysis.study import Study
from ...graph.media import Feed, line_bore
from ...model.fields import Medium
from ...model.quantities import in_unit, plain_number, show
from ...physics.flow import area_ratio
from ..verdicts import (
    Verdict,
    advisory,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule
from .part_23 import breach

_INCH = 0.0254
_HARDLY = 0.25
"""Share of the line's area from which a hole hardly restricts: half the bore."""
_ONE_QUART = 231 * _INCH**3 / 4
"""1 US qt, the escape limit after shutoff of 14 CFR 23.1189 (recalled; for more than one engine), taken as a yardstick."""
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
    over="fluid_lines",
)
def restrictor_at_source(study: Study) -> Iterator[Verdict]:
    """Every instrument line a liquid that burns is pressed into."""
    flooded = media(study)
    for part in runs(study):
        if is_supply_line(study, part.ident):
            continue
        if not carried(study, part.ident):
            yield undetermined((part.ident,), part.path, MEDIUM)
            continue
        entries = [
            (node, feed)
            for node, feed in flooded.into_line(part.ident)
            if feed.source.medium in _RESTRICTED and pressurised(study, feed)
        ]
        if not entries:
            if carried(study, part.ident) & _RESTRICTED and not flooded.in_line(part.ident) & _RESTRICTED:
                yield undetermined((part.ident,), part.path, "tap the line takes its medium from")
            continue
        bare = [
            way
            for node, feed in entries
            if (way := flooded.unrestricted(node, feed.source.medium)) is not None and _is_before(way, part)
        ]
        if bare:
            yield _unprotected(study, part, bare[0])
        else:
            yield _protected(study, part, entries[0][1])


def _is_before(way: Feed, part: Part) -> bool:
    """Whether a way comes to the line rather than through it."""
    return way.last is None or way.last.edge.line is None or way.last.edge.ident != part.ident


def _unprotected(study: Study, part: Part, way: Feed) -> Verdict:
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
    remedy = f"screw a restrictor of 0.040 in bore into the port of {way.source.ident}, before any tee"
    if leak is not None:
        small = leak.flow_with(USUAL_BORE)
        message += (
            f"; broken at its start it leaks {rate(leak.flow)} at {show(leak.pressure, 'psi', 'pressure')}"
        )
        message += _lasting(study, leak, leak.flow)
        remedy += f": the leak is then {rate(small)}{_lasting(study, leak, small)}"
    at = (part.ident, way.source.ident, *late)
    return breach(study, at, part.path, message, remedy=remedy)


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


def _protected(study: Study, part: Part, feed: Feed) -> Verdict:
    leak = next(iter(leaks(study, part).each), None)
    message = f"line {part.ident} lies behind the restrictor {listed(list(feed.restrictors))} at {feed.source.ident}"
    if leak is None:
        return meets((part.ident, *feed.restrictors), part.path, message)
    message += f"; broken at its start it leaks {rate(leak.flow)}{_lasting(study, leak, leak.flow)}"
    return meets((part.ident, *feed.restrictors), part.path, message)


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


def _behind(study: Study) -> dict[str, list[tuple[Part, Leak | None, tuple[str, ...]]]]:
    """For each restrictor, the lines fed through it with their worst leak and what is missing to know it."""
    found: dict[str, list[tuple[Part, Leak | None, tuple[str, ...]]]] = {}
    for part in runs(study):
        if is_supply_line(study, part.ident):
            continue
        passed = {
            r
            for _, feed in media(study).into_line(part.ident)
            if feed.source.medium in _RESTRICTED and pressurised(study, feed)
            for r in feed.restrictors
        }
        known = leaks(study, part)
        for ident in passed:
            found.setdefault(ident, []).append((part, next(iter(known.each), None), known.missing))
    return found


@rule(
    "restrictor-bore",
    title="A restrictor is small enough to restrict",
    why="A hole of half the bore passes nearly as much as the line. Even a small one empties an engine in minutes: the time is "
    "what counts, not that a restrictor is there.",
    source="No rule names a bore. 0.040 in is practice (recalled); half the bore is a quarter of the area, 14 CFR 23.1337(a)(2)(i)",
    formula="area ratio (d/D)^2 < 0.25; bore <= 0.040 in; leak with Cd 0.80",
    example="0.040 in in a line of 0.180 in bore: 4.9 % of the area; oil at 60 psi 1.22 L/min, 4 US qt in 3.1 min",
    over=lambda study: list(study.memo("lines behind restrictors", _behind)),
)
def restrictor_bore(study: Study) -> Iterator[Verdict]:
    """Every restrictor that liquid under pressure passes on its way to an instrument line."""
    for ident, behind in study.memo("lines behind restrictors", _behind).items():
        fitting = study.model.fittings[ident]
        at, path = (ident,), ("fittings", ident)
        hole = fitting.spec.bore
        if hole is None:
            yield undetermined(at, path, RESTRICTOR_BORE)
            continue
        bores = [b for part, _, _ in behind if (b := line_bore(part.line)) is not None]
        known = [leak for _, leak, _ in behind if leak is not None]
        lacking = tuple(dict.fromkeys(m for _, _, missing in behind for m in missing))
        if not bores or (not known and lacking):
            yield undetermined(at, path, lacking or ("bore of the line behind it",))
            continue
        worst = max(known, key=lambda leak: leak.flow, default=None)
        share = area_ratio(float(hole), min(bores))
        text = (
            f"restrictor {ident} of {hole.text} has {plain_number(100 * share, 2)} % of the area of its line"
        )
        if worst is not None:
            text += f" and passes {rate(worst.flow)} to a break{_lasting(study, worst, worst.flow)}"
        inches = in_unit(hole, "in", "length")
        usual = 0.040
        if share >= _HARDLY:
            yield discrepancy(
                at,
                path,
                f"{text}: it hardly restricts",
                value=100 * share,
                limit=100 * _HARDLY,
                margin=100 * (_HARDLY - share),
                unit="%",
                remedy=_smaller(study, worst),
            )
        elif hole > USUAL_BORE * 1.001:
            yield advisory(
                at,
                path,
                f"{text}; 0.040 in is the usual bore",
                value=inches,
                limit=usual,
                margin=usual - inches,
                unit="in",
                remedy=_smaller(study, worst),
            )
        else:
            yield meets(at, path, text, value=inches, limit=usual, margin=usual - inches, unit="in")


def _smaller(study: Study, leak: Leak | None) -> str:
    if leak is None:
        return "fit a restrictor of 0.040 in bore"
    flow = leak.flow_with(USUAL_BORE)
    return f"fit a restrictor of 0.040 in bore: the leak is then {rate(flow)}{_lasting(study, leak, flow)}"


@rule(
    "fuel-line-shutoff",
    title="A fuel source that feeds instrument lines can be shut before much runs out",
    why="What has leaked when the cock is reached, and what the line still drains, is what burns.",
    source="14 CFR 23.1189 (recalled): one US quart after shutoff, a rule for more than one engine, taken as a yardstick",
    formula="V = Q t + volume of the line, against 1 US qt",
    example="0.65 L/min for 20 s and 33 mL in the line: 0.25 L, 0.26 US qt",
    over="taps",
)
def fuel_line_shutoff(study: Study) -> Iterator[Verdict]:
    """Every fuel tap with an instrument line, by its worst break."""
    worst: dict[str, Leak] = {}
    fed: set[str] = set()
    for part in runs(study):
        if is_supply_line(study, part.ident):
            continue
        for _, feed in media(study).into_line(part.ident):
            if feed.source.medium == "fuel" and pressurised(study, feed):
                fed.add(feed.source.ident)
        for leak in leaks(study, part).each[:1]:
            for name in leak.taps:
                if name not in worst or leak.flow > worst[name].flow:
                    worst[name] = leak
    for ident, tap in study.model.taps.items():
        if ident not in fed:
            continue
        at, path = (ident,), ("taps", ident)
        missing = [
            w
            for w, v in (
                ("cock or switch that shuts the fuel tap ('shutoff')", tap.shutoff),
                ("time until the fuel tap can be shut ('shutoff_time')", tap.shutoff_time),
            )
            if v is None
        ]
        known = worst.get(ident)
        out = spilled(study, known, known.flow) if known is not None else None
        if missing:
            yield undetermined(at, path, missing)
        elif known is None or out is None:
            yield undetermined(at, path, "bore and length of the lines it feeds, and its pressure")
        else:
            yield _quart(ident, str(tap.shutoff), out, known)


def _quart(ident: str, shutoff: str, out: float, leak: Leak) -> Verdict:
    quarts = out / _ONE_QUART
    text = f"a break leaks {rate(leak.flow)}: {volume(out)} of fuel from {ident} run out before '{shutoff}' shuts it and the line drains"
    numbers = {"value": quarts, "limit": 1.0, "margin": 1 - quarts, "unit": "qt"}
    if out <= _ONE_QUART:
        return meets((ident,), ("taps", ident, "shutoff_time"), text, **numbers)
    return advisory(
        (ident,),
        ("taps", ident, "shutoff_time"),
        f"{text}, more than 1 US qt",
        remedy="fit a smaller restrictor at the tap, or a shutoff that is reached sooner",
        **numbers,
    )
