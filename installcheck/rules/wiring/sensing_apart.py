"""Signal wires apart from what makes noise, and power wires apart from the compass."""

from __future__ import annotations

from collections.abc import Iterator
from math import atan, degrees, pi

from ...analysis import missing
from ...analysis.fluid.facts import listed
from ...analysis.ignition import grounds_magneto, is_ignition_lead
from ...analysis.missing import Missing
from ...analysis.power.guards import guards
from ...analysis.power.run_currents import carries_power, run_branches, run_current
from ...analysis.routing import Carrier, carriers, runs_named, sensing_runs
from ...analysis.study import Study
from ...model.comparing import at_least
from ...model.power import SOURCES
from ...model.quantities import in_unit, plain_number
from ...model.routes import Clearance
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_HIGH_A = 10.0
"""A, from which a wire is kept out of a bundle of signal wires: practice; no figure is published."""
_APART_IN = 3.0
"""in, within which a signal wire is not led along what makes noise: practice; no figure is published."""
_BARE_GROUND = "ignition ground lead without a shield"
_NOISE = frozenset((_BARE_GROUND, "ignition lead", "high-current wire", "aerial lead"))
_EARTH_T = 20e-6
"""T, horizontal part of the earth's field in middle latitudes: it is 15 to 25 microtesla over most of the US."""
_MU0 = 4e-7 * pi
_DEVIATION_DEG = 10.0
"""deg, largest compass deviation: 14 CFR 23.1327(a)(2) before amendment 23-64; (b) excepts a compass beside a direction
indicator, with a placard."""


def _with_signals(study: Study) -> Iterator[Carrier]:
    """Bundles with a signal run in them, and signal runs that speak for themselves."""
    sensing = sensing_runs(study)
    return (c for c in carriers(study, "clearances") if not sensing.isdisjoint(c.runs))


@rule(
    "sensing-apart",
    title="Signal wires do not share a bundle with ignition leads, heavy current or unprotected feeds",
    why="A magneto pulse or a starter current next to a thermocouple lead shows on the dial; a burning feed takes its bundle along.",
    source="FAA-H-8083-31 (unprotected power wiring and vital circuits apart); ignition: general practice (recalled); 10 A: practice",
    formula="bundles with signal runs hold no ignition lead, no run of 10 A or more, no run without a protector; such a lead is "
    "passed at 3 in or more, or crossed without touching, or with a guard between",
    example="an alternator feed of 60 A in the bundle of the oil bulb: give it a way of its own",
    over=_with_signals,
)
def sensing_apart(study: Study, subject: Subject, carrier: Carrier) -> Iterator[Verdict]:
    """A bundle with a signal run, and every clearance of one to something that makes noise."""
    if carrier.is_bundle:
        yield _in_bundle(study, subject, carrier)
    for i, one in enumerate(carrier.said.clearances or ()):
        here = subject.field("clearances", i).along(one.to)
        noise = [_noise_of(study, run) for run in runs_named(study, one.to)]
        if one.kind in _NOISE or any(what in _NOISE for what, _ in noise):
            yield _passing(here, carrier, one)
        elif lacking := [m for _, data in noise for m in data]:
            yield here.lacks(*lacking)


def _noise_of(study: Study, ident: str) -> tuple[str, tuple[Missing, ...]]:
    """What a run disturbs signals as, in words; or what is missing to know it."""
    run = study.model.wire_runs[ident]
    if is_ignition_lead(study, run):
        return "ignition lead", ()
    if grounds_magneto(study, run) and not run.spec.shielded and run.shield is None:
        return _BARE_GROUND, ()
    if not carries_power(study, ident):
        return "", ()
    amps = run_current(study, ident)
    starter = any(b.starter for b in run_branches(study, ident))
    if starter or (amps.value is not None and at_least(amps.value, _HIGH_A)):
        return "high-current wire", ()
    return "", amps.missing


def _in_bundle(study: Study, subject: Subject, carrier: Carrier) -> Verdict:
    signals = sensing_runs(study).intersection(carrier.runs)
    noisy: dict[str, str] = {}
    lacking: list[Missing] = []
    for ident in carrier.runs:
        if ident in signals:
            continue
        what, data = _noise_of(study, ident)
        if what == "high-current wire":
            amps = run_current(study, ident).value
            noisy[ident] = "the starter's" if amps is None else f"{plain_number(amps)} A"
        elif what:
            noisy[ident] = f"an {what}"
        elif not data and carries_power(study, ident) and _unprotected(study, ident):
            noisy[ident] = "without a protector"
        lacking += data
    if noisy:
        named = [f"{ident} ({what})" for ident, what in noisy.items()]
        lay = sorted(signals, key=carrier.runs.index)
        told = f"signal run{'s' if len(lay) > 1 else ''} {listed(lay)}"
        return subject.along(*noisy, *lay).advisory(
            f"the bundle {carrier.ident} holds the {told} beside {listed(named)}",
            remedy=f"lead {listed(lay if len(lay) < len(noisy) else list(noisy))} outside this bundle",
        )
    if lacking:
        return subject.lacks(*lacking)
    return subject.meets(
        f"the {len(signals)} signal runs of the bundle {carrier.ident} lie with nothing that disturbs them"
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
    return supply is not None and supply.spec.kind in SOURCES


def _passing(subject: Subject, carrier: Carrier, one: Clearance) -> Verdict:
    if one.distance is None:
        return subject.lacks(missing.CLEARANCE_NOISE)
    inches = in_unit(one.distance, "in", "length")
    text = f"{carrier.name} passes {one.to} ({one.kind}) at {plain_number(inches)} in"
    if one.distance > 0 and (one.guarded or one.position == "crossing"):
        return subject.meets(text)
    along = f" for {plain_number(in_unit(one.along, 'in', 'length'))} in" if one.along is not None else ""
    touching = f"{carrier.name} holds signal runs and touches {one.to} ({one.kind}){along}"
    return subject.at_least(
        inches,
        _APART_IN,
        "in",
        text,
        broken=f"{text}{along}; 3 in is the least by practice" if one.distance > 0 else touching,
        remedy="part them; cross at a right angle where they must meet",
        practice=True,
    )


def _by_compass(study: Study) -> Iterator[Carrier]:
    """Bundles and lone runs that say how far they are from a compass."""
    for carrier in carriers(study, "clearances"):
        if any(one.kind == "compass" for one in carrier.said.clearances or ()):
            yield carrier


@rule(
    "compass-field",
    title="A power wire near the compass is twisted with its return, or too weak to turn the card",
    why="The field of one wire falls only as its distance; twisted with its return it is gone.",
    source="twist near a compass: FAA-H-8083-32 chapter 4; deviation of at most 10 deg: 14 CFR 23.1327(a)(2) before amendment "
    "23-64, with the exception of (b); field of a straight wire: plain physics",
    formula="atan(mu0 I / (2 pi d B)) <= 10 deg, B 20 microtesla, I of the strongest run that is not twisted",
    example="5 A at 14 in: 2.81 microtesla, 8.0 deg",
    over=_by_compass,
)
def compass_field(study: Study, subject: Subject, carrier: Carrier) -> Iterator[Verdict]:
    """A bundle or lone run, by its strongest power run that is not twisted."""
    runs = study.model.wire_runs
    alone = {
        r: run_current(study, r) for r in carrier.runs if carries_power(study, r) and not runs[r].twisted
    }
    lacking = [m for amps in alone.values() for m in amps.missing]
    for i, one in enumerate(carrier.said.clearances or ()):
        if one.kind != "compass":
            continue
        here = subject.field("clearances", i).along(one.to)
        if not alone:
            yield here.meets(
                f"{carrier.name} passes {one.to} with no power wire that is not twisted with its return"
            )
        elif one.distance is None or lacking:
            yield here.lacks(*lacking, *((missing.CLEARANCE_COMPASS,) if one.distance is None else ()))
        else:
            worst = max(alone, key=lambda r: alone[r].value or 0.0)
            yield _turned(here.along(worst), one.to, worst, alone[worst].value or 0.0, float(one.distance))


def _turned(subject: Subject, compass: str, run: str, amps: float, distance: float) -> Verdict:
    turn = deviation(amps, distance) if distance > 0 else 90.0
    inches = plain_number(in_unit(distance, "in", "length"))
    return subject.at_most(
        turn,
        _DEVIATION_DEG,
        "deg",
        f"{run} with {plain_number(amps)} A at {inches} in turns {compass} by up to {turn:.2g} deg",
        remedy="twist it with its return ('twisted: yes'), or lead it further from the compass; beside a direction indicator a "
        "placard may do (23.1327(b))",
        practice=True,
    )


def deviation(current: float, distance: float) -> float:
    """Degrees a straight wire of ``current`` A at ``distance`` m turns a compass at most.

    >>> round(deviation(5.0, 14 * 0.0254), 1)  # 4e-7 x 5 / (2 x 0.3556) = 2.81e-6 T over 20e-6 T
    8.0
    """
    return degrees(atan(_MU0 * current / (2 * pi * distance) / _EARTH_T))
