"""Breakers and fuses: each wire covered by one that it can bear."""

from __future__ import annotations

from ...analysis import missing
from ...analysis.fluid.facts import listed
from ...analysis.power.bypasses import Breaking, leads_round, taken_out, to_take_out
from ...analysis.power.feeds import Branch, beyond
from ...analysis.power.guards import (
    NEAR,
    TAP_M,
    Guard,
    PowerWire,
    borne_source,
    left_to_itself,
    listed_amps,
    power_wires,
    suits,
    together,
)
from ...analysis.power.wire_limits import chart_amps, sizes, table_amps, wire_limit
from ...analysis.study import Study, once
from ...model.comparing import at_most
from ...model.edits import Edit, Put
from ...model.quantities import Gauge, in_unit, plain_number
from ...physics.ampacity import standard_ratings
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_COMMON_RATING_C = 150.0
"""degC: rating of most wire stocked, for a remedy; AS22759/16, /32 and /34, recalled."""


@rule(
    "wire-protected",
    title="Every wire on the way to a load has a breaker or fuse before it that opens before the wire is harmed",
    why="A wire that shorts to structure carries all the battery gives until something opens. If that is not the breaker, it is "
    "the wire, on fire.",
    source="AC 43.13-1B 11-47, 11-48, tables 11-3 and 11-9; starter circuits apart: 14 CFR 23.1357(a)(1) (second-hand)",
    formula="protector rating <= table 11-3 for the gauge, and <= table 11-9 for gauge and wire rating; a wire good for it where it "
    "lies, one size larger",
    example="20 AWG, 150 degC: 7.5 A by table 11-3, 7 A by 11-9. A 5 A breaker passes both, 7.5 A only the first, 10 A neither",
    over=power_wires,
)
def wire_protected(study: Study, subject: Subject, wire: PowerWire) -> Verdict | None:
    """A conductor between a source and a load, unless it is the short way to a protector of its own."""
    guard, branch = wire.guard, wire.branch
    if guard is None or branch is None:
        return subject.lacks(missing.RUN_FEED)
    if branch.protectors and not branch.bare and guard.bare != 0.0 and left_to_itself(study, wire, guard):
        return None
    if branch.starter:
        return subject.meets(
            f"run {wire.ident} is part of the starter's main circuit, which needs no protector"
        )
    if not guard.protectors:
        return _unprotected(subject, wire, guard, branch)
    subject = subject.along(*guard.protectors)
    if wire.gauge is None:
        return subject.lacks(missing.RUN_GAUGE)
    amps, kind = together(study, guard.protectors)
    if amps is None:
        return subject.lacks(missing.PROTECTOR_RATING)
    fits = suits(study, wire.ident, wire.gauge, guard.protectors)
    if fits is None:
        return subject.lacks(*(wire_limit(study, wire.ident, wire.gauge).missing or (missing.RUN_RATING,)))
    text = (
        f"run {wire.ident} of {wire.gauge} AWG stands behind {_named(study, guard)} of {plain_number(amps)} A"
    )
    if not fits:
        return _too_large(subject, wire, guard, branch, amps, text)
    return _by_tables(subject, wire, guard, wire.gauge, amps, kind, text)


def _by_tables(
    subject: Subject, wire: PowerWire, guard: Guard, gauge: Gauge, amps: float, kind: str, text: str
) -> Verdict:
    study = subject.study
    rating = study.model.wire_runs[wire.ident].spec.temperature_rating
    chart = chart_amps(str(gauge), kind)
    table = table_amps(str(gauge), float(rating)) if rating is not None else None
    at_gauge, remedy = subject.field("gauge"), _either(study, guard, gauge, amps)

    def cure() -> Edit | None:
        return _refitted(study, guard)

    if chart is not None and at_most(amps, chart):
        if rating is None:
            return subject.lacks(missing.RUN_RATING)
        if table is None or at_most(amps, table):
            limit = chart if table is None else min(chart, table)
            return subject.at_most(amps, limit, "A", f"{text}; {limit:.3g} A is the most")
        told = f"table 11-3 allows {plain_number(chart)} A but table 11-9 only {plain_number(table)} A at {rating.text}"
        return at_gauge.at_most(amps, table, "A", f"{text}; {told}", remedy=remedy, cure=cure, practice=True)
    told = f"table 11-3 allows {plain_number(chart)} A" if chart is not None else "table 11-3 has no entry"
    most = max(one for one in (table, wire_limit(study, wire.ident, gauge).amps, 0.0) if one is not None)
    told = f"{text}; {told}, though the wire is good for {plain_number(most)} A where it lies"
    if chart is None:
        return at_gauge.advisory(told, remedy=remedy, cure=cure)
    return at_gauge.at_most(amps, chart, "A", told, remedy=remedy, cure=cure, practice=True)


def _named(study: Study, guard: Guard) -> str:
    kinds = {study.model.supplies[p].spec.kind or "protector" for p in guard.protectors}
    word = kinds.pop() if len(kinds) == 1 else "protector"
    return f"{word}{'s' if len(guard.protectors) > 1 else ''} {listed(list(guard.protectors))}"


def _too_large(
    subject: Subject, wire: PowerWire, guard: Guard, branch: Branch, amps: float, text: str
) -> Verdict:
    study, gauge = subject.study, wire.gauge
    assert gauge is not None
    allowed = listed_amps(study, wire.ident, gauge, together(study, guard.protectors)[1]) or 0.0
    text += f"; {plain_number(allowed)} A is the most it can bear"
    subject = subject.field("gauge")
    return _short_tap(subject, guard, branch, text) or subject.at_most(
        amps,
        allowed,
        "A",
        text,
        remedy=lambda: (
            _of_bypass(study, wire, guard, gauge)
            or _tapped(branch, guard, gauge)
            or _of_feeder(study, branch, guard, gauge)
            or _either(study, guard, gauge, amps)
        ),
        cure=lambda: _unbypassed(study, wire, guard, gauge) or _refitted(study, guard),
    )


def _bypass(study: Study, wire: PowerWire, guard: Guard, gauge: Gauge) -> Breaking | None:
    """A protector that a wire would bear, were it not led round."""
    return next(
        (
            one
            for one in leads_round(study, guard.near)
            if wire.ident in one.round or suits(study, wire.ident, gauge, (one.ident,))
        ),
        None,
    )


def _of_bypass(study: Study, wire: PowerWire, guard: Guard, gauge: Gauge) -> str:
    """The wire to take out that leads round a smaller protector; empty where none does."""
    one = _bypass(study, wire, guard, gauge)
    return to_take_out(one) if one is not None else ""


def _unbypassed(study: Study, wire: PowerWire, guard: Guard, gauge: Gauge) -> Edit | None:
    one = _bypass(study, wire, guard, gauge)
    return taken_out(study, one) if one is not None else None


def _short_tap(subject: Subject, guard: Guard, branch: Branch, text: str) -> Verdict | None:
    """A coil's or a sense wire's tap that is short enough to need no protector of its own."""
    if branch.bare or branch.protectors or branch.sources:
        return None
    if guard.bare is None:
        return subject.lacks(missing.RUN_LENGTH)
    if not at_most(guard.bare, TAP_M):
        return None
    inches = in_unit(guard.bare, "in", "length")
    told = f"{text}, but is a {'coil' if branch.coil else 'sense'} tap {plain_number(inches)} in long"
    return subject.at_most(inches, in_unit(TAP_M, "in", "length"), "in", told, source=NEAR)


def _tapped(branch: Branch, guard: Guard, gauge: Gauge) -> str:
    """The small protector that a sense or coil wire gets where it leaves a large feeder; empty for what is no tap."""
    if branch.bare or branch.protectors or branch.sources:
        return ""
    amps = next((r for r in standard_ratings("fuse") if r > branch.load), None)
    allowed = chart_amps(str(gauge), "fuse")
    size = f"{plain_number(amps)} A" if amps is not None and allowed and amps <= allowed else "small"
    return f"put a {size} fuse in it within 7 in of {guard.near}"


def _of_feeder(study: Study, branch: Branch, guard: Guard, gauge: Gauge) -> str:
    """What mends a feeder that leads only to protectors; empty for a wire with a load behind it."""
    if branch.bare or not branch.protectors:
        return ""
    kind = "breaker" if together(study, guard.protectors)[1] == "breaker" else "fuse"
    behind = beyond(study).get(guard.protectors[0])
    load = max(behind.load, behind.sources) if behind is not None else branch.load
    one = _largest_rating(kind, load, _borne(str(gauge), kind, _COMMON_RATING_C))
    first = f"fit a {plain_number(one)} A {kind}" if one is not None else "cut it to 7 in"
    return f"{first}, or give it a protector of its own where it begins"


def _either(study: Study, guard: Guard, gauge: Gauge, amps: float) -> str:
    """A protector that carries its loads and that every wire behind it bears, or a gauge that bears this one."""
    kind = "breaker" if together(study, guard.protectors)[1] == "breaker" else "fuse"
    one = _borne_by_all(study, guard)
    better = next(
        (g for g in sizes() if Gauge(g).number < gauge.number and _borne(g, kind, _COMMON_RATING_C) >= amps),
        None,
    )
    ways = [f"fit a {plain_number(one)} A {kind}"] if one is not None else []
    ways += [f"use {better} AWG"] if better is not None else []
    return ", or ".join(ways) or "give it a protector of its own at the tap"


def _borne_by_all(study: Study, guard: Guard) -> float | None:
    """Ampere of the largest protector that carries its loads and every wire behind it bears; ``None`` if it is not smaller."""
    if len(guard.protectors) != 1:
        return None
    behind = beyond(study).get(guard.protectors[0])
    fitted, kind = together(study, guard.protectors)
    kind = "breaker" if kind == "breaker" else "fuse"
    found = _largest_rating(
        kind, behind.load if behind is not None else 0.0, _weakest(study).get(guard.protectors)
    )
    return found if found is not None and fitted is not None and not at_most(fitted, found) else None


def _refitted(study: Study, guard: Guard) -> Edit | None:
    """That protector in place of the one there."""
    amps = _borne_by_all(study, guard)
    if amps is None:
        return None
    (ident,) = guard.protectors
    spec, text = study.model.supplies[ident].spec, f"{plain_number(amps)} A"
    word = "size" if study.document.holds(("supplies", ident, "size")) else "rating"
    now = spec.rating.text if spec.rating is not None else "its own"
    words = f"fit a {text} {spec.kind} as {ident} in place of {now}"
    return Edit((Put(("supplies", ident, word), text),), words, f"{ident} is of {now}")


def _borne(gauge: str, kind: str, rating: float) -> float:
    """Ampere of a protector a wire bears by both tables, or by the one that has an entry."""
    found = (chart_amps(gauge, kind), table_amps(gauge, rating))
    return min((one for one in found if one is not None), default=0.0)


@once
def _weakest(study: Study) -> dict[tuple[str, ...], float]:
    """Ampere the thinnest wire behind each set of protectors bears; wires that lead on to a protector are left out."""
    weakest: dict[tuple[str, ...], float] = {}
    for wire in power_wires(study):
        guard, branch = wire.guard, wire.branch
        if wire.gauge is None or guard is None or branch is None or (branch.protectors and not branch.bare):
            continue
        rating = study.model.wire_runs[wire.ident].spec.temperature_rating
        kind = together(study, guard.protectors)[1]
        borne = _borne(str(wire.gauge), kind, float(rating) if rating is not None else _COMMON_RATING_C)
        weakest[guard.protectors] = min(borne, weakest.get(guard.protectors, borne))
    return weakest


def _largest_rating(kind: str, load: float, allowed: float | None) -> float | None:
    """Largest stocked rating above the load that a wire bears."""
    return max((r for r in standard_ratings(kind) if load < r <= (allowed or 0.0)), default=None)


def _unprotected(subject: Subject, wire: PowerWire, guard: Guard, branch: Branch) -> Verdict:
    if guard.origin == "unknown":
        return subject.lacks(missing.RUN_FEED)
    text = f"run {wire.ident} has no protector between {guard.origin} and what it feeds"
    kept = _self_limited(subject, wire, guard) or _short_tap(subject, guard, branch, text)
    if kept is not None:
        return kept
    if wire.gauge is not None and _tapped(branch, guard, wire.gauge):
        return subject.discrepancy(text, remedy=_tapped(branch, guard, wire.gauge))
    allowed = chart_amps(str(wire.gauge), "breaker") if wire.gauge is not None else None
    rating = _largest_rating("breaker", branch.load, allowed)
    size = f"a {plain_number(rating)} A breaker" if rating is not None else "a breaker or fuse"
    return subject.discrepancy(text, remedy=f"put {size} within 7 in of {guard.near}")


def _self_limited(subject: Subject, wire: PowerWire, guard: Guard) -> Verdict | None:
    """A wire that bears all its source can give."""
    borne = borne_source(subject.study, wire.gauge, guard.origin)
    if borne is None:
        return None
    told = f"run {wire.ident} of {wire.gauge} AWG bears the {plain_number(borne[0])} A that {guard.origin} can give"
    return subject.at_most(*borne, "A", told)
