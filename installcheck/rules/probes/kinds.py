"""Probes of one kind at the place the limit is written for, one for each cylinder, each shown under its own number."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.shown import Shown, engine_id, listed, numbers, shown
from ...analysis.study import Study
from ...dataclass import dataclass
from ...document.source import DocPath
from ...model.devices import Probe, ProbeKind
from ...model.fields import Measure
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

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


@rule(
    "head-probe-kind",
    title="The head probe takes the temperature where the limit is written for",
    why="A limit holds for the point at which the engine's maker measured it. A ring under the plug may read 25 degF below to "
    "50 degF above the well of the same cylinder: reports disagree even in the sign.",
    source="14 CFR 23.1521(c)(4), 33.7(b)(4): the limit belongs to the point stated with it; FAA-H-8083-31 chapter 10 for the kinds",
    formula="place of the probe = place of the limit; ring against well: -25 to +50 degF, not corrected",
    example="gasket ring against a limit in the well: the head can be 25 degF hotter than shown",
    over="probes",
)
def head_probe_kind(study: Study, subject: Subject, probe: Probe) -> Verdict | None:
    """Every head-temperature probe; one that is no part of the required indication can only be advised on."""
    if probe.measures != "head temperature":
        return None
    kind, ident = probe.spec.kind, subject.ident
    if kind is None:
        return subject.lacks(missing.PROBE_KIND)
    place = _FAMILY.get(kind)
    if place is None:
        return subject.field("kind").discrepancy(
            f"{ident} is an {kind} probe, which is not made for a cylinder head"
        )
    if probe.mount is not None and place in _SEATS and probe.mount not in _SEATS[place]:
        return subject.field("mount").discrepancy(
            f"{ident} is a {kind} probe, which does not fit the {probe.mount}",
            remedy=f"fit it at the {' or '.join(_SEATS[place])}, or state the probe that is fitted",
        )
    found = study.model.engine_of(probe)
    reference = found[1].head_reference if found is not None else None
    if reference is None:
        return (subject.placed("engines", found[0]) if found else subject).lacks(
            missing.ENGINE_HEAD_REFERENCE
        )
    if place == reference:
        return subject.meets(f"{ident} is a {kind} probe, and the limit is measured at the {reference}")
    told = f"{ident} is a {kind} probe, but the limit is measured at the {reference}"
    return _elsewhere(subject, told, place, reference, required=_is_required(study, ident, probe))


def _is_required(study: Study, ident: str, probe: Probe) -> bool:
    """As stated; else whether any indicator that reads it is more than an extra, or none reads it."""
    if probe.required is not None:
        return probe.required
    standing = [
        one.item.required is False for one in shown(study) if any(r.source == ident for r in one.reads)
    ]
    return not standing or not all(standing)


def _elsewhere(subject: Subject, told: str, place: str, reference: str, *, required: bool) -> Verdict:
    remedy = {
        "well": "fit a bayonet or screw-in probe in the well",
        "gasket ring": "fit a gasket ring probe under the plug the papers name",
        "bolt": "fit a ring under the bolt the papers name",
    }[reference]
    if {place, reference} != {"well", "gasket ring"}:
        judge = subject.discrepancy if required and place == "surface" else subject.advisory
        return judge(
            f"{told}; how far it reads from that is not known",
            remedy=f"{remedy}, or fly both on one cylinder",
        )
    low = _RING_LOW_F if place == "gasket ring" else _RING_HIGH_F
    return subject.at_most(
        low,
        0.0,
        "degF",
        f"{told}: a ring may read 25 degF below to 50 degF above the well of the same cylinder, so the pointer may stand "
        f"{low:g} degF low",
        remedy=f"{remedy}, or fly both on one cylinder to measure the difference",
        practice=not required,
    )


@dataclass(frozen=True, slots=True)
class ProbeSet:
    """Probes of one measure and engine that are shown together."""

    engine: str
    measure: Measure
    probes: tuple[tuple[str, Probe], ...]

    @property
    def ident(self) -> str:
        """Id of the engine, else of the first probe."""
        return self.engine or self.probes[0][0]

    @property
    def path(self) -> DocPath:
        """Where the document tells of the first probe."""
        return "probes", self.probes[0][0]


def _sets(study: Study) -> list[ProbeSet]:
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
    return [ProbeSet(e, m, tuple(p.items())) for (e, m, _), p in sets.items()]


@rule(
    "cylinder-served-once",
    title="A set of cylinder probes serves every cylinder once",
    why="A cylinder without a probe is not watched, and two channels on one cylinder hide that another is missing.",
    source="practice: one channel for each cylinder, found by warming one probe at a time",
    formula="cylinders of the probes = 1 to the number of cylinders, each once",
    example="four probes on 1, 2, 2 and 4: 2 is served twice, 3 not at all",
    over=_sets,
)
def cylinder_served_once(study: Study, subject: Subject, one: ProbeSet) -> Verdict:
    """Head and exhaust probes of every engine, those shown by one indicator together."""
    unknown = [i for i, p in one.probes if p.cylinder is None]
    if unknown:
        at = Subject(study, (one.engine or unknown[0],), ("probes", unknown[0]))
        return at.along(*unknown).lacks(missing.PROBE_CYLINDER)
    subject = subject.along(*(i for i, _ in one.probes))
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
        return subject.placed("probes", next(iter(twice.values()))[1], "cylinder").discrepancy(
            f"{one.measure}: {listed(told)}{lost}",
            remedy=f"give one of them cylinder {absent[0]}" if absent else "state which cylinder each is on",
        )
    if len(one.probes) == 1:
        return subject.meets(f"{one.measure}: one probe, on cylinder {numbers(list(by_number))}")
    if count is None:
        return subject.lacks(missing.ENGINE_CYLINDERS)
    if not absent:
        return subject.meets(f"{one.measure}: a probe on each of {count} cylinders")
    return subject.at_least(
        float(len(by_number)),
        float(count),
        "",
        f"{one.measure}: {len(one.probes)} probes for {count} cylinders, none on cylinder {numbers(absent)}",
        remedy=f"add a probe on cylinder {numbers(absent)}",
        practice=True,
    )


@dataclass(frozen=True, slots=True)
class Channel:
    """An input that reads a probe, at one position of a selector if there is one."""

    shown: Shown
    probe_id: str
    position: str | None

    @property
    def ident(self) -> str:
        """Id of the indicator."""
        return self.shown.indicator

    @property
    def path(self) -> DocPath:
        """Where the document tells of the input."""
        return self.shown.path


def _read(study: Study) -> Iterator[Channel]:
    for one in shown(study):
        for read in one.reads:
            if read.section == "probes":
                yield Channel(one, read.source, read.position)


@rule(
    "probe-under-its-number",
    title="What is shown as a cylinder comes from that cylinder's probe",
    why="Two crossed channels show the right temperatures under the wrong numbers, and the wrong cylinder is looked after.",
    source="14 CFR 33.29(a): connections that can be crossed are marked; practice: channels proven by warming one probe",
    formula="number of the channel or selector position = cylinder of the probe",
    example="input CHT 3 reads the probe on cylinder 4",
    over=_read,
)
def probe_under_its_number(study: Study, subject: Subject, channel: Channel) -> Verdict | None:
    """Inputs and selector positions that carry a cylinder number, and the probes they reach."""
    source = channel.probe_id
    cylinder, label = study.model.probes[source].cylinder, _label(channel.shown, channel.position)
    if cylinder is None or label is None:
        return None
    words, allowed = label
    subject = subject.along(source)
    if cylinder in allowed:
        return subject.meets(f"{words} reads {source} on cylinder {cylinder}")
    runs = _runs(study, channel)
    by = f" by {listed(list(runs))}" if runs else ""
    return (
        subject.along(*runs)
        .placed("probes", source, "cylinder")
        .discrepancy(
            f"{words} is cylinder {numbers(allowed)}, but reads {source} on cylinder {cylinder}{by}",
            remedy=f"change the leads over so that {words} reads the probe of its own cylinder",
        )
    )


def _runs(study: Study, channel: Channel) -> tuple[str, ...]:
    """The runs by which a channel reads its probe."""
    wanted = (channel.shown.name, channel.probe_id, channel.position)
    return next((i.runs for i in study.indications if (i.name, i.source, i.position) == wanted), ())


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
    over=_sets,
)
def head_probes_alike(study: Study, subject: Subject, one: ProbeSet) -> Verdict | None:
    """Every set of two or more head probes."""
    if one.measure != "head temperature" or len(one.probes) < 2:
        return None
    kinds: dict[str, list[str]] = {}
    for ident, probe in one.probes:
        place = _FAMILY.get(probe.spec.kind, "unknown") if probe.spec.kind else "unknown"
        kinds.setdefault(place, []).append(ident)
    subject = subject.along(*(i for i, _ in one.probes))
    if "unknown" in kinds:
        return subject.placed("probes", kinds["unknown"][0]).lacks(missing.PROBE_KIND)
    if len(kinds) == 1:
        return subject.meets(f"{len(one.probes)} head probes, all at the {next(iter(kinds))}")
    fewest = min(kinds, key=lambda k: len(kinds[k]))
    told = listed([f"{listed(ids)} at the {place}" for place, ids in kinds.items()])
    return subject.placed("probes", kinds[fewest][0]).advisory(
        f"head probes of different kinds are compared: {told}",
        remedy=f"fit {listed(kinds[fewest])} as the others, or read it apart from them",
    )
