"""Every name a document uses must be the name of something in it."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from functools import cached_property
from typing import Any, TypeAlias

from pydantic import BaseModel

from ..model.aircraft import Engine, Header, OperatingPoint
from ..model.devices import Indicator, InputSpec
from ..model.fluid import Fitting, FluidLine
from ..model.installation import JOINABLE, Installation, is_one_point, split_end, switched, terminals_of
from ..model.power import Ground
from ..model.records import Measurement, Notice, Survey
from ..model.things import Placed
from ..model.wiring import Junction, WireRun
from .agreement import odd_figures
from .agreement import said as odd_words
from .names import Locate, Names
from .source import DocPath, Problem

Thing: TypeAlias = tuple[str, str]
"""Section and id."""
_NOTHING = Installation(installation=Header(name="nothing"))
_LISTED = ("installation", "aircraft", "measured", "seen", "deviations", "notices")
_SECTIONS = tuple(name for name in Installation.model_fields if name not in _LISTED)
"""Sections that map ids to things."""


class References(Names):
    """The names of one installation, and what is wrong where they are used."""

    _naming: dict[str, list[Thing]] | None = None
    _earlier: tuple[Mapping[str, list[Thing]], Collection[Thing]] | None = None

    @cached_property
    def _own(self) -> Mapping[str, Callable[[str, Any], Iterator[Problem]]]:
        """What looks at the things of a section that name others in a way of their own."""
        return {
            "engines": self.engine,
            "operating_points": self.point,
            "indicators": self.inputs,
            "grounds": self.ground,
            "junctions": self.junction,
            "wire_runs": self.run,
            "fittings": self.fitting,
            "fluid_lines": self.line,
            "survey": self.survey,
        }

    def after(
        self,
        model: Installation,
        locate: Locate,
        touched: Collection[Thing],
        dropped: Collection[str] = (),
        damaged: Collection[Thing] = (),
    ) -> References:
        """The names once ``touched`` has changed; of all others what is known is copied.

        ``dropped`` and ``damaged`` are those of what was read again.
        """
        new = References(_NOTHING, locate, dropped, damaged)
        new.model = model
        new.passed, new.loads = {**model.fittings, **model.junctions}, {**model.loads, **model.indicators}
        new.terminals, new.one_points = {**self.terminals, **new.terminals}, set(self.one_points)
        ends = [(s, i, model.section(s).get(i)) for s, i in touched if s in JOINABLE]
        for _, ident, thing in ends:
            if thing is None and ident not in dropped:
                new.terminals.pop(ident, None)
            new.one_points.discard(ident)
        for section, ident, thing in ends:
            if thing is not None:
                whole = (section, ident) not in damaged
                new.terminals[ident] = terminals_of(section, thing) if whole else None  # type: ignore[arg-type]
                if is_one_point(thing):  # type: ignore[arg-type]
                    new.one_points.add(ident)
        return new

    def changed(self, before: References, touched: Collection[Thing]) -> Iterator[Problem]:
        """What is wrong now, where nothing was wrong before ``touched`` changed."""
        there = [(s, i) for s, i in touched if i in self.model.section(s)]
        if any(i not in before.model.section(s) for s, i in there):
            yield from self.doubled()
        altered = [(s, i) for s, i in touched if before.face(s, i) not in (None, self.face(s, i))]
        if any(section == "engines" for section, _ in altered):
            seen = [(section, ident) for section in _SECTIONS for ident in self.model.section(section)]
        else:
            naming = [
                t for _, i in altered for t in before.naming.get(i, ()) if t[1] in self.model.section(t[0])
            ]
            seen = list(dict.fromkeys((*there, *naming)))
        for section, ident in seen:
            yield from self.of(section, ident)
        yield from self.records()
        if before._naming is not None or before._earlier is not None:
            self._earlier = before.naming, there

    @property
    def naming(self) -> Mapping[str, list[Thing]]:
        """The things that name each thing, or did before they changed. Cost: linear, once; then that of what has changed."""
        if self._naming is None:
            found, things = self._earlier or (
                {},
                [(section, ident) for section in _SECTIONS for ident in self.model.section(section)],
            )
            self._naming, self._earlier = dict(found), None
            for thing in things:
                self.used = set()
                deque(self.of(*thing), maxlen=0)
                for name in self.used:
                    self._naming[name] = [*self._naming.get(name, ()), thing]
        return self._naming

    def face(self, section: str, ident: str) -> object:
        """What those that name a thing rest on; ``None`` if there is no such thing."""
        thing = self.model.section(section).get(ident)
        if thing is None:
            return None
        if isinstance(thing, Engine):
            return (thing.cylinders,)
        if section not in JOINABLE:
            return ()
        kind = thing.kind if isinstance(thing, Ground) else None
        mate = (thing.mates, bool(thing.cavities)) if isinstance(thing, Junction) else None
        return self.terminals.get(ident), ident in self.one_points, kind, mate

    def run(self, ident: str, run: WireRun) -> Iterator[Problem]:
        path: DocPath = ("wire_runs", ident)
        yield from self.placed("wire_runs", ident, run)
        yield from self.route((*path, "route"), run.route)
        yield from self.name((*path, "bundle"), run.bundle, self.model.bundles, "bundle")
        if run.from_ is not None and run.to is not None:
            whole = run.bundle is None or run.bundle in self.model.bundles
            yield from self.joined(path, run.from_, run.to, whole=whole)
        for name, conductor in (run.conductors or {}).items():
            yield from self.joined((*path, "conductors", name), conductor.from_, conductor.to)
            if run.spec.legs and name not in run.spec.legs:
                what = f"conductor of part '{run.part}'" if run.part else f"leg of '{ident}'"
                yield self.unknown((*path, "conductors", name), name, run.spec.legs, what)
        if run.shield is not None:
            for word, end in (("from", run.shield.from_), ("to", run.shield.to)):
                if end is not None and end != "open":
                    yield from self.end((*path, "shield", word), end)

    def line(self, ident: str, line: FluidLine) -> Iterator[Problem]:
        path: DocPath = ("fluid_lines", ident)
        yield from self.placed("fluid_lines", ident, line)
        yield from self.route((*path, "route"), line.route)
        yield from self.joined(path, line.from_, line.to)

    def ground(self, ident: str, ground: Ground) -> Iterator[Problem]:
        path: DocPath = ("grounds", ident)
        if ground.from_ is not None and ground.to is not None:
            yield from self.joined(path, ground.from_, ground.to)
        if ground.joins is not None:
            yield from self.end((*path, "joins"), ground.joins)
            if ground.joins == ident:
                yield self.problem((*path, "joins"), f"'{ident}' is fastened to itself", ident)

    def junction(self, ident: str, junction: Junction) -> Iterator[Problem]:
        path: DocPath = ("junctions", ident)
        own = self.terminals.get(ident)
        if junction.selected is not None and own is not None:
            positions = dict.fromkeys(position for position, _, _ in switched(own, "common"))
            yield from self.name((*path, "selected"), junction.selected, positions, f"position of '{ident}'")
        if junction.mates is None:
            return
        yield from self.name((*path, "mates"), junction.mates, self.model.junctions, "junction")
        if junction.mates == ident:
            yield self.problem((*path, "mates"), f"'{ident}' cannot mate with itself", ident)
        mate = self.model.junctions.get(junction.mates)
        if mate is not None and mate.mates not in (None, ident):
            told = f"'{junction.mates}' mates '{mate.mates}', not '{ident}'"
            yield self.problem((*path, "mates"), told, junction.mates)
        if mate is not None and mate.cavities and junction.cavities and ident > junction.mates:
            told = f"the cavities of '{ident}' and '{junction.mates}' are told at both; tell them at one"
            yield self.problem((*path, "cavities"), told)
        there = self.terminals.get(junction.mates)
        for pin, met in (junction.cavities or {}).items():
            if own is not None:
                yield from self.name((*path, "cavities", pin), pin, own, f"pin of '{ident}'")
            if there is not None:
                yield from self.name((*path, "cavities", pin), met, there, f"pin of '{junction.mates}'")

    def fitting(self, ident: str, fitting: Fitting) -> Iterator[Problem]:
        yield from self.name(("fittings", ident, "barrier"), fitting.barrier, self.model.barriers, "barrier")
        ports = self.terminals.get(ident)
        for i, port in enumerate(fitting.flow or ()):
            if ports is not None:
                yield from self.name(("fittings", ident, "flow", i), port, ports, f"port of '{ident}'")

    def inputs(self, ident: str, indicator: Indicator) -> Iterator[Problem]:
        path: DocPath = ("indicators", ident)
        yield from self.name((*path, "backs_up"), indicator.backs_up, self.model.indicators, "indicator")
        if indicator.backs_up == ident:
            yield self.problem((*path, "backs_up"), f"'{ident}' cannot back itself up", ident)
        inputs: list[tuple[DocPath, InputSpec]] = [(path, indicator.spec)]
        inputs += [((*path, "inputs", name), one) for name, one in (indicator.spec.inputs or {}).items()]
        for at, one in inputs:
            if one.compensated_at is not None:
                yield from self.end((*at, "compensated_at"), one.compensated_at)
            shown = [((*at, "cylinders", i), number) for i, number in enumerate(one.cylinders or ())]
            yield from self.cylinders(shown, indicator)

    def cylinders(self, places: Iterable[tuple[DocPath, int | None]], thing: BaseModel) -> Iterator[Problem]:
        """Cylinder numbers that the engine of a thing does not have."""
        found = self.model.engine_of(thing)
        count = found[1].cylinders if found else None
        if found is None or count is None:
            return
        for path, number in places:
            if number is not None and not 1 <= number <= count:
                told = f"there is no cylinder {number}: '{found[0]}' has {count} cylinders, 1 to {count}"
                yield self.problem(path, told, str(number))

    def engine(self, ident: str, engine: Engine) -> Iterator[Problem]:
        path: DocPath = ("engines", ident)
        named: list[tuple[DocPath, int | None]] = [((*path, "hottest_cylinder"), engine.hottest_cylinder)]
        named += [((*path, "seats", number), number) for number in engine.seats or ()]
        for at, number in named:
            if number is not None and engine.cylinders is not None and not 1 <= number <= engine.cylinders:
                told = f"there is no cylinder {number}: '{ident}' has {engine.cylinders} cylinders, 1 to {engine.cylinders}"
                yield self.problem(at, told, str(number))

    def survey(self, ident: str, survey: Survey) -> Iterator[Problem]:
        path: DocPath = ("survey", ident)
        yield from self.name((*path, "engine"), survey.engine, self.model.engines, "engine")
        for stage, seen in (survey.stages or {}).items():
            at: DocPath = (*path, "stages", stage, "temperatures")
            yield from self.cylinders([((*at, number), number) for number in seen.temperatures], survey)

    def point(self, ident: str, point: OperatingPoint) -> Iterator[Problem]:
        path: DocPath = ("operating_points", ident)
        for zone in point.zone_temperatures or {}:
            yield from self.name((*path, "zone_temperatures", zone), zone, self.model.zones, "zone")
        for joint in point.joint_temperatures or {}:
            yield from self.name(
                (*path, "joint_temperatures", joint), split_end(joint)[0], self.terminals, "joint"
            )
        for i, name in enumerate(point.loads_on or ()):
            yield from self.name((*path, "loads_on", i), name, self.loads, "load")
        for field, names in (("open_switches", point.open_switches), ("dead_supplies", point.dead_supplies)):
            for i, name in enumerate(names or ()):
                yield from self.name((*path, field, i), name, self.model.supplies, "supply")

    def measured(self, i: int, measured: Measurement) -> Iterator[Problem]:
        path: DocPath = ("measured", i)
        for side, end in enumerate(measured.between or ()):
            yield from self.end((*path, "between", side), end)
        of = split_end(measured.of)[0] if measured.of is not None else None
        if of not in self.model.wire_runs and of not in self.model.fluid_lines:
            yield from self.name((*path, "of"), of, self.terminals, "thing in this document")
        yield from self.name(
            (*path, "swapped_for"), measured.swapped_for, self.terminals, "thing in this document"
        )

    def notice(self, i: int, notice: Notice) -> Iterator[Problem]:
        known = {**self.terminals, **self.model.wire_runs, **self.model.fluid_lines, **self.model.engines}
        for k, ident in enumerate(notice.at or ()):
            path: DocPath = ("notices", i, "at", k)
            yield from self.name(path, ident, known, "thing in this document")

    def of(self, section: str, ident: str) -> Iterator[Problem]:
        """What is wrong with the names one thing uses."""
        model = self.model
        thing: Any = model.section(section)[ident]
        path: DocPath = (section, ident)
        if isinstance(thing, Placed) and section in JOINABLE:
            yield from self.placed(section, ident, thing)
        elif section in (*JOINABLE, "bundles", "removed"):
            yield from self.name((*path, "zone"), thing.zone, model.zones, "zone")
        if section == "barriers":
            for i, zone in enumerate(thing.between):
                yield from self.name((*path, "between", i), zone, model.zones, "zone")
        elif section == "taps":
            yield from self.name((*path, "engine"), thing.engine, model.engines, "engine")
        elif section == "probes":
            yield from self.cylinders([((*path, "cylinder"), thing.cylinder)], thing)
        elif section == "loads":
            yield from self.name((*path, "connected_at"), thing.connected_at, model.supplies, "supply")
        elif section in self._own:
            yield from self._own[section](ident, thing)
        for at, figure, measure in odd_figures(section, ident, thing):
            yield self.problem(at, odd_words(figure, measure), figure.text)

    def all(self) -> Iterator[Problem]:
        """What is wrong with every name. Cost: linear."""
        yield from self.doubled()
        for section in _SECTIONS:
            for ident in self.model.section(section):
                yield from self.of(section, ident)
        yield from self.records()

    def records(self) -> Iterator[Problem]:
        """What is wrong with the names in what was measured and in notices."""
        for i, measured in enumerate(self.model.measured):
            yield from self.measured(i, measured)
        for i, notice in enumerate(self.model.notices):
            yield from self.notice(i, notice)
