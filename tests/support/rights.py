"""Right installations that are easily accused: variants of the right ones in which an edit leaves all right.

Each is a case of the false-alarm list: what is unusual there, and why it is no fault.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from harm import applied, right
from installations import Plain

from installcheck.model.edits import Change, Drop, Edit, Put, Swap


@dataclass(frozen=True, slots=True)
class Right:
    """A right variant.

    Attributes:
        name: what is unusual, and why it is right.
        base: the right installation it is made of.
        change: what is changed in a copy of it.
    """

    name: str
    base: str
    change: Callable[[Plain], list[Change]]

    def made(self) -> Plain:
        """The variant as one mapping."""
        plain = right(self.base)
        return applied(plain, Edit(tuple(self.change(plain)), self.name))


RIGHTS: list[Right] = []


def variant(name: str, base: str) -> Callable[[Callable[[Plain], list[Change]]], None]:
    """Register a right variant."""

    def register(change: Callable[[Plain], list[Change]]) -> None:
        RIGHTS.append(Right(name, base, change))

    return register


_THREAD = {"to": "engine case", "through": "thread", "resistance": "5 milliohm"}
_FIRE = {"barrier": "firewall", "through": "fireproof grommet", "clearance": "0.5 in"}


@variant("grounded probes on inputs isolated from one another", "plover")
def _(plain: Plain) -> list[Change]:
    found: list[Change] = []
    for n in "123456":
        found += [
            Put(("probes", f"head {n}", "part"), "bayonet probe K"),
            Put(("probes", f"head {n}", "grounding"), _THREAD),
        ]
    return found


@variant("isolated probes in place of grounded ones", "teal")
def _(plain: Plain) -> list[Change]:
    found: list[Change] = []
    for n in "1234":
        found += [
            Put(("probes", f"head {n}", "part"), "bayonet probe J isolated"),
            Drop(("probes", f"head {n}", "grounding")),
        ]
    return found


@variant("two gauges on a sender of two stations", "finch")
def _(plain: Plain) -> list[Change]:
    gauge = {**plain["indicators"]["oil temperature gauge"], "required": "no"}
    cable, power, ground = (plain["wire_runs"][i] for i in ("E2", "G10", "G11"))
    ends = {
        "A": {"from": "oil sender.S", "to": "rear gauge.S"},
        "B": {"from": "oil sender.G", "to": "rear gauge.G"},
    }
    both = {
        "points": [
            ["100 degF", "225 ohm"],
            ["150 degF", "79.1 ohm"],
            ["200 degF", "32.15 ohm"],
            ["250 degF", "14.75 ohm"],
            ["300 degF", "7.48 ohm"],
        ]
    }
    return [
        Put(("senders", "oil sender", "stations"), "2"),
        Put(("senders", "oil sender", "curve"), both),
        Put(("indicators", "rear gauge"), gauge),
        Put(("wire_runs", "E2R"), {**cable, "conductors": ends}),
        Put(("wire_runs", "G10R"), {**power, "to": "rear gauge.power"}),
        Put(("wire_runs", "G11R"), {**ground, "from": "rear gauge.ground"}),
    ]


@variant("a current loop drawn as its current flows: out by one core, back by the other", "finch")
def _(plain: Plain) -> list[Change]:
    core = ("wire_runs", "E1", "conductors", "A")
    return [Swap((*core, "from"), (*core, "to"))]


@variant("three-phase leads all moved on by one: the same rotation", "osprey")
def _(plain: Plain) -> list[Change]:
    cores = ("wire_runs", "E2", "conductors")
    return [Put((*cores, leg, "to"), f"tachometer.{n}") for leg, n in (("A", 2), ("B", 3), ("C", 1))]


@variant("the two leads of one end of a bulb exchanged: they are joined in it", "retrofit_corrected")
def _(plain: Plain) -> list[Change]:
    return [Swap(("wire_runs", "E4", "to"), ("wire_runs", "E5", "to"))]


@variant("the two leads of a two-lead bulb exchanged: a resistance has no sign", "osprey")
def _(plain: Plain) -> list[Change]:
    cores = ("wire_runs", "E1", "conductors")
    return [Swap((*cores, "A", "to"), (*cores, "B", "to"))]


@variant("a long lead on an electronic thermocouple input: its error does not grow with length", "finch")
def _(plain: Plain) -> list[Change]:
    return [
        Put(
            ("wire_runs", "X2", "route"),
            [{"zone": "engine bay", "length": "2 ft"}, _FIRE, {"zone": "cabin", "length": "30 ft"}],
        )
    ]


@variant("a brass block under both legs of a couple, all at one temperature", "retrofit_corrected")
def _(plain: Plain) -> list[Change]:
    ends = {leg: f"head block.{pin}" for leg, pin in (("+", "1"), ("-", "2"))}
    return [
        Put(("junctions", "head block", "part"), "terminal block"),
        Put(("junctions", "head block", "size"), "2 stud"),
        *(Put(("wire_runs", "T1", "conductors", leg, "to"), end) for leg, end in ends.items()),
        *(Put(("wire_runs", "T2", "conductors", leg, "from"), end) for leg, end in ends.items()),
    ]


@variant("exhaust lead in one piece, no splice", "finch")
def _(plain: Plain) -> list[Change]:
    route = [
        {"zone": "engine", "length": "3 ft"},
        {"zone": "engine bay", "length": "4 ft"},
        _FIRE,
        {"zone": "cabin", "length": "3 ft"},
    ]
    return [
        Drop(("wire_runs", "X2")),
        Drop(("junctions", "exhaust splice")),
        Put(("wire_runs", "X1", "route"), route),
        *(Put(("wire_runs", "X1", "conductors", leg, "to"), f"exhaust gauge.{leg}") for leg in "+-"),
    ]


@variant("a thermistor of one wire on a sound engine ground", "finch")
def _(plain: Plain) -> list[Change]:
    run = {k: v for k, v in plain["wire_runs"]["E2"].items() if k not in ("conductors", "twisted", "part")}
    return [
        Put(("senders", "oil sender", "terminals"), ["S"]),
        Put(("senders", "oil sender", "case_return"), "yes"),
        Put(
            ("senders", "oil sender", "grounding"),
            {"to": "engine case", "through": "thread", "resistance": "2 milliohm"},
        ),
        Put(("indicators", "oil temperature gauge", "terminals"), ["S"]),
        Put(
            ("wire_runs", "E2"),
            {**run, "part": "AS22759/16", "from": "oil sender.S", "to": "oil temperature gauge.S"},
        ),
    ]


@variant("existing wiring that carries no marks", "wren")
def _(plain: Plain) -> list[Change]:
    found: list[Change] = []
    for ident in plain["wire_runs"]:
        found += [
            Put(("wire_runs", ident, "marked"), "no"),
            Put(("wire_runs", ident, "status"), "existing"),
            Drop(("wire_runs", ident, "mark_spacing")),
        ]
    return found


@variant("an existing gauge line whose purpose is not written", "wren")
def _(plain: Plain) -> list[Change]:
    return [
        Drop(("fluid_lines", ident, "purpose"))
        for ident, line in plain["fluid_lines"].items()
        if "purpose" in line
    ]


@variant("an existing fuel gauge in the cabin behind its restrictor", "teal")
def _(plain: Plain) -> list[Change]:
    hose, tube = plain["fluid_lines"]["manifold hose"], plain["fluid_lines"]["manifold panel line"]
    fuel = {"medium": "fuel", "status": "existing"}
    gauge = {
        "part": "direct carburettor fuel pressure gauge",
        "zone": "cabin",
        "budget": "1 psi",
        "required": "no",
        "in_view": "yes",
        "status": "existing",
        "elevation": "8 in",
        "markings": [],
    }
    tap = {
        "title": "carburettor fuel inlet",
        "medium": "fuel",
        "engine": "engine",
        "zone": "engine",
        "location": "carburettor inlet",
        "pressure": "4.5 psi",
        "max_pressure": "8 psi",
        "temperature": "40 degC",
        "grade": "100LL",
        "thread": "1/8 pipe thread",
        "shutoff": "fuel cock on the floor",
        "shutoff_time": "20 s",
    }
    return [
        Put(("taps", "fuel inlet"), tap),
        Put(("indicators", "fuel gauge"), gauge),
        Put(
            ("fittings", "fuel restrictor"),
            {**plain["fittings"]["manifold restrictor"], "screwed_into": "fuel inlet"},
        ),
        Put(("fittings", "fuel bulkhead"), plain["fittings"]["manifold bulkhead"]),
        Put(
            ("fittings", "fuel gauge adapter"),
            {**plain["fittings"]["manifold gauge adapter"], "screwed_into": "fuel gauge.P"},
        ),
        Put(
            ("fluid_lines", "fuel hose"),
            {**hose, **fuel, "from": "fuel restrictor.out", "to": "fuel bulkhead.1"},
        ),
        Put(
            ("fluid_lines", "fuel panel line"),
            {**tube, **fuel, "from": "fuel bulkhead.2", "to": "fuel gauge adapter.flare"},
        ),
        *(Put(("operating_points", p, "readings", "fuel pressure"), "4.5 psi") for p in ("climb", "cruise")),
        Put(
            ("engines", "engine", "limits", "fuel pressure"),
            {"minimum": "0.5 psi", "maximum": "8 psi", "normal_low": "2 psi", "normal_high": "6 psi"},
        ),
        Put(
            ("indicators", "fuel gauge", "markings"),
            [
                {"colour": "red", "at": "0.5 psi"},
                {"colour": "green", "lowest": "2 psi", "highest": "6 psi"},
                {"colour": "red", "at": "8 psi"},
            ],
        ),
    ]


def _line(plain: Plain, medium: str, purpose: str, start: str, end: str) -> dict[str, object]:
    """A hose beside the gauge lines of a base, for another purpose."""
    hose = next(
        h
        for h in plain["fluid_lines"].values()
        if h["part"].startswith("hose") and h["from"].endswith(".out")
    )
    return {
        **hose,
        "from": start,
        "to": end,
        "medium": medium,
        "purpose": purpose,
        "size": "-6",
        "status": "existing",
        "bend_radius": "6 in",
    }


def _piped(
    plain: Plain, name: str, tap: dict[str, object], line: tuple[str, str], into: dict[str, object]
) -> list[Change]:
    """A source, an adapter on it, a hose and the fitting it ends in."""
    medium, purpose = line
    six = {"part": "adapter AN816 steel", "size": "-6", "status": "existing"}
    return [
        Put(("taps", f"{name} source"), tap),
        Put(("taps", f"{name} end"), {**tap, **into}),
        Put(
            ("fittings", f"{name} outlet"),
            {**six, "zone": str(tap["zone"]), "screwed_into": f"{name} source"},
        ),
        Put(("fittings", f"{name} inlet"), {**six, "zone": str(into["zone"]), "screwed_into": f"{name} end"}),
        Put(
            ("fluid_lines", f"{name} line"),
            _line(plain, medium, purpose, f"{name} outlet.flare", f"{name} inlet.flare"),
        ),
    ]


_FUEL = {
    "medium": "fuel",
    "engine": "engine",
    "pressure": "5 psi",
    "max_pressure": "8 psi",
    "temperature": "40 degC",
    "grade": "100LL",
    "thread": "1/4 pipe thread",
    "shutoff": "fuel cock on the floor",
    "shutoff_time": "20 s",
}


@variant("the engine's own feed from its pump, with no restrictor", "osprey")
def _(plain: Plain) -> list[Change]:
    tap = {**_FUEL, "zone": "engine", "location": "pump outlet"}
    return _piped(
        plain, "feed", tap, ("fuel", "feed"), {"zone": "engine bay", "location": "carburettor inlet"}
    )


@variant("a return of fuel to its tank", "osprey")
def _(plain: Plain) -> list[Change]:
    tap = {
        **_FUEL,
        "zone": "engine",
        "location": "carburettor inlet",
        "pressure": "1 psi",
        "max_pressure": "2 psi",
    }
    return _piped(plain, "return", tap, ("fuel", "return"), {"zone": "engine bay", "location": "tank"})


@variant("a vent of the pump, open to the air", "osprey")
def _(plain: Plain) -> list[Change]:
    tap = {
        "medium": "air",
        "engine": "engine",
        "zone": "engine",
        "location": "other",
        "pressure": "0 psi",
        "max_pressure": "0 psi",
        "temperature": "40 degC",
        "thread": "1/4 pipe thread",
    }
    return _piped(plain, "vent", tap, ("air", "vent"), {"zone": "engine bay"})


@variant("an oil line to the cooler and back, with no restrictor", "osprey")
def _(plain: Plain) -> list[Change]:
    tap = {
        "medium": "oil",
        "engine": "engine",
        "zone": "engine",
        "location": "pump outlet",
        "pressure": "80 psi",
        "max_pressure": "100 psi",
        "temperature": "85 degC",
        "grade": "SAE 50",
        "thread": "1/4 pipe thread",
    }
    return _piped(
        plain, "cooler", tap, ("oil", "oil to the cooler"), {"zone": "engine bay", "location": "other"}
    )


@variant("shunt in the battery's ground: sense wires on the grounded side need no fuse", "finch")
def _(plain: Plain) -> list[Change]:
    heavy = {**plain["wire_runs"]["B3"]}
    found: list[Change] = [Drop(("wire_runs", i)) for i in ("A4", "S2", "S4")]
    found += [Drop(("supplies", i)) for i in ("sense fuse A", "sense fuse B")]
    return [
        *found,
        Put(("wire_runs", "A2", "to"), "main bus"),
        Put(("junctions", "shunt", "zone"), "engine bay"),
        Put(("wire_runs", "B3", "to"), "shunt.in"),
        Put(("wire_runs", "B4"), {**heavy, "from": "shunt.out", "to": "firewall stud"}),
        Put(
            ("grounds", "firewall stud", "stack"),
            [s.replace("B3", "B4") for s in plain["grounds"]["firewall stud"]["stack"]],
        ),
        *(
            Put(
                ("wire_runs", i, "route"),
                [{"zone": "engine bay", "length": "1 ft"}, _FIRE, {"zone": "cabin", "length": "2 ft"}],
            )
            for i in ("S1", "S3")
        ),
        Put(("wire_runs", "S1", "to"), "ammeter.+"),
        Put(("wire_runs", "S3", "to"), "ammeter.-"),
    ]


@variant("sense fuses of half an ampere", "wren")
def _(plain: Plain) -> list[Change]:
    return [Put(("supplies", f"sense fuse {x}", "size"), "0.5 A") for x in "AB"]


@variant("another position of the exhaust selector", "retrofit_corrected")
def _(plain: Plain) -> list[Change]:
    return [Put(("junctions", "selector", "selected"), "1")]


@variant("the same installation on an amateur-built aircraft", "teal")
def _(plain: Plain) -> list[Change]:
    return [Put(("aircraft", "basis"), "amateur-built")]


@variant("the same installation on a later certification basis", "plover")
def _(plain: Plain) -> list[Change]:
    return [Put(("aircraft", "basis"), "part 23 from 2017")]


@variant("supports, bends and clearances exactly at their limits", "retrofit_corrected")
def _(plain: Plain) -> list[Change]:
    return [
        Put(("bundles", "engine harness", "support_spacing"), "24 in"),
        Put(("bundles", "engine harness", "clearances", 2, "distance"), "6 in"),
        Put(("bundles", "engine harness", "clearances", 3, "distance"), "3 in"),
        Put(("fluid_lines", "oil hose", "bend_radius"), "3 in"),
        Put(("fluid_lines", "oil hose", "clearances", 0, "distance"), "6 in"),
    ]


@variant("hot parts nearer than six inches behind a shield", "retrofit_corrected")
def _(plain: Plain) -> list[Change]:
    return [
        Put(("bundles", "engine harness", "clearances", 2, "distance"), "3 in"),
        Put(("fluid_lines", "oil hose", "clearances", 0, "distance"), "3 in"),
    ]


@variant("signal wires alone in free air, in no bundle", "teal")
def _(plain: Plain) -> list[Change]:
    alone = {
        "free_air": "yes",
        "support_spacing": "12 in",
        "supported_by": "cushioned clamps",
        "bend_radius": "3 in",
        "clearances": plain["bundles"]["engine harness"]["clearances"],
    }
    found: list[Change] = []
    for ident in ("E1", "L4"):
        found.append(Drop(("wire_runs", ident, "bundle")))
        found += [Put(("wire_runs", ident, word), value) for word, value in alone.items()]
    return found


@variant("spare posts of a block, said to be spare", "teal")
def _(plain: Plain) -> list[Change]:
    return [
        Put(("junctions", "gauge block", "size"), "3 stud"),
        Put(("junctions", "gauge block", "pins"), {"3": {"spare": "yes"}}),
    ]


@variant("a breaker for later use, marked so", "plover")
def _(plain: Plain) -> list[Change]:
    return [
        Put(
            ("supplies", "spare breaker"),
            {"part": "breaker", "size": "5 A", "zone": "cabin", "notes": ["kept for later use"]},
        )
    ]


@variant("one head probe on the hottest cylinder, and no selector", "teal")
def _(plain: Plain) -> list[Change]:
    gone: list[Change] = [Drop(("probes", f"head {n}")) for n in "124"]
    gone += [Drop(("wire_runs", f"T{n}")) for n in "1245"]
    return [
        *gone,
        Drop(("junctions", "selector")),
        *(Put(("wire_runs", "T3", "conductors", leg, "to"), f"head gauge.{leg}") for leg in "+-"),
    ]


@variant("thicker wire than is needed, everywhere on the signal side", "retrofit_corrected")
def _(plain: Plain) -> list[Change]:
    return [Put(("wire_runs", i, "gauge"), "18 AWG") for i in ("E1", "E2", "E3", "E4", "E5", "E9")]


@variant("a strap given by its gauge and length", "teal")
def _(plain: Plain) -> list[Change]:
    return [
        Drop(("grounds", "engine strap", "resistance")),
        Put(("grounds", "engine strap", "part"), "bonding strap"),
        Put(("grounds", "engine strap", "gauge"), "2 AWG"),
        Put(("grounds", "engine strap", "length"), "10 in"),
    ]


@variant("two straps beside each other", "osprey")
def _(plain: Plain) -> list[Change]:
    stack = plain["grounds"]["firewall stud"]["stack"]
    return [
        Put(("grounds", "second strap"), plain["grounds"]["engine strap"]),
        Put(("grounds", "firewall stud", "stack"), [stack[0], "second strap", *stack[1:]]),
    ]


@variant("an alternator smaller than its breaker", "finch")
def _(plain: Plain) -> list[Change]:
    return [Put(("supplies", "alternator", "size"), "40 A")]


@variant("a nylon vacuum line in the cabin", "wren")
def _(plain: Plain) -> list[Change]:
    return [Put(("fluid_lines", "vacuum panel line", "part"), "tube nylon")]


@variant("the whole of a base told as a part of an aircraft", "plover")
def _(plain: Plain) -> list[Change]:
    return [
        Put(("installation", "scope"), "part"),
        Drop(("indicators", "fuel quantity gauge")),
        Drop(("senders", "fuel quantity sender")),
        *(Drop(("wire_runs", i)) for i in ("Q1", "Q2", "G1", "G2", "G3")),
        Drop(("supplies", "gauges breaker")),
    ]


@variant("crossing the firewall by a bulkhead fitting for wires", "osprey")
def _(plain: Plain) -> list[Change]:
    found: list[Change] = []
    for ident, run in plain["wire_runs"].items():
        for i, step in enumerate(run["route"]):
            if "barrier" in step:
                found.append(Put(("wire_runs", ident, "route", i, "through"), "sealed plug"))
    return found


@variant("a shield grounded at the engine end alone", "wren")
def _(plain: Plain) -> list[Change]:
    return [
        Put(("wire_runs", "T1", "shield"), {"from": "engine case", "to": "open"}),
        Put(("grounds", "panel stud", "stack"), ["flat washer", "G3", "flat washer", "lock washer", "nut"]),
    ]


@variant("a probe of another length of lead where nothing flows in the lead", "plover")
def _(plain: Plain) -> list[Change]:
    return [
        Put(("probes", "exhaust 3", "lead_length"), "30 in"),
        Put(("probes", "exhaust 3", "resistance"), "1.5 ohm"),
    ]


@variant("an ammeter with its zero in the middle, its leads either way", "finch")
def _(plain: Plain) -> list[Change]:
    dial = {"lowest": "-60 A", "highest": "60 A", "division": "5 A"}
    return [
        Put(("indicators", "ammeter", "scale"), dial),
        Swap(("wire_runs", "S2", "to"), ("wire_runs", "S4", "to")),
    ]


@variant("an ammeter and a shunt both of 100 A", "finch")
def _(plain: Plain) -> list[Change]:
    return [
        Put(("indicators", "ammeter", "size"), "100 A"),
        Put(("indicators", "ammeter", "budget"), "6 A"),
        Put(("indicators", "ammeter", "curve"), {"points": [["0 A", "0 mV"], ["100 A", "50 mV"]]}),
        Put(("junctions", "shunt", "size"), "100 A"),
    ]


@variant("an electronic voltmeter, grounded to the structure by itself", "teal")
def _(plain: Plain) -> list[Change]:
    return [
        Put(("wire_runs", "U3", "to"), "airframe"),
        Put(("indicators", "voltmeter", "inner_resistance"), "1 Mohm"),
        Put(("indicators", "voltmeter", "accuracy"), "0.1 V"),
    ]


@variant("watts and amperes of a load that agree", "finch")
def _(plain: Plain) -> list[Change]:
    return [Put(("loads", "radio", "power"), "98 W")]  # 7 A at 14 V


@variant("a whole length beside the route it is the sum of", "finch")
def _(plain: Plain) -> list[Change]:
    return [Put(("wire_runs", "B2", "length"), "0.91 m")]  # 1 ft and 2 ft


@variant("a metric ring on a No. 8 stud", "finch")
def _(plain: Plain) -> list[Change]:
    return [Put(("wire_runs", "K3", "terminations", 1, "stud"), "4.2 mm")]  # 0.165 in on 0.164 in


@variant("a point at the very highest its zone gets", "finch")
def _(plain: Plain) -> list[Change]:
    return [Put(("operating_points", "climb", "zone_temperatures", "engine"), "110 degC")]


@variant("a sender an inch below the end of its hose, by its adapter", "retrofit_corrected")
def _(plain: Plain) -> list[Change]:
    return [
        Put(("senders", "oil pressure sender", "elevation"), "5 in"),
        Put(("fluid_lines", "oil hose", "rise"), "6 in"),
    ]


@variant("a sender that senses where oil enters the engine, on the gallery", "teal")
def _(plain: Plain) -> list[Change]:
    return [Put(("senders", "oil pressure sender", "location"), "engine inlet")]


@variant("a drive that only the generator tells of", "retrofit_corrected")
def _(plain: Plain) -> list[Change]:
    return [Drop(("engines", "engine", "tachometer_drive"))]


@variant("one of two alternators off, the other carrying all", "twin")
def _(plain: Plain) -> list[Change]:
    return [
        Put(("operating_points", "cruise", "open_switches"), ["left alternator breaker"]),
        Put(("operating_points", "climb", "dead_supplies"), ["right alternator"]),
    ]


@variant("a battery contactor whose coil is grounded by a switch in the cabin", "retrofit_corrected")
def _(plain: Plain) -> list[Change]:
    coil, ground = plain["wire_runs"]["P18"], plain["wire_runs"]["P12"]
    wall = [step for step in plain["wire_runs"]["E1"]["route"] if "barrier" in step]
    way = [{"zone": "engine bay", "length": "1 ft"}, *wall, {"zone": "cabin", "length": "2 ft"}]
    return [
        Put(("supplies", "master switch"), {"kind": "switch", "zone": "cabin", "max_current": "5 A"}),
        Put(("wire_runs", "P18"), {**coil, "to": "master switch.in", "route": way}),
        Put(("wire_runs", "P19"), {**ground, "from": "master switch.out"}),
        Put(
            ("grounds", "firewall stud", "stack"),
            ["flat washer", "engine strap", "P6", "P16", "flat washer", "self-locking nut"],
        ),
    ]


@variant("feeders in metal conduit", "retrofit_corrected")
def _(plain: Plain) -> list[Change]:
    # 0.8 in across: 1 in of bore by a quarter over
    return [Put(("bundles", "power harness", "conduit"), {"kind": "metal", "bore": "1 in"})]


@variant("a bus fed through two breakers side by side", "retrofit_corrected")
def _(plain: Plain) -> list[Change]:
    like = plain["wire_runs"]["P13"]
    ways = (("main bus", "A.in"), ("A.out", "other bus"), ("main bus", "B.in"), ("B.out", "other bus"))
    breaker = {"kind": "breaker", "rating": "5 A", "zone": "cabin"}
    return [
        Put(("supplies", "other bus"), {"kind": "bus", "zone": "cabin"}),
        Put(("supplies", "A"), breaker),
        Put(("supplies", "B"), breaker),
        *(Put(("wire_runs", f"Q{i}"), {**like, "from": a, "to": b}) for i, (a, b) in enumerate(ways)),
    ]
