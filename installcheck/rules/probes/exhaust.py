"""Exhaust probes sit at one distance from their ports, within the band the papers allow."""

from __future__ import annotations

from collections.abc import Iterator
from statistics import median

from ...analysis import missing
from ...analysis.shown import engine_id, number, text, width_text
from ...analysis.study import Study
from ...dataclass import dataclass
from ...document.source import DocPath
from ...model import comparing
from ...model.aircraft import Engine
from ...model.devices import Probe
from ...model.quantities import plain_number
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_NEAREST_M, _FARTHEST_M = 2 * 0.0254, 8 * 0.0254
"""2 to 8 in: widest band published in instrument and engine manuals, which disagree within it."""
_SPREAD_M = 0.5 * 0.0254
"""0.5 in between the probes of one engine: our choice, as no source states a figure."""
_SAYS = {
    "band": "its papers allow",
    "distance": "its papers name a distance, and half an inch either way is",
    "manuals": "manuals at large allow",
}


def _in_pipe(probe: Probe) -> bool:
    return probe.measures == "exhaust temperature" and probe.mount in (None, "exhaust pipe")


@rule(
    "exhaust-probe-distance",
    title="Exhaust probes sit within the stated band from the port",
    why="Too near, the flame tires the probe; too far, or past a slip joint, it reads low. Manuals name distances from 1.5 to 8 in.",
    source="papers of the engine or probe; without them 2 to 8 in, as instrument and engine manuals that disagree allow",
    formula="nearest <= distance <= farthest; a single stated distance is held to 0.5 in",
    example="a probe at 9 in where the papers allow 2 to 8 in: 1 in too far",
    over="probes",
)
def exhaust_probe_distance(study: Study, subject: Subject, probe: Probe) -> Verdict | None:
    """Every exhaust probe in a pipe."""
    if not _in_pipe(probe):
        return None
    at = probe.distance
    if at is None:
        return subject.lacks(missing.PROBE_DISTANCE)
    found = study.model.engine_of(probe)
    low, high, declared = _band(found[1] if found is not None else None)
    what = f"{subject.ident} sits {text(at, at)} from the port"
    band = f"{_SAYS[declared]} {plain_number(number(low, at))} to {text(high, at)}"
    near = at < (low + high) / 2
    limit = low if near else high
    subject = subject.field("distance")
    known = float(probe.distance_tolerance or 0.0)
    if known and comparing.at_most(abs(at - limit), known):
        return subject.lacks(
            missing.PROBE_DISTANCE_CLOSER,
            because=f"{what} within {text(known, at)}, and {band}: measured closer, it can be either",
        )
    judge = subject.at_least if near else subject.at_most
    return judge(
        number(at, at),
        number(limit, at),
        at.unit,
        f"{what}; {band}",
        broken=f"{what}, but {band}",
        remedy=f"move it {width_text(abs(limit - at), at)}, to {text(limit, at)} or within",
        practice=declared != "band",
    )


def _band(engine: Engine | None) -> tuple[float, float, str]:
    """Nearest and farthest [m], and who says so."""
    if engine is not None and engine.exhaust_probe_band is not None:
        low, high = sorted(float(x) for x in engine.exhaust_probe_band)
        return low, high, "band"
    if engine is not None and engine.exhaust_probe_distance is not None:
        middle = float(engine.exhaust_probe_distance)
        return (max(middle - _SPREAD_M, 0.0), middle + _SPREAD_M, "distance")
    return _NEAREST_M, _FARTHEST_M, "manuals"


@dataclass(frozen=True, slots=True)
class ProbeSet:
    """The exhaust probes of one engine."""

    ident: str
    probes: tuple[tuple[str, Probe], ...]

    @property
    def path(self) -> DocPath:
        """Where the document tells of the first."""
        return "probes", self.probes[0][0]


def _sets(study: Study) -> Iterator[ProbeSet]:
    engines: dict[str, list[tuple[str, Probe]]] = {}
    for ident, probe in study.model.probes.items():
        if _in_pipe(probe):
            engines.setdefault(engine_id(study, probe), []).append((ident, probe))
    for engine, probes in engines.items():
        yield ProbeSet(engine or probes[0][0], tuple(probes))


@rule(
    "exhaust-probes-even",
    title="The exhaust probes of an engine sit at one distance",
    why="The gas cools along the pipe. Probes at unequal distances show differences that are not mixture; their peaks can still be "
    "compared with themselves.",
    source="instrument and engine manuals: same distance on every cylinder; no source gives degrees for each inch",
    formula="largest less smallest distance <= 0.5 in (our choice)",
    example="2.65, 2.7, 2.6 and 3.5 in: 0.9 in apart, cylinder 4 stands out",
    over=_sets,
)
def exhaust_probes_even(study: Study, subject: Subject, item: ProbeSet) -> Verdict | None:
    """Engines with two exhaust probes or more."""
    subject = subject.along(*(i for i, _ in item.probes))
    known = [(i, p, p.distance) for i, p in item.probes if p.distance is not None]
    if len(item.probes) < 2 or not known:
        return None
    if len(known) < len(item.probes):
        unknown = next(i for i, p in item.probes if p.distance is None)
        return subject.placed("probes", unknown).lacks(missing.PROBE_DISTANCE)
    distances = [float(d) for _, _, d in known]
    middle, spread = median(distances), max(distances) - min(distances)
    ident, probe, out = max(known, key=lambda k: abs(k[2] - middle))
    doubt = sum(sorted(float(p.distance_tolerance or 0.0) for _, p, _ in known)[-2:])
    if doubt and comparing.at_most(abs(spread - _SPREAD_M), doubt):
        return subject.lacks(missing.PROBE_DISTANCE_CLOSER)
    told = f"the exhaust probes sit {width_text(spread, out)} apart in distance from their ports"
    where = f"cylinder {probe.cylinder}" if probe.cylinder is not None else ident
    return subject.placed("probes", ident, "distance").at_most(
        number(spread, out),
        number(_SPREAD_M, out),
        out.unit,
        told,
        broken=f"{told}: {where} stands out at {text(out, out)}, the middle is {text(middle, out)}; compare each only "
        "with itself",
        remedy=f"move {ident} to {text(middle, out)}, or take no absolute value across cylinders",
        practice=True,
    )
