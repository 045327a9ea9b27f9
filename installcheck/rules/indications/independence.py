"""No single part takes out two indications that back each other up, or all required indications of an engine."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.required import required_inputs
from ...analysis.shown import Shown, listed, shown
from ...analysis.single_parts import PROTECTORS, Part, loads_behind, takes_out, words
from ...analysis.study import Study, once
from ...model.devices import Indicator
from ...model.power import Supply
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_NAMED = 6
"""Shared parts named in a message; more are counted."""
_SECTIONS = {
    "harness": "bundles",
    "ground": "grounds",
    "plug": "junctions",
    "disconnect": "junctions",
    "selector switch": "junctions",
    "averaging block": "junctions",
    "inverter": "supplies",
    "switch": "supplies",
    "contactor": "supplies",
    "indicator": "indicators",
    "sender": "senders",
    "tap": "taps",
    "line": "fluid_lines",
    "fitting": "fittings",
}
"""Kinds of part that fail as one and are judged here, with their sections; protectors have a rule of their own."""


@rule(
    "backup-independent",
    title="An indication that must back up another shares no part with it",
    why="A second gauge on the same breaker, ground, plug, sender or tap goes with the first, just when it is needed.",
    source="14 CFR 23.1309(a); a backup that shares a part with its primary is none",
    formula="parts that end the one, and parts that end the other: none in common",
    example="electric oil pressure gauge backed up by a monitor on the same breaker: the breaker takes both",
    over="indicators",
)
def backup_independent(study: Study, subject: Subject, indicator: Indicator) -> Iterator[Verdict]:
    """An indicator that says which one it backs up, for what both show."""
    primary = indicator.backs_up
    if primary is None:
        return
    subject = subject.along(primary).field("backs_up")
    pairs = [
        (a, b)
        for a in shown(study)
        for b in shown(study)
        if (a.indicator, b.indicator) == (subject.ident, primary)
        and a.measure is not None
        and (a.measure, a.engine) == (b.measure, b.engine)
    ]
    if not pairs:
        yield subject.discrepancy(
            f"{subject.ident} is said to back up {primary}, but shows nothing that {primary} shows",
            remedy="name the indicator it backs up, or take the entry out",
        )
    for a, b in pairs:
        yield _pair(subject, a, b)


def _pair(subject: Subject, a: Shown, b: Shown) -> Verdict:
    both = takes_out(subject.study, a) & takes_out(subject.study, b)
    told = list(words(both))
    more = f" and {len(told) - _NAMED} more" if len(told) > _NAMED else ""
    return subject.at_most(
        float(len(both)),
        0.0,
        "shared parts",
        f"{a.name} and {b.name} share no part that would take out both",
        broken=f"{b.measure}: {a.name} is no backup of {b.name}: {listed(told[:_NAMED])}{more} takes out both",
        remedy=lambda: f"give {a.name} its own {listed(_own(both))}",
    )


def _own(parts: frozenset[Part]) -> list[str]:
    return list(dict.fromkeys(text.split(" '")[0] for text in words(parts)))


@once
def _taken(study: Study) -> dict[Part, list[Shown]]:
    """For each part, all indications it takes out."""
    found: dict[Part, list[Shown]] = {}
    for one in shown(study):
        for part in takes_out(study, one):
            found.setdefault(part, []).append(one)
    return found


def _lost(study: Study, part: Part) -> list[Shown]:
    """The required indications a part takes out."""
    needed = required_inputs(study)
    return [s for s in _taken(study).get(part, ()) if s.name in needed]


def _shared(study: Study) -> list[Part]:
    """Parts, protectors apart, that take out two required indications or more."""
    return [p for p in sorted(_taken(study)) if p[0] in _SECTIONS and len(_lost(study, p)) > 1]


@once
def _engines(study: Study) -> dict[str, list[str]]:
    """Names of the required indications of each engine."""
    needed = required_inputs(study)
    found: dict[str, list[str]] = {}
    for one in shown(study):
        if one.name in needed and one.engine is not None:
            found.setdefault(one.engine, []).append(one.name)
    return found


def _stripped(study: Study, lost: list[Shown]) -> list[str]:
    """Engines that are left without any required indication."""
    gone = {s.name for s in lost}
    return [
        e for e, names in _engines(study).items() if 1 < len(names) <= len(gone) and gone.issuperset(names)
    ]


def _across(study: Study, lost: list[Shown]) -> list[str]:
    """What would be lost on every engine of an aircraft that has more than one."""
    engines: dict[str, set[str | None]] = {}
    for one in lost:
        if one.measure is not None and one.engine is not None:
            engines.setdefault(one.measure, set()).add(one.engine)
    count = len(study.model.engines)
    return [measure for measure, of in engines.items() if count > 1 and len(of) == count]


def _doubled(study: Study, part: Part) -> list[str]:
    """Required measures that are shown twice or more, every reading of which goes with a part."""
    gone = {s.name for s in _taken(study).get(part, ())}
    by_measure = _readings(study)
    of = dict.fromkeys((s.engine, s.measure) for s in _lost(study, part))
    return [
        m
        for e, m in of
        if m is not None and 1 < len(by_measure[e, m]) <= len(gone) and gone >= by_measure[e, m]
    ]


@once
def _readings(study: Study) -> dict[tuple[str | None, str | None], set[str]]:
    """Names of the indications of each measure; those of single cylinders do not repeat one another."""
    found: dict[tuple[str | None, str | None], set[str]] = {}
    for one in shown(study):
        found.setdefault((one.engine, one.measure), set())
        if one.spec.principle != "warning light" and not one.spec.cylinders:
            found[one.engine, one.measure].add(one.name)
    return found


@rule(
    "protector-takes-out",
    title="No single protector takes out every required indication of an engine, or every reading of one",
    why="A short anywhere behind a breaker opens it. What hangs on it is gone at once: that should be known, and not be all.",
    source="14 CFR 23.1309(a), 23.1357(b); public reports of one breaker that took a whole panel with it",
    formula="indications and loads that have no other way to a source",
    example="one 5 A breaker for oil pressure, oil temperature, fuel pressure and head temperature: all four",
    over="supplies",
)
def protector_takes_out(study: Study, subject: Subject, supply: Supply) -> Verdict | None:
    """Every breaker, fuse and current limiter, with all it takes out."""
    kind = supply.spec.kind
    if kind not in PROTECTORS or kind is None:
        return None
    part: Part = (kind, subject.ident)
    gone = [*(s.name for s in _taken(study).get(part, ())), *loads_behind(study).get(part, ())]
    told = f"{kind} '{subject.ident}' takes out {listed(gone) if gone else 'nothing by itself'}"
    return _judged(subject, part, told)


@rule(
    "single-part-takes-out",
    title="No single ground, plug, harness, line or box takes out every required indication of an engine",
    why="A stud that works loose or a plug that backs out takes everything joined there.",
    source="14 CFR 23.1309(a); engineering practice",
    formula="required indications whose only way passes the part",
    example="one ground stud for all gauges: every electric gauge reads wrong or dies with it",
    over=lambda study: [ident for _, ident in _shared(study)],
)
def single_part_takes_out(study: Study) -> Iterator[Verdict]:
    """Every part, protectors apart, that takes out two required indications or more."""
    for part in _shared(study):
        kind, ident = part
        told = f"{kind} '{ident}' takes out {listed([s.name for s in _lost(study, part)])}"
        yield _judged(Subject(study, (ident,), (_SECTIONS[kind], ident)), part, told)


def _judged(subject: Subject, part: Part, told: str) -> Verdict:
    study, kind = subject.study, part[0]
    lost = _lost(study, part)
    subject = subject.along(*(s.name for s in lost))
    stripped, doubled, across = _stripped(study, lost), _doubled(study, part), _across(study, lost)
    if stripped:
        total = sum(len(_engines(study)[e]) for e in stripped)
        return subject.at_most(
            float(len(lost)),
            float(total - 1),
            "",
            f"{told}: every required indication of {listed([f'engine {e}' for e in stripped])}",
            remedy=f"give at least one of them, oil pressure first, its own {kind}",
            practice=True,
        )
    if doubled:
        return subject.advisory(
            f"{told}: every reading of {listed(doubled)}",
            remedy=f"give the second reading of {listed(doubled)} its own {kind}",
        )
    if across:
        return subject.advisory(
            f"{told}: {listed(across)} of every engine at once", remedy=f"give each engine its own {kind}"
        )
    return subject.meets(told)
