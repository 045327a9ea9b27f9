import pytest

ENGINE = """
grounds:
  airframe: {kind: structure}
  engine case: {kind: engine case}
  firewall stud: {kind: stud, joins: airframe}
%s
supplies: {battery: {kind: battery, voltage: 12 V}, alternator: {kind: alternator, voltage: 14 V}}
probes: {probe: {thermocouple: K, junction: grounded, grounding: {to: engine case, through: thread}}}
indicators: {gauge: {principle: moving-coil thermocouple, terminals: [+, '-']}}
wire_runs:
  W1: {from: alternator.-, to: engine case}
  W2: {from: battery.-, to: airframe}
  W3: {from: probe.-, to: firewall stud}
%s
"""


@pytest.mark.parametrize(
    ("ground", "wire", "outcome"),
    [
        ("  strap: {kind: strap, from: engine case, to: firewall stud}", "", "meets"),
        ("", "  W4: {from: engine case, to: battery.-}", "meets"),
        ("", "  W4: {from: alternator.-, to: firewall stud}", "meets"),
        # the lead of a grounded probe is no strap
        ("", "", "discrepancy"),
        ("  strap: {kind: strap, from: engine case, to: firewall stud, status: removed}", "", "discrepancy"),
    ],
)
def test_engine_has_a_way_home(judged, ground, wire, outcome):
    [verdict] = judged(ENGINE % (ground, wire), "engine-strapped")
    assert (verdict.outcome, verdict.at[0]) == (outcome, "engine case")
    if outcome == "discrepancy":
        assert "alternator" in verdict.at


def test_engine_of_which_only_signals_return_is_asked_for_its_strap(judged):
    text = """
grounds: {airframe: {kind: structure}, engine case: {kind: engine case}}
senders: {bulb: {principle: resistive, terminals: [S], grounding: {to: engine case, through: thread}}}
"""
    [verdict] = judged(text, "engine-strapped")
    assert verdict.outcome == "undetermined"
