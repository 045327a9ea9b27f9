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
