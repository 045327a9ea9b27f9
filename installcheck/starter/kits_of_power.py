"""Volts of the bus, and the amperes a shunt in its feed carries."""

from __future__ import annotations

from ..document.source import Plain
from .kit import Feed, Spot, Things, dial, inside

_SHUNTS = (50, 60, 100)
"""A, sizes of the shunts and ammeters of the part library."""
_FEEDER = "4 AWG"
"""Of a feed of 60 A: it bears 100 A and more in free air, and is bundled with little (AC 43.13-1B figure 11-4a)."""
_FEED_A, _GIVES_A = "60 A", "50 A"
"""Of the breaker of a feed, and of the alternator before it."""
_HALFWAY_V = 20.0
"""V, between the systems of 14 V and 28 V."""
_AT_THE_SHUNT = "3 in"
"""Of a sense lead to its fuse, which no protector guards: the fuse is screwed down beside the shunt."""


def volts(spot: Spot) -> Things:
    """A voltmeter behind the protector of the gauges."""
    shown = spot.named("voltmeter")
    return {
        "indicators": {shown: dial(spot, "bus voltage", "voltmeter")},
        "wire_runs": {
            spot.named("voltmeter power"): inside(spot, spot.power, f"{shown}.+"),
            spot.named("voltmeter ground"): inside(spot, f"{shown}.-", spot.ground),
        },
    }


def amperes(spot: Spot) -> Things:
    """An ammeter on a shunt in the feed of the bus, each sense lead behind a fuse at the shunt."""
    shunt, shown = spot.named("shunt"), spot.named("ammeter")
    made: Things = {"supplies": {}, "junctions": {}, "indicators": {}, "wire_runs": {}}
    size = _size(spot.feed)
    made["junctions"][shunt] = {"part": "shunt 50 mV", "size": size, "zone": spot.panel_zone}
    made["indicators"][shown] = dial(spot, "load current", "shunt ammeter", size)
    for sense, letter in (("+", "A"), ("-", "B")):
        fuse = spot.named(f"sense fuse {letter}")
        made["supplies"][fuse] = {"part": "fuse", "size": "1 A", "zone": spot.panel_zone}
        lead = inside(spot, f"{shunt}.sense {sense}", f"{fuse}.in", sensing="yes")
        runs: dict[str, dict[str, Plain]] = {
            f"sense lead {letter}": {**lead, "route": [{"zone": spot.panel_zone, "length": _AT_THE_SHUNT}]},
            f"ammeter lead {letter}": inside(spot, f"{fuse}.out", f"{shown}.{sense}", sensing="yes"),
        }
        made["wire_runs"].update({spot.named(name): run for name, run in runs.items()})
    bus = spot.bus.ident if spot.bus is not None else spot.power
    if spot.feed is not None:
        made["wire_runs"][spot.feed.run] = {spot.feed.side: f"{shunt}.in"}
        after = inside(spot, f"{shunt}.out", bus)
        made["wire_runs"][spot.named("shunt feed")] = {**after, **spot.feed.made_of}
        return made
    _with_source(spot, made, shunt, bus)
    return made


def _with_source(spot: Spot, made: Things, shunt: str, bus: str) -> None:
    """The alternator that feeds the bus, in the place of a voltage that is only given."""
    source, breaker = spot.named("alternator"), spot.named("alternator breaker")
    engine: dict[str, Plain] = {"engine": spot.engine} if spot.engine is not None else {}
    kind = "alternator 28 V" if spot.volts > _HALFWAY_V else "alternator 14 V"
    told: dict[str, Plain] = {"part": kind, "size": _GIVES_A, "voltage": f"{spot.volts:g} V"}
    made["supplies"][source] = {**told, "zone": spot.engine_zone, **engine}
    made["supplies"][breaker] = {"part": "breaker", "size": _FEED_A, "zone": spot.panel_zone}
    if spot.bus is not None and spot.bus.given:
        made["supplies"][bus] = {"voltage": None}
    heavy: dict[str, Plain] = {"part": "AS22759/16", "gauge": _FEEDER}
    runs: dict[str, dict[str, Plain]] = {
        "alternator feed": {
            "from": f"{source}.+",
            "to": f"{breaker}.in",
            **heavy,
            "route": spot.route(spot.engine_zone),
            **spot.shared,
        },
        "shunt feed": inside(spot, f"{breaker}.out", f"{shunt}.in", _FEEDER),
        "bus feed": inside(spot, f"{shunt}.out", bus, _FEEDER),
        "alternator ground": {
            "from": f"{source}.-",
            "to": spot.engine_ground,
            **heavy,
            "route": [{"zone": spot.engine_zone, "length": "unknown"}],
            **spot.shared,
        },
    }
    made["wire_runs"].update({spot.named(name): run for name, run in runs.items()})


def _size(feed: Feed | None) -> str:
    """The smallest shunt that carries what the feed is protected for."""
    wanted = feed.amps if feed is not None and feed.amps is not None else float(_FEED_A.split()[0])
    return f"{next((s for s in _SHUNTS if s >= wanted), _SHUNTS[-1])} A"
