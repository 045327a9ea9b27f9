"""Protectors themselves: near what feeds them, and rated above what they feed."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.power.feeds import behind_protectors, branches
from ...analysis.power.guards import Guard, guards
from ...analysis.power.wiring import PROTECTORS, RATING
from ...analysis.study import Study
from ...document.source import DocPath
from ...graph import total_length
from ...model.quantities import in_unit, plain_number
from ...physics.ampacity import smallest_rating
from ..verdicts import (
    Verdict,
    advisory,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule
from .protection import LENGTH, NEAR, TAP_M

_BATTERY_M = 72 * 0.0254
"""72 in: bare wire from a battery post, in a sheath; ABYC E-11, recalled."""


@rule(
    "protector-near-source",
    title="A protector sits close to the source or bus that feeds it",
    why="The wire before the protector has none: a short there is fed by the whole battery.",
    source=NEAR,
    formula="bare wire between the source, or the last protector small enough for it, and the protector",
    example="bus tap of 18 AWG, 3 in to its breaker: 3 in of 7 in",
    over=lambda study: [i for i, s in study.model.supplies.items() if s.spec.kind in PROTECTORS],
)
def protector_near_source(study: Study) -> Iterator[Verdict]:
    """Every protector that a wire leads to which is not covered by another before it."""
    hung = branches(study)
    for key, guard in guards(study).items():
        branch = hung.get(key)
        ident = guard.far.partition(".")[0]
        supply = study.model.supplies.get(ident)
        if branch is None or supply is None or supply.spec.kind not in PROTECTORS or guard.bare == 0.0:
            continue
        if guard.origin == "unknown" or branch.starter:
            continue
        yield _near(study, key[0], ident, guard)


def _near(study: Study, run: str, ident: str, guard: Guard) -> Verdict:
    supply = study.model.supplies[ident]
    stated = supply.distance_from_source
    at = (ident, run)
    path: DocPath = ("supplies", ident) if stated is None else ("supplies", ident, "distance_from_source")
    bare = guard.bare if stated is None else max(float(stated), guard.bare or 0.0)
    if bare is None:
        missing = (
            LENGTH if total_length(study.model.wire_runs[run]) is None else "lengths of the runs before it"
        )
        return undetermined(at, path, missing)
    origin = study.model.supplies.get(guard.origin)
    battery = not guard.protectors and origin is not None and origin.spec.kind == "battery"
    most = _BATTERY_M if battery else TAP_M
    inches, limit = in_unit(bare, "in", "length"), in_unit(most, "in", "length")
    numbers = {"value": inches, "limit": limit, "margin": limit - inches, "unit": "in"}
    before = guard.origin if not guard.protectors else guard.near.partition(".")[0]
    text = f"{ident} stands {plain_number(inches)} in from {before}, with no protector small enough for that wire"
    if bare <= most * 1.0001:
        return meets(at, path, text, **numbers)
    return advisory(
        at,
        path,
        f"{text}; {plain_number(limit)} in is the most by practice",
        remedy=f"move it within {plain_number(limit)} in of {before}, or feed it by a wire the protector before it covers",
        **numbers,
    )


@rule(
    "protector-above-load",
    title="A protector is rated above the loads behind it, and an alternator's above its output",
    why="A breaker loaded to its rating trips in a warm panel, and takes its indications with it.",
    source="AC 43.13-1B 11-48; plain physics",
    formula="sum of the loads behind it < rating; rated output of the alternator behind it <= rating",
    example="0.45 A of gauges behind 5 A: 4.55 A to spare",
    over=lambda study: [i for i, s in study.model.supplies.items() if s.spec.kind in PROTECTORS],
)
def protector_above_load(study: Study) -> Iterator[Verdict]:
    """Every protector with a load or an alternator behind it."""
    for ident, behind in behind_protectors(study).items():
        if not (behind.loads or behind.sources):
            continue
        rating = study.model.supplies[ident].spec.rating
        path: DocPath = ("supplies", ident)
        if rating is None or behind.missing:
            yield undetermined((ident,), path, (*behind.missing, *((RATING,) if rating is None else ())))
            continue
        amps, rated = max(behind.load, behind.sources), float(rating)
        numbers = {"value": amps, "limit": rated, "margin": rated - amps, "unit": "A"}
        text = f"{ident} of {rating.text} has {plain_number(amps)} A behind it"
        if behind.load < rated and behind.sources <= rated:
            yield meets((ident,), path, text, **numbers)
        elif behind.load > rated:
            larger = smallest_rating("breaker", behind.load, 1e6)
            remedy = (
                f"fit {plain_number(larger)} A, with wire behind it to match" if larger else "part the loads"
            )
            yield discrepancy((ident,), (*path, "rating"), f"{text}: it trips", remedy=remedy, **numbers)
        else:
            yield advisory(
                (ident,),
                (*path, "rating"),
                f"{text} and may trip in a warm panel",
                remedy="fit the next larger rating, with wire to match",
                **numbers,
            )
