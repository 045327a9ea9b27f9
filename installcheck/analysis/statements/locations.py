"""The place a sender or probe is said to be at, against its tap, what it measures, what carries it and its zone."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType

from ...model.devices import Probe, Sender
from ...model.fields import Measure
from ..fluid.facts import media
from ..study import Study
from ..zones import is_open
from .pairs import Pair

_CARRIERS = frozenset(("firewall", "engine", "cabin", "outside"))
"""Locations of a sender that say what carries it; the others are places in a system, where it senses."""
_BOTH = frozenset(("gallery", "sump", "carburettor inlet", "servo inlet", "divider", "plenum", "port"))
"""Words for the place of a tap that are words for the place of a sender as well."""
_ONE_PLACE = frozenset(
    (
        frozenset(("engine inlet", "gallery")),
        frozenset(("engine outlet", "sump")),
        frozenset(("below throttle", "plenum")),
        frozenset(("below throttle", "port")),
    )
)
"""Words for places that a tap and a sender may rightly call differently: oil enters an engine at its gallery."""
_OIL = frozenset(("engine inlet", "engine outlet", "sump", "gallery", "cooler"))
_INTAKE = frozenset(("plenum", "port", "airbox", "below throttle"))
_FUEL = frozenset(("carburettor inlet", "servo inlet", "divider"))
_NOT_AT: Mapping[Measure, frozenset[str]] = MappingProxyType(
    {
        "oil pressure": _FUEL | _INTAKE,
        "oil temperature": _FUEL | _INTAKE,
        "fuel pressure": _OIL - {"sump"} | _INTAKE,
        "fuel flow": _OIL - {"sump"} | _INTAKE,
        "fuel quantity": _OIL - {"sump"} | _INTAKE | _FUEL,
        "oil quantity": _FUEL | _INTAKE,
        "manifold pressure": _OIL | {"divider"},
        "carburettor air temperature": _OIL | {"divider"},
    }
)
"""Places at which there is nothing of what is measured."""
_ON_ENGINE = _OIL - {"cooler"} | _INTAKE | _FUEL | {"engine"}
"""Places that are on an engine."""
_MOUNTS = frozenset(
    (
        "well",
        "upper plug",
        "lower plug",
        "bolt",
        "exhaust pipe",
        "turbine inlet",
        "fin",
        "airbox",
        "carburettor body",
    )
)
"""Mounts of a probe that are on an engine."""
_FITTED: Mapping[Measure, frozenset[str]] = MappingProxyType(
    {
        "head temperature": frozenset(("well", "upper plug", "lower plug", "bolt", "fin")),
        "exhaust temperature": frozenset(("exhaust pipe", "turbine inlet")),
        "turbine inlet temperature": frozenset(("exhaust pipe", "turbine inlet")),
    }
)
"""Mounts at which there is what is measured; those of the air have rules of their own."""
_OF_HEADS = frozenset(("gasket ring 14 mm", "gasket ring 18 mm", "bayonet", "piggyback adapter", "bolt ring"))
"""Kinds of probes that only a cylinder head has a place for."""
_LED = frozenset(("oil pressure", "fuel pressure", "manifold pressure", "hydraulic pressure", "vacuum"))
"""What a line can lead to a sender that sits elsewhere."""


def locations(study: Study) -> Iterator[Pair]:
    """Senders with a location and probes with a mount."""
    for ident, sender in study.model.senders.items():
        if sender.location is None:
            continue
        yield from _tapped(study, ident, sender)
        yield from _held(ident, sender)
        yield from _carried(ident, sender)
        yield from _zoned(study, ident, sender)
    for ident, probe in study.model.probes.items():
        yield from _fitted(ident, probe)
        if probe.mount in _MOUNTS:
            yield from _in_zone(study, "probes", ident, probe, probe.mount)


def _tapped(study: Study, ident: str, sender: Sender) -> Iterator[Pair]:
    """A sender against the taps that reach it."""
    if sender.location in _CARRIERS or sender.location is None:
        return
    ports = sender.spec.ports or ["P"]
    taps = {f.source.ident for p in ports for f in media(study).feeds(f"{ident}.{p}")} & set(study.model.taps)
    for name in sorted(taps):
        place = study.model.taps[name].location
        if place is None or place == "other":
            continue
        same = place == sender.location or frozenset((place, sender.location)) in _ONE_PLACE
        yield Pair(
            ident,
            ("senders", ident, "location"),
            same,
            f"{ident} is said to sense at the {sender.location}, and {name}, which reaches it, is at the {place}",
            "correct the location of one of them, or the line between them",
            beside=(name,),
            open=(("senders", ident, "location"), ("taps", name, "location")),
            instead=((("senders", ident, "location"), place),) if place in _BOTH else (),
        )


def _held(ident: str, sender: Sender) -> Iterator[Pair]:
    """A sender against what is at the place it is said to sense at."""
    measure = sender.spec.measures
    if measure is None or measure not in _NOT_AT or sender.location in _CARRIERS:
        return
    yield Pair(
        ident,
        ("senders", ident, "location"),
        sender.location not in _NOT_AT[measure],
        f"{ident} measures {measure} at the {sender.location}",
        "correct where it senses, or what it measures",
        open=(("senders", ident, "location"),),
    )


def _fitted(ident: str, probe: Probe) -> Iterator[Pair]:
    """A probe against what is at the place it is fitted to."""
    places = _FITTED.get(probe.measures) if probe.measures is not None else None
    if places is None or probe.mount is None:
        return
    yield Pair(
        ident,
        ("probes", ident, "mount"),
        probe.mount in places,
        f"{ident} measures {probe.measures} at the {probe.mount}",
        "correct where it is fitted, or what it measures",
        open=(("probes", ident, "mount"),),
    )
    if probe.mount in ("exhaust pipe", "turbine inlet") and probe.spec.kind is not None:
        a = "an" if probe.spec.kind[0] in "aeiou" else "a"
        yield Pair(
            ident,
            ("probes", ident, "mount"),
            probe.spec.kind not in _OF_HEADS,
            f"{ident} is {a} {probe.spec.kind} probe and is fitted to the {probe.mount}",
            "correct where it is fitted, or state the probe that is",
            open=(("probes", ident, "mount"),),
        )


def _carried(ident: str, sender: Sender) -> Iterator[Pair]:
    """A sender said to be on the engine, the firewall or in the cabin, against what carries its weight."""
    place, body = sender.location, sender.mounted_on
    if place not in ("engine", "firewall", "cabin") or body not in ("engine", "firewall", "airframe"):
        return
    yield Pair(
        ident,
        ("senders", ident, "mounted_on"),
        (place == "engine") == (body == "engine"),
        f"{ident} is said to be at the {place}, and is carried by the {body}",
        "correct where it is, or what carries it",
        open=(("senders", ident, "location"), ("senders", ident, "mounted_on")),
        instead=((("senders", ident, "location"), body),) if body != "airframe" else (),
    )


def _zoned(study: Study, ident: str, sender: Sender) -> Iterator[Pair]:
    place, zones = sender.location, study.model.zones
    zone = zones.get(sender.zone or "")
    if place == "engine" or (place in _ON_ENGINE and sender.spec.measures not in _LED):
        yield from _in_zone(study, "senders", ident, sender, place)
    elif zone is None or sender.zone is None:
        return
    elif place == "cabin" and (zone.fire_zone or zone.hot_parts):
        yield _zone_pair("senders", ident, place, sender.zone, agree=False)
    elif place == "firewall":
        walls = [wall for wall in study.model.barriers.values() if wall.kind == "firewall"]
        sides = {side for wall in walls for side in wall.between}
        if sides:
            near = any(side == sender.zone or is_open(study, side, sender.zone) for side in sides)
            yield _zone_pair("senders", ident, place, sender.zone, agree=near)


def _in_zone(
    study: Study, section: str, ident: str, thing: Sender | Probe, place: str | None
) -> Iterator[Pair]:
    """A thing that sits on an engine: people do not."""
    zone = study.model.zones.get(thing.zone or "")
    if zone is not None and zone.occupied is not None and thing.zone is not None and place is not None:
        yield _zone_pair(section, ident, place, thing.zone, agree=not zone.occupied)


def _zone_pair(section: str, ident: str, place: str, zone: str, *, agree: bool) -> Pair:
    word = "location" if section == "senders" else "mount"
    return Pair(
        ident,
        (section, ident, word),
        agree,
        f"{ident} is at the {place} and sits in the {zone}" + ("" if agree else ", where there is none"),
        "correct where it is, or its zone",
        open=((section, ident, word), (section, ident, "zone")),
    )
