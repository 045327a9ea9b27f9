"""Thermocouple leads under bare metal braid: their braids touch nothing that conducts."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.study import Study
from ...model.routes import Clearance
from ...model.wiring import WireRun
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_CONDUCTS = frozenset(("wire", "structure edge", "engine", "exhaust", "high-current wire", "ignition lead"))
"""What a braid can touch that carries metal to its surface or wears through to it."""


def is_bare_braid(run: WireRun) -> bool:
    """Whether a lead is told as having a metal braid with nothing over it."""
    said = (run.spec.insulation or "").casefold()
    return "braid" in said and ("bare" in said or "metal" in said) and "over braid" not in said


@rule(
    "thermocouple-braids-apart",
    title="Thermocouple leads under bare metal braid do not touch one another",
    why="Where two bare braids touch and chafe through, the legs meet: a second junction at the place of contact, and both "
    "indications read a mixture of the engine and of that place.",
    source="law of intermediate metals: legs that touch are a junction where they touch",
    formula="distance to every other lead > 0, or a guard between them",
    example="two braided exhaust leads in one clamp, cabin reading of one follows the engine bay",
    over="wire_runs",
)
def braids_apart(study: Study, subject: Subject, run: WireRun) -> Iterator[Verdict]:
    """Every bare-braided thermocouple lead against each thing it is said to pass, by itself or by the other."""
    if run.spec.thermocouple is None or not is_bare_braid(run):
        return
    for clearance in run.clearances or ():
        if clearance.kind in _CONDUCTS:
            yield _passing(subject.along(*_known(study, clearance.to)).field("clearances"), clearance)
    own = {clearance.to for clearance in run.clearances or ()}
    for ident, other in study.model.wire_runs.items():
        for i, clearance in enumerate(other.clearances or ()):
            if clearance.to == subject.ident and ident not in own:
                told = subject.along(ident).placed("wire_runs", ident, "clearances", i)
                yield _passing(told, clearance.model_copy(update={"to": ident}))
    if run.bundle is not None:
        beside = [
            i
            for i, other in study.model.wire_runs.items()
            if i != subject.ident and other.bundle == run.bundle and is_bare_braid(other)
        ]
        if beside:
            yield (
                subject.field("bundle")
                .along(*beside)
                .discrepancy(
                    f"{subject.ident} lies in the bundle {run.bundle} with {', '.join(beside)}: bare braids touch in it, and become "
                    "a second junction where they chafe through",
                    remedy="sleeve each braid, or run the leads apart in clamps of their own",
                )
            )


def _known(study: Study, name: str) -> tuple[str, ...]:
    return (name,) if name in study.model.wire_runs else ()


def _passing(subject: Subject, clearance: Clearance) -> Verdict:
    what = f"the bare braid of {subject.ident} passes {clearance.to}"
    if clearance.guarded:
        return subject.meets(f"{what}, with a guard between them")
    if clearance.distance is None:
        return subject.lacks(missing.BRAID_DISTANCE)
    if clearance.distance > 0:
        return subject.meets(f"{what} {clearance.distance.text} off")
    return subject.discrepancy(
        f"the bare braid of {subject.ident} touches {clearance.to}: where it chafes through, the legs meet and are a second "
        "junction there, and the indication follows that place",
        remedy="sleeve the braid, or keep them apart in clamps of their own",
    )
