"""Networks that can and cannot be solved, bonding, and returns through senders."""

POWER = """
aircraft: {system_voltage: 14 V}
supplies:
  alternator: {kind: alternator, voltage: 14 V}
  bus: {kind: bus}
grounds: {airframe: {kind: structure}}
loads: {lamp: {current: 2 A}}
wire_runs:
  W1: {from: alternator.+, to: bus, metal: copper, resistance: 0.01 ohm/m, length: 1 m}
  W2: {from: alternator.-, to: airframe, metal: copper, resistance: 0.01 ohm/m, length: 1 m}
  W3: {from: bus, to: lamp.+, metal: copper, resistance: 0.01 ohm/m, length: 1 m}
  W4: {from: lamp.-, to: airframe, metal: copper, resistance: 0.01 ohm/m, length: 1 m}
"""


def outcomes(verdicts):
    return {v.at[0]: str(v.outcome) for v in verdicts}


def test_whole_network_meets(judged):
    assert outcomes(judged(POWER, "circuit-solvable")) == {"alternator": "meets", "lamp": "meets"}


def test_floating_source(judged):
    text = POWER.replace(
        "  W2: {from: alternator.-, to: airframe, metal: copper, resistance: 0.01 ohm/m, length: 1 m}\n", ""
    )
    got = judged(text, "circuit-solvable")
    assert outcomes(got) == {"alternator": "undetermined", "lamp": "undetermined"}
    assert "floats" in got[0].message
    assert "nothing joins its return to the other side of what feeds bus" in got[1].message


def test_load_without_return(judged):
    text = POWER.replace(
        "  W4: {from: lamp.-, to: airframe, metal: copper, resistance: 0.01 ohm/m, length: 1 m}\n", ""
    )
    assert outcomes(judged(text, "circuit-solvable"))["lamp"] == "undetermined"


def test_two_systems_on_one_bus(judged):
    text = POWER.replace("  bus: {kind: bus}", "  bus: {kind: bus}\n  other: {kind: battery, voltage: 24 V}")
    text += "  W5: {from: other.+, to: bus, metal: copper, resistance: 0.01 ohm/m, length: 1 m}\n"
    text += "  W6: {from: other.-, to: airframe, metal: copper, resistance: 0.01 ohm/m, length: 1 m}\n"
    got = outcomes(judged(text, "circuit-solvable"))
    # 24 / 14 = 1.71
    assert got["alternator"] == got["other"] == "discrepancy"


def test_battery_behind_its_regulator_is_no_conflict(judged):
    text = POWER.replace(
        "  bus: {kind: bus}", "  bus: {kind: bus}\n  battery: {kind: battery, voltage: 12 V}"
    )
    text += "  W5: {from: battery.+, to: bus, metal: copper, resistance: 0.01 ohm/m, length: 1 m}\n"
    text += "  W6: {from: battery.-, to: airframe, metal: copper, resistance: 0.01 ohm/m, length: 1 m}\n"
    assert set(outcomes(judged(text, "circuit-solvable")).values()) == {"meets"}


def test_a_switched_off_load_is_no_fault(judged):
    text = POWER.replace("bus: {kind: bus}", "bus: {kind: bus}\n  switch: {kind: switch}").replace(
        "W3: {from: bus, to: lamp.+",
        "W5: {from: bus, to: switch.in, length: 1 m}\n  W3: {from: switch.out, to: lamp.+",
    )
    text += "operating_points: {off: {open_switches: [switch]}}\n"
    assert outcomes(judged(text, "circuit-solvable"))["lamp"] == "meets"


def bonding(judged, text):
    return judged(
        "grounds:\n  airframe: {kind: structure}\n  engine: {kind: engine case}\n" + text,
        "bonding-resistance",
    )


def test_bonding_limits(judged):
    got = bonding(
        judged,
        "  strap: {kind: strap, from: engine, to: airframe, resistance: 12 milliohm}\n"
        "  stud: {kind: stud, joins: airframe, resistance: 3 milliohm}\n"
        "  poor: {kind: stud, joins: airframe, resistance: 3.1 milliohm}\n"
        "  unknown: {kind: stud, joins: airframe}\n",
    )
    assert outcomes(got) == {
        "strap": "discrepancy",
        "stud": "meets",
        "poor": "discrepancy",
        "unknown": "undetermined",
    }
    strap = got[0]
    assert (round(strap.value, 6), round(strap.limit, 6), round(strap.margin, 6), strap.unit) == (
        12,
        5,
        -7,
        "milliohm",
    )


RETURN = """
aircraft: {system_voltage: 14 V}
supplies: {battery: {kind: battery, voltage: 12 V}, bus: {kind: bus}}
grounds: {airframe: {kind: structure}, panel ground: {kind: bus}}
loads: {lamps: {current: 3 A}}
senders:
  tank: {principle: resistive, measures: fuel quantity, terminals: [S], case_return: yes, max_current: 100 mA,
    grounding: {to: airframe, through: bolts}, curve: {points: [[0 %%, 10 ohm], [100 %%, 180 ohm]]}}
wire_runs:
  W1: {from: battery.+, to: bus, length: 1 m}
  W2: {from: battery.-, to: airframe, length: 1 m}
  W3: {from: bus, to: lamps.+, length: 1 m}
  W4: {from: lamps.-, to: panel ground, length: 1 m}
  W5: {from: panel ground, to: tank.S, length: 1 m}
  W6: {from: panel ground, to: airframe, length: 1 m%s}
"""


def test_return_through_metal(judged):
    [verdict] = judged(RETURN % "", "return-path-kept")
    assert verdict.outcome == "meets"


def test_removed_wire_leaves_only_the_sender(judged):
    [verdict] = judged(RETURN % ", status: removed", "return-path-kept")
    assert verdict.outcome == "discrepancy"
    # 3 A of lamps in a sender rated 0.1 A
    assert (verdict.value, verdict.limit) == (3.0, 0.1)
    assert "tank" in verdict.message
    assert "W6" in verdict.message


def test_an_hour_meter_that_returns_through_its_pressure_switch_is_right(judged):
    text = POWER.replace("lamp", "hour meter").replace("2 A", "10 mA")
    text = text.replace("hour meter.-, to: airframe", "hour meter.-, to: switch.S")
    text += (
        "senders: {switch: {principle: switch, measures: oil pressure, terminals: [S], case_return: yes, "
        "grounding: {to: airframe, through: thread}}}\n"
    )
    assert outcomes(judged(text, "circuit-solvable"))["hour meter"] == "meets"
    assert outcomes(judged(text, "return-path-kept"))["hour meter"] == "meets"
