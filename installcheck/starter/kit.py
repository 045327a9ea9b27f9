"""A spot of a document where an indication goes, and the words every kit is written in."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import field
from typing import TypeAlias

from ..dataclass import dataclass
from ..document.source import Plain
from ..model.quantities import Quantity

Things: TypeAlias = "dict[str, dict[str, dict[str, Plain]]]"
"""Things by section and id; of one that is there already only what changes of it, ``None`` for a word that goes."""


class NoSpotError(ValueError):
    """What a document does not say that is needed; the message says how to tell."""


@dataclass(frozen=True, slots=True)
class Feed:
    """A run that brings current to a bus.

    Attributes:
        run: its id.
        side: ``from`` or ``to``, the end at the bus.
        made_of: its part and gauge.
        amps: rating of what protects it or it comes from, if told.
    """

    run: str
    side: str
    made_of: Mapping[str, Plain]
    amps: float | None = None


@dataclass(frozen=True, slots=True)
class Bus:
    """The bus from which loads are fed: its id, and whether the document gives it a voltage of its own."""

    ident: str
    given: bool


@dataclass(frozen=True, slots=True)
class Spot:
    """Where an indication goes.

    Attributes:
        engine_zone: zone of what is on the engine.
        near_zone: zone of senders kept off the engine, forward of the wall.
        panel_zone: zone of the indicator.
        route: makes the route from a zone to the panel.
        power, ground: ends at which the indicator is fed and grounded.
        structure: ground a body fastened in the cabin reaches.
        engine: the engine's id, where there is more than one.
        protected: whether ``power`` is behind a breaker or fuse.
        volts: of the system.
        cylinder: of a probe, if known.
        named: makes an id that is still free.
        limits: the highest values allowed, by indication.
        fuel_reference: where the limit of fuel pressure applies.
        marked_new: whether what the change fits is told as new.
        shared: fields every wire run gets.
        feed: the run that feeds the bus, if one is told.
        bus: the bus itself.
        engine_ground: ground nearest to what is on the engine.
        ways: names of routes to the panel, by the zone they begin in, where what is added goes them.
        bundle, feeders: in which its runs to the panel and behind it lie, where that is not the usual one.
        several: whether the aircraft has more than one engine.
    """

    engine_zone: str
    near_zone: str
    panel_zone: str
    route: Callable[[str], list[Plain]]
    power: str
    ground: str
    structure: str
    named: Callable[[str], str]
    protected: bool
    volts: float = 14.0
    engine: str | None = None
    cylinder: int | None = None
    limits: Mapping[str, Quantity] = field(default_factory=dict)
    fuel_reference: str = "carburettor inlet"
    marked_new: bool = False
    shared: Mapping[str, Plain] = field(default_factory=dict)
    feed: Feed | None = None
    bus: Bus | None = None
    engine_ground: str = ""
    ways: Mapping[str, str] = field(default_factory=dict)
    bundle: str | None = None
    feeders: str | None = None
    several: bool = False


Kit: TypeAlias = "Callable[[Spot], Things]"
SIGNAL, ALONE = "22 AWG", "20 AWG"
"""Of a wire that carries a signal, and of one that may run alone on an engine, which shakes it: shop practice."""
NARROW_V = 16.0
"""V, highest supply of a resistive gauge of the part library; above it the one for 28 V is taken."""
LEGS = ("A", "B", "C")
UNFED = frozenset(("vacuum", "load current"))
"""Indications whose gauge takes nothing from the bus."""
PLUMBED = frozenset(("oil pressure", "fuel pressure", "manifold pressure", "hydraulic pressure", "vacuum"))
"""Indications with a fluid line."""
OF_AIRCRAFT = frozenset(("bus voltage", "outside air temperature"))
"""Indications of the aircraft, not of one of its engines."""


def placed(spot: Spot, zone: str, **words: Plain) -> dict[str, Plain]:
    """A thing's fields, its zone and engine among them, without those that are ``None``."""
    engine: dict[str, Plain] = {"engine": spot.engine} if spot.engine is not None else {}
    return {**{w: v for w, v in words.items() if v is not None}, "zone": zone, **engine}


def laid(spot: Spot, zone: str, **words: Plain) -> dict[str, Plain]:
    """A run's fields, with its way from a zone to the panel."""
    own = {w.rstrip("_"): v for w, v in words.items() if v is not None}
    return {**own, "route": way(spot, zone), **_bundled(spot, zone), **spot.shared}


def way(spot: Spot, zone: str) -> Plain:
    """The way from a zone to the panel: by its name, or its steps with lengths to be told."""
    if zone in spot.ways:
        return spot.ways[zone]
    return spot.route(zone) if zone != spot.panel_zone else [{"zone": zone, "length": "unknown"}]


def _bundled(spot: Spot, zone: str) -> dict[str, Plain]:
    bundle = spot.feeders if zone == spot.panel_zone else spot.bundle
    return {"bundle": bundle} if bundle is not None else {}


def dial(spot: Spot, measure: str, part: str, size: str | None = None) -> dict[str, Plain]:
    """An indicator's fields."""
    return {
        **({"part": part, "size": size} if size else {"part": part}),
        "measures": measure,
        "budget": "unknown",
        "zone": spot.panel_zone,
        "in_view": "yes",
        **({"engine": spot.engine} if spot.several and spot.engine is not None else {}),
    }


def fed(spot: Spot, things: Things, ident: str) -> Things:
    """The feed and ground of an indicator, added to what it takes."""
    runs = things.setdefault("wire_runs", {})
    runs[spot.named(f"{ident} power")] = inside(spot, spot.power, f"{ident}.power")
    runs[spot.named(f"{ident} ground")] = inside(spot, f"{ident}.ground", spot.ground)
    return things


def inside(spot: Spot, one: str, other: str, gauge: str = SIGNAL, **words: Plain) -> dict[str, Plain]:
    """A run behind the panel."""
    run: dict[str, Plain] = {"from": one, "to": other, "part": "AS22759/16", "gauge": gauge}
    return {
        **run,
        "route": way(spot, spot.panel_zone),
        **_bundled(spot, spot.panel_zone),
        **words,
        **spot.shared,
    }
