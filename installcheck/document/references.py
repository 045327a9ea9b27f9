"""Every name a document uses must be the name of something in it."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator

from .installation import JOINABLE, Installation, is_one_point, split_end, terminals_of
from .items import Conductor, FluidLine, Ground, Placed, RouteStep, Tap, WireRun
from .source import DocPath, Place, Problem
from .wording import a, listed, unknown_word

Locate = Callable[[DocPath], Place]


_HINTS = 200
"""Problems that come with the nearest word; in a document with more, looking for them would take minutes."""


class _References:
    def __init__(
        self,
        model: Installation,
        locate: Locate,
        dropped: Collection[str],
        damaged: Collection[tuple[str, str]],
    ) -> None:
        self.model, self.locate, self.dropped = model, locate, dropped
        self.hints = _HINTS
        self.one_points: set[str] = set()
        self.terminals: dict[str, tuple[str, ...] | None] = dict.fromkeys(dropped)
        for section, ident, thing in model.things():
            whole = (section, ident) not in damaged
            self.terminals.setdefault(ident, terminals_of(section, thing) if whole else None)
            if is_one_point(thing):
                self.one_points.add(ident)

    def problem(self, path: DocPath, message: str, text: str = "") -> Problem:
        return Problem(self.locate(path), message, text)

    def unknown(self, path: DocPath, word: str, known: Iterable[str], what: str) -> Problem:
        self.hints -= 1
        return self.problem(path, unknown_word(word, known, what, hint=self.hints >= 0), word)

    def name(self, path: DocPath, value: str | None, known: Collection[str], what: str) -> Iterator[Problem]:
        """A problem if ``value`` is not among ``known``."""
        if value is None or value in known or value in self.dropped:
            return
        if known:
            yield self.unknown(path, value, known, what)
        else:
            yield self.problem(path, f"'{value}' is not {a(what)}; the document has none", value)

    def end(self, path: DocPath, end: str) -> Iterator[Problem]:
        """A problem if a run's end is not a thing, or not a terminal of it."""
        ident, terminal = split_end(end)
        if ident not in self.terminals:
            yield self.unknown(path, ident, self.terminals, "thing in this document")
            return
        ground = self.model.grounds.get(ident)
        if ground is not None and ground.kind in ("strap", "bond"):
            told = f"'{ident}' is a {ground.kind}, which joins two grounds; end this at one of them"
            yield self.problem(path, told, end)
            return
        allowed = self.terminals[ident]
        if allowed is None or terminal in allowed or (not terminal and len(allowed) == 1):
            return
        if terminal:
            yield self.unknown(path, terminal, allowed, f"terminal of '{ident}'")
        else:
            shown = listed(f"{ident}.{t}" for t in allowed[:12]) + (", ..." if len(allowed) > 12 else "")
            yield self.problem(path, f"'{ident}' needs a terminal: {shown}", end)

    def joined(self, path: DocPath, one: str, other: str) -> Iterator[Problem]:
        """A problem if both ends are the same point."""
        yield from self.end((*path, "from"), one)
        yield from self.end((*path, "to"), other)
        ident, there = split_end(one)[0], split_end(other)[0]
        if one == other or (ident == there and ident in self.one_points):
            yield self.problem((*path, "to"), f"this begins and ends at the same point, '{ident}'", other)

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
            yield from self.joined(path, run.from_, run.to)
        for name, conductor in (run.conductors or {}).items():
            yield from self.conductor((*path, "conductors", name), name, conductor, run)
        if run.shield is not None:
            for word, end in (("from", run.shield.from_), ("to", run.shield.to)):
                if end is not None and end != "open":
                    yield from self.end((*path, "shield", word), end)

    def conductor(self, path: DocPath, name: str, conductor: Conductor, run: WireRun) -> Iterator[Problem]:
        yield from self.joined(path, conductor.from_, conductor.to)
        legs = run.spec.legs
        if legs and name not in legs:
            yield Problem(
                self.locate(path), unknown_word(name, legs, f"conductor of part '{run.part}'"), name
            )

    def line(self, ident: str, line: FluidLine) -> Iterator[Problem]:
        path: DocPath = ("fluid_lines", ident)
        yield from self.placed("fluid_lines", ident, line)
        yield from self.route((*path, "route"), line.route)
        yield from self.joined(path, line.from_, line.to)

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
    model: Installation,
    locate: Locate,
    dropped: Collection[str] = (),
    damaged: Collection[tuple[str, str]] = (),
) -> list[Problem]:
    """Names that name nothing, or two things. Cost: linear.

    Args:
        model: what was read.
        locate: the place of a path in the document.
        dropped: ids left out because they could not be read; they count as known.
        damaged: things (section, id) read in part; any terminal of theirs counts as known.
    """
    return list(_References(model, locate, dropped, damaged).all())
