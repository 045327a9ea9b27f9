"""Splices: how many in one wire, how far from its ends, in what heat, and not all in one place of a bundle."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from ...analysis.fluid.facts import listed
from ...analysis.missing import ZONE_TEMPERATURE
from ...analysis.routing import run_ends
from ...analysis.study import Study
from ...graph import total_length
from ...model.installation import split_end
from ...model.quantities import in_unit, plain_number
from ...model.wiring import Junction
from ..verdicts import (
    Verdict,
    advisory,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

_FROM_END_M = 12 * 0.0254
"""12 in from a termination: AC 43.13-1B 11-167e (recalled)."""
_STAGGER_M = 0.0254
"""Closer than 1 in along the bundle two splices lie side by side: a splice is about an inch long."""
_COOLEST_RATING_C = 105.0
"""degC: lowest rating of insulated aircraft splices (recalled)."""
_LENGTH = "length of the run"


@dataclass(frozen=True, slots=True)
class Splice:
    """A splice and the runs that meet in it."""

    ident: str
    junction: Junction
    runs: tuple[str, ...]

    @property
    def in_line(self) -> bool:
        """Whether it lengthens one wire, rather than joining several into one."""
        return len(self.runs) == 2


def splices(study: Study) -> dict[str, Splice]:
    """Every splice that stays, with the runs in it."""
    return study.memo("splices", _splices)


def _splices(study: Study) -> dict[str, Splice]:
    found: dict[str, dict[str, None]] = {
        ident: {} for ident, junction in study.model.junctions.items() if junction.spec.kind == "splice"
    }
    if not found:
        return {}
    for ident, run in study.model.wire_runs.items():
        for end in run_ends(run):
            joint = split_end(end)[0]
            if joint in found:
                found[joint][ident] = None
    return {ident: Splice(ident, study.model.junctions[ident], tuple(runs)) for ident, runs in found.items()}


def _ids(study: Study) -> list[str]:
    return list(splices(study))


@rule(
    "splices-per-run",
    title="A wire has at most one splice between one disconnect and the next",
    why="Each splice is a place to corrode, chafe and part; a wire of pieces hides how it came about.",
    source="AC 43.13-1B 11-167c",
    formula="splices in line between two terminations <= 1; a splice of several wires into one does not count",
    example="three pieces joined by two splices: one new run of their whole length",
    over=_ids,
)
def splices_per_run(study: Study) -> Iterator[Verdict]:
    """Every chain of runs joined by splices in line."""
    known = splices(study)
    beside: dict[str, list[str]] = {}
    for splice in known.values():
        if splice.in_line:
            for run in splice.runs:
                beside.setdefault(run, []).append(splice.ident)
    seen: set[str] = set()
    for first in known.values():
        if first.ident in seen or not first.in_line:
            continue
        chain, runs = [first.ident], dict.fromkeys(first.runs)
        seen.add(first.ident)
        for ident in chain:
            for run in known[ident].runs:
                runs[run] = None
                for other in beside[run]:
                    if other not in seen:
                        seen.add(other)
                        chain.append(other)
        yield _chain(study, chain, list(runs))


def _chain(study: Study, chain: list[str], runs: list[str]) -> Verdict:
    numbers = {"value": len(chain), "limit": 1, "margin": 1 - len(chain), "unit": "splices"}
    at, path = (*chain, *runs), ("junctions", chain[0])
    if len(chain) == 1:
        return meets(at, path, f"runs {listed(runs)} are joined by one splice, {chain[0]}", **numbers)
    lengths = [total_length(study.model.wire_runs[run]) for run in runs]
    whole = sum(one for one in lengths if one is not None)
    told = "" if None in lengths else f" of {plain_number(in_unit(whole, 'ft', 'length'))} ft"
    return discrepancy(
        at,
        path,
        f"runs {listed(runs)} are one wire with {len(chain)} splices, {listed(chain)}; one is the most",
        remedy=f"replace them by one run{told}, or by two with one splice",
        **numbers,
    )


@rule(
    "splice-place",
    title="A splice lies at least 12 in from the ends of its wire, and not beside another in the bundle",
    why="A splice at a terminal takes the bending the wire should take; splices side by side thicken the bundle and rub.",
    source="AC 43.13-1B 11-167d to f (distance recalled; staggering: FAA-H-8083-32 chapter 4)",
    formula="length of the shorter of the two runs joined >= 12 in; splices of one bundle and zone >= 1 in apart along it",
    example="a splice 4 in from a gauge: 8 in short",
    over=_ids,
)
def splice_place(study: Study) -> Iterator[Verdict]:
    """Every splice in line, and every pair of them that could lie side by side."""
    for splice in splices(study).values():
        if splice.in_line:
            yield _distance(study, splice)
    yield from _staggered(study)


def _lengths(study: Study, splice: Splice) -> list[float | None]:
    """Metres of the runs of a splice, and the distance it states."""
    lengths = [total_length(study.model.wire_runs[run]) for run in splice.runs]
    stated = splice.junction.distance_from_end
    return [*lengths, float(stated)] if stated is not None else lengths


def _distance(study: Study, splice: Splice) -> Verdict:
    at, path = (splice.ident, *splice.runs), ("junctions", splice.ident)
    known = [one for one in _lengths(study, splice) if one is not None]
    if len(known) < 2 and min(known, default=1.0) >= _FROM_END_M:
        return undetermined(at, path, _LENGTH, f"{splice.ident}: cannot be judged without the {_LENGTH}")
    inches = in_unit(min(known), "in", "length")
    numbers = {"value": inches, "limit": 12.0, "margin": inches - 12.0, "unit": "in"}
    text = f"splice {splice.ident} lies {plain_number(inches)} in from the end of its wire"
    if min(known) >= _FROM_END_M * 0.999:
        return meets(at, path, text, **numbers)
    return advisory(
        at,
        path,
        f"{text}; 12 in is the least",
        remedy=f"splice {plain_number(12.0 - inches)} in further from the end, or replace the wire whole",
        **numbers,
    )


def _staggered(study: Study) -> Iterator[Verdict]:
    groups: dict[tuple[str, str], list[Splice]] = {}
    for splice in splices(study).values():
        bundles = {study.model.wire_runs[run].bundle for run in splice.runs} - {None}
        for bundle in sorted(str(b) for b in bundles):
            groups.setdefault((bundle, splice.junction.zone or ""), []).append(splice)
    for (bundle, _), group in groups.items():
        if len(group) < 2:
            continue
        placed: list[tuple[float, float, Splice]] = []
        for splice in group:
            lengths = [total_length(study.model.wire_runs[run]) for run in splice.runs]
            if None in lengths or not lengths:
                yield undetermined((splice.ident, bundle), ("junctions", splice.ident), _LENGTH)
            else:
                known = sorted(one for one in lengths if one is not None)
                placed.append((known[0], known[-1], splice))
        placed.sort(key=lambda one: one[:2])
        close = [
            (a[2], b[2])
            for a, b in pairwise(placed)
            if b[0] - a[0] < _STAGGER_M and abs(b[1] - a[1]) < _STAGGER_M
        ]
        for one, other in close:
            yield advisory(
                (one.ident, other.ident, bundle),
                ("junctions", one.ident),
                f"splices {one.ident} and {other.ident} lie side by side in the bundle {bundle}",
                remedy="move one an inch or more along the bundle",
                source="FAA-H-8083-32 chapter 4; AC 43.13-1B 11-167f",
            )
        if placed and not close:
            yield meets(
                (placed[0][2].ident, bundle),
                ("bundles", bundle),
                f"the {len(placed)} splices of the bundle {bundle} are staggered",
            )


@rule(
    "splice-heat",
    title="A splice is rated for the heat of its zone",
    why="The sleeve of an ordinary splice softens at 105 degC and lets the barrel touch its neighbours.",
    source="the part's own limit; 105 degC for insulated splices of no stated rating (recalled)",
    formula="hottest temperature of its zone < rating of the splice",
    example="a splice of 105 degC in an engine zone of 120 degC: 15 degC over",
    over=_ids,
)
def splice_heat(study: Study) -> Iterator[Verdict]:
    """Every splice."""
    for ident, splice in splices(study).items():
        at, path = (ident,), ("junctions", ident)
        own, zone = splice.junction.temperature, splice.junction.zone
        hottest = own.highest if own is not None else study.hottest(zone) if zone is not None else None
        rating = splice.junction.spec.temperature_rating
        if hottest is None:
            yield undetermined(at, path, "zone of the splice" if zone is None else ZONE_TEMPERATURE)
        elif rating is None and hottest >= _COOLEST_RATING_C:
            yield undetermined(at, path, "temperature rating of the splice")
        else:
            most = float(rating) if rating is not None else _COOLEST_RATING_C
            unit = rating.unit if rating is not None else "degC"
            got, limit = in_unit(hottest, unit, "temperature"), in_unit(most, unit, "temperature")
            text = f"splice {ident} sees {got:.4g} {unit} and lasts to {limit:.4g} {unit}"
            numbers = {"value": got, "limit": limit, "margin": limit - got, "unit": unit}
            if hottest < most:
                yield meets(at, path, text, **numbers)
            else:
                yield discrepancy(
                    at, path, text, remedy="run the wire through that zone in one piece", **numbers
                )
