"""What each indication takes: sender or probe, indicator, wiring, tap and line, of generic parts that fit 14 V and 28 V."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType

from ..document.source import Plain
from ..model.quantities import parse
from .kit import ALONE, LEGS, SIGNAL, Kit, Spot, Things, dial, fed, laid, placed
from .kits_of_power import amperes, volts
from .kits_of_tanks import quantity, suction


def things_of(measure: str, spot: Spot) -> Things:
    """Everything one indication takes, at a spot.

    Raises:
        KeyError: no kit for it.
    """
    return KITS[measure](spot)


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
    *,
    at_sender: bool = True,
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
                LEGS, ("+", "signal", "-"), ("5 V", "signal", "signal ground"), strict=True
            )
        }
        cable = laid(spot, spot.near_zone, part="shielded cable 3 core", gauge=SIGNAL, conductors=conductors)
        made: Things = {
            "senders": {
                sender: placed(
                    spot,
                    spot.near_zone,
                    part=part,
                    size=size,
                    measures=measure,
                    location=place if at_sender else None,
                    mounted_on="firewall",
                )
            },
            "indicators": {shown: dial(spot, measure, gauge, size)},
            "wire_runs": {
                spot.named(f"{what} signal"): {**cable, "shield": {"from": "open", "to": spot.ground}}
            },
            "taps": {
                tap: placed(
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
                    "route": _to_sender(spot),
                }
            },
        }
        return fed(spot, made, shown)

    return kit


def _to_sender(spot: Spot) -> list[Plain]:
    """The way of a line from the engine to what is kept off it: that of a run to the panel, as far as there."""
    steps = [step for step in spot.route(spot.engine_zone) if isinstance(step, dict)]
    zones = [step.get("zone") for step in steps]
    if spot.near_zone in zones:
        return [*steps[: zones.index(spot.near_zone) + 1]]
    ends = dict.fromkeys((spot.engine_zone, spot.near_zone))
    return [{"zone": zone, "length": "unknown"} for zone in ends]


def _bulb(measure: str, what: str, location: str | None, **fields: Plain) -> Kit:
    """A temperature by a three-lead platinum bulb: no lead error, and the same indicator at 14 V and 28 V."""

    def kit(spot: Spot) -> Things:
        kind = "oil temperature" if measure == "oil temperature" else "temperature"
        zone = spot.panel_zone if location == "outside" else spot.engine_zone
        bulb, shown = spot.named(f"{what} bulb"), spot.named(f"{what} temperature gauge")
        made: Things = {
            "senders": {
                bulb: placed(
                    spot,
                    zone,
                    part="resistance bulb Pt100 three lead",
                    measures=measure,
                    location=location,
                    **fields,
                )
            },
            "indicators": {shown: dial(spot, measure, f"electronic {kind} indicator Pt100 three lead")},
            "wire_runs": {
                spot.named(f"{what} {leg}"): laid(
                    spot, zone, from_=f"{bulb}.{leg}", to=f"{shown}.{leg}", part="AS22759/16", gauge=ALONE
                )
                for leg in LEGS
            },
        }
        return fed(spot, made, shown)

    return kit


def _couple(measure: str, what: str, part: str, gauge: str, **fields: Plain) -> Kit:
    """A temperature by a thermocouple and a lead of its own kind all the way."""

    def kit(spot: Spot) -> Things:
        at = f" {spot.cylinder}" if spot.cylinder is not None else ""
        probe, shown = spot.named(f"{what} probe{at}"), spot.named(f"{what} gauge{at}")
        cylinder: Plain = str(spot.cylinder) if spot.cylinder is not None else "unknown"
        where = {**({"cylinder": cylinder} if measure != "turbine inlet temperature" else {}), **fields}
        conductors: dict[str, Plain] = {
            leg: {"from": f"{probe}.{leg}", "to": f"{shown}.{leg}"} for leg in ("+", "-")
        }
        made: Things = {
            "probes": {probe: placed(spot, spot.engine_zone, part=part, measures=measure, **where)},
            "indicators": {shown: dial(spot, measure, gauge)},
            "wire_runs": {
                spot.named(f"{what} lead{at}"): laid(
                    spot, spot.engine_zone, part="thermocouple lead K", gauge="20 AWG", conductors=conductors
                )
            },
        }
        return fed(spot, made, shown)

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
                LEGS, ("+", "signal", "-"), (supply, "signal", "signal ground"), strict=True
            )
        }
        cable = laid(
            spot, spot.engine_zone, part="shielded cable 3 core", gauge=SIGNAL, conductors=conductors
        )
        counts = {w: v for w, v in fields.items() if w.startswith("pulses")}
        made: Things = {
            "senders": {pick_up: placed(spot, spot.engine_zone, part=sender, measures=measure, **fields)},
            "indicators": {shown: {**dial(spot, measure, gauge), **counts}},
            "wire_runs": {
                spot.named(f"{what} signal"): {**cable, "shield": {"from": "open", "to": spot.ground}}
            },
        }
        return fed(spot, made, shown)

    return kit


_OPEN: Mapping[str, Plain] = MappingProxyType({"pressure": "unknown", "temperature": "unknown"})
"""Of what is tapped: the highest there can be."""
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
        "fuel quantity": quantity("fuel quantity", "fuel quantity"),
        "oil quantity": quantity("oil quantity", "oil quantity", on_engine=True),
        "carburettor air temperature": _bulb(
            "carburettor air temperature", "carburettor air", "airbox", immersed="unknown"
        ),
        "coolant temperature": _bulb("coolant temperature", "coolant", None, immersed="unknown"),
        "outside air temperature": _bulb(
            "outside air temperature", "outside air", "outside", immersed="unknown"
        ),
        "hydraulic pressure": _transducer(
            "hydraulic pressure",
            "hydraulic",
            _TRANSDUCER,
            "electronic hydraulic pressure indicator",
            ("1500 psi", "3000 psi"),
            "hydraulic fluid",
            "other",
            {**_OPEN, "shutoff": "unknown"},
            at_sender=False,
        ),
        "vacuum": suction,
        "bus voltage": volts,
        "load current": amperes,
    }
)
"""Kits by the indication they give."""
