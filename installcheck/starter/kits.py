"""What each indication takes: sender or probe, indicator, wiring, tap and line, of generic parts that fit 14 V and 28 V."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import TypeAlias

from ..document.source import Plain
from ..model.quantities import Quantity, parse

Things: TypeAlias = "dict[str, dict[str, dict[str, Plain]]]"
"""Things by section and id."""


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


Kit: TypeAlias = "Callable[[Spot], Things]"
_SIGNAL, _ALONE = "22 AWG", "20 AWG"
"""Of a wire that carries a signal, and of one that may run alone on an engine, which shakes it: shop practice."""
_NARROW_V = 16.0
"""Highest supply of a resistive gauge of the part library; above it the one fitted must say its own."""
_LEGS = ("A", "B", "C")


def things_of(measure: str, spot: Spot) -> Things:
    """Everything one indication takes, at a spot.

    Raises:
        KeyError: no kit for it.
    """
    return KITS[measure](spot)


def _placed(spot: Spot, zone: str, **words: Plain) -> dict[str, Plain]:
    """A thing's fields, its zone and engine among them, without those that are ``None``."""
    engine: dict[str, Plain] = {"engine": spot.engine} if spot.engine is not None else {}
    return {**{w: v for w, v in words.items() if v is not None}, "zone": zone, **engine}


def _run(spot: Spot, zone: str, **words: Plain) -> dict[str, Plain]:
    own = {w.rstrip("_"): v for w, v in words.items() if v is not None}
    return {**own, "route": spot.route(zone), **spot.shared}


def _gauge(spot: Spot, measure: str, part: str, size: str | None = None) -> dict[str, Plain]:
    return {
        **({"part": part, "size": size} if size else {"part": part}),
        "measures": measure,
        "budget": "unknown",
        "zone": spot.panel_zone,
        "in_view": "yes",
    }


def _fed(spot: Spot, things: Things, ident: str) -> Things:
    """The feed and ground of an indicator, added to what it takes."""
    runs = things.setdefault("wire_runs", {})
    for terminal, end in (("power", spot.power), ("ground", spot.ground)):
        ends = (end, f"{ident}.{terminal}") if terminal == "power" else (f"{ident}.{terminal}", end)
        name = spot.named(f"{ident} {terminal}")
        route: list[Plain] = [{"zone": spot.panel_zone, "length": "unknown"}]
        runs[name] = {
            "from": ends[0],
            "to": ends[1],
            "part": "AS22759/16",
            "gauge": _SIGNAL,
            "route": route,
            **spot.shared,
        }
    return things


_HIGHEST_PLACE = 0.9
"""Share of a scale at which a limit is still read well: practice."""


def _size(spot: Spot, measure: str, sizes: Sequence[str]) -> str:
    """The smallest range that shows the limit within nine tenths of it; the first where no limit is told."""
    limit = spot.limits.get(measure)
    if limit is None:
        return sizes[0]
    fit = (s for s in sizes if limit <= _HIGHEST_PLACE * parse(s, "pressure"))
    return next(fit, sizes[-1])


def _transducer(
    measure: str,
    what: str,
    part: str,
    gauge: str,
    sizes: Sequence[str],
    medium: str,
    location: str,
    stated: Mapping[str, Plain],
) -> Kit:
    """A pressure by a transducer forward of the wall, a hose with a restrictor at its source, and a shielded cable."""

    def kit(spot: Spot) -> Things:
        size = _size(spot, measure, sizes)
        place = spot.fuel_reference if measure == "fuel pressure" else location
        sender, shown = spot.named(f"{what} transducer"), spot.named(f"{what} pressure gauge")
        tap, restrictor, adapter = (spot.named(f"{what} {w}") for w in ("tap", "restrictor", "adapter"))
        conductors: dict[str, Plain] = {
            leg: {"from": f"{sender}.{one}", "to": f"{shown}.{other}"}
            for leg, one, other in zip(
                _LEGS, ("+", "signal", "-"), ("5 V", "signal", "signal ground"), strict=True
            )
        }
        cable = _run(spot, spot.near_zone, part="shielded cable 3 core", gauge=_SIGNAL, conductors=conductors)
        hose_route: list[Plain] = [{"zone": spot.engine_zone, "length": "unknown"}]
        if spot.near_zone != spot.engine_zone:
            hose_route.append({"zone": spot.near_zone, "length": "unknown"})
        made: Things = {
            "senders": {
                sender: _placed(
                    spot,
                    spot.near_zone,
                    part=part,
                    size=size,
                    measures=measure,
                    location=place,
                    mounted_on="firewall",
                )
            },
            "indicators": {shown: _gauge(spot, measure, gauge, size)},
            "wire_runs": {
                spot.named(f"{what} signal"): {**cable, "shield": {"from": "open", "to": spot.ground}}
            },
            "taps": {
                tap: _placed(
                    spot, spot.engine_zone, medium=medium, location=place, thread="1/8 pipe thread", **stated
                )
            },
            "fittings": {
                restrictor: {
                    "part": "restrictor fitting steel",
                    "size": "0.040 in",
                    "screwed_into": tap,
                    "zone": spot.engine_zone,
                },
                adapter: {
                    "part": "adapter AN816 steel",
                    "size": "-4",
                    "screwed_into": f"{sender}.P",
                    "zone": spot.near_zone,
                },
            },
            "fluid_lines": {
                spot.named(f"{what} hose"): {
                    "from": f"{restrictor}.out",
                    "to": f"{adapter}.flare",
                    "medium": medium,
                    "part": "hose TSO-C53a type D",
                    "size": "-4",
                    "route": hose_route,
                }
            },
        }
        return _fed(spot, made, shown)

    return kit


def _bulb(measure: str, what: str, location: str | None, **fields: Plain) -> Kit:
    """A temperature by a three-lead platinum bulb: no lead error, and the same indicator at 14 V and 28 V."""

    def kit(spot: Spot) -> Things:
        bulb, shown = spot.named(f"{what} bulb"), spot.named(f"{what} temperature gauge")
        made: Things = {
            "senders": {
                bulb: _placed(
                    spot,
                    spot.engine_zone,
                    part="resistance bulb Pt100 three lead",
                    measures=measure,
                    location=location,
                    **fields,
                )
            },
            "indicators": {
                shown: _gauge(spot, measure, "electronic oil temperature indicator Pt100 three lead")
            },
            "wire_runs": {
                spot.named(f"{what} {leg}"): _run(
                    spot,
                    spot.engine_zone,
                    from_=f"{bulb}.{leg}",
                    to=f"{shown}.{leg}",
                    part="AS22759/16",
                    gauge=_ALONE,
                )
                for leg in _LEGS
            },
        }
        return _fed(spot, made, shown)

    return kit


def _couple(measure: str, what: str, part: str, gauge: str, **fields: Plain) -> Kit:
    """A temperature by a thermocouple and a lead of its own kind all the way."""

    def kit(spot: Spot) -> Things:
        at = f" {spot.cylinder}" if spot.cylinder is not None else ""
        probe, shown = spot.named(f"{what} probe{at}"), spot.named(f"{what} gauge{at}")
        cylinder: Plain = str(spot.cylinder) if spot.cylinder is not None else "unknown"
        placed = {**({"cylinder": cylinder} if measure != "turbine inlet temperature" else {}), **fields}
        conductors: dict[str, Plain] = {
            leg: {"from": f"{probe}.{leg}", "to": f"{shown}.{leg}"} for leg in ("+", "-")
        }
        made: Things = {
            "probes": {probe: _placed(spot, spot.engine_zone, part=part, measures=measure, **placed)},
            "indicators": {shown: _gauge(spot, measure, gauge)},
            "wire_runs": {
                spot.named(f"{what} lead{at}"): _run(
                    spot, spot.engine_zone, part="thermocouple lead K", gauge="20 AWG", conductors=conductors
                )
            },
        }
        return _fed(spot, made, shown)

    return kit


def _counted(
    measure: str, what: str, sender: str, gauge: str, supply: str, shown_as: str, **fields: Plain
) -> Kit:
    """A rate by pulses, the pick-up fed by its indicator."""

    def kit(spot: Spot) -> Things:
        pick_up, shown = spot.named(f"{what} pick-up"), spot.named(shown_as)
        conductors: dict[str, Plain] = {
            leg: {"from": f"{pick_up}.{one}", "to": f"{shown}.{other}"}
            for leg, one, other in zip(
                _LEGS, ("+", "signal", "-"), (supply, "signal", "signal ground"), strict=True
            )
        }
        cable = _run(
            spot, spot.engine_zone, part="shielded cable 3 core", gauge=_SIGNAL, conductors=conductors
        )
        counts = {w: v for w, v in fields.items() if w.startswith("pulses")}
        made: Things = {
            "senders": {pick_up: _placed(spot, spot.engine_zone, part=sender, measures=measure, **fields)},
            "indicators": {shown: {**_gauge(spot, measure, gauge), **counts}},
            "wire_runs": {
                spot.named(f"{what} signal"): {**cable, "shield": {"from": "open", "to": spot.ground}}
            },
        }
        return _fed(spot, made, shown)

    return kit


def _fuel_quantity(spot: Spot) -> Things:
    sender, shown = spot.named("fuel quantity sender"), spot.named("fuel quantity gauge")
    route: list[Plain] = [{"zone": spot.panel_zone, "length": "unknown"}]
    made: Things = {
        "senders": {
            sender: {
                "part": "fuel quantity sender falling two wire",
                "measures": "fuel quantity",
                "zone": spot.panel_zone,
            }
        },
        "indicators": {
            shown: {
                **_gauge(spot, "fuel quantity", "fuel quantity gauge falling"),
                "terminals": ["S", "G"],
                **({"supply_voltage": "unknown"} if spot.volts > _NARROW_V else {}),
            }
        },
        "wire_runs": {
            spot.named(f"fuel quantity {leg}"): {
                "from": f"{sender}.{leg}",
                "to": f"{shown}.{leg}",
                "part": "AS22759/16",
                "gauge": _SIGNAL,
                "route": route,
                **spot.shared,
            }
            for leg in ("S", "G")
        },
    }
    return _fed(spot, made, shown)


def _volts(spot: Spot) -> Things:
    shown = spot.named("voltmeter")
    route: list[Plain] = [{"zone": spot.panel_zone, "length": "unknown"}]
    ends = (("power", spot.power, f"{shown}.+"), ("ground", f"{shown}.-", spot.ground))
    return {
        "indicators": {shown: _gauge(spot, "bus voltage", "voltmeter")},
        "wire_runs": {
            spot.named(f"voltmeter {word}"): {
                "from": one,
                "to": other,
                "part": "AS22759/16",
                "gauge": _SIGNAL,
                "route": route,
                **spot.shared,
            }
            for word, one, other in ends
        },
    }


_OPEN: Mapping[str, Plain] = MappingProxyType({"pressure": "unknown", "max_pressure": "unknown"})
_TRANSDUCER = "pressure transducer 0.5-4.5 V"
KITS: Mapping[str, Kit] = MappingProxyType(
    {
        "oil pressure": _transducer(
            "oil pressure",
            "oil",
            _TRANSDUCER,
            "electronic oil pressure indicator",
            ("100 psi", "150 psi"),
            "oil",
            "gallery",
            _OPEN,
        ),
        "oil temperature": _bulb(
            "oil temperature", "oil", "engine inlet", mounted_on="engine", immersed="unknown"
        ),
        "head temperature": _couple(
            "head temperature",
            "head",
            "bayonet probe K isolated",
            "electronic head temperature indicator K",
            mount="well",
        ),
        "exhaust temperature": _couple(
            "exhaust temperature",
            "exhaust",
            "exhaust clamp probe K",
            "electronic exhaust temperature indicator K",
            mount="exhaust pipe",
            distance="unknown",
        ),
        "turbine inlet temperature": _couple(
            "turbine inlet temperature",
            "turbine inlet",
            "exhaust threaded probe K",
            "electronic exhaust temperature indicator K",
            mount="turbine inlet",
        ),
        "fuel pressure": _transducer(
            "fuel pressure",
            "fuel",
            _TRANSDUCER,
            "electronic fuel pressure indicator",
            ("15 psi", "30 psi", "50 psi"),
            "fuel",
            "carburettor inlet",
            {**_OPEN, "shutoff": "unknown"},
        ),
        "manifold pressure": _transducer(
            "manifold pressure",
            "manifold",
            "absolute pressure transducer 0.5-4.5 V",
            "electronic manifold pressure indicator",
            ("30 inHg", "40 inHg", "60 inHg"),
            "fuel-air mixture",
            "plenum",
            {},
        ),
        "engine speed": _counted(
            "engine speed",
            "tachometer",
            "pulse pick-up",
            "pulse tachometer",
            "5 V",
            "tachometer",
            pulses_per_revolution="unknown",
        ),
        "fuel flow": _counted(
            "fuel flow",
            "fuel flow",
            "fuel flow pick-up",
            "fuel flow indicator",
            "12 V",
            "fuel flow gauge",
            pulses_per_gallon="unknown",
        ),
        "fuel quantity": _fuel_quantity,
        "carburettor air temperature": _bulb("carburettor air temperature", "carburettor air", None),
        "coolant temperature": _bulb("coolant temperature", "coolant", None),
        "bus voltage": _volts,
    }
)
"""Kits by the indication they give."""
