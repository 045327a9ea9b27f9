"""Harms done to thermocouples: their probes, leads, joints and loops."""

from __future__ import annotations

from collections.abc import Iterator

from harm import Found, kind
from harm_wires import device, is_couple, runs
from installations import Plain

from installcheck.model.edits import Put, Swap


@kind("couple leads exchanged", "a reversed leg pair subtracts what it should add: Seebeck effect", most=2)
def couple_exchanged(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        if is_couple(run):
            legs = ("wire_runs", ident, "conductors")
            yield [Swap((*legs, "+", "to"), (*legs, "-", "to"))], f"exchange the leads of {ident}", (ident,)


@kind(
    "copper in place of couple metal",
    "the reading is off by the temperature between the ends of the copper",
    most=2,
)
def copper_legs(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        if is_couple(run) and len([s for s in run["route"] if "zone" in s]) > 1:
            yield (
                [Put(("wire_runs", ident, "conductors", leg, "metal"), "copper") for leg in "+-"],
                f"run {ident} in copper",
                (ident,),
            )


@kind("lead of another couple", "J lead on a K couple, or K on a J: ASTM E230 curves differ", most=2)
def other_lead(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        if is_couple(run):
            other = "J" if run["part"].endswith("K") else "K"
            yield (
                [Put(("wire_runs", ident, "part"), f"thermocouple lead {other}")],
                f"run {ident} in {other} lead",
                (ident,),
            )


@kind("probe of another couple", "ASTM E230: J and K give different voltages at one temperature", most=2)
def other_probe(plain: Plain) -> Iterator[Found]:
    for ident, probe in plain.get("probes", {}).items():
        if "bayonet" in probe["part"] or "gasket" in probe["part"]:
            swapped = probe["part"].replace(" J", " %").replace(" K", " J").replace(" %", " K")
            yield [Put(("probes", ident, "part"), swapped)], f"fit {ident} of the other couple", (ident,)


@kind("indicator for another couple", "the dial is drawn for another curve")
def other_dial(plain: Plain) -> Iterator[Found]:
    for ident, gauge in plain["indicators"].items():
        if gauge.get("part", "").split()[-1] in ("J", "K") and "temperature indicator" in gauge["part"]:
            other = "J" if gauge["part"].endswith("K") else "K"
            yield (
                [Put(("indicators", ident, "thermocouple"), other)],
                f"fit {ident} for couple {other}",
                (ident,),
            )
    for name, one in plain["indicators"].get("monitor", {}).get("inputs", {}).items():
        if isinstance(one, dict) and one.get("thermocouple"):  # 'unused' stands in a word of its own
            yield (
                [Put(("indicators", "monitor", "inputs", name, "thermocouple"), "J")],
                f"set input {name} of monitor to J",
                (f"monitor {name}", f"{name} of monitor", f"monitor.{name}"),
            )


@kind("leads of two probes exchanged", "each cylinder is shown under the other's number", most=2)
def probes_crossed(plain: Plain) -> Iterator[Found]:
    couples = [
        i for i, r in runs(plain) if is_couple(r) and device(r["conductors"]["+"]["from"]) in plain["probes"]
    ]
    couples = [i for i in couples if "averaging" not in plain["wire_runs"][i]["conductors"]["+"]["to"]]
    for a, b in zip(couples[::2], couples[1::2], strict=False):
        ends = [plain["wire_runs"][i]["conductors"]["+"]["from"] for i in (a, b)]
        if plain["probes"][device(ends[0])]["measures"] != plain["probes"][device(ends[1])]["measures"]:
            continue
        yield (
            [Swap(("wire_runs", a, "conductors", leg, "from"), ("wire_runs", b, "conductors", leg, "from")) for leg in "+-"],
            f"join {a} and {b} to each other's probes",
            (a, b, *map(device, ends)),
        )  # fmt: skip


@kind("probe on a cooler cylinder", "the limit is passed unseen where it is reached first")
def cooler_cylinder(plain: Plain) -> Iterator[Found]:
    heads = {i: p for i, p in plain.get("probes", {}).items() if p["measures"] == "head temperature"}
    if len(heads) == 1:
        ((ident, probe),) = heads.items()
        for other in (1, 2, 4):
            if other != probe["cylinder"]:
                yield (
                    [Put(("probes", ident, "cylinder"), str(other))],
                    f"move {ident} to cylinder {other}",
                    (ident,),
                )


@kind("two probes on one cylinder", "a cylinder is shown twice and another never")
def twice_served(plain: Plain) -> Iterator[Found]:
    heads = [i for i, p in plain.get("probes", {}).items() if p["measures"] == "head temperature"]
    for ident in heads[1:]:
        if plain["probes"][ident]["cylinder"] == 1:
            continue
        yield [Put(("probes", ident, "cylinder"), "1")], f"put {ident} on cylinder 1", (ident,)


@kind(
    "head probe of another seat",
    "the limit is written for the well; a gasket ring reads otherwise (CAR 3.675, engine data)",
)
def other_seat(plain: Plain) -> Iterator[Found]:
    for ident, probe in plain.get("probes", {}).items():
        if probe.get("mount") == "well":
            couple = "J" if " J" in probe["part"] else "K"
            ring = [
                Put(("probes", ident, "part"), f"gasket ring probe 18 mm {couple}"),
                Put(("probes", ident, "mount"), "lower plug"),
                Put(
                    ("probes", ident, "grounding"),
                    {"to": _case(plain, probe), "through": "thread", "resistance": "5 milliohm"},
                ),
            ]
            yield ring, f"fit {ident} under a plug", (ident,)


def _case(plain: Plain, thing: Plain) -> str:
    side = f"{thing.get('engine', '')} engine case"
    return side if side in plain["grounds"] else "engine case"


@kind(
    "exhaust probe at another distance",
    "public installation guides: one distance for all, values differ else",
    practice=True,
    most=2,
)
def exhaust_far(plain: Plain) -> Iterator[Found]:
    exhausts = [i for i, p in plain.get("probes", {}).items() if p["measures"] == "exhaust temperature"]
    for ident in exhausts:
        yield [Put(("probes", ident, "distance"), "8 in")], f"fit {ident} 8 in from the port", (ident,)


@kind("grounded probe in an average", "currents flow between grounded junctions of an averaging block")
def grounded_in_average(plain: Plain) -> Iterator[Found]:
    for _, run in runs(plain):
        if "averaging" in str(run.get("conductors", {}).get("+", {}).get("to", "")):
            probe = device(run["conductors"]["+"]["from"])
            where = {
                "to": _case(plain, plain["probes"][probe]),
                "through": "clamp",
                "resistance": "5 milliohm",
            }
            yield (
                [Put(("probes", probe, "junction"), "grounded"), Put(("probes", probe, "grounding"), where)],
                f"fit {probe} with a grounded junction",
                (probe,),
            )


@kind("grounded probe on a grounded input", "ground potential differences add to millivolts")
def grounded_input(plain: Plain) -> Iterator[Found]:
    for ident, gauge in plain["indicators"].items():
        if "electronic head" in gauge.get("part", "") and any(
            "grounding" in p for p in plain["probes"].values()
        ):
            yield (
                [Put(("indicators", ident, "input_grounding"), "grounded negative")],
                f"fit {ident} with its negative grounded",
                (ident,),
            )


@kind(
    "wrong loop resistance",
    "TB 9-6695-281-35 para 11: a moving-coil indicator is made for a loop of 2 or of 8 ohm",
)
def wrong_loop(plain: Plain) -> Iterator[Found]:
    for ident, gauge in plain["indicators"].items():
        if "moving-coil" in gauge.get("part", ""):
            other = "2 ohm" if "8 ohm" in gauge["part"] else "8 ohm"
            yield (
                [Put(("indicators", ident, "loop_resistance"), other)],
                f"fit {ident} made for {other}",
                (ident,),
            )


@kind("lead of another length in a loop", "the loop is off its calibrated resistance", most=2)
def other_length(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        if (
            is_couple(run)
            and device(run["conductors"]["-"]["to"]) in plain.get("junctions", {})
            and "spool" in run["conductors"]["-"]["to"]
        ):
            last = len(run["route"]) - 1
            yield (
                [Put(("wire_runs", ident, "route", last, "length"), "9 ft")],
                f"fit {ident} with a lead of 9 ft more or less",
                (ident, *shown_by(plain, run)),
            )


def shown_by(plain: Plain, run: Plain) -> tuple[str, ...]:
    return tuple(
        device(c["to"]) for c in run["conductors"].values() if device(c["to"]) in plain["indicators"]
    )


@kind("spool not trimmed", "the loop is off its calibrated resistance")
def spool_untrimmed(plain: Plain) -> Iterator[Found]:
    for ident, joint in plain.get("junctions", {}).items():
        if "spool" in joint.get("part", ""):
            yield [Put(("junctions", ident, "resistance"), "2.5 ohm")], f"fit {ident} untrimmed", (ident,)


@kind(
    "copper joint in a couple", "a joint of another metal between unequal temperatures adds their difference"
)
def copper_joint(plain: Plain) -> Iterator[Found]:
    for ident, joint in plain.get("junctions", {}).items():
        part = joint.get("part", "")
        if "thermocouple terminal block" in part or "thermocouple splice" in part:
            pins = ("1 +", "2 +", "1 -", "2 -") if "splice" in part else ("1 +", "1 -")
            yield (
                [*(Put(("junctions", ident, "pins", pin), {"metal": "copper"}) for pin in pins), Put(("junctions", ident, "isothermal"), "no"), Put(("junctions", ident, "pin_temperature_difference"), "30 degC")],
                f"make {ident} of copper, 30 degC between its ends",
                (ident,),
            )  # fmt: skip


@kind("legs of a couple bridged", "a second junction forms where the legs touch")
def bridged(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        if is_couple(run) and device(run["conductors"]["+"]["to"]) in plain["indicators"]:
            a, b = (run["conductors"][leg]["to"] for leg in "+-")
            if device(a) == device(b):
                piece = {
                    "part": "AS22759/16",
                    "gauge": "20 AWG",
                    "from": a,
                    "to": b,
                    "route": [{"zone": "cabin", "length": "1 in"}],
                }
                yield (
                    [Put(("wire_runs", "bridge"), piece)],
                    f"join both legs at {a} with copper",
                    ("bridge", ident, device(a)),
                )


@kind("colours of a lead exchanged", "ASTM E230 colours: red is negative")
def colours_exchanged(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        if is_couple(run) and plain["installation"].get("thermocouple_colours") == "US":
            yield (
                [Put(("wire_runs", ident, "conductors", "+", "colour"), "red")],
                f"fit {ident} with red on its positive leg",
                (ident,),
            )
