"""Probes of one kind at the place the limit is written for, one for each cylinder, each shown under its own number."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ...analysis.shown import (
    Shown,
    engine_id,
    listed,
    numbers,
    shown,
)
from ...analysis.study import Study
from ...document.source import DocPath
from ...model.devices import Probe, ProbeKind
from ...model.fields import Measure
from ..verdicts import (
    Verdict,
    advisory,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

REFERENCE = "place the head-temperature limit is measured at ('head_reference')"
KIND = "kind of the probe"
CYLINDER = "cylinder the probe serves"

_FAMILY: dict[ProbeKind, str] = {
    "bayonet": "well",
    "threaded": "well",
    "piggyback adapter": "adapter in the well",
    "gasket ring 14 mm": "gasket ring",
    "gasket ring 18 mm": "gasket ring",
    "bolt ring": "bolt",
    "surface": "surface",
}
"""Where each kind of head probe takes the temperature."""
_RING_LOW_F, _RING_HIGH_F = 25.0, 50.0
"""degF a ring under the plug may read below or above the well. Two published opinions, which disagree in the sign; no
controlled test is known, so both bounds stand until both probes are flown on one cylinder."""
_SEATS: dict[str, tuple[str, ...]] = {
    "well": ("well",),
    "adapter in the well": ("well",),
    "gasket ring": ("upper plug", "lower plug"),
    "bolt": ("bolt",),
}
_PER_CYLINDER: tuple[Measure, ...] = ("head temperature", "exhaust temperature")


def _head_probes(study: Study) -> Iterator[tuple[str, Probe]]:
    for ident, probe in study.model.probes.items():
        if probe.measures == "head temperature":
            yield ident, probe


@rule(
    "head-probe-kind",
    title="The head probe takes the temperature where the limit is written for",
    why="A limit holds for the point at which the engine's maker measured it. A ring under the plug may read 25 degF below to "
    "50 degF above the well of the same cylinder: reports disagree even in the sign.",
    source="14 CFR 23.1521, 33.7: the limit belongs to the point stated with it; FAA-H-8083-31 chapter 10 for the kinds",
    formula="place of the probe = place of the limit; ring against well: -25 to +50 degF, not corrected",
    example="gasket ring against a limit in the well: the head can be 25 degF hotter than shown",
    over=lambda study: [i for i, _ in _head_probes(study)],
)
def head_probe_kind(study: Study) -> Iterator[Verdict]:
    """Every head-temperature probe; one that is no part of the required indication can only be advised on."""
    extra = {r.source for s in shown(study) if s.item.required is False for r in s.reads}
    extra -= {r.source for s in shown(study) if s.item.required is not False for r in s.reads}
    for ident, probe in _head_probes(study):
        at, path = (ident,), ("probes", ident)
        kind = probe.spec.kind
        found = study.model.engine_of(probe)
        reference = found[1].head_reference if found is not None else None
        if kind is None:
            yield undetermined(at, path, KIND)
            continue
        place = _FAMILY.get(kind)
        if place is None:
            yield discrepancy(
                at, (*path, "kind"), f"{ident} is an {kind} probe, which is not made for a cylinder head"
            )
        elif probe.mount is not None and place in _SEATS and probe.mount not in _SEATS[place]:
            yield discrepancy(
                at,
                (*path, "mount"),
                f"{ident} is a {kind} probe, which does not fit the {probe.mount}",
                remedy=f"fit it at the {' or '.join(_SEATS[place])}, or state the probe that is fitted",
            )
        elif reference is None:
            yield undetermined(at, ("engines", found[0]) if found else path, REFERENCE)
        elif place == reference:
            yield meets(at, path, f"{ident} is a {kind} probe, and the limit is measured at the {reference}")
        else:
            yield _elsewhere(ident, kind, place, reference, required=_is_required(ident, probe, extra))


def _is_required(ident: str, probe: Probe, extra: set[str]) -> bool:
    return probe.required if probe.required is not None else ident not in extra


def _elsewhere(ident: str, kind: str, place: str, reference: str, *, required: bool) -> Verdict:
    at, path = (ident,), ("probes", ident)
    told = f"{ident} is a {kind} probe, but the limit is measured at the {reference}"
    remedy = {
        "well": "fit a bayonet or screw-in probe in the well",
        "gasket ring": "fit a gasket ring probe under the plug the papers name",
        "bolt": "fit a ring under the bolt the papers name",
    }[reference]
    if {place, reference} != {"well", "gasket ring"}:
        make = discrepancy if required and place == "surface" else advisory
        return make(
            at,
            path,
            f"{told}; how far it reads from that is not known",
            remedy=f"{remedy}, or fly both on one cylinder",
        )
    low = _RING_LOW_F if place == "gasket ring" else _RING_HIGH_F
    more = "a ring may read 25 degF below to 50 degF above the well of the same cylinder"
    make = discrepancy if required else advisory
    return make(
        at,
        path,
        f"{told}: {more}, so the pointer may stand {low:g} degF low",
        value=low,
        limit=0.0,
        margin=-low,
        unit="degF",
        remedy=f"{remedy}, or fly both on one cylinder to measure the difference",
    )


@dataclass(frozen=True, slots=True)
class _Set:
    """Probes of one measure and engine that are shown together, each with what shows it."""

    engine: str
    measure: Measure
    indicator: str
    probes: tuple[tuple[str, Probe], ...]


def _sets(study: Study) -> list[_Set]:
    sets: dict[tuple[str, Measure, str], dict[str, Probe]] = {}
    wired: set[str] = set()
    for one in shown(study):
        for read in one.reads:
            if read.section != "probes":
                continue
            probe = study.model.probes[read.source]
            if probe.measures in _PER_CYLINDER:
                wired.add(read.source)
                key = (engine_id(study, probe), probe.measures, one.indicator)
                sets.setdefault(key, {})[read.source] = probe
    for ident, probe in study.model.probes.items():
        if ident not in wired and probe.measures in _PER_CYLINDER:
            # Nothing reads them: those of one kind and standing belong together.
            key = (engine_id(study, probe), probe.measures, f"{probe.spec.kind} {probe.required}")
            sets.setdefault(key, {})[ident] = probe
    return [_Set(e, m, i, tuple(p.items())) for (e, m, i), p in sets.items()]


@rule(
    "cylinder-served-once",
    title="A set of cylinder probes serves every cylinder once",
    why="A cylinder without a probe is not watched, and two channels on one cylinder hide that another is missing.",
    source="practice: one channel for each cylinder, found by warming one probe at a time",
    formula="cylinders of the probes = 1 to the number of cylinders, each once",
    example="four probes on 1, 2, 2 and 4: 2 is served twice, 3 not at all",
    over="engines",
)
def cylinder_served_once(study: Study) -> Iterator[Verdict]:
    """Head and exhaust probes of every engine, those shown by one indicator together."""
    for one in _sets(study):
        idents = tuple(i for i, _ in one.probes)
        at = (one.engine or idents[0], *idents)
        first: DocPath = ("probes", idents[0])
        unknown = [i for i, p in one.probes if p.cylinder is None]
        if unknown:
            yield undetermined((one.engine or unknown[0], *unknown), ("probes", unknown[0]), CYLINDER)
            continue
        by_number: dict[int, list[str]] = {}
        for ident, probe in one.probes:
            by_number.setdefault(probe.cylinder or 0, []).append(ident)
        engine = study.model.engines.get(one.engine)
        count = engine.cylinders if engine is not None else None
        twice = {c: ids for c, ids in by_number.items() if len(ids) > 1}
        absent = [c for c in range(1, (count or 0) + 1) if c not in by_number]
        if twice:
            told = [f"cylinder {c} is served by {listed(ids)}" for c, ids in twice.items()]
            lost = f", and cylinder {numbers(absent)} by none" if absent else ""
            yield discrepancy(
                at,
                ("probes", next(iter(twice.values()))[1], "cylinder"),
                f"{one.measure}: {listed(told)}{lost}",
                remedy=f"give one of them cylinder {absent[0]}"
                if absent
                else "state which cylinder each is on",
            )
        elif len(one.probes) == 1:
            yield meets(at, first, f"{one.measure}: one probe, on cylinder {numbers(list(by_number))}")
        elif count is None:
            yield undetermined(at, first, "number of cylinders of the engine")
        elif absent:
            yield advisory(
                at,
                first,
                f"{one.measure}: {len(one.probes)} probes for {count} cylinders, none on cylinder {numbers(absent)}",
                remedy=f"add a probe on cylinder {numbers(absent)}",
                value=float(len(by_number)),
                limit=float(count),
                margin=float(len(by_number) - count),
            )
        else:
            yield meets(at, first, f"{one.measure}: a probe on each of {count} cylinders")


@rule(
    "probe-under-its-number",
    title="What is shown as a cylinder comes from that cylinder's probe",
    why="Two crossed channels show the right temperatures under the wrong numbers, and the wrong cylinder is looked after.",
    source="14 CFR 33.29(a): connections that can be crossed are marked; practice: channels proven by warming one probe",
    formula="number of the channel or selector position = cylinder of the probe",
    example="input CHT 3 reads the probe on cylinder 4",
    over="indicators",
)
def probe_under_its_number(study: Study) -> Iterator[Verdict]:
    """Inputs and selector positions that carry a cylinder number, and the probes they reach."""
    for one in shown(study):
        for read in one.reads:
            probe = study.model.probes.get(read.source) if read.section == "probes" else None
            if probe is None or probe.cylinder is None:
                continue
            label = _label(one, read.position)
            if label is None:
                continue
            words, allowed = label
            at = (one.indicator, read.source)
            if probe.cylinder in allowed:
                yield meets(at, one.path, f"{words} reads {read.source} on cylinder {probe.cylinder}")
            else:
                yield discrepancy(
                    at,
                    ("probes", read.source, "cylinder"),
                    f"{words} is cylinder {numbers(allowed)}, but reads {read.source} on cylinder {probe.cylinder}",
                    remedy=f"change the leads over so that {words} reads the probe of its own cylinder",
                )


def _label(one: Shown, position: str | None) -> tuple[str, list[int]] | None:
    """The cylinder a channel stands for, in words and as numbers; ``None`` if it does not say."""
    if position is not None and position.isdecimal():
        return f"position {position} of {one.name}", [int(position)]
    if one.spec.cylinders:
        return one.name, list(one.spec.cylinders)
    return None


@rule(
    "head-probes-alike",
    title="Head probes that are compared with one another are of one kind",
    why="A ring and a well on two cylinders differ by up to 50 degF at the same head temperature, more than the heads do.",
    source="practice: a survey or a multi-cylinder display uses one kind of probe at one point",
    formula="kinds of the head probes one indicator shows: one",
    example="three bayonets and a ring where the factory probe holds the well of cylinder 3",
    over="engines",
)
def head_probes_alike(study: Study) -> Iterator[Verdict]:
    """Every set of two or more head probes."""
    for one in _sets(study):
        kinds: dict[str, list[str]] = {}
        for ident, probe in one.probes:
            kinds.setdefault(
                _FAMILY.get(probe.spec.kind, "unknown") if probe.spec.kind else "unknown", []
            ).append(ident)
        if one.measure != "head temperature" or len(one.probes) < 2:
            continue
        idents = [i for i, _ in one.probes]
        at = (one.engine or idents[0], *idents)
        if "unknown" in kinds:
            yield undetermined(at, ("probes", kinds["unknown"][0]), KIND)
        elif len(kinds) > 1:
            fewest = min(kinds, key=lambda k: len(kinds[k]))
            told = listed([f"{listed(ids)} at the {place}" for place, ids in kinds.items()])
            yield advisory(
                at,
                ("probes", kinds[fewest][0]),
                f"head probes of different kinds are compared: {told}",
                remedy=f"fit {listed(kinds[fewest])} as the others, or read it apart from them",
            )
        else:
            yield meets(
                at, ("probes", idents[0]), f"{len(idents)} head probes, all at the {next(iter(kinds))}"
            )
