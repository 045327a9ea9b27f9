"""Operating points against what the aircraft is said to be, and straps against the wire they are made of."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from ...model.aircraft import Limit
from ...model.comparing import at_least, at_most
from ...model.quantities import Quantity, show
from ...physics.conductors import wire_resistance
from ..sender_pairs import tachometers
from ..study import Study
from .pairs import Field, Pair, rounding

_BELOW_LIMITS = frozenset(("start", "ground"))
"""Phases in which an engine may be below its lowest limits: cranking, idling."""
_SPEED: Final = "engine speed"
_ONE_RATIO = 1e-3
"""Share by which two ratios may differ and still be one, as they are written in rounded figures: 0.857 for 6/7."""
_ROUGH = 0.1
"""Share by which the resistance of a strap may lie below that of its gauge: finer strands, a colder day."""


def drives(study: Study) -> Iterator[Pair]:
    """Generators that tell how often they turn, on an engine that tells how often its drive does."""
    for pair in tachometers(study, "synchronous tachometer"):
        own = pair.sender.drive_ratio
        of_engine = pair.engine.tachometer_drive if pair.engine is not None else None
        if own is None or of_engine is None or pair.engine_id is None:
            continue
        yield Pair(
            pair.source,
            ("senders", pair.source, "drive_ratio"),
            at_most(abs(own / of_engine - 1), _ONE_RATIO),
            f"{pair.source} is said to turn once in {own:g} engine revolutions, and the drive of {pair.engine_id} in {of_engine:g}",
            beside=(pair.engine_id,),
            open=(("senders", pair.source, "drive_ratio"), ("engines", pair.engine_id, "tachometer_drive")),
        )


def _field(study: Study) -> Iterator[Pair]:
    """The field an aircraft stands on, below its ceiling."""
    craft = study.model.aircraft
    if craft.field_elevation is None or craft.ceiling is None:
        return
    yield Pair(
        "aircraft",
        ("aircraft", "field_elevation"),
        at_most(craft.field_elevation, craft.ceiling + rounding(craft.ceiling)),
        f"the field lies at {craft.field_elevation.text}, and the ceiling is {craft.ceiling.text}",
        "correct the elevation of the field, or the ceiling",
        open=(("aircraft", "field_elevation"), ("aircraft", "ceiling")),
    )


def points(study: Study) -> Iterator[Pair]:
    """Operating points: below the ceiling, their zones within the range said of them, the engine within its limits."""
    yield from _field(study)
    for ident, point in study.model.operating_points.items():
        path: Field = ("operating_points", ident)
        ceiling = study.model.aircraft.ceiling
        if point.altitude is not None and ceiling is not None:
            yield Pair(
                ident,
                (*path, "altitude"),
                at_most(point.altitude, ceiling + rounding(ceiling)),
                f"{ident} is at {point.altitude.text}, and the ceiling is {ceiling.text}",
                "correct the altitude of the point, or the ceiling",
                open=((*path, "altitude"), ("aircraft", "ceiling")),
            )
        for zone, told in (point.zone_temperatures or {}).items():
            place = study.model.zones.get(zone)
            span = place.temperature if place is not None else None
            if span is None or told is None:
                continue
            yield Pair(
                ident,
                (*path, "zone_temperatures", zone),
                at_least(told, span.lowest) and at_most(told, span.highest),
                f"the {zone} is at {told.text} at {ident}, and sees {span.lowest.text} to {span.highest.text} in service",
                "correct the temperature at the point, or the range of the zone",
                beside=(zone,),
                open=((*path, "zone_temperatures", zone), ("zones", zone, "temperature")),
            )
        yield from _speeds(study, ident)
        yield from _readings(study, ident)


def _speeds(study: Study, ident: str) -> Iterator[Pair]:
    """The speed of the engine at a point, and the reading of the same name there."""
    point = study.model.operating_points[ident]
    speed, reading = point.engine_speed, (point.readings or {}).get(_SPEED)
    if speed is None or reading is None or reading.kind != speed.kind:
        return
    path: Field = ("operating_points", ident, "readings", _SPEED)
    yield Pair(
        ident,
        path,
        at_most(abs(speed - reading), rounding(speed) + rounding(reading)),
        f"the engine turns at {speed.text} at {ident}, and the reading of its speed there is {reading.text}",
        "correct the reading, or the engine speed of the point",
        open=(path, ("operating_points", ident, "engine_speed")),
    )


def _readings(study: Study, ident: str) -> Iterator[Pair]:
    """What the engine is at, at a point, against its limits; a point may mean to show an engine beyond them."""
    if len(study.model.engines) != 1:
        return
    [(engine, its)] = study.model.engines.items()
    point = study.model.operating_points[ident]
    readings = dict(point.readings or {})
    path: Field = ("operating_points", ident)
    spots: dict[str, Field] = {measure: (*path, "readings", measure) for measure in readings}
    if point.engine_speed is not None and _SPEED not in readings:
        readings[_SPEED], spots[_SPEED] = point.engine_speed, (*path, "engine_speed")
    for measure, told in readings.items():
        limit = (its.limits or {}).get(measure)
        if limit is None or told is None:
            continue
        beyond = _beyond(told, limit, lowest=point.phase not in _BELOW_LIMITS)
        yield Pair(
            ident,
            spots[measure],
            beyond is None,
            f"{measure} of {told.text} at {ident} is within the limits of {engine}"
            if beyond is None
            else f"{measure} of {told.text} at {ident} is beyond the limit of {engine}, {beyond.text}",
            "correct the reading or the limit, unless the point means to show an engine beyond it",
            beside=(engine,),
            certain=False,
        )


def _beyond(told: Quantity, limit: Limit, *, lowest: bool) -> Quantity | None:
    low, high = limit.minimum if lowest else None, limit.maximum
    if high is not None and high.kind == told.kind and not at_most(told, high):
        return high
    return low if low is not None and low.kind == told.kind and not at_least(told, low) else None


def straps(study: Study) -> Iterator[Pair]:
    """Straps that give their resistance, and the gauge and length of the wire they are made of."""
    for ident, ground in study.model.grounds.items():
        if ground.resistance is None or ground.gauge is None or ground.length is None:
            continue
        wire = wire_resistance(str(ground.gauge), float(ground.length))
        yield Pair(
            ident,
            ("grounds", ident, "resistance"),
            at_least(ground.resistance + rounding(ground.resistance), wire * (1 - _ROUGH)),
            f"{ident} has {ground.resistance.text}, and {ground.length.text} of {ground.gauge} AWG alone "
            f"{show(wire, ground.resistance.unit, 'resistance')}",
            "measure the strap, and correct its resistance or its size",
            open=(("grounds", ident, "resistance"), ("grounds", ident, "gauge")),
            instead=((("grounds", ident, "resistance"), show(wire, ground.resistance.unit, "resistance")),),
        )
