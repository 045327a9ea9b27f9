import pytest

TRANSDUCER = """
aircraft: {{system_voltage: 14 V}}
zones: {{cabin: {{}}}}
supplies: {{bus: {{kind: bus, zone: cabin}}, breaker: {{kind: breaker, rating: 1 A, zone: cabin}}}}
senders: {{sender: {{principle: pressure transducer, measures: fuel pressure, terminals: [+, signal, '-'], zone: cabin, supply_voltage: {{lowest: {low}, highest: {high}}}}}}}
indicators: {{gauge: {{principle: voltage, measures: fuel pressure, terminals: [{feed}, s, g]{more}, zone: cabin}}}}
wire_runs: {{S: {{from: sender.signal, to: gauge.s}}, {runs}}}
"""


def transducer(runs, *, low="4.75 V", high="5.25 V", feed="5 V", more=""):
    return TRANSDUCER.format(runs=runs, low=low, high=high, feed=feed, more=more)


def test_fed_by_the_indicator(judged):
    [verdict] = judged(transducer("A: {from: sender.+, to: gauge.5 V}"), "sender-supply")
    assert verdict.outcome == "meets"
    # 5.25 - 5
    assert (verdict.value, verdict.margin) == (pytest.approx(5), pytest.approx(0.25))


def test_five_volt_transducer_on_the_bus(judged):
    runs = "A: {from: sender.+, to: breaker.out}, B: {from: breaker.in, to: bus}"
    [verdict] = judged(transducer(runs), "sender-supply")
    assert verdict.outcome == "discrepancy"
    # 5.25 - 14
    assert (verdict.value, verdict.limit, verdict.margin) == tuple(
        pytest.approx(x) for x in (14, 5.25, -8.75)
    )
    [verdict] = judged(transducer(runs, low="8 V", high="16 V"), "sender-supply")
    assert verdict.outcome == "meets"


def test_excitation_stated_or_not(judged):
    runs = "A: {from: sender.+, to: gauge.feed}"
    [verdict] = judged(transducer(runs, feed="feed", more=", excitation: 12 V"), "sender-supply")
    # 5.25 - 12
    assert verdict.margin == pytest.approx(-6.75)
    [verdict] = judged(transducer(runs, feed="feed"), "sender-supply")
    assert verdict.missing == ("voltage the indicator feeds its sender with ('excitation')",)


def test_supply_not_wired_or_wired_to_nothing(judged):
    [verdict] = judged(transducer(""), "sender-supply")
    assert verdict.missing == ("wiring of the sender's supply",)
    [verdict] = judged(transducer("A: {from: sender.+, to: breaker.out}"), "sender-supply")
    assert verdict.outcome == "discrepancy"
    assert "dead" in verdict.message


LOOP = """
aircraft: {{system_voltage: {volts}}}
zones: {{cabin: {{}}}}
senders: {{sender: {{principle: pressure transducer, measures: fuel pressure, terminals: [+, '-'], zone: cabin, supply_voltage: {{lowest: 9 V, highest: 30 V}}}}}}
indicators: {{gauge: {{principle: current loop, measures: fuel pressure, terminals: [+, '-']{inner}, zone: cabin}}}}
wire_runs: {{A: {{from: sender.+, to: gauge.+}}, B: {{from: sender.-, to: gauge.-}}}}
"""


@pytest.mark.parametrize(
    ("volts", "inner", "outcome", "value"),
    [
        # 14 - 0.02 x 250 = 9; 14 - 0.02 x 500 = 4; 28 - 0.02 x 500 = 18
        ("14 V", 250, "meets", 9),
        ("14 V", 500, "discrepancy", 4),
        ("28 V", 500, "meets", 18),
    ],
)
def test_what_a_loop_leaves(judged, volts, inner, outcome, value):
    [verdict] = judged(LOOP.format(volts=volts, inner=f", inner_resistance: {inner} ohm"), "sender-supply")
    assert verdict.outcome == outcome
    assert verdict.value == pytest.approx(value)


def test_loop_not_said(judged):
    [verdict] = judged(LOOP.format(volts="14 V", inner=""), "sender-supply")
    assert verdict.missing == ("inner resistance and excitation of the loop input",)
