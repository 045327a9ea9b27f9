"""Where wire runs go and what holds them: what a run leaves unsaid of its way, the bundle it lies in says for it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from ..dataclass import dataclass
from ..document.source import DocPath
from ..graph import total_length
from ..model.fields import Metal
from ..model.installation import split_end
from ..model.quantities import Gauge, Quantity
from ..model.routes import WireRouting
from ..model.wiring import Bundle, WireRun
from . import missing
from .missing import Missing
from .study import Study, once

Said = Literal["bend_radius", "support_spacing", "supported_by", "clearances", "conduit"]


@dataclass(frozen=True, slots=True)
class Carrier:
    """A bundle with its runs, or a run that speaks for itself: what a rule of routing judges once.

    Attributes:
        ident: id of the bundle or run.
        path: where the document tells of it.
        said: what it says of its way.
        runs: ids of the runs in it.
        is_bundle: whether it is a bundle.
    """

    ident: str
    path: DocPath
    said: WireRouting
    runs: tuple[str, ...]
    is_bundle: bool

    @property
    def name(self) -> str:
        """``bundle panel harness``, ``run W12``."""
        return f"{'bundle' if self.is_bundle else 'run'} {self.ident}"


@once
def bundled(study: Study) -> dict[str, list[str]]:
    """Ids of the runs in each bundle."""
    found: dict[str, list[str]] = {}
    for ident, run in study.model.wire_runs.items():
        if run.bundle is not None:
            found.setdefault(run.bundle, []).append(ident)
    return found


def carriers(study: Study, field: Said) -> Iterator[Carrier]:
    """Every bundle that holds runs, every run without one, and every run in one that speaks of ``field`` itself."""
    for ident, runs in bundled(study).items():
        if ident in study.model.bundles:
            yield Carrier(ident, ("bundles", ident), study.model.bundles[ident], tuple(runs), True)
    for ident, run in study.model.wire_runs.items():
        if run.bundle is None or getattr(run, field) is not None:
            yield Carrier(ident, ("wire_runs", ident), run, (ident,), False)


def is_sheathed(study: Study, ident: str) -> bool | None:
    """Whether a run lies in a sheath or conduit from end to end, by its own word or its bundle's; ``None`` if unsaid."""
    run = study.model.wire_runs[ident]
    bundle = study.model.bundles.get(run.bundle) if run.bundle is not None else None
    for said in (run, bundle):
        if said is None:
            continue
        if said.sheathed is not None:
            return said.sheathed
        if said.supported_by == "conduit" or said.conduit is not None:
            return True
    return None


def runs_named(study: Study, name: str) -> list[str]:
    """Runs a word of the document names: a run by its id, or those of a bundle; none where it names something else."""
    return [name] if name in study.model.wire_runs else bundled(study).get(name, [])


def carrier_zones(study: Study, carrier: Carrier) -> frozenset[str] | None:
    """Zones a carrier runs through; ``None`` if a run in it does not say."""
    seen: set[str] = set()
    for ident in carrier.runs:
        zones = run_zones(study, ident)
        if zones is None:
            return None
        seen.update(zones)
    own = carrier.said.zone if isinstance(carrier.said, Bundle) else None
    return frozenset(seen | {own}) if own is not None else frozenset(seen)


def carrier_length(study: Study, carrier: Carrier) -> float | None:
    """Length in metres of the longest run of a carrier; ``None`` if one is not given."""
    lengths = [total_length(study.model.wire_runs[i]) for i in carrier.runs]
    return None if any(one is None for one in lengths) else max(one for one in lengths if one is not None)


@once
def run_zones(study: Study, ident: str) -> tuple[str, ...] | None:
    """Zones a run passes, each once; a run without a route stays in the zone both its ends are in; ``None`` if unknown."""
    run = study.model.wire_runs[ident]
    passed = tuple(dict.fromkeys(s.zone for s in run.route or () if s.zone is not None))
    if passed:
        return passed
    at = {end_zone(study, end) for end in run_ends(run)}
    at.discard(run.zone)
    if run.zone is not None:
        return (run.zone,) if not at else None
    only = next(iter(at)) if len(at) == 1 else None
    return (only,) if only is not None else None


def run_ends(run: WireRun) -> Iterator[str]:
    """Both ends of every conductor of a run."""
    if run.from_ is not None and run.to is not None:
        yield run.from_
        yield run.to
    for conductor in (run.conductors or {}).values():
        yield conductor.from_
        yield conductor.to


def end_zone(study: Study, end: str) -> str | None:
    """Zone of the thing a run ends at."""
    found = study.model.find(split_end(end)[0])
    return getattr(found[1], "zone", None) if found is not None else None


@once
def hottest_of(study: Study, ident: str) -> tuple[Quantity | None, tuple[Missing, ...]]:
    """Highest temperature of the zones a run passes, or the data missing to know it."""
    zones = run_zones(study, ident)
    if zones is None:
        return None, (missing.RUN_ROUTE,)
    seen = [study.hottest(zone) for zone in zones]
    if any(one is None for one in seen):
        return None, (missing.ZONE_TEMPERATURE,)
    return max(one for one in seen if one is not None), ()


@once
def reached_by(study: Study, ident: str) -> Quantity | None:
    """Temperature a run reaches at least: the highest the document gives of any place it is known to pass."""
    run = study.model.wire_runs[ident]
    zones = run_zones(study, ident) or {end_zone(study, end) for end in run_ends(run)}
    return max((t for zone in zones if zone and (t := study.reached(zone)) is not None), default=None)


@dataclass(frozen=True, slots=True)
class Wire:
    """One conductor of a run: its name within the run, its two ends, gauge and metal."""

    name: str
    ends: tuple[str, str]
    gauge: Gauge | None
    metal: Metal | None


def wires(run: WireRun) -> Iterator[Wire]:
    """The conductors of a run."""
    spec = run.spec
    if run.from_ is not None and run.to is not None:
        yield Wire("", (run.from_, run.to), run.gauge, spec.metal)
    for name, conductor in (run.conductors or {}).items():
        leg = (spec.legs or {}).get(name)
        metal = conductor.metal or (leg.metal if leg is not None else None) or spec.metal
        yield Wire(name, (conductor.from_, conductor.to), conductor.gauge or run.gauge, metal)


def thinnest(run: WireRun) -> Gauge | None:
    """Gauge of the thinnest conductor of a run; ``None`` if one is not given."""
    if not run.conductors:
        return run.gauge
    gauges = [c.gauge or run.gauge for c in run.conductors.values()]
    if any(g is None for g in gauges):
        return None
    return max((g for g in gauges if g is not None), key=lambda g: g.number)


def is_thermocouple(run: WireRun) -> bool:
    """Whether a run is thermocouple lead, made of the metals of its couple."""
    return run.spec.kind == "thermocouple lead" or run.spec.thermocouple is not None


@once
def sensing_runs(study: Study) -> frozenset[str]:
    """Runs that carry a signal: as they say, else thermocouple leads and the legs of every indication."""
    in_legs = {
        step.edge.ident
        for indication in study.indications
        for leg in indication.legs
        for step in leg.steps
        if step.edge.kind == "conductor"
    }
    return frozenset(
        ident
        for ident, run in study.model.wire_runs.items()
        if (run.sensing if run.sensing is not None else is_thermocouple(run) or ident in in_legs)
    )
