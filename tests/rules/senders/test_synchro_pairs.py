import pytest

PAIR = """
zones: {{cabin: {{}}}}
supplies: {{inverter: {{kind: inverter, voltage: 26 V, frequency: {source}, zone: cabin}}, other: {{kind: inverter, voltage: 26 V, frequency: 400 Hz, zone: cabin}}}}
senders: {{tx: {{principle: synchro transmitter, measures: oil pressure, terminals: [S1, S2, S3, R1, R2], excitation_voltage: 26 V{frequency}, zone: cabin}}}}
indicators: {{rx: {{principle: synchro receiver, measures: oil pressure, terminals: [S1, S2, S3, R1, R2], excitation_voltage: {volts}, excitation_frequency: 400 Hz, zone: cabin}}}}
wire_runs:
  A: {{from: tx.S1, to: rx.{a}}}
  B: {{from: tx.S2, to: rx.{b}}}
  C: {{from: tx.S3, to: rx.{c}}}
  D: {{from: tx.R1, to: inverter.out}}
  E: {{from: tx.R2, to: inverter.-}}
{rotor}
"""
ALIKE = "  F: {from: rx.R1, to: inverter.out}\n  G: {from: rx.R2, to: inverter.-}"


def pair(
    order="S1 S2 S3",
    *,
    volts="26 V",
    frequency=", excitation_frequency: 400 Hz",
    source="400 Hz",
    rotor=ALIKE,
):
    a, b, c = order.split()
    return PAIR.format(a=a, b=b, c=c, volts=volts, frequency=frequency, source=source, rotor=rotor)


def test_excited_alike(judged):
    [verdict] = judged(pair(), "synchro-excitation")
    assert verdict.outcome == "meets"


@pytest.mark.parametrize(
    ("changed", "outcome", "told"),
    [
        ({"volts": "115 V"}, "discrepancy", "made for 26 V, and that of rx for 115 V"),
        ({"frequency": ", excitation_frequency: 60 Hz"}, "discrepancy", "60 Hz"),
        ({"frequency": ""}, "undetermined", "rotor excitation"),
        ({"source": "60 Hz"}, "discrepancy", "inverter gives 60 Hz"),
        ({"source": "unknown"}, "undetermined", "frequency of the source"),
        ({"rotor": ALIKE.replace("inverter", "other")}, "discrepancy", "not in step"),
        ({"rotor": ""}, "undetermined", "wiring of the rotor"),
        (
            {"rotor": ALIKE.replace("R1", "X").replace("R2", "R1").replace("X", "R2")},
            "discrepancy",
            "half a circle",
        ),
    ],
)
def test_not_excited_alike(judged, changed, outcome, told):
    [verdict] = judged(pair(**changed), "synchro-excitation")
    assert verdict.outcome == outcome
    assert told in verdict.message


def test_leads_in_order(judged):
    [verdict] = judged(pair(), "synchro-leads")
    assert verdict.outcome == "meets"


@pytest.mark.parametrize(
    ("order", "told"),
    [
        # NEETS module 15, table 1-6: S1 and S3 exchanged turns it backwards from zero, S1 and S2 backwards from 240;
        # all moved on by one: the right way from 120 or 240
        ("S3 S2 S1", "turns backwards, from 0 degrees"),
        ("S2 S1 S3", "turns backwards, from 240 degrees"),
        ("S2 S3 S1", "turns the right way, from"),
    ],
)
def test_leads_exchanged(judged, order, told):
    [verdict] = judged(pair(order), "synchro-leads")
    assert verdict.outcome == "discrepancy"
    assert told in verdict.message
    assert set(verdict.at) == {"rx", "tx", "A", "B", "C"}  # the runs by which they are joined


def test_a_lead_missing(judged):
    [verdict] = judged(pair().replace("  C: {from: tx.S3, to: rx.S3}\n", ""), "synchro-leads")
    assert verdict.outcome == "discrepancy"
    assert "2 of three" in verdict.message


def test_a_rotor_with_one_end_open(judged):
    [verdict] = judged(pair(rotor="  F: {from: rx.R1, to: inverter.out}"), "synchro-excitation")
    assert verdict.outcome == "discrepancy"
    assert "no wire meets rx.R2" in verdict.message


@pytest.mark.parametrize(
    ("order", "zero"),
    [("S2 S3 S1", 300), ("S3 S1 S2", 60), ("S2 S1 S3", 60), ("S3 S2 S1", 180), ("S1 S3 S2", 300)],
)
def test_zero_with_rotor_and_stator_exchanged_together(judged, order, zero):
    # NEETS module 15, tables 1-6 and 1-7: 120, 240, 240, 0 and 120 degrees by the stator, and half a circle by the rotor
    turned = "  F: {from: rx.R2, to: inverter.out}\n  G: {from: rx.R1, to: inverter.-}"
    [verdict] = judged(pair(order, rotor=turned), "synchro-leads")
    assert (verdict.outcome, verdict.value) == ("discrepancy", zero)


EXCITED = """
aircraft: {basis: CAR 3}
operating_points: {cruise: {phase: cruise, readings: {oil pressure: 80 psi}}}
zones: {bay: {}, cabin: {}}
supplies:
  battery: {kind: battery, voltage: 28 V, zone: cabin}
  main bus: {kind: bus, zone: cabin}
  breaker: {kind: breaker, rating: 5 A, zone: cabin}
  inverter: {kind: inverter, voltage: 26 V, frequency: 400 Hz, zone: cabin}
  ac bus: {kind: bus, zone: cabin}
grounds: {frame: {kind: structure, zone: cabin}, stud: {kind: stud, joins: frame, zone: cabin}}
junctions: {block: {kind: terminal block, terminals: [1], zone: cabin}}
senders: {tx: {part: synchro pressure transmitter, size: 200 psi, measures: oil pressure, zone: bay}}
indicators: {rx: {part: synchro oil pressure indicator, zone: cabin, budget: 9 psi}}
wire_runs:
  V1: {from: battery.+, to: main bus}
  V2: {from: battery.-, to: frame}
  V3: {from: main bus, to: inverter.in}
  V4: {from: inverter.out, to: ac bus}
  V5: {from: inverter.-, to: stud}
  V6: {from: main bus, to: breaker.in}
  A: {from: tx.S1, to: rx.S1}
  B: {from: tx.S2, to: rx.S2}
  C: {from: tx.S3, to: rx.S3}
  T1: {from: ac bus, to: tx.R1}
  T2: {from: tx.R2, to: stud}
  I1: {from: ac bus, to: rx.R1}
  I2: {from: rx.R2, to: stud}
"""


def excited(judged, **wires):
    """Excitation and budget of the pair with some wires moved, or taken out."""
    text = EXCITED
    for run, ends in wires.items():
        [old] = [line for line in text.splitlines() if line.startswith(f"  {run}: ")]
        new = f"  {run}: {{from: {ends[0]}, to: {ends[1]}}}\n" if ends else ""
        text = text.replace(f"{old}\n", new)
    return judged(text, "synchro-excitation"), judged(text, "indication-within-budget")


@pytest.mark.parametrize(
    "wires",
    [
        {},
        {
            "T1": ("ac bus", "tx.R2"),
            "T2": ("tx.R1", "stud"),
            "I1": ("ac bus", "rx.R2"),
            "I2": ("rx.R1", "stud"),
        },
        {"T2": ("tx.R2", "frame"), "I2": ("rx.R2", "inverter.-")},
    ],
)
def test_rotors_between_the_live_side_and_the_return(judged, wires):
    # 26 V at one end and 0 V at the other is 26 V across each rotor, whichever end is live at both
    [excitation], [budget] = excited(judged, **wires)
    assert (excitation.outcome, budget.outcome) == ("meets", "meets")


@pytest.mark.parametrize(
    ("wires", "told"),
    [
        # 26 V - 26 V = 0 V across the rotor
        ({"T2": ("tx.R2", "ac bus")}, "live side of inverter: 0 V across"),
        ({"I2": ("rx.R2", "ac bus")}, "rx.R1 and rx.R2 are both joined to the live side"),
        ({"T2": ("tx.R2", "ac bus"), "I2": ("rx.R2", "ac bus")}, "0 V across"),
        # 0 V - 0 V = 0 V, at one stud, and between a stud and the frame it is fastened to
        ({"T1": ("tx.R1", "stud")}, "tx.R1 and tx.R2 are both joined to ground: 0 V"),
        ({"I1": ("rx.R1", "frame")}, "rx.R1 and rx.R2 are both joined to ground: 0 V"),
        ({"T1": ("tx.R1", "tx.R2"), "T2": None}, "are both joined: 0 V"),
        # no current: the way back ends at a screw that nothing else meets
        ({"T2": ("tx.R2", "block.1")}, "tx.R2 reaches no ground or return"),
        # 28 V of a battery has no frequency
        ({"T1": ("breaker.out", "tx.R1")}, "main bus gives tx.R1 direct current"),
        ({"I1": ("main bus", "rx.R1")}, "main bus gives rx.R1 direct current"),
        ({"T2": ("tx.R2", "battery.+")}, "gives tx.R2 direct current"),
        # one end in the air
        ({"T1": None}, "no wire meets tx.R1"),
        ({"I2": None}, "no wire meets rx.R2"),
        # live at R1 of one and at R2 of the other: half a circle off
        ({"T1": ("ac bus", "tx.R2"), "T2": ("tx.R1", "stud")}, "half a circle off"),
    ],
)
def test_rotors_without_their_excitation_show_nothing_true(judged, wires, told):
    [excitation], budgets = excited(judged, **wires)
    assert excitation.outcome == "discrepancy"
    assert told in excitation.message
    assert budgets == []


@pytest.mark.parametrize(
    ("wires", "turned", "runs"),
    [
        ({"T1": ("ac bus", "tx.R2"), "T2": ("tx.R1", "stud")}, "tx", {"T1", "T2"}),
        ({"I1": ("ac bus", "rx.R2"), "I2": ("rx.R1", "stud")}, "rx", {"I1", "I2"}),
    ],
)
def test_the_rotor_with_its_second_end_live_is_the_one_to_turn(judged, wires, turned, runs):
    [verdict], _ = excited(judged, **wires)
    assert verdict.value == 180
    assert f"at {turned}," in verdict.remedy
    assert set(verdict.at) == {"rx", "tx", *runs}
