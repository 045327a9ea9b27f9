"""The head-temperature probe is on the hottest cylinder, as a statement with a margin."""

from __future__ import annotations

from collections.abc import Sequence

from ...analysis import missing
from ...analysis.shown import difference, engine_id, listed, numbers, shown
from ...analysis.study import Study
from ...analysis.surveys import Found, Stage, found_on, other_number
from ...dataclass import dataclass
from ...document.source import DocPath
from ...model.aircraft import Engine
from ...model.comparing import at_most, same
from ...model.edits import Change, Drop, Edit, Put
from ...model.quantities import in_unit, plain_number
from ..verdicts import Verdict
from ..vocabulary import Subject, rule


@dataclass(frozen=True, slots=True)
class Group:
    """The head probes one indicator can show, by switch, by input or as an average; or one probe that nothing reads.

    Attributes:
        engine: id of the engine.
        probes: ids of the probes.
        averaged: whether it shows the mean of all.
    """

    engine: str
    probes: tuple[str, ...]
    averaged: bool

    @property
    def ident(self) -> str:
        """Id of the first probe."""
        return self.probes[0]

    @property
    def path(self) -> DocPath:
        """Where the document tells of the first probe."""
        return "probes", self.probes[0]


def groups(study: Study) -> list[Group]:
    """The probes that carry the required indication of each engine, one group for each indicator."""
    probes = {
        i: p
        for i, p in study.model.probes.items()
        if p.measures == "head temperature" and study.model.engine_of(p)
    }
    read: dict[tuple[str, str], list[str]] = {}
    mean: set[tuple[str, str]] = set()
    extra: set[tuple[str, str]] = set()
    for one in shown(study):
        for indication in one.reads:
            if indication.section != "probes" or indication.source not in probes:
                continue
            engine = engine_id(study, probes[indication.source])
            read.setdefault((engine, one.indicator), []).append(indication.source)
            if indication.averaged:
                mean.add((engine, one.indicator))
            if one.item.required is False:
                extra.add((engine, one.indicator))
    made = [
        (key in extra, Group(key[0], tuple(dict.fromkeys(ids)), key in mean)) for key, ids in read.items()
    ]
    wired = {i for ids in read.values() for i in ids}
    made += [
        (p.required is False, Group(engine_id(study, p), (i,), False))
        for i, p in probes.items()
        if i not in wired
    ]
    needed = {g.engine for is_extra, g in made if not is_extra}
    return [g for is_extra, g in made if not is_extra or g.engine not in needed]


@rule(
    "head-probe-on-hottest",
    title="The head-temperature probe is on the cylinder that reaches the limit first",
    why="The limit holds for every cylinder. A gauge with one probe keeps it only if that probe is on the hottest; on any "
    "other, the hottest can be past its limit while the pointer still looks right.",
    source="follows from 14 CFR 23.1041, 23.1043 and 23.1521(c)(4): the limit applies to every cylinder",
    formula="T_hot day = T + (100 degF - 3.6 degF/1000 ft x h - OAT); value = hottest other cylinder - probed cylinder in the "
    "stage with the least margin; sure beyond 2a, a = limit of error of one survey probe",
    example="465 degF on 3, 451 degF on 4 in the climb: probe on 4 reads 14 degF low, two type J probes differ by 7.9 degF at most",
    over=groups,
)
def head_probe_on_hottest(study: Study, subject: Subject, group: Group) -> Verdict:
    """Every indicator of head temperature with the probes it shows; extras are left out where one is required."""
    engine = study.model.engines[group.engine]
    subject = subject.along(*group.probes)
    stated = [study.model.probes[p].cylinder for p in group.probes]
    served = tuple(sorted({c for c in stated if c is not None}))
    if any(c is None for c in stated):
        return subject.lacks(missing.PROBE_CYLINDER)
    if engine.cylinders is None:
        return subject.placed("engines", group.engine).lacks(missing.ENGINE_CYLINDERS)
    subject = subject.field("cylinder")
    if not group.averaged and len(served) == engine.cylinders:
        return subject.meets(f"all {engine.cylinders} cylinders of the {group.engine} engine are shown")
    found = found_on(study, group.engine)
    if found:
        return _Judged(subject.along(found[0].survey), group, engine, served, found).verdict()
    named = engine.hottest_cylinder
    if named is None:
        return subject.lacks(missing.SURVEY_OR_NAMED_CYLINDER)
    paper = f"cylinder {named} is named by {engine.hottest_source or 'the papers of the engine'}"
    if named in served and not group.averaged:
        return subject.meets(f"{group.probes[0]} is on cylinder {named}, and {paper}")
    return subject.discrepancy(
        f"{listed(group.probes)} is on cylinder {numbers(served)}, but {paper}{_miscounted(engine, served, (named,))}",
        remedy=f"move the probe to cylinder {named}",
        cure=lambda: _moved(study, group.probes, (named,)),
    )


def _miscounted(engine: Engine, served: tuple[int, ...], hottest: tuple[int, ...]) -> str:
    """That a probe is on the hottest seat only if its number is counted from the other end."""
    if len(served) != 1 or other_number(engine, served[0]) not in hottest:
        return ""
    told = engine.numbered_from or "one end"
    return (
        f"; number {served[0]} counted from the {told} is number {numbers(hottest)} counted from the other end: "
        "see which end the number of the probe was counted from"
    )


@dataclass(frozen=True, slots=True)
class _Judged:
    """One group held against the surveys of its engine, the one with the least margin first."""

    subject: Subject
    group: Group
    engine: Engine
    served: tuple[int, ...]
    found: tuple[Found, ...]

    def reading(self, stage: Stage) -> float | None:
        """The highest the indicator can show in a stage [degC], or the mean where it averages."""
        seen = [stage.temperatures[c] for c in self.served if c in stage.temperatures]
        if len(seen) < len(self.served):
            return None
        return sum(seen) / len(seen) if self.group.averaged else max(seen)

    def verdict(self) -> Verdict:
        first, subject = self.found[0], self.subject
        stage, unit = first.governing, first.unit
        reading = self.reading(stage)
        if reading is None:
            return subject.lacks(missing.SURVEY_PROBED_CYLINDER)
        others = [t for c, t in stage.temperatures.items() if self.group.averaged or c not in self.served]
        if not others:
            return subject.lacks(missing.SURVEY_EVERY_CYLINDER)
        doubled = 2 * stage.ranking.tolerance
        low = 0.0 if same(max(others), reading) else max(others) - reading
        value, sure = (in_unit(k, unit, "temperature difference") for k in (low, -doubled))
        text = f"{self._where()} {self._reads(low, stage, unit)}, {_basis(stage, unit)}"
        within = f"two such survey probes can differ by {difference(doubled, unit)}"
        conflict = self._conflict(stage)
        if not at_most(low, doubled):
            turned = _miscounted(self.engine, self.served, stage.ranking.hottest)
            return subject.at_most(
                value,
                0.0,
                unit,
                f"{text}; {within}{self._hidden(stage, low, unit)}{conflict}{turned}",
                remedy=self._remedy(stage, conflict),
                cure=lambda: _moved(subject.study, self.group.probes, stage.ranking.hottest),
            )
        if not first.settled:
            return subject.placed(*first.path).lacks(missing.SURVEY_CONDITIONS)
        unmeasured = first.unmeasured(self.engine.cylinders or 0)
        if unmeasured:
            return subject.lacks(
                missing.SURVEY_EVERY_CYLINDER,
                because=f"{text}; cylinder {numbers(unmeasured)} is not measured and could be hotter",
            )
        if not at_most(low, -doubled):
            rivals = [c for c in stage.ranking.candidates if c not in self.served] or [
                c for c in stage.ranking.order if c not in self.served
            ][:1]
            return subject.at_most(
                value,
                sure,
                unit,
                f"{text}; {within}, so cylinder {numbers(rivals)} cannot be excluded{conflict}",
                remedy=self._apart(rivals, doubled, unit, low),
                practice=True,
            )
        if not first.grade_stated:
            return subject.placed(*first.path[:2]).lacks(
                missing.SURVEY_GRADE,
                because=f"{text}; whether that is more than two of its probes can differ by hangs on their grade",
            )
        missed = self._elsewhere(first)
        if missed or conflict:
            return subject.advisory(f"{text}{missed}{conflict}", remedy=self._both(conflict))
        enough = f"{text}, more than the {difference(doubled, unit)} of two probes"
        return subject.at_most(value, 0.0, unit, enough)

    def _where(self) -> str:
        names = listed(self.group.probes)
        if self.group.averaged:
            return f"the mean of {names}"
        return f"{names} on cylinder {numbers(self.served)}"

    def _reads(self, low: float, stage: Stage, unit: str) -> str:
        rest = [c for c in stage.ranking.order if self.group.averaged or c not in self.served]
        top = [c for c in rest if same(stage.temperatures[rest[0]], stage.temperatures[c])]
        if low == 0:
            return f"ties with cylinder {numbers(top)}"
        return f"reads {difference(abs(low), unit)} {'below' if low > 0 else 'above'} cylinder {numbers(top)}"

    def _hidden(self, stage: Stage, low: float, unit: str) -> str:
        """What the gauge shows with the hottest head at its limit."""
        if stage.limit is None:
            return ""
        limit, shows = (in_unit(t, unit, "temperature") for t in (stage.limit, stage.limit - low))
        return (
            f"; with that head at {plain_number(limit)} {unit} the gauge shows {plain_number(shows)} {unit}"
        )

    def _conflict(self, stage: Stage) -> str:
        """What speaks against the survey: the papers of the engine, or another survey of it."""
        told = ""
        named = self.engine.hottest_cylinder
        if named is not None and named not in stage.ranking.candidates:
            source = self.engine.hottest_source or "the papers of the engine"
            told += f"; but {source} names cylinder {named}, and {self.found[0].name} finds {numbers(stage.ranking.hottest)}"
        for other in self.found[1:]:
            theirs = other.governing.ranking
            if not set(theirs.candidates) & set(stage.ranking.candidates):
                told += (
                    f"; but {other.name} finds cylinder {numbers(theirs.hottest)}, and {self.found[0].name} "
                    f"finds {numbers(stage.ranking.hottest)}"
                )
        return told

    def _remedy(self, stage: Stage, conflict: str) -> str:
        move = f"move the probe to cylinder {numbers(stage.ranking.hottest[:1])}, or show every cylinder"
        return (
            f"settle with the holder of the engine's data which cylinder counts; by the survey, {move}"
            if conflict
            else move
        )

    def _both(self, conflict: str) -> str:
        if conflict:
            return "settle with the holder of the engine's data which cylinder counts, or show every cylinder"
        return "show every cylinder: one probe does not serve all stages"

    def _apart(self, rivals: list[int], doubled: float, unit: str, low: float) -> str:
        kept = difference(doubled + max(low, 0.0), unit)
        return (
            f"swap the survey probes between cylinder {numbers(self.served)} and {numbers(rivals)} and fly again, show every "
            f"cylinder, or count on {kept} less margin"
        )

    def _elsewhere(self, found: Found) -> str:
        """Another stage in which the hottest head can be past its limit while this one reads below what was seen."""
        for stage in found.stages:
            reading, margin = self.reading(stage), stage.margin
            if stage is found.governing or reading is None or margin is None:
                continue
            short = max(stage.temperatures.values()) - reading
            if short > margin:
                return (
                    f"; but in the stage '{stage.name}' it reads {difference(short, found.unit)} below cylinder "
                    f"{numbers(stage.ranking.hottest)}, with {difference(margin, found.unit)} left to the limit"
                )
        return ""


def _moved(study: Study, probes: Sequence[str], hottest: Sequence[int]) -> Edit | None:
    """The one probe on the first of some cylinders, by number and by seat."""
    if len(probes) != 1 or not hottest:
        return None
    probe = study.model.probes[probes[0]]
    engine, wanted = study.model.engine_of(probe), hottest[0]
    changes: list[Change] = [Put(("probes", probes[0], "cylinder"), str(wanted))]
    seat = (engine[1].seats or {}).get(wanted) if engine is not None else None
    if probe.seat is not None:
        changes.append(
            Put(("probes", probes[0], "seat"), seat) if seat else Drop(("probes", probes[0], "seat"))
        )
    return Edit(
        tuple(changes),
        f"move {probes[0]} to cylinder {wanted} in place of {probe.cylinder}",
        f"{probes[0]} is on cylinder {probe.cylinder}",
    )


def _basis(stage: Stage, unit: str) -> str:
    day = "on the hot day" if stage.corrected else "as read"
    told = f"{day} in the stage '{stage.name}'"
    if stage.margin is None:
        return told
    left = difference(abs(stage.margin), unit)
    return f"{told}, {left} {'left to' if stage.margin >= 0 else 'above'} the limit"
