"""Signal wires apart from what makes noise, and power wires apart from the compass."""

from __future__ import annotations

from collections.abc import Iterator
from math import atan, degrees, pi

from ...analysis.fluid.facts import listed
from ...analysis.power.guards import guards
from ...analysis.power.run_currents import carries_power, run_branches, run_current
from ...analysis.routing import (
    Carrier,
    bundled,
    carriers,
    sensing_runs,
)
from ...analysis.study import Study
from ...model.quantities import in_unit, plain_number
from ...model.routes import Clearance
from ..verdicts import (
    Verdict,
    advisory,
    meets,
    undetermined,
)
from ..vocabulary import rule

_HIGH_A = 10.0
"""A, from which a wire is kept out of a bundle of signal wires: practice; no figure is published."""
_NOISE = frozenset(("ignition lead", "high-current wire", "aerial lead"))
_EARTH_T = 20e-6
"""T, horizontal part of the earth's field in middle latitudes: it is 15 to 25 microtesla over most of the US."""
_MU0 = 4e-7 * pi
_DEVIATION_DEG = 10.0
"""deg, largest compass deviation: AC 43.13-1B 12-37 (recalled)."""


@rule(
    "sensing-apart",
    title="Signal wires do not share a bundle with ignition leads, heavy current or unprotected feeds",
    why="A magneto pulse or a starter current next to a thermocouple lead shows on the dial; a burning feed takes its bundle along.",
    source="FAA-H-8083-31 (unprotected power wiring and vital circuits apart); ignition: general practice (recalled); 10 A: practice",
    formula="bundles with signal runs hold no ignition lead, no run of 10 A or more, no run without a protector",
    example="an alternator feed of 60 A in the bundle of the oil bulb: give it a way of its own",
    over=lambda study: [i for i, runs in bundled(study).items() if not sensing_runs(study).isdisjoint(runs)],
)
def sensing_apart(study: Study) -> Iterator[Verdict]:
    """Every bundle with a signal run, and every clearance of one to something that makes noise."""
    sensing = sensing_runs(study)
    for bundle, runs in bundled(study).items():
        signals = [r for r in runs if r in sensing]
        if signals and bundle in study.model.bundles:
            yield from _in_bundle(study, bundle, signals, [r for r in runs if r not in sensing])
    for carrier in carriers(study, "clearances"):
        if any(run in sensing for run in carrier.runs):
            yield from _passing(carrier)


def _in_bundle(study: Study, bundle: str, signals: list[str], others: list[str]) -> Iterator[Verdict]:
    path = ("bundles", bundle)
    noisy: dict[str, str] = {}
    missing: dict[str, None] = {}
    for ident in others:
        if study.model.wire_runs[ident].spec.kind == "ignition lead":
            noisy[ident] = "an ignition lead"
        elif carries_power(study, ident):
            starts = any(b.starter for b in run_branches(study, ident))
            amps = run_current(study, ident)
            if starts:
                noisy[ident] = "the starter's"
            elif amps.value is None:
                missing.update(dict.fromkeys(amps.missing))
            elif amps.value >= _HIGH_A:
                noisy[ident] = f"{plain_number(amps.value)} A"
            elif _unprotected(study, ident):
                noisy[ident] = "without a protector"
    if noisy:
        named = [f"{ident} ({what})" for ident, what in noisy.items()]
        yield advisory(
            (bundle, *noisy),
            path,
            f"the bundle {bundle} holds {len(signals)} signal runs beside {listed(named)}",
            remedy=f"lead {listed(list(noisy))} outside this bundle",
        )
    elif missing:
        yield undetermined((bundle,), path, tuple(missing))
    else:
        yield meets(
            (bundle,),
            path,
            f"the {len(signals)} signal runs of the bundle {bundle} lie with nothing that disturbs them",
        )


def _unprotected(study: Study, ident: str) -> bool:
    """Whether the battery drives a run with no protector between; a short tap within a panel is left aside."""
    run = study.model.wire_runs[ident]
    names = list(run.conductors or ("",))
    known = guards(study)
    found = [g for name in names if (g := known.get((ident, name))) is not None]
    return any(not g.protectors and _unlimited(study, g.origin) for g in found)


def _unlimited(study: Study, origin: str) -> bool:
    """Whether a source gives a short what it can; an inverter shuts itself down."""
    supply = study.model.supplies.get(origin)
    return supply is not None and supply.spec.kind in ("battery", "alternator", "generator")


def _passing(carrier: Carrier) -> Iterator[Verdict]:
    for i, one in enumerate(carrier.said.clearances or ()):
        if one.kind not in _NOISE:
            continue
        path = (*carrier.path, "clearances", i)
        at = (carrier.ident, one.to)
        if one.distance is None:
            yield undetermined(at, path, "smallest distance to the lead that makes noise")
        elif one.distance <= 0:
            yield advisory(
                at,
                path,
                f"{carrier.name} holds signal runs and touches {one.to} ({one.kind})",
                remedy="part them; cross at a right angle where they must meet",
            )
        else:
            inches = plain_number(in_unit(one.distance, "in", "length"))
            yield meets(at, path, f"{carrier.name} passes {one.to} ({one.kind}) at {inches} in")


@rule(
    "compass-field",
    title="A power wire near the compass is twisted with its return, or too weak to turn the card",
    why="The field of one wire falls only as its distance; twisted with its return it is gone.",
    source="twist near a compass: FAA-H-8083-32 chapter 4; deviation of at most 10 deg: AC 43.13-1B 12-37 (recalled); field of a "
    "straight wire: plain physics",
    formula="atan(mu0 I / (2 pi d B)) <= 10 deg, B 20 microtesla, I of the strongest run that is not twisted",
    example="5 A at 14 in: 2.81 microtesla, 8.0 deg",
    over=lambda study: [c.ident for c, _ in _by_compass(study)],
)
def compass_field(study: Study) -> Iterator[Verdict]:
    """Every bundle or lone run that says how far it is from a compass."""
    for carrier, one in _by_compass(study):
        path = (*carrier.path, "clearances", (carrier.said.clearances or []).index(one))
        at = (carrier.ident, one.to)
        alone = [r for r in carrier.runs if carries_power(study, r) and not study.model.wire_runs[r].twisted]
        if not alone:
            yield meets(
                at,
                path,
                f"{carrier.name} passes {one.to} with no power wire that is not twisted with its return",
            )
            continue
        amps = {run: run_current(study, run) for run in alone}
        missing = dict.fromkeys(m for a in amps.values() for m in a.missing)
        if one.distance is None or missing:
            yield undetermined(
                at, path, [*missing, *(["distance to the compass"] if one.distance is None else [])]
            )
            continue
        worst = max(alone, key=lambda r: amps[r].value or 0.0)
        yield _turned(carrier, one, worst, amps[worst].value or 0.0)


def _by_compass(study: Study) -> list[tuple[Carrier, Clearance]]:
    return [
        (carrier, one)
        for carrier in carriers(study, "clearances")
        for one in carrier.said.clearances or ()
        if one.kind == "compass"
    ]


def _turned(carrier: Carrier, one: Clearance, run: str, amps: float) -> Verdict:
    path = (*carrier.path, "clearances", (carrier.said.clearances or []).index(one))
    at = (carrier.ident, one.to, run)
    assert one.distance is not None
    distance = float(one.distance)
    turn = deviation(amps, distance) if distance > 0 else 90.0
    inches = plain_number(in_unit(distance, "in", "length"))
    numbers = {"value": turn, "limit": _DEVIATION_DEG, "margin": _DEVIATION_DEG - turn, "unit": "deg"}
    text = f"{run} with {plain_number(amps)} A at {inches} in turns {one.to} by up to {turn:.2g} deg"
    if turn <= _DEVIATION_DEG:
        return meets(at, path, text, **numbers)
    return advisory(
        at,
        path,
        text,
        remedy="twist it with its return ('twisted: yes'), or lead it further from the compass",
        **numbers,
    )


def deviation(current: float, distance: float) -> float:
    """Degrees a straight wire of ``current`` A at ``distance`` m turns a compass at most.

    >>> round(deviation(5.0, 14 * 0.0254), 1)  # 4e-7 x 5 / (2 x 0.3556) = 2.81e-6 T over 20e-6 T
    8.0
    """
    return degrees(atan(_MU0 * current / (2 * pi * distance) / _EARTH_T))
