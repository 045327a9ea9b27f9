"""What terminals and joints at the ends of a wire add to it: as stated, nothing where nothing is said, open where unknown."""

import pytest

from installcheck.analysis import missing

TEXT = """
aircraft: {{system_voltage: 14 V}}
zones: {{cabin: {{occupied: yes, temperature: {{lowest: 20 degC, highest: 20 degC}}}}}}
supplies: {{bus: {{kind: bus, zone: cabin}}, battery: {{kind: battery, voltage: 14 V, inner_resistance: 0 ohm, zone: cabin}}}}
grounds: {{airframe: {{kind: structure, zone: cabin}}}}
loads: {{lamp: {{current: 10 A, duty: continuous, zone: cabin}}}}
junctions: {{block: {{kind: terminal block, terminals: [A]{block}}}}}
wire_runs:
  P1: {{from: battery.+, to: bus, part: AS22759/16, gauge: 8 AWG, route: [{{zone: cabin, length: 1 in}}]}}
  P2: {{from: battery.-, to: airframe, part: AS22759/16, gauge: 8 AWG, route: [{{zone: cabin, length: 1 in}}]}}
  W1: {{from: bus, to: block.A, part: AS22759/16, gauge: 10 AWG, route: [{{zone: cabin, length: 1 ft}}]{run}}}
  W2: {{from: block.A, to: lamp.+, part: AS22759/16, gauge: 10 AWG, route: [{{zone: cabin, length: 1 ft}}]}}
  W3: {{from: lamp.-, to: airframe, part: AS22759/16, gauge: 10 AWG, route: [{{zone: cabin, length: 1 in}}]}}
"""


def drop(judged, block="", run=""):
    [verdict] = [v for v in judged(TEXT.format(block=block, run=run), "voltage-drop") if "lamp" in v.at]
    return verdict


def test_stated_terminals_and_joints_add_up(judged):
    bare = drop(judged).value
    # 10 A through a terminal of 3 milliohm: 30 mV; through a joint of 2 milliohm, half at each of its two wires: 20 mV
    ring = ", terminations: [{kind: ring, resistance: 3 milliohm}, {kind: ring}]"
    assert drop(judged, run=ring).value == pytest.approx(bare + 0.030, abs=1e-3)
    assert drop(judged, ", contact_resistance: 2 milliohm").value == pytest.approx(bare + 0.020, abs=1e-3)


@pytest.mark.parametrize(
    ("more", "missing"),
    [
        ({"run": ", terminations: unknown"}, "resistance of the terminals on the ends of the run"),
        (
            {"run": ", terminations: [unknown, {kind: ring}]"},
            "resistance of the terminals on the ends of the run",
        ),
        (
            {"run": ", terminations: [{kind: ring}, {kind: ring, resistance: unknown}]"},
            "resistance of the terminals on the ends of the run",
        ),
        ({"block": ", contact_resistance: unknown"}, "contact resistance that is said to be unknown"),
        (
            {"block": ", pins: {A: {contact_resistance: unknown}}"},
            "contact resistance that is said to be unknown",
        ),
    ],
)
def test_what_is_said_to_be_unknown_is_no_zero(judged, more, missing):
    verdict = drop(judged, **more)
    assert verdict.outcome == "undetermined"
    assert missing in verdict.missing


def test_a_strap_said_to_be_unknown_is_no_good_joint(judged):
    def through(strap):
        text = TEXT.format(block="", run="").replace("lamp.-, to: airframe", "lamp.-, to: stud")
        grounds = f"stud: {{kind: stud, zone: cabin}}, strap: {{kind: strap, from: stud, to: airframe, gauge: 10 AWG, length: 1 ft{strap}}}"
        [verdict] = judged(text.replace("grounds: {", "grounds: {" + grounds + ", "), "voltage-drop")
        return verdict

    assert through("").outcome == "meets"
    unknown = through(", resistance: unknown")
    assert (unknown.outcome, unknown.missing) == ("undetermined", (missing.GROUND_RESISTANCE,))
