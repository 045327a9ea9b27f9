"""What wires and joints say of themselves, held against where they are: voltage, fire, moisture and vibration."""

from __future__ import annotations

from typing import Final

from ...analysis import missing
from ...analysis.ignition import grounds_magneto, is_ignition_lead
from ...analysis.routing import run_ends, run_zones
from ...analysis.study import Study, once
from ...graph.edges import EdgeKind
from ...graph.joining import Joined
from ...model.comparing import at_most
from ...model.installation import split_end
from ...model.quantities import plain_number
from ...model.wiring import Junction, WireRun
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_SOURCES = frozenset(("battery", "alternator", "generator", "inverter"))
_METAL: Final[tuple[EdgeKind, ...]] = ("conductor", "joint", "contact", "spool", "shield")


def _said_unknown(subject: Subject, word: str) -> bool:
    return subject.study.document.declared_unknown((*subject.path, word))


@rule(
    "wire-voltage",
    title="A wire is rated for the voltage of what it hangs on",
    why="Insulation made for less breaks down where it is rubbed or damp, and the wire shorts with its protector sound.",
    source="the part's own limit; AC 43.13-1B 11-76 (choice of wire)",
    formula="highest voltage of the sources the run is joined to, else of the aircraft <= voltage rating of the wire",
    example="wire of 12 V in an aircraft of 28 V: 16 V short",
    over="wire_runs",
)
def wire_voltage(study: Study, subject: Subject, run: WireRun) -> Verdict | None:
    """A run whose voltage rating is stated; the voltage of an ignition is not described."""
    if is_ignition_lead(study, run) or grounds_magneto(study, run):
        return None
    rating = run.spec.voltage_rating
    if rating is None:
        return subject.lacks(missing.RUN_VOLTAGE) if _said_unknown(subject, "voltage_rating") else None
    volts, silent = _highest_volts(study, subject.ident)
    if silent and (volts is None or at_most(volts, rating)):
        return subject.along(*silent).lacks(missing.SUPPLY_VOLTAGE)
    if volts is None:
        return subject.lacks(missing.SYSTEM_VOLTAGE)
    return subject.at_most(
        volts,
        float(rating),
        "V",
        f"run {subject.ident} hangs on {plain_number(volts)} V and is rated {rating.text}",
        remedy=lambda: f"use wire rated {plain_number(volts)} V or more",
    )


def _highest_volts(study: Study, ident: str) -> tuple[float | None, tuple[str, ...]]:
    """Highest voltage a run can be driven with as far as is known, and the sources that drive it and do not tell theirs.

    That of the sources it is joined to and of the system; of all sources there are, where it is joined to none.
    """
    joined, posts = _driven(study)
    nodes = study.graph.nodes_of(run_ends(study.model.wire_runs[ident]))
    here = [one for one in posts if any(joined[node] == joined[one[0]] for node in nodes)]
    system = study.model.aircraft.system_voltage
    known = [volts for _, volts in here or posts if volts is not None]
    known += [float(system)] if system is not None else []
    return max(known, default=None), tuple(post.partition(".")[0] for post, volts in here if volts is None)


@once
def _driven(study: Study) -> tuple[Joined[str], list[tuple[str, float | None]]]:
    """Nodes joined by metal, grounds apart, and the live post of every source with its voltage."""
    joined: Joined[str] = Joined()
    for edge in study.graph.of(*_METAL):
        if not (study.graph.is_ground(edge.a) or study.graph.is_ground(edge.b)):
            joined.union(edge.a, edge.b)
    posts: list[tuple[str, float | None]] = []
    for ident, supply in study.model.supplies.items():
        kind, named, volts = supply.spec.kind, supply.spec.terminals, supply.spec.voltage
        if kind in _SOURCES or (kind is None and volts is not None):
            live = (named or ["in", "out"])[1] if kind == "inverter" else (named or ["+"])[0]
            posts.append((f"{ident}.{live}", float(volts) if volts is not None else None))
    return joined, posts


@rule(
    "wire-in-fire",
    title="A wire in a fire zone that must work in a fire is fire-rated",
    why="Ordinary insulation is gone within a minute of fire, and with it what shuts the fuel off or shows the fire.",
    source="AC 43.13-1B 11-124 (fire-rated wire); what must work in a fire: 14 CFR 23.1359(b) (recalled)",
    formula="a run through a fire zone that ends at an essential load: 'fire_rated: yes'",
    example="ordinary wire to an essential shutoff valve in the engine zone: fire-rated wire",
    over="wire_runs",
)
def wire_in_fire(study: Study, subject: Subject, run: WireRun) -> Verdict | None:
    """A run through a fire zone that says whether it is fire-rated, or ends at what is essential."""
    zones = run_zones(study, subject.ident) or ()
    zone = next((z for z in zones if study.model.zones[z].fire_zone), None)
    if zone is None:
        return None
    rated, text = run.spec.fire_rated, f"run {subject.ident} passes the fire zone {zone}"
    ends = {split_end(end)[0] for end in run_ends(run)}
    vital = sorted(i for i in ends if i in study.model.loads and study.model.loads[i].essential)
    if rated:
        return subject.meets(f"{text} and is fire-rated")
    if not vital:
        return subject.meets(f"{text} and ends at nothing essential") if rated is False else None
    if rated is None:
        return subject.along(*vital).lacks(missing.RUN_FIRE_RATING)
    return subject.along(*vital).advisory(
        f"{text}, is not fire-rated and ends at the essential {vital[0]}",
        remedy="use fire-rated wire, or lead it outside that zone",
    )


_FLAME_RESISTANT = (
    *("etfe", "ptfe", "fep", "pvdf", "polyimide", "polyalkene", "silicone", "fibreglass", "fiberglass"),
    *("glass braid", "mineral", "ceramic", "asbestos", "nylon"),
)
"""Words of insulations on the aircraft wire of AC 43.13-1B tables 11-11 and 11-12 and of thermocouple lead; nylon over PVC is that
of the older wire there."""
_NOT_SHOWN = ("pvc", "vinyl", "automotive", "car-grade", "household", "appliance", "rubber", "polyethylene")
"""Words of insulations of other trades, or that no table of aircraft wire names alone."""


@rule(
    "wire-insulation",
    title="A wire's insulation is one that resists flame",
    why="Car and household insulation carries a flame along the bundle and fills the cabin with smoke.",
    source="AC 43.13-1B tables 11-11, 11-12 (aircraft wire, recalled); 14 CFR 23.1365(b) (flame resistant, recalled)",
    formula="insulation as on aircraft wire: ETFE, PTFE, polyimide, nylon over PVC, fibreglass or the like",
    example="car-grade PVC on a main feeder: AS22759 wire",
    over="wire_runs",
)
def wire_insulation(study: Study, subject: Subject, run: WireRun) -> Verdict | None:
    """A run that says what its insulation is; ignition leads are made to their own standard."""
    said = run.spec.insulation
    if said is None or is_ignition_lead(study, run):
        return subject.lacks(missing.RUN_INSULATION) if _said_unknown(subject, "insulation") else None
    words = said.casefold()
    subject = subject.field("insulation")
    if any(word in words for word in _NOT_SHOWN) and not any(word in words for word in _FLAME_RESISTANT):
        return subject.advisory(
            f"run {subject.ident} has insulation of {said}, which nothing shows to resist flame",
            remedy="use wire of an aircraft standard, or show that it is at least flame resistant",
        )
    if "known" not in words and any(word in words for word in _FLAME_RESISTANT):
        return subject.meets(f"run {subject.ident} has insulation of {said}")
    return subject.lacks(missing.RUN_INSULATION)


@rule(
    "joint-sealed",
    title="A joint outside the cabin is sealed against moisture",
    why="Water creeps along the strands into an open splice or plug, and its green salts are resistance in a signal.",
    source="AC 43.13-1B 11-167 to 11-178 (joints sealed where moisture reaches them; paragraph recalled)",
    formula="'sealed: yes' for a joint in a zone people do not sit in",
    example="an open knife splice in the engine bay: one under a sealing sleeve",
    over="junctions",
)
def joint_sealed(study: Study, subject: Subject, joint: Junction) -> Verdict | None:
    """A joint that says whether it is sealed."""
    sealed = joint.spec.sealed
    if sealed is None:
        return subject.lacks(missing.JOINT_SEALED) if _said_unknown(subject, "sealed") else None
    if sealed:
        return subject.meets(f"{subject.ident} is sealed against moisture")
    zone = study.model.zones.get(joint.zone or "")
    if zone is None or zone.occupied is None:
        return subject.lacks(missing.JOINT_ZONE_KIND)
    if zone.occupied:
        return subject.meets(f"{subject.ident} is open, in the {joint.zone}")
    return subject.advisory(
        f"{subject.ident} in the {joint.zone} is open to moisture",
        remedy="use a sealed one, or a sealing sleeve over it",
    )


@rule(
    "joint-crimped",
    title="A joint in a place that vibrates is crimped, not soldered alone",
    why="Solder creeps up the strands and ends in a stiff edge, where vibration breaks them.",
    source="AC 43.13-1B 11-167, 11-174 (crimped terminals and splices; paragraph recalled); general practice",
    formula="'crimped: yes' for a joint in a zone that vibrates",
    example="a soldered splice on the engine: a crimped one, and its wires clamped beside it",
    over="junctions",
)
def joint_crimped(study: Study, subject: Subject, joint: Junction) -> Verdict | None:
    """A joint that says whether it is crimped."""
    if joint.crimped is None:
        return subject.lacks(missing.JOINT_CRIMPED) if _said_unknown(subject, "crimped") else None
    if joint.crimped:
        return subject.meets(f"the joints of {subject.ident} are crimped")
    zone = study.model.zones.get(joint.zone or "")
    if zone is None or zone.vibrates is None:
        return subject.lacks(missing.ZONE_VIBRATION)
    if not zone.vibrates:
        return subject.meets(f"{subject.ident} is not crimped, and nothing shakes it")
    return subject.advisory(
        f"{subject.ident} is not crimped, and sits in the {joint.zone}, which vibrates",
        remedy="crimp it, and clamp its wires close to it",
    )
