"""Splices: how many in one wire, how far from its ends, in what heat, and not all in one place of a bundle."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise

from ...analysis import missing
from ...analysis.fluid.facts import listed
from ...analysis.routing import wires
from ...analysis.study import Study, once
from ...dataclass import dataclass
from ...document.source import DocPath
from ...graph import total_length
from ...graph.joining import groups
from ...model.comparing import at_least, at_most
from ...model.installation import split_end
from ...model.quantities import in_unit, plain_number
from ...model.wiring import Junction
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_FROM_END_IN = 12.0
"""in, from a termination: AC 43.13-1B 11-167e (recalled)."""
_STAGGER_M = 0.0254
"""Closer than 1 in along the bundle two splices lie side by side: a splice is about an inch long."""
_COOLEST_RATING_C = 105.0
"""degC: lowest rating of insulated aircraft splices (recalled)."""


@dataclass(frozen=True, slots=True, eq=False)
class Splice:
    """A splice, and the wires that meet in it: run and conductor within it."""

    ident: str
    junction: Junction
    wires: tuple[tuple[str, str], ...]

    @property
    def runs(self) -> tuple[str, ...]:
        """The runs that meet in it."""
        return tuple(dict.fromkeys(run for run, _ in self.wires))

    @property
    def path(self) -> DocPath:
        """Where the document tells of it."""
        return ("junctions", self.ident)

    @property
    def in_line(self) -> bool:
        """Whether it lengthens one wire, rather than joining several into one."""
        return len(self.runs) == 2


@once
def splices(study: Study) -> dict[str, Splice]:
    """Every splice that stays, with the wires in it."""
    found: dict[str, dict[tuple[str, str], None]] = {
        ident: {} for ident, junction in study.model.junctions.items() if junction.spec.kind == "splice"
    }
    for ident, run in study.model.wire_runs.items():
        for wire in wires(run):
            for joint in (split_end(end)[0] for end in wire.ends):
                if joint in found:
                    found[joint][ident, wire.name] = None
    return {ident: Splice(ident, study.model.junctions[ident], tuple(met)) for ident, met in found.items()}


def _all(study: Study) -> Iterable[Splice]:
    return splices(study).values()


def _in_line(study: Study) -> list[Splice]:
    """Splices that lengthen one wire."""
    return [splice for splice in _all(study) if splice.in_line]


@rule(
    "splices-per-run",
    title="A wire has at most one splice between one disconnect and the next",
    why="Each splice is a place to corrode, chafe and part; a wire of pieces hides how it came about.",
    source="AC 43.13-1B 11-167c; excepted there: potted pigtails, joints of several wires, a change of size, an approved repair",
    formula="splices in line in one conductor between two terminations <= 1; a splice of several wires into one does not count",
    example="three pieces joined by two splices: one new run of their whole length",
    over=_in_line,
)
def splices_per_run(study: Study) -> Iterator[Verdict]:
    """Every chain of conductors joined by splices in line; the legs of a pair are two chains."""
    known = splices(study)
    order = {ident: number for number, ident in enumerate(known)}
    links: list[tuple[object, object]] = [
        (splice.ident, wire) for splice in _in_line(study) for wire in splice.wires
    ]
    for component in groups(links):
        names = sorted((one for one in component if isinstance(one, str)), key=lambda ident: order[ident])
        yield _chain(study, [known[name] for name in names])


def _chain(study: Study, chain: list[Splice]) -> Verdict:
    names = [splice.ident for splice in chain]
    runs = list(dict.fromkeys(run for splice in chain for run in splice.runs))
    lengths = [total_length(study.model.wire_runs[run]) for run in runs]
    whole = sum(one for one in lengths if one is not None)
    told = "" if None in lengths else f" of {plain_number(in_unit(whole, 'ft', 'length'))} ft"
    return Subject(study, (*names, *runs), chain[0].path).at_most(
        len(chain),
        1,
        "splices",
        f"runs {listed(runs)} are joined by one splice, {names[0]}",
        broken=f"runs {listed(runs)} are one wire with {len(chain)} splices, {listed(names)}; one is the most",
        remedy=f"replace them by one run{told}, or by two with one splice",
    )


@rule(
    "splice-place",
    title="A splice lies at least 12 in from the ends of its wire, and not beside another in the bundle",
    why="A splice at a terminal takes the bending the wire should take; splices side by side thicken the bundle and rub.",
    source="AC 43.13-1B 11-167d to f (distance recalled; staggering: FAA-H-8083-32 chapter 4)",
    formula="length of the shorter of the two runs joined >= 12 in; splices of one bundle and zone >= 1 in apart along it",
    example="a splice 4 in from a gauge: 8 in short",
    over=_all,
)
def splice_place(study: Study) -> Iterator[Verdict]:
    """Every splice in line, and every pair of splices that could lie side by side."""
    for splice in _in_line(study):
        yield _distance(study, Subject(study, (splice.ident, *splice.runs), splice.path), splice)
    yield from _staggered(study)


def _lengths(study: Study, splice: Splice) -> list[float | None]:
    """Metres of the runs of a splice."""
    return [total_length(study.model.wire_runs[run]) for run in splice.runs]


def _distance(study: Study, subject: Subject, splice: Splice) -> Verdict:
    stated = splice.junction.distance_from_end
    known = [in_unit(one, "in", "length") for one in (*_lengths(study, splice), stated) if one is not None]
    nearest = min(known, default=None)
    if nearest is None or (len(known) < 2 and at_least(nearest, _FROM_END_IN)):
        return subject.lacks(missing.RUN_LENGTH)
    text = f"splice {splice.ident} lies {plain_number(nearest)} in from the end of its wire"
    return subject.at_least(
        nearest,
        _FROM_END_IN,
        "in",
        text,
        broken=f"{text}; 12 in is the least",
        remedy=f"splice {plain_number(_FROM_END_IN - nearest)} in further from the end, or replace the wire whole",
        practice=True,
    )


def _staggered(study: Study) -> Iterator[Verdict]:
    groups: dict[tuple[str, str], list[Splice]] = {}
    for splice in _all(study):
        bundles = {study.model.wire_runs[run].bundle for run in splice.runs} - {None}
        for bundle in sorted(str(b) for b in bundles):
            groups.setdefault((bundle, splice.junction.zone or ""), []).append(splice)
    for (bundle, _), group in groups.items():
        if len(group) < 2:
            continue
        placed: list[tuple[float, float, Splice]] = []
        for splice in group:
            lengths = _lengths(study, splice)
            known = sorted(one for one in lengths if one is not None)
            if not known or len(known) < len(lengths):
                yield Subject(study, (splice.ident, bundle), splice.path).lacks(missing.RUN_LENGTH)
            else:
                placed.append((known[0], known[-1], splice))
        placed.sort(key=lambda one: one[:2])
        close = [(a[2], b[2]) for a, b in pairwise(placed) if _beside(a[0], b[0]) and _beside(a[1], b[1])]
        for one, other in close:
            yield Subject(study, (one.ident, other.ident, bundle), one.path).advisory(
                f"splices {one.ident} and {other.ident} lie side by side in the bundle {bundle}",
                remedy="move one an inch or more along the bundle",
                source="FAA-H-8083-32 chapter 4; AC 43.13-1B 11-167f",
            )
        if placed and not close:
            yield Subject(study, (placed[0][2].ident, bundle), ("bundles", bundle)).meets(
                f"the {len(placed)} splices of the bundle {bundle} are staggered"
            )


def _beside(one: float, other: float) -> bool:
    return not at_least(abs(one - other), _STAGGER_M)


@rule(
    "splice-heat",
    title="A splice is rated for the heat of its zone",
    why="The sleeve of an ordinary splice softens at 105 degC and lets the barrel touch its neighbours.",
    source="the part's own limit; 105 degC for insulated splices of no stated rating (recalled)",
    formula="hottest temperature of its zone <= rating of the splice",
    example="a splice of 105 degC in an engine zone of 120 degC: 15 degC over",
    over=_all,
)
def splice_heat(study: Study, subject: Subject, splice: Splice) -> Verdict:
    """A splice at its own highest temperature, or its zone's."""
    own, zone = splice.junction.temperature, splice.junction.zone
    hottest = own.highest if own is not None else study.hottest(zone) if zone is not None else None
    rating = splice.junction.spec.temperature_rating
    reached = study.reached(zone) if zone is not None else None
    if hottest is None and rating is not None and reached is not None and not at_most(reached, rating):
        hottest = reached  # a few points are not the hottest a zone gets, and are too hot already
    if hottest is None:
        return subject.lacks(missing.SPLICE_ZONE if zone is None else missing.ZONE_TEMPERATURE)
    if rating is None and not at_most(hottest, _COOLEST_RATING_C):
        return subject.lacks(missing.SPLICE_RATING)
    unit = rating.unit if rating is not None else "degC"
    got = in_unit(hottest, unit, "temperature")
    limit = in_unit(rating if rating is not None else _COOLEST_RATING_C, unit, "temperature")
    return subject.at_most(
        got,
        limit,
        unit,
        f"splice {splice.ident} sees {got:.4g} {unit} and lasts to {limit:.4g} {unit}",
        remedy="run the wire through that zone in one piece",
    )
