"""Pressures, oil and air temperatures are taken where their limits apply."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.fluid.facts import media
from ...analysis.shown import Shown, shown
from ...analysis.study import Study
from ...document.source import DocPath
from ...graph.media import Feed
from ...model.aircraft import Engine
from ...model.devices import Probe, Sender
from ...model.quantities import in_unit, plain_number
from ..verdicts import (
    Verdict,
    advisory,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

TAP = "tap the pressure is taken from, with its location"
FUEL_LIMIT = "place the fuel pressure limit applies at ('fuel_pressure_reference')"

_MEDIA: dict[str, frozenset[str]] = {
    "oil pressure": frozenset(("oil",)),
    "fuel pressure": frozenset(("fuel",)),
    "manifold pressure": frozenset(("fuel-air mixture", "manifold air", "air")),
}
"""What stands at a tap of each pressure; other media that reach a gauge are judged by the rules of fluid lines."""
_IN_SYSTEM = frozenset(
    (
        "gallery",
        "carburettor inlet",
        "divider",
        "plenum",
        "port",
        "airbox",
        "below throttle",
        "sump",
        "cooler",
    )
)
"""Locations of a sender that are places in a system; the others say what carries it."""
_FUEL_PLACES = frozenset(("carburettor inlet", "servo inlet", "divider"))


@rule(
    "pressure-tap",
    title="A pressure is taken where its limit applies",
    why="At the pump outlet oil and fuel pressure read high by what filter and cooler take, and hide that they are blocked. "
    "Injected engines have two fuel pressures whose limits have nothing to do with one another.",
    source="14 CFR 33.7(b)(5) (fuel at the fuel inlet, oil at the main gallery: recalled); practice for manifold pressure",
    formula="location of the tap = location of the limit; a single intake port pulses at rpm/120 Hz",
    example="port of one cylinder at 2700 rpm without a damper: 22.5 Hz",
    over="indicators",
)
def pressure_tap(study: Study) -> Iterator[Verdict]:
    """Every indication of oil, fuel and manifold pressure."""
    for one in shown(study):
        if one.measure not in _MEDIA:
            continue
        engine = study.model.engines.get(one.engine or "")
        for ident, path, where, feed in _taken(study, one):
            at = (one.name, ident) if ident else (one.name,)
            if where is None:
                yield undetermined(at, path, TAP)
            elif one.measure == "oil pressure":
                yield _oil(at, path, one.name, where)
            elif one.measure == "fuel pressure":
                yield _fuel(at, path, one, where, engine)
            else:
                yield _manifold(study, at, path, one.name, where, feed, engine)


def _taken(study: Study, one: Shown) -> Iterator[tuple[str, DocPath, str | None, Feed | None]]:
    """Tap or sender an indication takes its pressure at: id, place in the document, location, and the way from the tap."""
    ports: list[tuple[str, DocPath, str, Sender | None]]
    ports = [(one.indicator, one.path, p, None) for p in one.spec.ports or ()]
    for source in dict.fromkeys(r.source for r in one.reads if r.section == "senders"):
        fitted = study.model.senders[source]
        ports += [(source, ("senders", source), p, fitted) for p in fitted.spec.ports or ["P"]]
    if not ports:
        yield "", one.path, None, None
    wanted = _MEDIA[one.measure or ""]
    for ident, path, port, sender in ports:
        feeds = [f for f in media(study).feeds(f"{ident}.{port}") if f.source.section == "taps"]
        feeds = [f for f in feeds if f.source.medium in wanted]
        for feed in feeds:
            tap = study.model.taps[feed.source.ident]
            yield feed.source.ident, ("taps", feed.source.ident, "location"), tap.location, feed
        if not feeds:
            said = sender.location if sender is not None and sender.location in _IN_SYSTEM else None
            yield "" if sender is None else ident, path, said, None


def _oil(at: tuple[str, ...], path: DocPath, name: str, where: str) -> Verdict:
    if where == "gallery":
        return meets(at, path, f"{name} takes oil pressure at the main gallery")
    high = (
        ": it reads high by the drop of filter and cooler, and hides a blocked filter"
        if where == "pump outlet"
        else ""
    )
    return advisory(
        at,
        path,
        f"{name} takes oil pressure at the {where}, not at the main gallery{high}",
        remedy="take it at the gallery port the engine's papers name, through a restrictor",
    )


def _fuel(at: tuple[str, ...], path: DocPath, one: Shown, where: str, engine: Engine | None) -> Verdict:
    wanted = engine.fuel_pressure_reference if engine is not None else None
    told = f"{one.name} takes fuel pressure at the {where}"
    if wanted is not None and where == wanted:
        return meets(at, path, f"{told}, where its limit applies")
    if wanted is not None:
        return discrepancy(
            at, path, f"{told}, but its limit applies at the {wanted}", remedy=f"take it at the {wanted}"
        )
    if where == "carburettor inlet":
        return meets(at, path, told)
    if where in _FUEL_PLACES:
        place: DocPath = ("engines", one.engine) if one.engine is not None else one.path
        return undetermined(at, place, FUEL_LIMIT)
    return advisory(
        at,
        path,
        f"{told}: it reads high by the drop of the filter, and hides that it is blocked",
        remedy="take it at the inlet of the carburettor or the fuel servo, as the engine's papers say",
    )


def _manifold(
    study: Study,
    at: tuple[str, ...],
    path: DocPath,
    name: str,
    where: str,
    feed: Feed | None,
    engine: Engine | None,
) -> Verdict:
    told = f"{name} takes manifold pressure at the {where}"
    if where == "plenum":
        return meets(at, path, told)
    if where == "airbox":
        return discrepancy(
            at,
            path,
            f"{told}, ahead of the throttle: it reads the pressure outside",
            remedy="take it at the plenum or an intake port, behind the throttle",
        )
    if where not in ("port", "below throttle"):
        return advisory(at, path, f"{told}, not at plenum or port", remedy="take it at the plenum")
    speed = engine.speed if engine is not None else None
    # One intake stroke in two revolutions: rpm/120.
    beat = f" at {plain_number(in_unit(speed, 'rpm', 'speed') / 120)} Hz" if speed is not None else ""
    if feed is None:
        return undetermined(
            at, path, "line from the intake port to the sender, with its restrictor or damper"
        )
    calmed = bool(feed.restrictors) or any(
        h.edge.section == "fittings" and study.model.fittings[h.edge.ident].spec.kind == "damper"
        for h in feed.hops
    )
    if where == "below throttle" or calmed:
        return meets(
            at, path, f"{told}, {'through a restrictor or damper' if calmed else 'behind the throttle'}"
        )
    return advisory(
        at,
        path,
        f"{told} of one cylinder, which pulses{beat}, and nothing damps it",
        remedy="put a restrictor at the port or a damper at the gauge, or take it at the plenum",
    )


_OIL_MEANS = {"engine inlet": "inlet", "engine outlet": "outlet", "sump": "sump", "gallery": "gallery"}
_OIL_NAMES = {"inlet": "engine inlet", "outlet": "engine outlet", "sump": "sump", "gallery": "gallery"}


@rule(
    "oil-temperature-place",
    title="Oil temperature is taken where its limit applies: at the engine inlet unless the papers say otherwise",
    why="Oil is hottest where it leaves the engine and coolest behind the cooler. A limit for one place says nothing at another.",
    source="14 CFR 33.7(b)(4) (oil at the oil inlet: recalled), 121.307(i) (oil-in)",
    formula="location of the bulb = location of the limit",
    example="bulb in the sump against an inlet limit: one builder measured 4.2 degF more in the sump",
    over=lambda study: [i for i, _ in _of(study, "oil temperature")],
)
def oil_temperature_place(study: Study) -> Iterator[Verdict]:
    """Every sender of oil temperature."""
    for ident, sender in _of(study, "oil temperature"):
        found = study.model.engine_of(sender)
        wanted = found[1].oil_reference if found is not None else None
        at, path = (ident,), ("senders", ident, "location")
        where = _OIL_MEANS.get(sender.location or "")
        if sender.location is None:
            yield undetermined(at, path[:2], "place the oil temperature is taken at ('location')")
        elif where is not None and where == (wanted or "inlet"):
            yield meets(at, path, f"{ident} takes oil temperature at the {_OIL_NAMES[where]}")
        else:
            make = discrepancy if wanted is not None else advisory
            place = _OIL_NAMES[wanted or "inlet"]
            yield make(
                at,
                path,
                f"{ident} takes oil temperature at the {sender.location}, but its limit "
                f"{'applies' if wanted is not None else 'commonly applies'} at the {place}",
                remedy=f"move the bulb to the {place}"
                + ("" if wanted else ", or state where the limit applies"),
            )


def _of(study: Study, measure: str) -> list[tuple[str, Sender]]:
    return [
        (i, s)
        for i, s in study.model.senders.items()
        if s.spec.measures == measure and s.spec.principle != "switch"
    ]


def _air(study: Study, measure: str) -> list[tuple[str, str, Sender | Probe]]:
    probes = [("probes", i, p) for i, p in study.model.probes.items() if p.measures == measure]
    return [*(("senders", i, s) for i, s in _of(study, measure)), *probes]


@rule(
    "carburettor-air-place",
    title="Carburettor air temperature is taken in the air the carburettor sees, and it is said which temperature it is",
    why="A probe in the air box follows carburettor heat, and is what an induction limit is written for. A boss below the throttle "
    "reads the body, where ice forms. A cowl inlet shows neither.",
    source="14 CFR 25.1305(b)(1), 27.1305(a); a public installation paper for the boss below the throttle",
    formula="air box or carburettor inlet: air temperature; below the throttle: body temperature, for ice only",
    example="probe below the throttle on an engine with an induction limit: it does not show that limit",
    over=lambda study: [i for _, i, _ in _air(study, "carburettor air temperature")],
)
def carburettor_air_place(study: Study) -> Iterator[Verdict]:
    """Every sender and probe of carburettor air temperature."""
    for section, ident, thing in _air(study, "carburettor air temperature"):
        place = thing.location if isinstance(thing, Sender) else thing.mount
        field = "location" if isinstance(thing, Sender) else "mount"
        at, path = (ident,), (section, ident, field)
        found = study.model.engine_of(thing)
        limited = found is not None and (
            bool(found[1].preheat_limit) or "carburettor air temperature" in (found[1].limits or {})
        )
        if place is None:
            yield undetermined(at, path[:2], "place the carburettor air temperature is taken at ('location')")
        elif place in ("airbox", "carburettor inlet"):
            yield meets(at, path, f"{ident} takes the air temperature at the {place}")
        elif place in ("below throttle", "carburettor body") and not limited:
            yield meets(at, path, f"{ident} takes the temperature of the carburettor's body, where ice forms")
        else:
            body = place in ("below throttle", "carburettor body")
            told = (
                "the body of the carburettor, not the inlet air its limit is for"
                if body
                else "neither air nor body"
            )
            yield discrepancy(
                at,
                path,
                f"{ident} is at the {place}, where it shows {told}",
                remedy="put it in the air box ahead of the throttle",
            )


@rule(
    "outside-air-place",
    title="Outside air is measured clear of the engine",
    why="Air warmed by the cowl reads high, and the correction to the hot day comes out too small: the unsafe side.",
    source="a public installation paper; 14 CFR 23.1043(c) for the correction",
    formula="no outside air probe in a zone with the engine or hot parts",
    example="probe in the cowl outlet: every degree it reads high is a degree of margin that is not there",
    over=lambda study: [i for _, i, _ in _air(study, "outside air temperature")],
)
def outside_air_place(study: Study) -> Iterator[Verdict]:
    """Every sender and probe of outside air temperature."""
    for section, ident, thing in _air(study, "outside air temperature"):
        place = thing.location if isinstance(thing, Sender) else thing.mount
        zone = study.model.zones.get(thing.zone or "")
        at, path = (ident,), (section, ident)
        hot = zone is not None and bool(zone.hot_parts or zone.fire_zone or zone.vibrates)
        if hot:
            yield discrepancy(
                at,
                (*path, "zone"),
                f"{ident} sits in the {thing.zone}, where the engine warms it: it reads high, and the hot-day correction comes out "
                "too small",
                remedy="put it outside, ahead of the cowl outlet and out of the sun",
            )
        elif place == "outside":
            yield meets(at, path, f"{ident} is outside")
        elif place is None or zone is None:
            yield undetermined(
                at, path, "zone of the outside air probe, and whether hot parts run through it"
            )
        else:
            yield discrepancy(
                at, path, f"{ident} is at the {place}, which is not outside", remedy="put it outside"
            )
