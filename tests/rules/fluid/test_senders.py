import pytest

TEXT = """
engines: {{engine: {{cylinders: 4, speed: 2700 rpm}}}}
zones: {{engine: {{vibrates: yes}}, bay: {{vibrates: no}}}}
taps: {{tap: {{medium: oil, zone: engine}}}}
senders: {{sender: {{principle: pressure transducer, terminals: ['+', '-'], ports: [P], zone: {zone}{sender}}}}}
fittings: {{adapter: {{kind: adapter, ports: [in, out], material: brass, zone: engine, screwed_into: tap}}}}
{lines}
"""
STACK = ", mounted_on: engine, screwed_into: adapter.out"


def text(sender: str, zone: str = "engine", line: str = "") -> str:
    lines = f"fluid_lines: {{L1: {{from: tap, to: sender.P, kind: {line}}}}}" if line else ""
    return TEXT.format(sender=sender, zone=zone, lines=lines)


def one(judged, *words, **more):
    [verdict] = judged(text(*words, **more), "sender-mounting")
    return verdict


def test_on_the_firewall(judged):
    assert one(judged, ", mounted_on: firewall", zone="bay", line="hose").outcome == "meets"


def test_not_said(judged):
    assert one(judged, "").outcome == "undetermined"
    assert one(judged, "", zone="bay").outcome == "meets"


def test_hung_on_its_hose(judged):
    assert one(judged, ", mounted_on: hose", line="hose").outcome == "advisory"


def test_on_an_engine_bracket(judged):
    assert one(judged, ", mounted_on: engine", line="hose").outcome == "meets"
    assert one(judged, ", mounted_on: engine", line="tube").outcome == "advisory"
    assert one(judged, ", mounted_on: engine").outcome == "undetermined"


def test_on_a_stack_of_fittings(judged):
    verdict = one(judged, f"{STACK}, weight: 150 g, arm: 60 mm")
    assert verdict.outcome == "advisory"
    assert verdict.at == ("sender", "adapter")
    # 220 Hz and 18.14 MPa at 10 g; notch 3; 90 Hz of firing: 1/(1 - (90/220)^2) = 1.201, 1.2007 with damping 0.02: 65.3 MPa
    assert "220 Hz against 90 Hz" in verdict.message
    assert "65.3 MPa at its thread" in verdict.message
    # it bears that (0.3 of 49000 psi is 101.4 MPa): the stack is counsel, and no limit is broken
    assert verdict.margin is None


def test_a_heavy_sender_far_out_breaks_its_stem(judged):
    # 500 g at 100 mm: 56 Hz, below the firing: shaken at its own frequency, 1/(2*0.02) = 25 times
    verdict = one(judged, f"{STACK}, weight: 500 g, arm: 100 mm")
    assert verdict.outcome == "discrepancy"
    # 18.138 * (500*100)/(150*60) * 3 * 25 = 7557 MPa against 18000 psi = 124.1 MPa
    assert verdict.value == pytest.approx(7557, rel=0.005)
    assert verdict.limit == pytest.approx(124.1, rel=0.001)


def test_a_light_sender_in_the_engine_itself(judged):
    verdict = one(judged, ", mounted_on: engine, screwed_into: tap, weight: 60 g, arm: 30 mm")
    # frequency as mass^-1/2 arm^-3/2: 220.02 * sqrt(150/60) * (60/30)^1.5 = 984 Hz; 18.138 * 0.2 * 3 = 10.9 MPa, gain 1.008
    assert verdict.outcome == "meets"
    assert verdict.value == pytest.approx(10.97, rel=0.01)


def test_weight_and_arm_not_given(judged):
    assert one(judged, ", mounted_on: engine, screwed_into: tap").outcome == "undetermined"
    # a stack is counsel enough without them
    assert one(judged, STACK).outcome == "advisory"


@pytest.mark.parametrize(("carried", "outcome"), [("firewall", "discrepancy"), ("airframe", "discrepancy")])
def test_carried_by_one_body_and_screwed_to_another(judged, carried, outcome):
    verdict = one(judged, f", mounted_on: {carried}, screwed_into: adapter.out, weight: 0.5 lb, arm: 2.5 in")
    assert verdict.outcome == outcome
    assert verdict.at == ("sender", "adapter", "tap")


def test_a_flow_pick_up_on_the_elbow_of_the_pump(judged):
    body = text(", mounted_on: firewall, screwed_into: adapter.out").replace(
        "principle: pressure transducer, terminals: ['+', '-'], ports: [P]",
        "principle: pulse pick-up, measures: fuel flow, terminals: [a, b, c], ports: [in, out]",
    )
    [verdict] = judged(body, "sender-mounting")
    assert verdict.outcome == "discrepancy"


def test_a_mounting_said_to_be_unknown(judged):
    assert one(judged, ", mounted_on: unknown", zone="bay").outcome == "undetermined"
