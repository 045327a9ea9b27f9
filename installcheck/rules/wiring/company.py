"""What lies together that one fault must not join: light wires with heavy ones, both ignition grounds of an engine."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import combinations

from ...analysis import missing
from ...analysis.fluid.facts import listed
from ...analysis.ignition import grounds_magneto, is_ignition_lead
from ...analysis.power.run_currents import carries_power
from ...analysis.routing import (
    Carrier,
    carriers,
    run_ends,
    run_zones,
    runs_named,
    sensing_runs,
    thinnest,
    wires,
)
from ...analysis.study import Study, once
from ...graph.joining import groups
from ...model.installation import split_end
from ...model.wiring import WireRun
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_HEAVY, _LIGHT = 8, 16
"""Gauges: 8 AWG and thicker are battery, starter and alternator wire (a 50 A protector and more by AC 43.13-1B table 11-3),
16 AWG and thinner bear 15 A or less; between, a wire is neither. Practice: no figure is published."""
_HEAVY_KIND = "high-current wire"
_GROUND = re.compile(r"\bp[ -]?leads?\b|\b(magneto|ignition)\b.*\b(ground|earth|switch|kill)", re.IGNORECASE)
_MAGNETO = re.compile(r"\bmagnetos?\b|\bignition (switch|module|box)\b", re.IGNORECASE)


def _devices(run: WireRun) -> set[str]:
    return {split_end(end)[0] for end in run_ends(run)}


def _is_heavy(study: Study, ident: str) -> bool:
    gauges = [wire.gauge.number for wire in wires(study.model.wire_runs[ident]) if wire.gauge is not None]
    return min(gauges, default=99) <= _HEAVY


def _light_power(study: Study, ident: str) -> bool:
    """Whether a run is a light wire of a power circuit; a signal is kept from heavy current by a rule of its own."""
    gauge = thinnest(study.model.wire_runs[ident])
    light = gauge is not None and gauge.number >= _LIGHT
    return light and ident not in sensing_runs(study) and carries_power(study, ident)


def _with_light(study: Study) -> Iterator[Carrier]:
    """Bundles with a light power wire in them, and what says that it passes a heavy wire or a named run."""
    for carrier in carriers(study, "clearances"):
        passes = any(
            runs_named(study, one.to) or one.kind == _HEAVY_KIND for one in carrier.said.clearances or ()
        )
        if any(_light_power(study, i) for i in carrier.runs) or (
            passes and any(_is_heavy(study, i) for i in carrier.runs)
        ):
            yield carrier


@rule(
    "light-beside-heavy",
    title="A light wire does not lie against a heavy conductor of another circuit",
    why="Where the two chafe into each other the light wire is fed through the heavy one's protector, if it has one, and burns "
    "before that opens.",
    source="FAA-H-8083-31 chapter 9 (heavy and unprotected power wiring apart); gauges: practice",
    formula="no wire of 16 AWG or thinner in a bundle and zone with, or touching, one of 8 AWG or thicker of a circuit it is no tap of",
    example="a 20 AWG lamp wire of a 5 A breaker tied along the 2 AWG starter feed: give the feed a way of its own",
    over=_with_light,
)
def light_beside_heavy(study: Study, subject: Subject, carrier: Carrier) -> Iterator[Verdict]:
    """A bundle, and every clearance of one to a heavy wire."""
    if carrier.is_bundle:
        yield _in_bundle(study, subject, carrier)
    for i, one in enumerate(carrier.said.clearances or ()):
        here, others = subject.field("clearances", i).along(one.to), runs_named(study, one.to)
        apart = any(_unrelated(study, own, other) for own in carrier.runs for other in others)
        if not (apart or (one.kind == _HEAVY_KIND and not others)):
            continue
        if one.distance is None:
            yield here.lacks(missing.CLEARANCE_NOISE)
        elif one.distance <= 0:
            yield here.advisory(
                f"{carrier.name} touches {one.to}: a light wire against a heavy one",
                remedy="part and clamp them",
            )
        else:
            yield here.meets(f"{carrier.name} keeps clear of {one.to}")


def _unrelated(study: Study, one: str, other: str) -> bool:
    """Whether of two runs one is light and the other a heavy one of a circuit it is no tap of."""
    light, heavy = (one, other) if _light_power(study, one) else (other, one)
    if not (_light_power(study, light) and _is_heavy(study, heavy)):
        return False
    devices = next(devices for circuit, devices in _heavy_circuits(study) if heavy in circuit)
    return devices.isdisjoint(_devices(study.model.wire_runs[light]))


def _in_bundle(study: Study, subject: Subject, carrier: Carrier) -> Verdict:
    light = [i for i in carrier.runs if _light_power(study, i)]
    thick = [i for i in carrier.runs if _is_heavy(study, i)]
    heavy: dict[str, None] = {}
    beside: dict[str, None] = {}
    for one in light:
        near = [i for i in thick if _unrelated(study, one, i) and _meet(study, i, one)]
        if near:
            beside[one] = None
            heavy.update(dict.fromkeys(near))
    if not heavy:
        return subject.meets(f"no heavy wire of another circuit lies in the bundle {carrier.ident}")
    what = listed(list(beside)) if len(beside) <= 3 else f"{len(beside)} wires"
    return subject.along(*heavy).advisory(
        f"the bundle {carrier.ident} holds {what} of {_LIGHT} AWG or thinner beside the heavy {listed(list(heavy))}",
        remedy=f"lead {listed(list(heavy))} outside this bundle",
    )


@once
def _heavy_circuits(study: Study) -> list[tuple[list[str], set[str]]]:
    """Heavy runs that hang together by the devices they end at, and those devices."""
    runs = study.model.wire_runs
    thick = [i for i in runs if _is_heavy(study, i)]
    links = [
        (("run", i), ("device", device))
        for i in thick
        for device in _devices(runs[i]) - set(study.model.grounds)
    ]
    return [
        ([i for i in thick if ("run", i) in part], {name for kind, name in part if kind == "device"})
        for part in groups(links)
    ]


def _meet(study: Study, one: str, other: str) -> bool:
    """Whether two runs of a bundle pass one zone, as far as is known."""
    here, there = run_zones(study, one), run_zones(study, other)
    return here is None or there is None or not set(here).isdisjoint(there)


def _is_ignition_ground(study: Study, ident: str) -> bool:
    """Whether a run grounds an ignition: by its own words, or by its ends; the leads to the plugs are none."""
    run = study.model.wire_runs[ident]
    if is_ignition_lead(study, run):
        return False
    if grounds_magneto(study, run) or _GROUND.search(f"{ident} {run.title or ''}"):
        return True
    named = [study.model.find(device) for device in _devices(run)]
    titles = [str(getattr(found[1], "title", None) or "") for found in named if found is not None]
    return any(_MAGNETO.search(w) for w in (*_devices(run), *titles))


def _with_ignition(study: Study) -> Iterator[Carrier]:
    for carrier in carriers(study, "clearances"):
        if carrier.is_bundle and any(_is_ignition_ground(study, i) for i in carrier.runs):
            yield carrier


@rule(
    "ignition-grounds-apart",
    title="The ground leads of both ignitions of an engine do not share a bundle",
    why="A grounded lead shuts its ignition off. One clamp that chafes through a bundle with both stops the engine.",
    source="FAA-H-8083-31 chapter 9 (duplicated vital circuits apart); plain physics",
    formula="of the runs in a bundle at most one grounds an ignition of each engine",
    example="left and right P-lead in the cabin harness: lead one of them along another way",
    over=_with_ignition,
)
def ignition_grounds_apart(study: Study, subject: Subject, carrier: Carrier) -> Verdict:
    """A bundle with the ground lead of an ignition in it."""
    runs = study.model.wire_runs
    leads = [i for i in carrier.runs if _is_ignition_ground(study, i)]
    both = [pair for pair in combinations(leads, 2) if _two_ignitions(runs[pair[0]], runs[pair[1]])]
    if not both:
        return subject.meets(f"the bundle {carrier.ident} holds the ground of one ignition only, {leads[0]}")
    return subject.along(*both[0]).advisory(
        f"the bundle {carrier.ident} holds {listed(list(both[0]))}, which ground both ignitions: one chafed place stops the engine",
        remedy=f"lead {both[0][1]} along another way",
    )


def _two_ignitions(one: WireRun, other: WireRun) -> bool:
    """Whether two ground leads are of one engine and do not follow each other on one way."""
    shared = {d for d in _devices(one) & _devices(other) if not re.search("switch", d, re.IGNORECASE)}
    return one.engine == other.engine and not shared
