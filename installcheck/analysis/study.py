"""What every rule looks at: the document, its graph, its operating points, and what is computed once for all rules."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import field
from functools import cached_property, wraps
from pathlib import Path
from typing import Any, Concatenate, ParamSpec, TypeVar

from pydantic import BaseModel

from ..dataclass import dataclass
from ..document import Document
from ..document.source import DocPath
from ..graph import Edge, Graph, Indication, Unread, build, indications
from ..model.aircraft import OperatingPoint
from ..model.devices import InputSpec
from ..model.fields import Measure
from ..model.installation import Installation, inputs_of, split_end
from ..model.quantities import Quantity
from ..model.wiring import Junction

NOT_YET = object()
T = TypeVar("T")
P = ParamSpec("P")


def once(make: Callable[Concatenate[Study, P], T]) -> Callable[Concatenate[Study, P], T]:
    """A fact of a study: worked out the first time it is asked for, kept with the study by what it was asked of.

    What it is asked of beside the study is given by position and can be a key of a dictionary.
    """

    @wraps(make)
    def ask(study: Study, /, *asked: P.args, **named: P.kwargs) -> T:
        return study.ask(make, asked, named)  # type: ignore[no-any-return]

    return ask


@dataclass(frozen=True, slots=True, eq=False)
class Point:
    """An operating point with the temperature of every zone it is known in, the same only as itself.

    Attributes:
        name: the document's name for it, or 'hottest' and 'coldest' when the document gives none.
        zones: degC by zone.
        given: the document's own point, if it has one.
    """

    name: str
    zones: dict[str, float]
    joints: dict[str, float] = field(default_factory=dict)
    given: OperatingPoint | None = None

    def reading(self, measure: Measure | None) -> Quantity | None:
        """The true value of an indication at this point, if the document gives it."""
        if self.given is None or measure is None:
            return None
        stated = (self.given.readings or {}).get(measure)
        if stated is None and measure == "engine speed":
            return self.given.engine_speed
        if stated is None and measure == "outside air temperature":
            return self.given.outside_air
        return stated


class Study:
    """One document being judged.

    Attributes:
        document: the document, with the place of everything in it.
        plain: the document itself, for what is no fact of the study.
        whole: everything the document says, what this change takes out included.
        model: what is in the aircraft after the change. Rules look at this.
        graph: the graph of ``model``.
        facts: what :func:`once` has worked out, by function and by what it was asked of.
    """

    def __init__(self, document: Document) -> None:
        self.document = self.plain = document
        self.whole: Installation = document.installation
        self.model: Installation = self.whole.live
        self.facts: dict[object, dict[Any, Any]] = {}

    @cached_property
    def graph(self) -> Graph:
        """The graph of the whole document, built when it is first asked for."""
        return build(self.whole)

    def ask(self, make: Callable[..., Any], asked: tuple[Any, ...], named: dict[str, Any]) -> Any:
        """A fact, worked out the first time; see :func:`once`."""
        kept = self.facts.get(make)
        if kept is None:
            kept = self.facts[make] = {}
        found = kept.get(asked, NOT_YET)
        if found is NOT_YET:
            found = kept[asked] = make(self, *asked, **named)
        return found

    def opened(self, file: Path) -> None:
        """Called before a fact reads a file beside the document."""

    def taken_out(self, section: str) -> dict[str, BaseModel]:
        """Things of a section that this change takes out."""
        kept = self.model.section(section)
        return {i: thing for i, thing in self.whole.section(section).items() if i not in kept}

    @property
    def indications(self) -> list[Indication]:
        """Every indication, followed from its input to its sender or probe."""
        return _found(self)[0]

    def indication(self, key: tuple[str, str, str, str]) -> Indication:
        """The indication of a key: what reads one of them this way is not touched by a change of the others."""
        return _one(self, key)

    @property
    def unread(self) -> list[Unread]:
        """Indicator inputs that reach no sender or probe."""
        return _found(self)[1]

    @property
    def points(self) -> tuple[Point, ...]:
        """The operating points of the document; without any, all zones at their highest and at their lowest."""
        return _points(self)

    def node_temperature(self, node: str, point: Point) -> float | None:
        """Temperature in degC of a terminal or joint at an operating point; ``None`` if the document does not say.

        A joint's own temperature at the point comes first, then the thing's own range, then that of the block it shares
        its temperature with, then that of its zone.
        """
        ident, _ = split_end(node)
        for name in (node, ident):
            if name in point.joints:
                return point.joints[name]
        found = self.model.find(ident)
        if found is None:
            return None
        thing = found[1]
        own = getattr(thing, "temperature", None)
        if own is not None and not isinstance(own, Quantity):
            if own.normal is not None:
                return float(own.normal)
            return float(own.lowest + own.highest) / 2
        block = thing.shared_block if isinstance(thing, Junction) else None
        if (
            block in self.model.junctions
            and self.model.junctions[block].shared_block is None
            and block != ident
        ):
            return self.node_temperature(block, point)
        zone = getattr(thing, "zone", None)
        return point.zones.get(zone) if zone is not None else None

    def hottest(self, zone: str) -> Quantity | None:
        """Highest temperature a zone gets; ``None`` where its range is not given: a few operating points are not its hottest."""
        found = self.model.zones.get(zone)
        return self.reached(zone) if found is not None and found.temperature is not None else None

    def reached(self, zone: str) -> Quantity | None:
        """Highest temperature the document gives for a zone, over its range and all operating points."""
        seen = []
        stated = self.model.zones[zone].temperature if zone in self.model.zones else None
        if stated is not None:
            seen.append(stated.highest)
        for point in self.model.operating_points.values():
            at_point = (point.zone_temperatures or {}).get(zone)
            if at_point is not None:
                seen.append(at_point)
        return max(seen, default=None)

    def inputs(self, indicator: str) -> tuple[tuple[str, InputSpec], ...]:
        """The inputs of an indicator by name, what they leave out filled in from the indicator itself."""
        return _inputs(self, indicator)

    def edges(self, ident: str) -> list[Edge]:
        """The conductors of a wire run."""
        return [e for e in self.graph.by_thing.get(("wire_runs", ident), ()) if e.kind == "conductor"]


@once
def _inputs(study: Study, indicator: str) -> tuple[tuple[str, InputSpec], ...]:
    return tuple(inputs_of(study.model.indicators[indicator]))


@once
def _found(study: Study) -> tuple[list[Indication], list[Unread]]:
    return indications(study.graph)


@once
def _by_key(study: Study) -> dict[tuple[str, str, str, str], Indication]:
    return {one.key: one for one in study.indications}


@once
def _one(study: Study, key: tuple[str, str, str, str]) -> Indication:
    return _by_key(study)[key]


@once
def _points(study: Study) -> tuple[Point, ...]:
    if study.model.operating_points:
        return tuple(_given(study))
    hot, cold = {}, {}
    for name, zone in study.model.zones.items():
        if zone.temperature is not None:
            hot[name], cold[name] = float(zone.temperature.highest), float(zone.temperature.lowest)
    return Point("hottest", hot), Point("coldest", cold)


def _given(study: Study) -> Iterator[Point]:
    """The points of the document; a temperature said to be unknown at one is not that of other days."""
    for name, point in study.model.operating_points.items():
        path: DocPath = ("operating_points", name, "zone_temperatures")
        untold = study.document.declared_unknown(path)
        zones: dict[str, float] = {}
        for ident, zone in study.model.zones.items():
            stated = (point.zone_temperatures or {}).get(ident)
            if stated is not None:
                zones[ident] = float(stated)
            elif untold or study.document.declared_unknown((*path, ident)):
                continue
            elif zone.temperature is not None:
                usual = zone.temperature.normal
                zones[ident] = (
                    float(usual)
                    if usual is not None
                    else (zone.temperature.lowest + zone.temperature.highest) / 2
                )
        joints = {j: float(t) for j, t in (point.joint_temperatures or {}).items()}
        yield Point(name, zones, joints, point)
