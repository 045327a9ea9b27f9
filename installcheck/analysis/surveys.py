"""The head-temperature surveys of the document, stage by stage on the hot day: who is hottest, by how much, how sure."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, TypeAlias

from ..dataclass import dataclass
from ..document.source import DocPath
from ..files.reading import followed
from ..model.aircraft import Engine
from ..model.records import Survey, SurveyStage
from ..physics.cooling import corrected_temperature
from . import missing
from .missing import Missing
from .study import Study, once

if TYPE_CHECKING:
    from ..logs.flight_log import FlightLog
    from ..survey.ranking import Probes
    from ..survey.result import Phase, Ranking
    from ..survey.result import Survey as LogSurvey


@dataclass(frozen=True, slots=True)
class Stage:
    """One stage of a survey; temperatures and differences in degC.

    Attributes:
        temperatures: by cylinder, on the hot day where ``corrected``, else as read.
        limit, margin: the limit that applies, and what is left of it; ``None`` without one.
        ranking: the order, with the tie, the candidates and the probe tolerance.
    """

    name: str
    temperatures: Mapping[int, float]
    corrected: bool
    limit: float | None
    ranking: Ranking

    @property
    def margin(self) -> float | None:
        """What is left of the limit above the hottest head."""
        return None if self.limit is None else self.limit - max(self.temperatures.values())


@dataclass(frozen=True, slots=True)
class Found:
    """What one survey, or one log, found.

    Attributes:
        survey, path: its id and where the document tells of it; ``name`` says which of the two it is.
        engine: id of the engine surveyed.
        unit: in which its temperatures are shown.
        stages: those that could be ranked; ``governing`` is the one with the least margin.
        settled: whether the choice of the governing stage does not hang on a correction that cannot be made.
        grade_stated: whether the grade of the survey's probes is given.
        examined: the whole survey of a log, for the plot; ``None`` for stages written in the document.
    """

    survey: str
    name: str
    path: DocPath
    engine: str
    unit: str
    stages: tuple[Stage, ...]
    settled: bool
    grade_stated: bool
    examined: LogSurvey | None = None

    @property
    def ident(self) -> str:
        """Id of the survey."""
        return self.survey

    def unmeasured(self, count: int) -> list[int]:
        """Cylinders of ``count`` that are not measured in the governing stage."""
        return [c for c in range(1, count + 1) if c not in self.governing.temperatures]

    @property
    def governing(self) -> Stage:
        """The stage with the least margin; without limits, the hottest."""
        if all(s.margin is not None for s in self.stages):
            return min(self.stages, key=lambda s: s.margin or 0.0)
        return max(self.stages, key=lambda s: max(s.temperatures.values()))


@dataclass(frozen=True, slots=True)
class Unusable:
    """A survey, or its log, from which nothing can be had, and why."""

    survey: str
    path: DocPath
    why: str
    missing: Missing

    @property
    def ident(self) -> str:
        """Id of the survey."""
        return self.survey


Surveyed: TypeAlias = Found | Unusable


@once
def surveys(study: Study) -> tuple[Surveyed, ...]:
    """Every survey of the document, read and ranked."""
    return tuple(_surveys(study))


def found_on(study: Study, engine: str) -> tuple[Found, ...]:
    """What the surveys of an engine found, the one with the least margin first."""
    mine = [s for s in surveys(study) if isinstance(s, Found) and s.engine == engine]
    return tuple(sorted(mine, key=lambda f: (f.governing.margin is None, f.governing.margin or 0.0)))


def other_number(engine: Engine, cylinder: int) -> int | None:
    """The number of the same seat counted from the other end; ``None`` where that says nothing.

    Opposed banks keep their side: of four, 1 and 3 change places, and 2 and 4.
    """
    count = engine.cylinders
    if count is None or engine.numbered_from == "top clockwise from the rear":
        return None
    if engine.layout == "opposed" and count % 2 == 0:
        return count - cylinder if cylinder % 2 else count + 2 - cylinder
    return count + 1 - cylinder if engine.layout == "inline" else None


def _surveys(study: Study) -> Iterator[Surveyed]:
    for ident, survey in study.model.survey.items():
        at: DocPath = ("survey", ident)
        found = study.model.engine_of(survey)
        if found is None:
            yield Unusable(ident, at, "the engine surveyed is not said", missing.SURVEY_ENGINE)
            continue
        if survey.stages is None and survey.log is None:
            yield Unusable(ident, at, "it holds no temperatures", missing.SURVEY_TEMPERATURES)
        if survey.stages is not None:
            yield _of_stages(ident, survey, *found)
        if survey.log is not None:
            yield _of_log(study, ident, survey, *found)


def _probes(survey: Survey) -> Probes:
    from ..survey.ranking import Probes

    grade = survey.probe_grade or "standard"
    kind = survey.thermocouple or "K"
    if grade.startswith("IEC "):
        return Probes(grade.removeprefix("IEC "), kind, "IEC 60584-1")
    return Probes(grade, kind, "ASTM E230")


def _of_stages(ident: str, survey: Survey, engine_id: str, engine: Engine) -> Surveyed:
    from ..survey.ranking import rank

    path: DocPath = ("survey", ident, "stages")
    stages, unit = [], "degF"
    for name, given in (survey.stages or {}).items():
        if not given.temperatures:
            continue
        unit = next(iter(given.temperatures.values())).unit
        try:
            numbered = {
                _number(survey, engine, n): _hot(given, float(t)) for n, t in given.temperatures.items()
            }
            ranking = rank({n: t for n, (t, _) in numbered.items()}, 0.0, _probes(survey))
        except ValueError as bad:
            return Unusable(ident, (*path, name), str(bad), missing.SURVEY_RANKABLE)
        corrected = all(c for _, c in numbered.values())
        limit = given.limit if given.limit is not None else _limit(engine)
        stages.append(Stage(name, {n: t for n, (t, _) in numbered.items()}, corrected, limit, ranking))
    if not stages:
        return Unusable(ident, path, "its stages hold no temperatures", missing.SURVEY_EVERY_CYLINDER)
    return _made(ident, survey, f"survey '{ident}'", path, engine_id, unit, stages)


def _hot(given: SurveyStage, read: float) -> tuple[float, bool]:
    """A temperature [degC] on the hot day, and whether it could be carried there."""
    if given.outside_air is None or given.altitude is None:
        return read, False
    return corrected_temperature(read, float(given.outside_air), float(given.altitude)).temperature, True


def _limit(engine: Engine) -> float | None:
    limit = (engine.limits or {}).get("head temperature")
    return None if limit is None or limit.maximum is None else float(limit.maximum)


def _number(survey: Survey, engine: Engine, cylinder: int) -> int:
    """A cylinder of the survey by the engine's own numbers.

    Raises:
        ValueError: the survey counts otherwise, and the seats cannot be told.
    """
    if survey.numbered_from in (None, engine.numbered_from):
        return cylinder
    turned = other_number(engine, cylinder) if engine.numbered_from is not None else None
    if turned is None or survey.numbered_from == "top clockwise from the rear":
        raise ValueError(
            f"it counts cylinders from the {survey.numbered_from}, and which of the engine's numbers those are cannot be told"
        )
    return turned


def _made(
    ident: str, survey: Survey, name: str, path: DocPath, engine: str, unit: str, stages: list[Stage]
) -> Found:
    tops = {s.ranking.hottest for s in stages}
    settled = len(tops) == 1 or all(s.corrected for s in stages)
    return Found(ident, name, path, engine, unit, tuple(stages), settled, survey.probe_grade is not None)


def _of_log(study: Study, ident: str, survey: Survey, engine_id: str, engine: Engine) -> Surveyed:
    from ..logs.flight_log import LogError, read_log
    from ..survey import survey as examine

    path: DocPath = ("survey", ident, "log")
    name = survey.log or ""
    file = _inside(study.document.folder, name)
    if isinstance(file, str):
        return Unusable(ident, path, file, missing.SURVEY_LOG_READABLE)
    study.opened(file)
    probes = _probes(survey)
    try:
        log = read_log(
            file,
            columns=survey.columns,
            cylinders=engine.cylinders,
            engine=list(study.model.engines).index(engine_id) + 1,
        )
        made = examine(
            _connected(log, survey.unconnected or []),
            cylinders=engine.cylinders,
            limit=_limit(engine),
            grade=probes.grade if survey.probe_grade is not None else None,
            kind=probes.kind,
            standard=probes.standard,
        )
        stages = [_stage(phase, survey, engine) for phase in made.phases]
    except LogError as bad:
        where = name if bad.line is None else f"{name}, line {bad.line}"
        column = "" if bad.column is None else f", column '{bad.column}'"
        return Unusable(ident, path, f"{where}{column}: {bad.text}", missing.SURVEY_LOG_READABLE)
    except ValueError as bad:
        return Unusable(ident, path, f"{name}: {bad}", missing.SURVEY_LOG_USABLE)
    if not stages:
        return Unusable(ident, path, f"{name}: no phase of flight is found in it", missing.SURVEY_LOG_FLIGHT)
    found = _made(ident, survey, f"log {name}", path, engine_id, made.unit, stages)
    return replace(found, examined=made)


def _stage(phase: Phase, survey: Survey, engine: Engine) -> Stage:
    """A phase of a log as a stage, its cylinders by the engine's numbers."""

    def mine(cylinders: tuple[int, ...]) -> tuple[int, ...]:
        return tuple(_number(survey, engine, c) for c in cylinders)

    heads = {h.cylinder: h.peak if h.corrected is None else h.corrected for h in phase.heads}
    ranking = phase.by_peak
    return Stage(
        phase.name,
        {_number(survey, engine, c): t for c, t in heads.items()},
        all(h.corrected is not None for h in phase.heads),
        _limit(engine),
        replace(
            ranking,
            order=mine(ranking.order),
            hottest=mine(ranking.hottest),
            candidates=mine(ranking.candidates),
            next=None if ranking.next is None else mine((ranking.next,))[0],
        ),
    )


def _inside(folder: Path | None, name: str) -> Path | str:
    """The file a log's name stands for in the folder of the document, or why it is none."""
    if folder is None:
        return f"'{name}' cannot be found: the document is not read from a folder"
    try:
        target = followed(folder / name)
        inside = target.is_relative_to(folder.resolve())
    except (OSError, ValueError, RuntimeError):
        return f"'{name}' cannot be opened"
    return target if inside else f"'{name}' lies outside the folder of the document"


def _connected(log: FlightLog, unconnected: list[str]) -> FlightLog:
    """The log without the channels the document says have no probe.

    Raises:
        ValueError: none is left.
    """
    gone = {name.strip().casefold() for name in unconnected}
    roles = {c.role for c in log.columns if c.name.strip().casefold() in gone}
    left = {n: values for n, values in log.cht.items() if f"cht {n}" not in roles}
    if not left:
        raise ValueError("no channel with a probe is left")
    return replace(log, cht=left)
