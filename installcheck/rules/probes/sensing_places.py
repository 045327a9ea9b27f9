"""Pressures, oil and air temperatures are taken where their limits apply."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.fluid.facts import media
from ...analysis.shown import Shown, shown
from ...analysis.study import Study
from ...dataclass import dataclass
from ...document.source import DocPath
from ...graph.media import Feed
from ...model.aircraft import Engine
from ...model.devices import Probe, Sender
from ...model.fields import Measure
from ...model.quantities import in_unit, plain_number
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

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
_BULBS = frozenset(("resistance bulb", "vapour-pressure bulb", "liquid-filled bulb"))
_FUEL_PLACES = frozenset(("carburettor inlet", "servo inlet", "divider"))


@dataclass(frozen=True, slots=True)
class Taken:
    """Where an indication takes its pressure.

    Attributes:
        shown: the indication.
        tap: id of the tap or sender; empty if the document names none.
        path: where the document tells of it.
        where: its location, if the document says.
        feed: the way from the tap to the gauge or sender.
    """

    shown: Shown
    tap: str
    path: DocPath
    where: str | None
    feed: Feed | None

    @property
    def ident(self) -> str:
        """Name of the indication."""
        return self.shown.name


def _taken(study: Study) -> Iterator[Taken]:
    for one in shown(study):
        if one.measure in _MEDIA:
            yield from _taken_by(study, one)


def _taken_by(study: Study, one: Shown) -> Iterator[Taken]:
    ports: list[tuple[str, DocPath, str, Sender | None]]
    ports = [(one.indicator, one.path, p, None) for p in one.spec.ports or ()]
    for source in dict.fromkeys(r.source for r in one.reads if r.section == "senders"):
        fitted = study.model.senders[source]
        ports += [(source, ("senders", source), p, fitted) for p in fitted.spec.ports or ["P"]]
    if not ports:
        yield Taken(one, "", one.path, None, None)
    wanted = _MEDIA[one.measure or ""]
    for ident, path, port, sender in ports:
        feeds = [f for f in media(study).feeds(f"{ident}.{port}") if f.source.section == "taps"]
        feeds = [f for f in feeds if f.source.medium in wanted]
        for feed in feeds:
            tap = study.model.taps[feed.source.ident]
            yield Taken(one, feed.source.ident, ("taps", feed.source.ident, "location"), tap.location, feed)
        if not feeds:
            said = sender.location if sender is not None and sender.location in _IN_SYSTEM else None
            yield Taken(one, "" if sender is None else ident, path, said, None)


@rule(
    "pressure-tap",
    title="A pressure is taken where its limit applies",
    why="At the pump outlet oil and fuel pressure read high by what filter and cooler take, and hide that they are blocked. "
    "Injected engines have two fuel pressures whose limits have nothing to do with one another.",
    source="14 CFR 33.7(b)(5), of reciprocating engines (fuel at the fuel inlet, oil at the main gallery: recalled); practice for "
    "manifold pressure",
    formula="location of the tap = location of the limit; a single intake port pulses at rpm/120 Hz",
    example="port of one cylinder at 2700 rpm without a damper: 22.5 Hz",
    over=_taken,
)
def pressure_tap(study: Study, subject: Subject, taken: Taken) -> Verdict:
    """Every indication of oil, fuel and manifold pressure."""
    subject = subject.along(taken.tap) if taken.tap else subject
    one, where = taken.shown, taken.where
    if where is None:
        return subject.lacks(missing.PRESSURE_TAP)
    if one.measure == "oil pressure":
        return _oil(subject, where)
    engine = study.model.engines.get(one.engine or "")
    if one.measure == "fuel pressure":
        return _fuel(subject, one, where, engine)
    return _manifold(study, subject, where, taken.feed, engine)


def _oil(subject: Subject, where: str) -> Verdict:
    name = subject.ident
    if where == "gallery":
        return subject.meets(f"{name} takes oil pressure at the main gallery")
    high = (
        ": it reads high by the drop of filter and cooler, and hides a blocked filter"
        if where == "pump outlet"
        else ""
    )
    return subject.advisory(
        f"{name} takes oil pressure at the {where}, not at the main gallery{high}",
        remedy="take it at the gallery port the engine's papers name, through a restrictor",
    )


def _fuel(subject: Subject, one: Shown, where: str, engine: Engine | None) -> Verdict:
    wanted = engine.fuel_pressure_reference if engine is not None else None
    told = f"{one.name} takes fuel pressure at the {where}"
    if wanted is not None and where == wanted:
        return subject.meets(f"{told}, where its limit applies")
    if wanted is not None:
        return subject.discrepancy(
            f"{told}, but its limit applies at the {wanted}", remedy=f"take it at the {wanted}"
        )
    if where == "carburettor inlet":
        return subject.meets(told)
    if where in _FUEL_PLACES:
        place: DocPath = ("engines", one.engine) if one.engine is not None else one.path
        return subject.placed(*place).lacks(missing.ENGINE_FUEL_PRESSURE_REFERENCE)
    return subject.advisory(
        f"{told}: it reads high by the drop of the filter, and hides that it is blocked",
        remedy="take it at the inlet of the carburettor or the fuel servo, as the engine's papers say",
    )


def _manifold(
    study: Study, subject: Subject, where: str, feed: Feed | None, engine: Engine | None
) -> Verdict:
    told = f"{subject.ident} takes manifold pressure at the {where}"
    if where == "plenum":
        return subject.meets(told)
    if where == "airbox":
        return subject.discrepancy(
            f"{told}, ahead of the throttle: it reads the pressure outside",
            remedy="take it at the plenum or an intake port, behind the throttle",
        )
    if where not in ("port", "below throttle"):
        return subject.advisory(f"{told}, not at plenum or port", remedy="take it at the plenum")
    if feed is None:
        return subject.lacks(missing.PORT_LINE)
    calmed = bool(feed.restrictors) or any(
        h.edge.section == "fittings" and study.model.fittings[h.edge.ident].spec.kind == "damper"
        for h in feed.hops
    )
    if where == "below throttle" or calmed:
        return subject.meets(
            f"{told}, {'through a restrictor or damper' if calmed else 'behind the throttle'}"
        )
    speed = engine.speed if engine is not None else None
    # One intake stroke in two revolutions: rpm/120.
    beat = f" at {plain_number(in_unit(speed, 'rpm', 'speed') / 120)} Hz" if speed is not None else ""
    return subject.advisory(
        f"{told} of one cylinder, which pulses{beat}, and nothing damps it",
        remedy="put a restrictor at the port or a damper at the gauge, or take it at the plenum",
    )


_OIL_MEANS = {"engine inlet": "inlet", "engine outlet": "outlet", "sump": "sump", "gallery": "gallery"}
_OIL_NAMES = {"inlet": "engine inlet", "outlet": "engine outlet", "sump": "sump", "gallery": "gallery"}


@rule(
    "oil-temperature-place",
    title="Oil temperature is taken where its limit applies: at the engine inlet unless the papers say otherwise",
    why="Oil is hottest where it leaves the engine and coolest behind the cooler. A limit for one place says nothing at another.",
    source="14 CFR 33.7(b)(4), of reciprocating engines (oil at the oil inlet: recalled), 121.307(i) (oil-in)",
    formula="location of the bulb = location of the limit, and the whole bulb in the oil",
    example="bulb in the sump against an inlet limit: one builder measured 4.2 degF more in the sump",
    over="senders",
)
def oil_temperature_place(study: Study, subject: Subject, sender: Sender) -> Verdict | None:
    """Every sender of oil temperature."""
    if not _senses(sender, "oil temperature"):
        return None
    if sender.location is None:
        return subject.lacks(missing.OIL_TEMPERATURE_PLACE)
    found = study.model.engine_of(sender)
    wanted = found[1].oil_reference if found is not None else None
    where = _OIL_MEANS.get(sender.location)
    place = _OIL_NAMES[wanted or "inlet"]
    if sender.immersed is False:
        judge = (
            subject.field("immersed").discrepancy
            if wanted is not None
            else subject.field("immersed").advisory
        )
        return judge(
            f"{subject.ident} is not wholly in the oil: it reads between the oil and what else it touches",
            remedy="fit it so that the oil covers the whole bulb: a fitting of the bulb's own depth, or a shorter bulb",
        )
    subject = subject.field("location")
    if where is not None and where == (wanted or "inlet"):
        if sender.immersed is None and sender.spec.principle in _BULBS:
            return subject.placed("senders", subject.ident).lacks(missing.SENDER_IMMERSED)
        return subject.meets(f"{subject.ident} takes oil temperature at the {place}")
    judge = subject.discrepancy if wanted is not None else subject.advisory
    return judge(
        f"{subject.ident} takes oil temperature at the {sender.location}, but its limit "
        f"{'applies' if wanted is not None else 'commonly applies'} at the {place}",
        remedy=f"move the bulb to the {place}" + ("" if wanted else ", or state where the limit applies"),
    )


def _senses(sender: Sender, measure: Measure) -> bool:
    return sender.spec.measures == measure and sender.spec.principle != "switch"


@dataclass(frozen=True, slots=True)
class AirProbe:
    """A sender or probe of an air temperature."""

    section: str
    ident: str
    thing: Sender | Probe

    @property
    def path(self) -> DocPath:
        """Where the document tells of it."""
        return self.section, self.ident

    @property
    def word(self) -> str:
        """The field that says where it sits."""
        return "location" if isinstance(self.thing, Sender) else "mount"

    @property
    def place(self) -> str | None:
        """Where it sits."""
        return self.thing.location if isinstance(self.thing, Sender) else self.thing.mount


def _air(study: Study, measure: Measure) -> Iterator[AirProbe]:
    for ident, sender in study.model.senders.items():
        if _senses(sender, measure):
            yield AirProbe("senders", ident, sender)
    for ident, probe in study.model.probes.items():
        if probe.measures == measure:
            yield AirProbe("probes", ident, probe)


def _in_stream(probe: AirProbe, subject: Subject) -> Verdict | None:
    """What is wrong with how a bulb stands in the air, or not said of it."""
    sender = probe.thing
    if not isinstance(sender, Sender):
        return None
    if sender.immersed is False:
        return Subject(subject.study, subject.at, (*probe.path, "immersed")).discrepancy(
            f"{probe.ident} is not wholly in the air: it reads between the air and the wall it is fastened to",
            remedy="fit it so that the air passes the whole bulb: a boss of the bulb's own depth, or a shorter bulb",
        )
    if sender.immersed is None and sender.spec.principle in _BULBS:
        return subject.placed("senders", probe.ident).lacks(missing.SENDER_IMMERSED)
    return None


@rule(
    "carburettor-air-place",
    title="Carburettor air temperature is taken in the air the carburettor sees, and it is said which temperature it is",
    why="A probe in the air box follows carburettor heat, and is what an induction limit is written for. A boss below the throttle "
    "reads the body, where ice forms. A cowl inlet shows neither.",
    source="14 CFR 25.1305(b)(1), 27.1305(a); a public installation paper for the boss below the throttle",
    formula="air box or carburettor inlet: air temperature, the whole bulb in the air; below the throttle: body temperature, for ice "
    "only",
    example="probe below the throttle on an engine with an induction limit: it does not show that limit",
    over=lambda study: _air(study, "carburettor air temperature"),
)
def carburettor_air_place(study: Study, subject: Subject, probe: AirProbe) -> Verdict:
    """Every sender and probe of carburettor air temperature."""
    place, ident = probe.place, probe.ident
    if place is None:
        return subject.lacks(missing.CARBURETTOR_AIR_PLACE)
    subject = subject.field(probe.word)
    found = study.model.engine_of(probe.thing)
    limited = found is not None and (
        bool(found[1].preheat_limit) or "carburettor air temperature" in (found[1].limits or {})
    )
    if place in ("airbox", "carburettor inlet"):
        return _in_stream(probe, subject) or subject.meets(
            f"{ident} takes the air temperature at the {place}"
        )
    body = place in ("below throttle", "carburettor body")
    if body and not limited:
        return subject.meets(f"{ident} takes the temperature of the carburettor's body, where ice forms")
    told = (
        "the body of the carburettor, not the inlet air its limit is for" if body else "neither air nor body"
    )
    return subject.discrepancy(
        f"{ident} is at the {place}, where it shows {told}",
        remedy="put it in the air box ahead of the throttle",
    )


@rule(
    "outside-air-place",
    title="Outside air is measured clear of the engine",
    why="Air warmed by the cowl reads high, and the correction to the hot day comes out too small: the unsafe side.",
    source="a public installation paper; 14 CFR 23.1043(c) for the correction",
    formula="no outside air probe in a zone with the engine or hot parts, and the whole bulb in the air",
    example="probe in the cowl outlet: every degree it reads high is a degree of margin that is not there",
    over=lambda study: _air(study, "outside air temperature"),
)
def outside_air_place(study: Study, subject: Subject, probe: AirProbe) -> Verdict:
    """Every sender and probe of outside air temperature."""
    ident, place, zone = probe.ident, probe.place, study.model.zones.get(probe.thing.zone or "")
    if zone is not None and (zone.hot_parts or zone.fire_zone or zone.vibrates):
        return subject.field("zone").discrepancy(
            f"{ident} sits in the {probe.thing.zone}, where the engine warms it: it reads high, and the hot-day correction "
            "comes out too small",
            remedy="put it outside, ahead of the cowl outlet and out of the sun",
        )
    if place == "outside":
        return _in_stream(probe, subject) or subject.meets(f"{ident} is outside")
    if place is None or zone is None:
        return subject.lacks(missing.OUTSIDE_AIR_ZONE)
    return subject.discrepancy(f"{ident} is at the {place}, which is not outside", remedy="put it outside")
