"""Harms done to fluid lines, their fittings and what hangs on them."""

from __future__ import annotations

from collections.abc import Iterator

from harm import Found, kind
from harm_wires import device
from installations import Plain

from installcheck.model.edits import Put, Swap


def lines(plain: Plain) -> Iterator[tuple[str, Plain]]:
    """Fluid lines by id."""
    yield from plain.get("fluid_lines", {}).items()


def hoses(plain: Plain) -> Iterator[tuple[str, Plain]]:
    """Hoses by id."""
    yield from ((i, line) for i, line in lines(plain) if line["part"].startswith("hose"))


def fittings(plain: Plain, word: str) -> Iterator[tuple[str, Plain]]:
    """Fittings of which the part has a word."""
    yield from ((i, f) for i, f in plain.get("fittings", {}).items() if word in f["part"])


@kind(
    "no restrictor at the source",
    "14 CFR 23.1337(a)(2): a line with flammable fluid under pressure has one",
    most=2,
)
def no_restrictor(plain: Plain) -> Iterator[Found]:
    for ident, fitting in fittings(plain, "restrictor fitting"):
        line, held = next((i, one) for i, one in lines(plain) if one["from"] == f"{ident}.out")
        if held["medium"] in ("oil", "fuel"):
            changes = [
                Put(("fittings", ident, "part"), "adapter AN816 steel"),
                Put(("fittings", ident, "size"), "-4"),
                Put(("fluid_lines", line, "from"), f"{ident}.flare"),
            ]
            yield changes, f"fit {ident} without its restrictor", (ident, line, fitting["screwed_into"])


@kind(
    "restrictor too large",
    "14 CFR 23.1337(a)(2): it must restrict; 0.040 in is common practice",
    practice=True,
    most=2,
)
def large_restrictor(plain: Plain) -> Iterator[Found]:
    for ident, _ in fittings(plain, "restrictor fitting"):
        line, held = next((i, one) for i, one in lines(plain) if one["from"] == f"{ident}.out")
        if held["medium"] in ("oil", "fuel"):
            yield [Put(("fittings", ident, "size"), "0.098 in")], f"fit {ident} of 0.098 in", (ident, line)


@kind(
    "flammable fluid into the cabin",
    "14 CFR 23.1337(a)(3) as before amendment 23-64: no fuel or oil line into it",
    most=2,
)
def into_cabin(plain: Plain) -> Iterator[Found]:
    for ident, line in hoses(plain):
        adapter = device(line["to"])
        sender = device(plain["fittings"][adapter].get("screwed_into", ""))
        if line["medium"] in ("oil", "fuel") and sender in plain["senders"]:
            route = [
                *line["route"],
                {"barrier": "firewall", "through": "fireproof grommet", "clearance": "0.5 in"},
                {"zone": "cabin", "length": "20 in"},
            ]
            yield (
                [Put(("fluid_lines", ident, "route"), route), Put(("fluid_lines", ident, "status"), "new"), Put(("fluid_lines", ident, "slack"), "2.9 in"), Put(("fittings", adapter, "zone"), "cabin"), Put(("senders", sender, "zone"), "cabin"), Put(("senders", sender, "mounted_on"), "airframe")],
                f"lead {ident} into the cabin",
                (ident,),
            )  # fmt: skip


@kind(
    "aluminium fitting in a fire zone",
    "14 CFR 23.1183(a): flammable fluid in a fire zone is held by fire resistant parts",
    practice=True,
    most=2,
)
def light_fitting(plain: Plain) -> Iterator[Found]:
    for ident, fitting in fittings(plain, "steel"):
        if fitting["zone"] in ("engine", "engine bay") and "manifold" not in ident and "vacuum" not in ident:
            yield (
                [Put(("fittings", ident, "part"), fitting["part"].replace("steel", "aluminium"))],
                f"fit {ident} of aluminium",
                (ident,),
            )


@kind("fitting of another size", "a -6 flare does not mate with a -4 hose", most=2)
def other_size(plain: Plain) -> Iterator[Found]:
    for ident, _ in fittings(plain, "adapter AN816"):
        yield [Put(("fittings", ident, "size"), "-6")], f"fit {ident} of -6", (ident,)


@kind(
    "hose that burns",
    "14 CFR 23.1183(a): a hose with flammable fluid in a fire zone is fire resistant",
    most=2,
)
def burning_hose(plain: Plain) -> Iterator[Found]:
    for ident, line in hoses(plain):
        if line["medium"] in ("oil", "fuel"):
            yield (
                [
                    Put(("fluid_lines", ident, "part"), "hose MIL-H-8794"),
                    Put(("fluid_lines", ident, "sleeve"), "no"),
                ],
                f"fit {ident} of bare rubber hose",
                (ident,),
            )


@kind("hose past its life", "life from the hose's papers")
def old_hose(plain: Plain) -> Iterator[Found]:
    for ident, _ in hoses(plain):
        yield [Put(("fluid_lines", ident, "fitted"), "2012-03-01")], f"keep {ident} of 2012", (ident,)


@kind("hose without slack", "AC 43.13-1B 9-30: 5 to 8 percent, it shortens under pressure")
def no_slack(plain: Plain) -> Iterator[Found]:
    for ident, line in hoses(plain):
        if line["medium"] not in ("oil", "fuel"):  # under suction it does not shorten
            continue
        yield [Put(("fluid_lines", ident, "slack"), "0 in")], f"stretch {ident}", (ident,)


@kind(
    "line bent too tight",
    "AC 43.13-1B tables 9-2 (recalled) and 9-3: least bend radius",
    practice=True,
    most=2,
)
def tight_line(plain: Plain) -> Iterator[Found]:
    for ident, _ in lines(plain):
        yield [Put(("fluid_lines", ident, "bend_radius"), "0.3 in")], f"bend {ident} to 0.3 in", (ident,)


@kind(
    "line without supports",
    "a long free span of tube shakes and cracks at its flare; table by diameter (recalled)",
    practice=True,
    most=2,
)
def loose_line(plain: Plain) -> Iterator[Found]:
    for ident, line in lines(plain):
        if line["part"].startswith("tube"):
            yield (
                [Put(("fluid_lines", ident, "support_spacing"), "48 in")],
                f"take the clamps off {ident}",
                (ident,),
            )


@kind("line drawn into place", "AD 57-10-02: a flare under strain cracks", most=2)
def strained_line(plain: Plain) -> Iterator[Found]:
    for ident, line in lines(plain):
        if line.get("strained") is False:
            yield (
                [Put(("fluid_lines", ident, "strained"), "yes")],
                f"pull {ident} into line by its nut",
                (ident,),
            )


@kind(
    "rigid line from engine to airframe",
    "14 CFR 23.1183, AC 43.13-1B 9-30: the engine moves, a rigid tube cracks",
)
def rigid_line(plain: Plain) -> Iterator[Found]:
    for ident, line in hoses(plain):
        if any(s.get("zone") == "engine" for s in line["route"]):
            yield (
                [
                    Put(("fluid_lines", ident, "part"), "tube 304 stainless"),
                    Put(("fluid_lines", ident, "size"), "1/4 x 0.035"),
                    Put(("fluid_lines", ident, "end_form"), "37 degree flare -4"),
                ],
                f"fit {ident} of steel tube",
                (ident,),
            )


@kind(
    "line close to the exhaust",
    "heat ages and bursts it: 6 in or a shield by practice",
    practice=True,
    most=2,
)
def hot_line(plain: Plain) -> Iterator[Found]:
    for ident, line in lines(plain):
        for i, passed in enumerate(line.get("clearances", ())):
            if passed["kind"] == "exhaust":
                yield (
                    [
                        Put(("fluid_lines", ident, "clearances", i, "distance"), "0.5 in"),
                        Put(("fluid_lines", ident, "clearances", i, "guarded"), "no"),
                    ],
                    f"lead {ident} 0.5 in from the exhaust",
                    (ident,),
                )


@kind("line rubs on a control", "it chafes through: 1/2 in over the full travel by practice", practice=True)
def rubbing_line(plain: Plain) -> Iterator[Found]:
    for ident, line in lines(plain):
        for i, passed in enumerate(line.get("clearances", ())):
            if passed["kind"] == "control cable":
                yield (
                    [Put(("fluid_lines", ident, "clearances", i, "distance"), "0.1 in")],
                    f"lead {ident} 0.1 in from {passed['to']}",
                    (ident,),
                )


@kind("label of another fluid", "what can reach a line is not what it says: AC 43.13-1B 9-24")
def other_label(plain: Plain) -> Iterator[Found]:
    for ident, line in lines(plain):
        other = {"oil": "fuel", "fuel": "oil"}.get(line["medium"])
        if other:
            yield [Put(("fluid_lines", ident, "medium"), other)], f"label {ident} {other}", (ident,)


@kind("port left open", "fluid under pressure leaves by it")
def open_port(plain: Plain) -> Iterator[Found]:
    for ident, tap in plain.get("taps", {}).items():
        if tap.get("capped") and tap["medium"] in ("primer fuel", "fuel"):
            yield [Put(("taps", ident, "capped"), "no")], f"leave {ident} uncapped", (ident,)


@kind("no drain at the low point", "liquid in a manifold pressure line moves the pointer", practice=True)
def no_drain(plain: Plain) -> Iterator[Found]:
    for ident, line in lines(plain):
        if line.get("low_point_drain") and line["medium"] != "air":
            yield [Put(("fluid_lines", ident, "low_point_drain"), "no")], f"let {ident} sag", (ident,)


@kind(
    "sender hung on the engine", "NTSB ERA22FA261: a sender on its port cracks the fitting off", practice=True
)
def hung_sender(plain: Plain) -> Iterator[Found]:
    for ident, sender in plain["senders"].items():
        if sender.get("mounted_on") == "firewall" and "screwed_into" not in sender:
            yield [Put(("senders", ident, "mounted_on"), "hose")], f"let {ident} hang on its hose", (ident,)


@kind("sender too weak for its pressure", "the sender's own proof pressure", most=2)
def weak_sender(plain: Plain) -> Iterator[Found]:
    for ident, sender in plain["senders"].items():
        if sender.get("location") in ("gallery", "carburettor inlet", "servo inlet") and "size" in sender:
            yield [Put(("senders", ident, "proof_pressure"), "2 psi")], f"fit {ident} for 2 psi", (ident,)


@kind("line too weak for its pressure", "AC 43.13-1B 9-28: the line's own working pressure")
def weak_line(plain: Plain) -> Iterator[Found]:
    for ident, line in lines(plain):
        if line["medium"] in ("oil", "fuel"):
            yield [Put(("fluid_lines", ident, "rated_pressure"), "2 psi")], f"fit {ident} for 2 psi", (ident,)


@kind("line not made for the heat", "the line's own temperature limit")
def cool_line(plain: Plain) -> Iterator[Found]:
    for ident, line in hoses(plain):
        if any(s.get("zone") == "engine" for s in line["route"]):
            yield (
                [Put(("fluid_lines", ident, "temperature_rating"), "60 degC")],
                f"fit {ident} for 60 degC",
                (ident,),
            )


@kind("pressure taken elsewhere", "the limit is written for another place", practice=True)
def other_tap(plain: Plain) -> Iterator[Found]:
    drawn = {f.get("screwed_into") for f in plain.get("fittings", {}).values()}
    for ident, tap in plain.get("taps", {}).items():
        if (
            ident in drawn
            and tap["medium"] == "fuel"
            and tap.get("location") in ("carburettor inlet", "servo inlet")
        ):
            served = tuple(i for i, s in plain["senders"].items() if s.get("location") == tap["location"])
            yield [Put(("taps", ident, "location"), "tank")], f"take {ident} at the tank", (ident, *served)


@kind("capillary too short", "a sealed system is never cut or stretched")
def short_capillary(plain: Plain) -> Iterator[Found]:
    for ident, sender in plain["senders"].items():
        if "vapour-pressure" in sender.get("part", ""):
            line = next(i for i, one in lines(plain) if device(one["from"]) == ident)
            yield (
                [Put(("senders", ident, "size"), "5 ft")],
                f"fit {ident} with a capillary of 5 ft",
                (ident, line),
            )


@kind("gauge far above its tap", "the head of liquid takes from the reading: rho g h")
def high_gauge(plain: Plain) -> Iterator[Found]:
    for ident, gauge in plain["indicators"].items():
        if "direct oil" in gauge.get("part", "") or "direct fuel" in gauge.get("part", ""):
            yield (
                [Put(("indicators", ident, "elevation"), "30 ft")],
                f"fit {ident} 30 ft above its tap",
                (ident,),
            )


@kind("lines of two instruments exchanged", "oil in the fuel transducer, and the oil gauge shows fuel")
def lines_exchanged(plain: Plain) -> Iterator[Found]:
    held = plain.get("fluid_lines", {})
    ends = {i: line["to"].partition(".")[0] for i, line in held.items() if "medium" in line and "to" in line}
    pairs = [
        (one, other)
        for one in ends
        for other in ends
        if one < other
        and {held[one]["medium"], held[other]["medium"]} == {"oil", "fuel"}
        and all("adapter" in ends[i] or ends[i] in plain.get("senders", {}) for i in (one, other))
    ]
    for one, other in pairs[:1]:
        yield (
            [Swap(("fluid_lines", one, "to"), ("fluid_lines", other, "to"))],
            f"exchange {one} and {other} at the senders",
            (one, other, *plain.get("senders", {})),
        )


@kind("check valve the wrong way round", "what is closed passes no pressure")
def valve_reversed(plain: Plain) -> Iterator[Found]:
    for ident, _ in fittings(plain, "restrictor"):
        if "oil" in ident:
            words = {"kind": "check valve", "flow": ["out", "in"]}
            changes = [Put(("fittings", ident, word), value) for word, value in words.items()]
            yield changes, f"fit {ident} as a check valve the wrong way round", (ident,)
