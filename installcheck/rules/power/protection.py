"""Breakers and fuses: each wire covered by one it can bear, close to what feeds it, and above the load behind it."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.fluid.facts import listed
from ...analysis.power.feeds import Branch, behind_protectors, branches
from ...analysis.power.guards import (
    Guard,
    guards,
    suits,
    together,
)
from ...analysis.power.wire_limits import (
    RATING,
    chart_amps,
    sizes,
    table_amps,
    wire_limit,
)
from ...analysis.power.wiring import RATING as PROTECTOR_RATING
from ...analysis.power.wiring import Key
from ...analysis.routing import GAUGE
from ...analysis.study import Study
from ...document.source import DocPath
from ...model.quantities import Gauge, in_unit, plain_number
from ...physics.ampacity import standard_ratings
from ..verdicts import (
    Verdict,
    advisory,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

TAP_M = 7 * 0.0254
"""7 in: bare wire from a source or bus to its protector. AC 43.13-1B 11-47 says 'as close as possible' and gives no figure; this
is the one of the small-craft standard ABYC E-11, recalled."""
LENGTH = "length of the run"
NEAR = "AC 43.13-1B 11-47 (as close to the source as possible); 7 in, or 72 in from a battery: ABYC E-11 (recalled)"
_COMMON_RATING_C = 150.0
"""degC: rating of most wire stocked, for a remedy; AS22759/16, /32 and /34, recalled."""
_FEED = "wiring from the battery or bus to the run"
NEAR = "AC 43.13-1B 11-47 (as close to the source as possible); 7 in, or 72 in from a battery: ABYC E-11 (recalled)"


def _guarded(study: Study) -> list[Key]:
    return study.memo("guarded conductors", lambda c: list(guards(c)))


@rule(
    "wire-protected",
    title="Every wire on the way to a load has a breaker or fuse before it that opens before the wire is harmed",
    why="A wire that shorts to structure carries all the battery gives until something opens. If that is not the breaker, it is "
    "the wire, on fire.",
    source="AC 43.13-1B 11-47, 11-48, tables 11-3 and 11-9; starter circuits apart: 14 CFR 23.1357 (recalled)",
    formula="protector rating <= table 11-3 for the gauge, and <= table 11-9 for gauge and wire rating",
    example="20 AWG, 150 degC: 7.5 A by table 11-3, 7 A by 11-9. A 5 A breaker passes both, 7.5 A only the first, 10 A neither",
    over=lambda study: [ident for ident, _ in _guarded(study)],
)
def wire_protected(study: Study) -> Iterator[Verdict]:
    """Every conductor between a source and a load, but those that lead only to a protector of their own."""
    hung = branches(study)
    for key, guard in guards(study).items():
        branch = hung.get(key)
        if branch is None or (branch.protectors and not branch.bare and guard.bare != 0.0):
            continue
        yield _covered(study, key, guard, branch)
    for ident in _unfed(study):
        yield undetermined((ident,), ("wire_runs", ident), _FEED)


def _unfed(study: Study) -> list[str]:
    """Runs that lead to a load or an indicator's supply from no battery, bus or protector that is drawn."""
    known = guards(study)
    found: dict[str, None] = {}
    for load in study.graph.edges:
        if load.kind == "load" and load.section in ("loads", "indicators"):
            for edge in study.graph.at(load.a):
                if edge.kind == "conductor" and (edge.ident, edge.name) not in known:
                    found[edge.ident] = None
    return list(found)


def _covered(study: Study, key: Key, guard: Guard, branch: Branch) -> Verdict:
    ident = key[0]
    at: tuple[str, ...] = (ident, *guard.protectors)
    path: DocPath = ("wire_runs", ident)
    if branch.starter:
        return meets(
            (ident,), path, f"run {ident} is part of the starter's main circuit, which needs no protector"
        )
    if not guard.protectors:
        return _unprotected(study, key, guard, branch)
    gauge = gauge_of(study, key)
    fits = suits(study, ident, gauge, guard.protectors)
    if gauge is None or fits is None:
        missing = (
            GAUGE
            if gauge is None
            else PROTECTOR_RATING
            if together(study, guard.protectors)[0] is None
            else wire_limit(study, ident, gauge).missing or RATING
        )
        return undetermined(at, path, missing)
    if not fits:
        return _too_large(study, key, guard, branch, gauge)
    return _by_tables(study, ident, at, path, gauge, guard)


def gauge_of(study: Study, key: Key) -> Gauge | None:
    """Gauge of one conductor of a run."""
    run = study.model.wire_runs[key[0]]
    conductor = (run.conductors or {}).get(key[1])
    return (conductor.gauge if conductor is not None else None) or run.gauge


def _by_tables(
    study: Study, ident: str, at: tuple[str, ...], path: DocPath, gauge: Gauge, guard: Guard
) -> Verdict:
    amps, kind = together(study, guard.protectors)
    assert amps is not None
    rating = study.model.wire_runs[ident].spec.temperature_rating
    chart = chart_amps(str(gauge), kind)
    table = table_amps(str(gauge), float(rating)) if rating is not None else None
    text = f"run {ident} of {gauge} AWG stands behind {_named(study, guard)} of {plain_number(amps)} A"
    if chart is not None and amps <= chart:
        if rating is None:
            return undetermined(at, path, RATING)
        if table is None or amps <= table:
            limit = chart if table is None else min(chart, table)
            return meets(
                at,
                path,
                f"{text}; {limit:.3g} A is the most",
                value=amps,
                limit=limit,
                margin=limit - amps,
                unit="A",
            )
        numbers = {"value": amps, "limit": table, "margin": table - amps, "unit": "A"}
        return advisory(
            at,
            (*path, "gauge"),
            f"{text}; table 11-3 allows {plain_number(chart)} A but table 11-9 only {plain_number(table)} A at {rating.text}",
            remedy=_either(study, guard, gauge, amps),
            **numbers,
        )
    told = f"table 11-3 allows {plain_number(chart)} A" if chart is not None else "table 11-3 has no entry"
    most = max(one for one in (table, wire_limit(study, ident, gauge).amps, 0.0) if one is not None)
    return advisory(
        at,
        (*path, "gauge"),
        f"{text}; {told}, though the wire is good for {plain_number(most)} A where it lies",
        value=amps,
        limit=chart,
        margin=None if chart is None else chart - amps,
        unit="A",
        remedy=_either(study, guard, gauge, amps),
    )


def _named(study: Study, guard: Guard) -> str:
    kinds = {study.model.supplies[p].spec.kind or "protector" for p in guard.protectors}
    word = kinds.pop() if len(kinds) == 1 else "protector"
    return (
        f"{word} {guard.protectors[0]}"
        if len(guard.protectors) == 1
        else f"{word}s {listed(list(guard.protectors))}"
    )


def _too_large(study: Study, key: Key, guard: Guard, branch: Branch, gauge: Gauge) -> Verdict:
    ident = key[0]
    amps, kind = together(study, guard.protectors)
    assert amps is not None
    rating = study.model.wire_runs[ident].spec.temperature_rating
    allowed = max(
        chart_amps(str(gauge), kind) or 0.0,
        (table_amps(str(gauge), float(rating)) if rating is not None else None) or 0.0,
    )
    path: DocPath = ("wire_runs", ident, "gauge")
    text = (
        f"run {ident} of {gauge} AWG stands behind {_named(study, guard)} of {plain_number(amps)} A; {plain_number(allowed)} A is the "
        "most it can bear"
    )
    numbers = {"value": amps, "limit": allowed, "margin": allowed - amps, "unit": "A"}
    short = _short_tap(guard, branch, (ident, *guard.protectors), path, text)
    if short is not None:
        return short
    return discrepancy(
        (ident, *guard.protectors),
        path,
        text,
        remedy=_either(study, guard, gauge, amps),
        **numbers,
    )


def _short_tap(guard: Guard, branch: Branch, at: tuple[str, ...], path: DocPath, text: str) -> Verdict | None:
    """A coil's or a sense wire's tap that is short enough to need no protector of its own."""
    if branch.bare or branch.protectors or branch.sources:
        return None
    if guard.bare is None:
        return undetermined(at, path[:2], LENGTH)
    inches = in_unit(guard.bare, "in", "length")
    if guard.bare > TAP_M * 1.0001:
        return None
    what = "coil" if branch.coil else "sense"
    return meets(
        at,
        path,
        f"{text}, but is a {what} tap {plain_number(inches)} in long",
        value=inches,
        limit=7.0,
        margin=7.0 - inches,
        unit="in",
        source=NEAR,
    )


def _either(study: Study, guard: Guard, gauge: Gauge, amps: float) -> str:
    """A protector that carries its loads and that every wire behind it bears, or a gauge that bears this one."""
    kind = "breaker" if together(study, guard.protectors)[1] == "breaker" else "fuse"
    one = None
    if len(guard.protectors) == 1:
        behind = behind_protectors(study).get(guard.protectors[0])
        weakest: dict[tuple[str, ...], float] = study.memo("weakest wires", _weakest)
        one = _largest_rating(kind, behind.load if behind is not None else 0.0, weakest.get(guard.protectors))
    better = next(
        (g for g in sizes() if Gauge(g).number < gauge.number and _borne(g, kind, _COMMON_RATING_C) >= amps),
        None,
    )
    ways = [f"fit a {plain_number(one)} A {kind}"] if one is not None else []
    ways += [f"use {better} AWG"] if better is not None else []
    return ", or ".join(ways) or "give it a protector of its own at the tap"


def _borne(gauge: str, kind: str, rating: float) -> float:
    """Ampere of a protector a wire bears by both tables, or by the one that has an entry."""
    found = (chart_amps(gauge, kind), table_amps(gauge, rating))
    return min((one for one in found if one is not None), default=0.0)


def _weakest(study: Study) -> dict[tuple[str, ...], float]:
    """Ampere the thinnest wire behind each set of protectors bears; wires that lead on to a protector are left out."""
    hung = branches(study)
    weakest: dict[tuple[str, ...], float] = {}
    for key, guard in guards(study).items():
        gauge, branch = gauge_of(study, key), hung.get(key)
        if gauge is None or branch is None or (branch.protectors and not branch.bare):
            continue
        rating = study.model.wire_runs[key[0]].spec.temperature_rating
        kind = together(study, guard.protectors)[1]
        borne = _borne(str(gauge), kind, float(rating) if rating is not None else _COMMON_RATING_C)
        weakest[guard.protectors] = min(borne, weakest.get(guard.protectors, borne))
    return weakest


def _largest_rating(kind: str, load: float, allowed: float | None) -> float | None:
    """Largest stocked rating above the load that a wire bears."""
    return max((r for r in standard_ratings(kind) if load < r <= (allowed or 0.0)), default=None)


def _unprotected(study: Study, key: Key, guard: Guard, branch: Branch) -> Verdict:
    ident = key[0]
    at, path = (ident,), ("wire_runs", ident)
    if guard.origin == "unknown":
        return undetermined(at, path, _FEED)
    limited = _self_limited(study, guard, key)
    if limited is not None:
        return limited
    text = f"run {ident} has no protector between {guard.origin} and what it feeds"
    short = _short_tap(guard, branch, at, path, text)
    if short is not None:
        return short
    gauge = gauge_of(study, key)
    rating = (
        _largest_rating("breaker", branch.load, chart_amps(str(gauge), "breaker"))
        if gauge is not None
        else None
    )
    size = f"a {plain_number(rating)} A breaker" if rating is not None else "a breaker or fuse"
    return discrepancy(at, path, text, remedy=f"put {size} within 7 in of {guard.near}")


def _self_limited(study: Study, guard: Guard, key: Key) -> Verdict | None:
    """A wire that bears all its source can give: an inverter, or an alternator with no battery beside it."""
    supply = study.model.supplies[guard.origin]
    gauge = gauge_of(study, key)
    if supply.spec.kind in ("battery", "bus") or supply.spec.rated_current is None or gauge is None:
        return None
    amps = float(supply.spec.rated_current)
    allowed = chart_amps(str(gauge), "breaker")
    if allowed is None or amps > allowed:
        return None
    return meets(
        (key[0],),
        ("wire_runs", key[0]),
        f"run {key[0]} of {gauge} AWG bears the {plain_number(amps)} A that {guard.origin} can give",
        value=amps,
        limit=allowed,
        margin=allowed - amps,
        unit="A",
    )
