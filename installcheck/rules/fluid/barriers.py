"""Fire: how a line crosses a barrier, and what lines and fittings bear in a fire zone."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.fluid.facts import FLAMMABLE, Part, carried, lines, listed, media, zones_of
from ...analysis.fluid.stock import Bears, fitting_bears, line_bears
from ...analysis.study import Study
from ...analysis.zones import stops_fire
from ...model.fluid import Fitting
from ..part_23 import breach
from ..verdicts import Verdict
from ..vocabulary import Subject, rule


@rule(
    "line-through-barrier",
    title="A line crosses a firewall by a fireproof fitting",
    why="An aluminium fitting or a soft grommet melts out of the firewall in a minute and opens the way for fire and for what "
    "the line holds.",
    source="14 CFR 23.1191(f) to (h) as before amendment 23-64 (fittings of steel or copper-base alloy need no test); same "
    "substance in 25.1191 and 125.145",
    formula="material of the fitting: steel or copper base, or stated fireproof (2000 degF for 15 min, AC 20-135)",
    example="an aluminium bulkhead union in the firewall: a steel AN832 of the same size replaces it",
    over="fluid_lines",
)
def line_through_barrier(study: Study) -> Iterator[Verdict]:
    """Every crossing of a line, every fitting fixed in a barrier, and every line that must cross but does not say how."""
    crossed: set[tuple[str, str]] = set()
    named: set[str] = set()
    for barrier, crossings in study.graph.crossings.items():
        for crossing in crossings:
            if crossing.section != "fluid_lines":
                continue
            crossed.add((crossing.ident, barrier))
            subject = Subject(study, (crossing.ident, barrier), crossing.path)
            if crossing.fitting in study.model.fittings:
                named.add(str(crossing.fitting))
                yield _fixed(subject.along(str(crossing.fitting)), barrier, str(crossing.fitting))
            else:
                yield _crossing(subject, barrier, crossing.through)
    for ident, fitting in study.model.fittings.items():
        if fitting.barrier is not None and ident not in named:
            yield _fixed(Subject(study, (ident,), ("fittings", ident)), fitting.barrier, ident)
    for part in lines(study, capillaries=True):
        zones = zones_of(study, part.line) or ()
        for barrier, wall in study.model.barriers.items():
            if set(wall.between) <= set(zones) and (part.ident, barrier) not in crossed:
                subject, stops = Subject(study, (part.ident, barrier), part.path), stops_fire(study, barrier)
                if stops:
                    yield subject.lacks(missing.LINE_BARRIER)
                elif stops is None:
                    yield _unsaid(subject, barrier)


def _crossing(subject: Subject, barrier: str, through: str | None) -> Verdict:
    """A crossing by no fitting of the document."""
    line = subject.ident
    if through is None:
        return subject.lacks(missing.LINE_CROSSED_BY)
    stops = stops_fire(subject.study, barrier)
    if stops is None:
        kept = _grommet(subject, barrier) if through == "fireproof grommet" else None
        return kept if kept is not None and kept.outcome == "meets" else _unsaid(subject, barrier)
    if not stops:
        if through == "open hole":
            return subject.advisory(
                f"line {line} passes an open hole in the {barrier}: its edge chafes it",
                remedy="pass the hole in a grommet or hold the line there in a cushioned clamp",
                source="practice: grommet or cushioned clamp at a bulkhead, US Army AL0907",
            )
        return subject.meets(f"line {line} crosses the {barrier} by a {through}")
    if through == "bulkhead fitting":
        return subject.lacks(missing.LINE_CROSSING_FITTING)
    if through in ("sealed hole", "conduit"):
        return subject.lacks(missing.LINE_CROSSING_SEAL)
    if through == "fireproof grommet":
        return _grommet(subject, barrier)
    return breach(
        subject,
        f"line {line} crosses the {barrier} by {_article(through)}, which does not stop fire",
        remedy="cross by a steel bulkhead fitting held by its nut on both faces",
    )


def _unsaid(subject: Subject, barrier: str) -> Verdict:
    """Nobody says whether the wall stops fire, and what crosses it does not."""
    return subject.placed("barriers", barrier).lacks(missing.BARRIER_KIND)


def _article(word: str) -> str:
    return f"an {word}" if word[0] in "aeiou" else f"a {word}"


def _grommet(subject: Subject, barrier: str) -> Verdict:
    line = subject.study.model.fluid_lines[subject.ident]
    bears = line_bears(line)
    text = f"line {subject.ident} crosses the {barrier} by a fireproof grommet"
    if bears == "unknown":
        return subject.lacks(missing.LINE_FIRE_RATING)
    if bears == "fire":
        return subject.meets(text)
    return breach(
        subject,
        f"{text}, but is itself of {line.spec.material or 'no fire rating'} and burns out of it",
        remedy="cross by a steel bulkhead fitting, or pass the grommet with a steel tube",
    )


def _fixed(subject: Subject, barrier: str, ident: str) -> Verdict:
    """A fitting in a barrier."""
    fitting = subject.study.model.fittings[ident]
    stops = stops_fire(subject.study, barrier)
    if stops is False:
        return subject.meets(f"{barrier} is crossed by the fitting {ident}")
    bears, made = fitting_bears(fitting), fitting.spec.material
    if bears == "fire":
        return subject.meets(f"{barrier} is crossed by the {made or 'fireproof'} fitting {ident}")
    if stops is None:
        return _unsaid(subject, barrier)
    subject = subject.placed("fittings", ident)
    if bears == "unknown":
        return subject.lacks(missing.FITTING_FIRE)
    size = f" {fitting.size}" if fitting.size else ""
    return breach(
        subject,
        f"{barrier} is crossed by the fitting {ident} of {made or 'material'}, which is not fireproof",
        remedy=f"fit a steel bulkhead fitting{size} in its place",
    )


@rule(
    "fire-zone-line",
    title="A line with flammable fluid in a fire zone is at least fire resistant",
    why="A bare rubber hose burns through in seconds and feeds the fire with what it holds.",
    source="14 CFR 23.1183(a) as before amendment 23-64; same substance in 33.17 and 125.157; fire resistant: AC 20-135, 14 CFR 1.1",
    formula="stated rating, fire sleeve, or metal: steel and copper base bear it; aluminium is at odds, see the message",
    example="an unsleeved MIL-H-8794 rubber hose on the engine: a TSO-C53a type D assembly replaces it",
    over=lines,
)
def fire_zone_line(study: Study, subject: Subject, part: Part) -> Verdict | None:
    """Whether it carries what burns, and what it then bears where it runs."""
    told = carried(study, part.ident)
    if told and not told & FLAMMABLE:
        return None
    zones = zones_of(study, part.line)
    bears = line_bears(part.line)
    if bears == "fire":
        return subject.meets(f"line {part.ident} is fire resistant as fitted")
    if zones is None:
        return subject.lacks(missing.LINE_ROUTE)
    burning = [z for z in zones if study.model.zones[z].fire_zone]
    if not burning:
        unsaid = next((z for z in zones if study.model.zones[z].fire_zone is None), None)
        if unsaid is not None:
            return subject.placed("zones", unsaid).lacks(missing.ZONE_FIRE)
        return subject.meets(f"line {part.ident} runs in no fire zone")
    if not told:
        return subject.lacks(missing.LINE_MEDIUM)
    return _in_fire(subject, part, bears, listed(burning), listed(sorted(told & FLAMMABLE)))


def _in_fire(subject: Subject, part: Part, bears: Bears, zone: str, holds: str) -> Verdict:
    spec = part.line.spec
    if bears == "unknown":
        return subject.lacks(missing.LINE_FIRE)
    if bears == "aluminium":
        return subject.advisory(
            f"line {part.ident} of {spec.material} carries {holds} in the fire zone {zone}: the words of 14 CFR 1.1 let aluminium "
            "pass as fire resistant, but it melts near 1100 degF, far below the 2000 degF flame of AC 20-135",
            remedy="use stainless steel tube of the same size, or a fire-resistant hose assembly",
        )
    message = (
        f"{spec.kind or 'line'} {part.ident} of {spec.material or 'no rating'} carries {holds} in the fire zone {zone} "
        "with neither rating nor sleeve"
    )
    remedy = "fit a fire-resistant hose assembly (TSO-C53a type C or D), or a fire sleeve to its full length"
    if holds == "fuel-air mixture":
        return subject.advisory(message, remedy=remedy)
    return breach(subject, message, remedy=remedy)


@rule(
    "fire-zone-fitting",
    title="A fitting with flammable fluid in a fire zone is at least fire resistant",
    why="The fitting goes first: it is small, heated from all sides, and what it lets out feeds the fire.",
    source="14 CFR 23.1183(a) as before amendment 23-64; same substance in 33.17 and 125.157",
    formula="material: steel and copper base bear fire, plastic does not; aluminium is at odds, as for lines",
    example="a plastic tee in an oil line on the engine: a steel tee replaces it",
    over="fittings",
)
def fire_zone_fitting(study: Study, subject: Subject, fitting: Fitting) -> Verdict | None:
    """What it bears, if it is on the fire side and a flammable fluid reaches it."""
    if fitting.barrier is not None:
        return None
    ident = subject.ident
    nodes = {n for e in study.graph.by_thing.get(("fittings", ident), ()) for n in (e.a, e.b)}
    holds = {m for n in nodes for m in media(study).at(n)} & FLAMMABLE
    if not holds:
        return None
    bears = fitting_bears(fitting)
    zone = study.model.zones.get(fitting.zone or "")
    if bears == "fire":
        return subject.meets(f"fitting {ident} is of {fitting.spec.material or 'fireproof make'}")
    if zone is None:
        return subject.lacks(missing.FITTING_ZONE)
    if zone.fire_zone is None:
        return subject.placed("zones", str(fitting.zone)).lacks(missing.ZONE_FIRE)
    if not zone.fire_zone:
        return subject.meets(f"fitting {ident} stands in no fire zone")
    if bears == "unknown":
        return subject.lacks(missing.FITTING_FIRE)
    text = f"fitting {ident} of {fitting.spec.material} holds {listed(sorted(holds))} in the fire zone {fitting.zone}"
    remedy = "fit the same fitting in steel"
    if bears == "aluminium":
        return subject.advisory(f"{text}; aluminium melts near 1100 degF", remedy=remedy)
    if holds == {"fuel-air mixture"}:
        return subject.advisory(text, remedy=remedy)
    return breach(subject, text, remedy=remedy)
