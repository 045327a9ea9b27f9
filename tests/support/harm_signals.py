"""Harms done to what is shown: senders, their leads and their indicators."""

from __future__ import annotations

from collections.abc import Iterator

from harm import Found, kind
from harm_couples import shown_by
from harm_wires import device, runs
from installations import Plain

from installcheck.model.edits import Drop, Put, Swap


def _cables(plain: Plain, ends: str) -> Iterator[tuple[str, Plain]]:
    """Cables of which the conductors begin at terminals of such names."""
    for ident, run in runs(plain):
        found = [c["from"].partition(".")[2] for c in run.get("conductors", {}).values()]
        if all(any(f == e for f in found) for e in ends.split()):
            yield ident, run


@kind(
    "synchro leads exchanged",
    "NEETS module 15 table 1-6: zero moves by 120 degrees and the sense turns",
    most=2,
)
def synchro_exchanged(plain: Plain) -> Iterator[Found]:
    for ident, _ in _cables(plain, "S1 S2 S3"):
        legs = ("wire_runs", ident, "conductors")
        yield [Swap((*legs, "A", "to"), (*legs, "B", "to"))], f"exchange S1 and S2 of {ident}", (ident,)


@kind(
    "synchro excited otherwise", "transmitter and receiver hang on one source of one voltage: NEETS module 15"
)
def synchro_excitation(plain: Plain) -> Iterator[Found]:
    for ident, sender in plain["senders"].items():
        if "synchro" in sender.get("part", ""):
            yield (
                [Put(("senders", ident, "excitation_voltage"), "115 V")],
                f"fit {ident} made for 115 V",
                (ident,),
            )


@kind("tachometer leads exchanged", "the motor turns backwards: rotation of three phases")
def tachometer_exchanged(plain: Plain) -> Iterator[Found]:
    for ident, _ in _cables(plain, "1 2 3"):
        legs = ("wire_runs", ident, "conductors")
        yield [Swap((*legs, "A", "to"), (*legs, "B", "to"))], f"exchange leads 1 and 2 of {ident}", (ident,)


@kind("tachometer for another drive", "the pointer is off in proportion of the drives")
def other_drive(plain: Plain) -> Iterator[Found]:
    for ident, gauge in plain["indicators"].items():
        if gauge.get("part") == "synchronous tachometer":
            yield (
                [Put(("indicators", ident, "engine_ratio"), "1")],
                f"fit {ident} for a drive of engine speed",
                (ident,),
            )


@kind("wrong pulses per revolution", "the count is off in proportion")
def wrong_pulses(plain: Plain) -> Iterator[Found]:
    for ident, sender in plain["senders"].items():
        if "pulses_per_revolution" in sender:
            yield (
                [Put(("senders", ident, "pulses_per_revolution"), "6")],
                f"fit {ident} of 6 pulses",
                (ident,),
            )
    for ident, gauge in plain["indicators"].items():
        if "pulses_per_revolution" in gauge:
            yield (
                [Put(("indicators", ident, "pulses_per_revolution"), "4")],
                f"set {ident} to 4 pulses",
                (ident,),
            )
    for name, one in plain["indicators"].get("monitor", {}).get("inputs", {}).items():
        if "pulses_per_revolution" in one:
            yield (
                [Put(("indicators", "monitor", "inputs", name, "pulses_per_revolution"), "4")],
                f"set {name} of monitor to 4 pulses",
                (f"monitor {name}", f"{name} of monitor"),
            )


@kind("bulb leads exchanged", "the element lies in the wrong arm of the bridge", most=2)
def bulb_exchanged(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        if "from" in run and run["from"].endswith("bulb.A"):
            other = next(i for i, r in runs(plain) if r.get("from") == run["from"][:-1] + "B")
            yield (
                [Swap(("wire_runs", ident, "to"), ("wire_runs", other, "to"))],
                f"exchange {ident} and {other} at the indicator",
                (ident, other),
            )


@kind(
    "third bulb lead left off",
    "a three-lead bridge loses its balance: the lead resistance no longer cancels",
    most=2,
)
def third_lead(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        if "from" in run and run["from"].endswith("bulb.C"):
            yield (
                [Drop(("wire_runs", ident))],
                f"leave off {ident}, the third lead",
                (ident, device(run["from"]), device(run["to"])),
            )


@kind("two-lead bulb wired long", "what the leads add is shown as heat")
def long_bulb_leads(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        if len(run.get("conductors", ())) == 2 and any(
            c["from"].endswith("bulb.A") for c in run["conductors"].values()
        ):
            yield (
                [
                    Put(("wire_runs", ident, "gauge"), "24 AWG"),
                    Put(("wire_runs", ident, "route", len(run["route"]) - 1, "length"), "60 ft"),
                ],
                f"run {ident} in 60 ft of 24 AWG",
                (ident, *shown_by(plain, run)),
            )


@kind(
    "sender of another range",
    "full scale of sender and dial differ: the reading is off in proportion",
    most=2,
)
def other_range(plain: Plain) -> Iterator[Found]:
    for ident, sender in plain["senders"].items():
        size = {
            "100 psi": "150 psi",
            "150 psi": "100 psi",
            "15 psi": "30 psi",
            "50 psi": "30 psi",
            "200 psi": "100 psi",
            "25 psi": "50 psi",
            "30 inHg": "60 inHg",
            "40 inHg": "60 inHg",
        }.get(sender.get("size", ""))
        if size and "pressure" in sender.get("part", ""):
            yield [Put(("senders", ident, "size"), size)], f"fit {ident} of {size}", (ident,)


@kind("sender of the opposite curve", "the pointer moves the wrong way", most=2)
def other_curve(plain: Plain) -> Iterator[Found]:
    for ident, sender in plain["senders"].items():
        part = sender.get("part", "")
        if "rising" in part or "falling" in part:
            other = part.replace("rising", "%").replace("falling", "rising").replace("%", "falling")
            other = other.replace("fuel quantity sender rising two wire", "fuel quantity sender rising")
            changes = [Put(("senders", ident, "part"), other)]
            if part == "fuel quantity sender falling two wire":
                changes = [
                    Put(("senders", ident, "curve"), {"points": [["0 %", "10 ohm"], ["100 %", "180 ohm"]]})
                ]
            yield changes, f"fit {ident} of the opposite curve", (ident,)


@kind("bulb of another element", "nickel and platinum curves differ: MIL-DTL-7990, IEC 60751", most=2)
def other_element(plain: Plain) -> Iterator[Found]:
    for ident, sender in plain["senders"].items():
        if "nickel 90.38" in sender.get("part", ""):
            yield (
                [Put(("senders", ident, "curve"), {"law": "Pt100"})],
                f"fit {ident} with a platinum element",
                (ident,),
            )
        elif "Pt100" in sender.get("part", ""):
            yield (
                [Put(("senders", ident, "curve"), {"law": "nickel 90.38"})],
                f"fit {ident} with a nickel element",
                (ident,),
            )


@kind("oil temperature taken elsewhere", "the limit is written for the engine inlet")
def other_place(plain: Plain) -> Iterator[Found]:
    for ident, sender in plain["senders"].items():
        if sender.get("location") == "engine inlet":
            yield (
                [Put(("senders", ident, "location"), "engine outlet")],
                f"fit {ident} at the engine outlet",
                (ident,),
            )


@kind("bulb not in the fluid", "it senses the boss, not the oil or the air", most=3)
def not_immersed(plain: Plain) -> Iterator[Found]:
    for ident, sender in plain["senders"].items():
        if sender.get("immersed"):
            yield [Put(("senders", ident, "immersed"), "no")], f"screw {ident} half into its boss", (ident,)


@kind("transducer leads exchanged", "the sender gets no supply where its signal is", most=2)
def transducer_exchanged(plain: Plain) -> Iterator[Found]:
    for ident, run in _cables(plain, "+ signal -"):
        legs = ("wire_runs", ident, "conductors")
        yield (
            [Swap((*legs, "A", "to"), (*legs, "B", "to"))],
            f"exchange supply and signal of {ident}",
            (ident, device(run["conductors"]["A"]["from"])),
        )


@kind("transducer on the bus", "a sender for 5 V gets bus voltage", most=2)
def transducer_on_bus(plain: Plain) -> Iterator[Found]:
    for ident, run in _cables(plain, "+ signal -"):
        yield (
            [Put(("wire_runs", ident, "conductors", "A", "to"), "main bus")],
            f"feed {ident} from the bus",
            (ident, device(run["conductors"]["A"]["from"])),
        )


@kind("signal terminal on the bus", "bus voltage drives current into a signal input", most=2)
def signal_on_bus(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        if run.get("sensing") and run.get("to", "").endswith(".S"):
            yield (
                [Put(("wire_runs", ident, "from"), "main bus")],
                f"join {ident} to the bus",
                (ident, device(run["to"])),
            )


@kind("scale short of the limit", "14 CFR 23.1543: the limit can be read", most=2)
def short_scale(plain: Plain) -> Iterator[Found]:
    for ident, gauge in plain["indicators"].items():
        marks = [m for m in gauge.get("markings", ()) if "at" in m]
        if (
            marks
            and "pressure" in gauge.get("part", "")
            and marks[-1]["at"].endswith("psi")
            and float(marks[-1]["at"].split()[0]) > 10
        ):
            top = f"{0.7 * float(marks[-1]['at'].split()[0]):g} psi"
            yield (
                [
                    Put(
                        ("indicators", ident, "scale"),
                        {"lowest": "0 psi", "highest": top, "division": "1 psi"},
                    )
                ],
                f"fit {ident} with a dial to {top}",
                (ident,),
            )


@kind(
    "red line off the limit", "14 CFR 23.1549(a), CAR 3.759: each maximum is marked with a red radial", most=2
)
def red_line_off(plain: Plain) -> Iterator[Found]:
    for ident, gauge in plain["indicators"].items():
        for i, mark in enumerate(gauge.get("markings", ()) if gauge.get("required") else ()):
            if mark["colour"] == "red" and "at" in mark and i == len(gauge["markings"]) - 1:
                number, unit = mark["at"].split()
                yield (
                    [Put(("indicators", ident, "markings", i, "at"), f"{0.9 * float(number):g} {unit}")],
                    f"paint the red line of {ident} at nine tenths",
                    (ident,),
                )


@kind("coarse indicator", "the indicator's own error is more than the whole may be off", most=2)
def coarse(plain: Plain) -> Iterator[Found]:
    for ident, gauge in plain["indicators"].items():
        if "budget" in gauge:
            number, unit = gauge["budget"].split()
            yield (
                [Put(("indicators", ident, "accuracy"), f"{1.5 * float(number):g} {unit}")],
                f"fit {ident} of coarser make",
                (ident,),
            )


@kind("required indicator out of view", "14 CFR 23.1321(a): plainly visible to the pilot")
def out_of_view(plain: Plain) -> Iterator[Found]:
    for ident, gauge in plain["indicators"].items():
        if gauge.get("required") and gauge.get("in_view"):
            yield (
                [Put(("indicators", ident, "in_view"), "no")],
                f"fit {ident} out of the pilot's view",
                (ident,),
            )


@kind(
    "indicator for another voltage",
    "a 14 V instrument on 28 V, or a 28 V one on 14 V, burns out or reads nothing",
    most=2,
)
def other_voltage(plain: Plain) -> Iterator[Found]:
    high = plain.get("aircraft", {}).get("system_voltage") == "28 V"
    span = {"lowest": "11 V", "highest": "16 V"} if high else {"lowest": "22 V", "highest": "32 V"}
    fed = {device(r["to"]) for _, r in runs(plain) if r.get("to", "").endswith(".power")}
    for ident in plain["indicators"]:
        if ident in fed:
            yield (
                [Put(("indicators", ident, "supply_voltage"), span)],
                f"fit {ident} for {span['highest']}",
                (ident,),
            )


@kind(
    "body of a sender on paint",
    "a one-wire sender returns through its body: paint in its joint adds to the reading",
    most=2,
)
def painted(plain: Plain) -> Iterator[Found]:
    for ident, sender in plain["senders"].items():
        if "grounding" in sender and "switch" not in sender.get("part", ""):
            yield (
                [
                    Put(("senders", ident, "grounding", "through"), "painted bolts"),
                    Put(("senders", ident, "grounding", "resistance"), "20 ohm"),
                ],
                f"fit {ident} on a painted face",
                (ident,),
            )


@kind("gauges of two engines exchanged", "14 CFR 33.29(a): the good engine is shut down", most=2)
def engines_exchanged(plain: Plain) -> Iterator[Found]:
    for ident in plain["indicators"]:
        other = ident.replace("left", "right", 1)
        if ident == other or other not in plain["indicators"] or "temperature" not in ident:
            continue
        yield (
            [Put(("indicators", ident, "engine"), "right"), Put(("indicators", other, "engine"), "left")],
            f"exchange {ident} and {other} in the panel",
            (ident, other),
        )
