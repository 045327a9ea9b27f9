"""What a line is for: inferred where there is no doubt, and no restrictor asked of what feeds an engine."""

import pytest

from installcheck.analysis.fluid.purposes import purpose, taken_from
from installcheck.analysis.study import Study
from installcheck.document import loads

HEAD = """
installation: {name: test}
zones: {engine: {occupied: no}, cabin: {occupied: yes}}
taps:
  pump: {medium: fuel, location: pump outlet, zone: engine, pressure: 6 psi}
senders:
  transducer: {principle: pressure transducer, terminals: ['+', '-'], ports: [P], zone: engine}
  pick-up: {principle: pulse pick-up, measures: fuel flow, terminals: [a, b, c], ports: [in, out], zone: engine}
fittings:
  tee: {kind: tee, ports: ['1', '2', '3'], zone: engine}
  carburettor: {kind: union, ports: ['1'], zone: engine}
  cap: {kind: cap, ports: ['1'], screwed_into: tee.3, zone: engine}
fluid_lines:
"""
SIZE = "bore: 0.3 in, length: 12 in"
FEED_WITH_A_BRANCH = f"""
  feed 1: {{from: pump, to: tee.1, {SIZE}}}
  feed 2: {{from: tee.2, to: carburettor.1, {SIZE}}}
  branch: {{from: tee.3, to: transducer.P, {SIZE}}}
""".replace("'", "")
NO_CAP = HEAD.replace("  cap: {kind: cap, ports: ['1'], screwed_into: tee.3, zone: engine}\n", "")


def words(text: str) -> dict[str, str | None]:
    study = Study(loads(text))
    return {ident: purpose(study, ident).word for ident in study.model.fluid_lines}


def test_a_line_that_ends_at_a_sender_serves_it():
    assert words(HEAD + f"  L1: {{from: pump, to: transducer.P, {SIZE}}}") == {"L1": "instrument"}


def test_a_capped_branch_leads_nowhere():
    lines = f"  L1: {{from: pump, to: tee.1, {SIZE}}}\n  L2: {{from: tee.2, to: transducer.P, {SIZE}}}"
    assert words(HEAD + lines) == {"L1": "instrument", "L2": "instrument"}


def test_a_port_that_is_not_told_leaves_open_what_the_line_before_it_is_for():
    lines = f"  L1: {{from: pump, to: tee.1, {SIZE}}}\n  L2: {{from: tee.2, to: transducer.P, {SIZE}}}"
    assert words(NO_CAP + lines) == {"L1": None, "L2": "instrument"}


def test_a_line_past_a_flow_pick_up_is_a_feed():
    lines = f"""
  L1: {{from: pump, to: pick-up.in, {SIZE}}}
  L2: {{from: pick-up.out, to: carburettor.1, {SIZE}}}
"""
    assert words(HEAD + lines) == {"L1": "feed", "L2": "feed"}


def test_a_feed_with_a_branch():
    assert words(NO_CAP + FEED_WITH_A_BRANCH) == {"feed 1": None, "feed 2": None, "branch": "instrument"}
    study = Study(loads(NO_CAP + FEED_WITH_A_BRANCH))
    assert (taken_from(study, "branch"), taken_from(study, "feed 1")) == ("tee.3", None)


def test_a_line_from_pump_to_carburettor_is_a_feed():
    text = HEAD.replace("taps:\n", "taps:\n  inlet: {medium: fuel, location: carburettor inlet}\n")
    assert words(text + f"  L1: {{from: pump, to: inlet, {SIZE}}}") == {"L1": "feed"}


@pytest.mark.parametrize("rule", ["restrictor-at-source", "fluid-into-cabin"])
def test_a_feed_is_asked_for_no_restrictor(judged, rule):
    text = (
        NO_CAP.replace(
            "carburettor: {kind: union, ports: ['1'], zone: engine}",
            "carburettor: {kind: union, ports: ['1'], zone: cabin}",
        )
        + FEED_WITH_A_BRANCH
    )
    unknown = {v.at[0]: v for v in judged(text, rule)}
    assert unknown["feed 2"].outcome == "undetermined"
    assert "purpose of the line" in unknown["feed 2"].missing[0]
    said = text.replace("feed 1: {", "feed 1: {purpose: feed, ").replace(
        "feed 2: {", "feed 2: {purpose: feed, "
    )
    assert {v.at[0] for v in judged(said, rule)} == {"branch"}


def test_the_restrictor_of_a_branch_stands_in_the_branch(judged):
    text = NO_CAP + FEED_WITH_A_BRANCH.replace("feed 1: {", "feed 1: {purpose: feed, ")
    [branch] = [v for v in judged(text, "restrictor-at-source") if v.at[0] == "branch"]
    assert branch.outcome == "discrepancy"
    assert "at tee.3 in the line to the instrument alone, and none in what feeds the engine" in branch.remedy


def test_an_accumulator_takes_no_restrictor(judged):
    line = f"  L1: {{from: pump, to: carburettor.1, purpose: accumulator, {SIZE}}}"
    assert judged(HEAD + line, "restrictor-at-source") == []


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        (f"  L1: {{from: pump, to: transducer.P, purpose: feed, {SIZE}}}", "but to transducer"),
        (
            f"  L1: {{from: pump, to: pick-up.in, {SIZE}}}\n"
            f"  L2: {{from: pick-up.out, to: carburettor.1, purpose: gauge line, {SIZE}}}",
            "what the engine uses",
        ),
    ],
)
def test_a_purpose_that_cannot_be(judged, lines, said):
    [verdict] = judged(HEAD + lines, "line-purpose")
    assert verdict.outcome == "discrepancy"
    assert said in verdict.message
    # with two statements of one fact that disagree, no other rule rests on either
    for other in judged(HEAD + lines, "restrictor-at-source"):
        assert other.outcome == "undetermined"


@pytest.mark.parametrize(
    ("flow", "outcome"),
    [
        # 0.040 in at Cd 0.80, 8 psi, 720 kg/m3 less 1.8 % at 20 degC: 0.8 * 8.107e-7 * sqrt(2 * 55158/720) = 8.03e-6 m3/s,
        # 0.482 L/min = 7.6 gph before the line takes its share
        ("10 gph", "discrepancy"),
        ("5 gph", "advisory"),
    ],
)
def test_a_restrictor_in_the_feed(judged, flow, outcome):
    text = f"""
operating_points: {{full power: {{readings: {{fuel flow: {flow}}}}}}}
taps:
  pump: {{medium: fuel, location: pump outlet, pressure: 8 psi}}
  inlet: {{medium: fuel, location: carburettor inlet, pressure: 4 psi}}
fittings: {{hole: {{kind: restrictor, bore: 0.040 in, ports: [in, out], screwed_into: pump}}}}
fluid_lines: {{L1: {{from: hole.out, to: inlet, bore: 0.3 in, length: 12 in}}}}
"""
    [verdict] = judged(text, "feed-open")
    assert verdict.outcome == outcome
    assert judged(text.replace("from: hole.out", "from: pump"), "feed-open")[0].outcome == "meets"
