"""Every name a document uses must be the name of something in it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from .installation import JOINABLE, Installation, split_end, terminals_of
from .items import Conductor, FluidLine, Ground, Placed, RouteStep, Tap, WireRun
from .source import DocPath, Place, Problem
from .wording import unknown_word

Locate = Callable[[DocPath], Place]


class _References:
    def __init__(self, model: Installation, locate: Locate, dropped: frozenset[str]) -> None:
        self.model, self.locate = model, locate
        self.terminals: dict[str, tuple[str, ...] | None] = dict.fromkeys(dropped)
        self.dropped = dropped
        for section, ident, thing in model.things():
            self.terminals.setdefault(ident, terminals_of(section, thing))

    def name(self, path: DocPath, value: str | None, known: Iterable[str], what: str) -> Iterator[Problem]:
        """A problem if ``value`` is not among ``known``."""
        names = known if isinstance(known, (dict, set, frozenset)) else set(known)
        if value is not None and value not in names and value not in self.dropped:
            text = unknown_word(value, names, what) if names else f"'{value}': the document has no {what}s"
            yield Problem(self.locate(path), text, value)

    def end(self, path: DocPath, end: str) -> Iterator[Problem]:
        """A problem if a run's end is not a thing, or not a terminal of it."""
        ident, terminal = split_end(end)
        if ident not in self.terminals:
            yield Problem(
                self.locate(path), unknown_word(ident, self.terminals, "thing in this document"), end
            )
            return
        allowed = self.terminals[ident]
        if allowed is None or terminal in allowed:
            return
        if not terminal:
            if len(allowed) > 1:
                yield Problem(
                    self.locate(path),
                    f"'{ident}' needs a terminal: {', '.join(f'{ident}.{t}' for t in allowed)}",
                    end,
                )
            return
        yield Problem(self.locate(path), unknown_word(terminal, allowed, f"terminal of '{ident}'"), end)

    def doubled(self) -> Iterator[Problem]:
        """Ids that name two things a run could end at."""
        seen: dict[str, str] = {}
        for section in (*JOINABLE, "wire_runs", "fluid_lines", "bundles"):
            for ident in self.model.section(section):
                if ident in seen:
                    yield Problem(
                        self.locate((section, ident)),
                        f"the id '{ident}' is already used under {seen[ident]}",
                        ident,
                    )
                else:
                    seen[ident] = section

    def route(self, path: DocPath, steps: list[RouteStep] | None) -> Iterator[Problem]:
        for i, step in enumerate(steps or ()):
            yield from self.name((*path, i, "zone"), step.zone, self.model.zones, "zone")
            yield from self.name((*path, i, "barrier"), step.barrier, self.model.barriers, "barrier")
            if step.fitting is not None:
                yield from self.name(
                    (*path, i, "fitting"),
                    step.fitting,
                    {**self.model.fittings, **self.model.junctions},
                    "fitting or junction",
                )

    def placed(self, section: str, ident: str, thing: Placed) -> Iterator[Problem]:
        path: DocPath = (section, ident)
        yield from self.name((*path, "zone"), thing.zone, self.model.zones, "zone")
        yield from self.name((*path, "engine"), thing.engine, self.model.engines, "engine")
        grounding = getattr(thing, "grounding", None)
        if grounding is not None:
            yield from self.end((*path, "grounding", "to"), grounding.to)
        port = getattr(thing, "screwed_into", None)
        if port is not None:
            yield from self.end((*path, "screwed_into"), port)

    def run(self, ident: str, run: WireRun) -> Iterator[Problem]:
        path: DocPath = ("wire_runs", ident)
        yield from self.placed("wire_runs", ident, run)
        yield from self.route((*path, "route"), run.route)
        yield from self.name((*path, "bundle"), run.bundle, self.model.bundles, "bundle")
        if run.from_ is not None and run.to is not None:
            yield from self.end((*path, "from"), run.from_)
            yield from self.end((*path, "to"), run.to)
        for name, conductor in (run.conductors or {}).items():
            yield from self.conductor((*path, "conductors", name), name, conductor, run)
        if run.shield is not None:
            for word, end in (("from", run.shield.from_), ("to", run.shield.to)):
                if end is not None and end != "open":
                    yield from self.end((*path, "shield", word), end)

    def conductor(self, path: DocPath, name: str, conductor: Conductor, run: WireRun) -> Iterator[Problem]:
        yield from self.end((*path, "from"), conductor.from_)
        yield from self.end((*path, "to"), conductor.to)
        legs = run.spec.legs
        if legs and name not in legs:
            yield Problem(
                self.locate(path), unknown_word(name, legs, f"conductor of part '{run.part}'"), name
            )

    def line(self, ident: str, line: FluidLine) -> Iterator[Problem]:
        path: DocPath = ("fluid_lines", ident)
        yield from self.placed("fluid_lines", ident, line)
        yield from self.route((*path, "route"), line.route)
        yield from self.end((*path, "from"), line.from_)
        yield from self.end((*path, "to"), line.to)

    def points(self) -> Iterator[Problem]:
        for ident, point in self.model.operating_points.items():
            path: DocPath = ("operating_points", ident)
            for zone in point.zone_temperatures or {}:
                yield from self.name((*path, "zone_temperatures", zone), zone, self.model.zones, "zone")
            for joint in point.joint_temperatures or {}:
                yield from self.name(
                    (*path, "joint_temperatures", joint), split_end(joint)[0], self.terminals, "joint"
                )
            for field, known in (
                ("loads_on", {**self.model.loads, **self.model.indicators}),
                ("open_switches", self.model.supplies),
                ("dead_supplies", self.model.supplies),
            ):
                for i, name in enumerate(getattr(point, field) or ()):
                    yield from self.name(
                        (*path, field, i), name, known, "load" if field == "loads_on" else "supply"
                    )

    def all(self) -> Iterator[Problem]:
        model = self.model
        yield from self.doubled()
        for ident, barrier in model.barriers.items():
            for i, zone in enumerate(barrier.between):
                yield from self.name(("barriers", ident, "between", i), zone, model.zones, "zone")
        for section, ident, thing in model.things():
            if isinstance(thing, Placed):
                yield from self.placed(section, ident, thing)
            elif isinstance(thing, (Ground, Tap)):
                yield from self.name((section, ident, "zone"), thing.zone, model.zones, "zone")
        for ident, ground in model.grounds.items():
            for word, value in (("joins", ground.joins), ("from", ground.from_), ("to", ground.to)):
                if value is not None:
                    yield from self.end(("grounds", ident, word), value)
        for ident, tap in model.taps.items():
            yield from self.name(("taps", ident, "engine"), tap.engine, model.engines, "engine")
        for ident, indicator in model.indicators.items():
            yield from self.name(
                ("indicators", ident, "backs_up"), indicator.backs_up, model.indicators, "indicator"
            )
        for ident, load in model.loads.items():
            yield from self.name(
                ("loads", ident, "connected_at"), load.connected_at, model.supplies, "supply"
            )
        for ident, fitting in model.fittings.items():
            yield from self.name(("fittings", ident, "barrier"), fitting.barrier, model.barriers, "barrier")
        for ident, junction in model.junctions.items():
            yield from self.name(("junctions", ident, "mates"), junction.mates, model.junctions, "junction")
        for ident, bundle in model.bundles.items():
            yield from self.name(("bundles", ident, "zone"), bundle.zone, model.zones, "zone")
        for ident, run in model.wire_runs.items():
            yield from self.run(ident, run)
        for ident, line in model.fluid_lines.items():
            yield from self.line(ident, line)
        for ident, survey in model.survey.items():
            yield from self.name(("survey", ident, "engine"), survey.engine, model.engines, "engine")
        for ident, gone in model.removed.items():
            yield from self.name(("removed", ident, "zone"), gone.zone, model.zones, "zone")
        yield from self.points()


def check_references(
    model: Installation, locate: Locate, dropped: frozenset[str] = frozenset()
) -> list[Problem]:
    """Dangling and doubled names of an installation; names in ``dropped`` count as known. Cost: linear."""
    return list(_References(model, locate, dropped).all())
