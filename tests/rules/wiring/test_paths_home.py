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


SIGNAL = """
supplies: {bus: {kind: bus}, breaker: {kind: breaker, rating: 5 A}}
senders:
  bulb: {principle: resistive, terminals: [S, G]}
  transducer: {principle: pressure transducer, terminals: [+, signal, '-']}
indicators:
  gauge: {principle: ratio meter, terminals: [S, G], supply_terminals: [I, E]}
  voltmeter: {principle: voltage, measures: bus voltage, terminals: [+, '-']}
junctions: {block: {kind: splice}}
wire_runs:
  W1: {from: bus, to: breaker.in}
  W2: {from: breaker.out, to: block}
  W3: {from: block, to: gauge.I}
  W4: {from: block, to: transducer.+}
  W5: {from: bus, to: voltmeter.+}
  W6: {from: bulb.S, to: gauge.S}
"""


@pytest.mark.parametrize(
    ("wire", "at"),
    [
        ("", set()),
        # on S of the gauge the supply is on S of the sender as well
        ("  W7: {from: block, to: gauge.S}", {"gauge", "bulb"}),
        ("  W7: {from: bus, to: transducer.signal}", {"transducer"}),
    ],
)
def test_supply_on_a_signal(judged, wire, at):
    verdicts = judged(SIGNAL + wire, "supply-off-signal")
    assert {v.at[0] for v in verdicts if v.outcome == "discrepancy"} == at
    assert {v.at[0] for v in verdicts if v.outcome == "meets"} == {"gauge", "bulb", "transducer"} - at
