import pytest

TEXT = """
installation: {{name: test}}
taps: {{tap: {{medium: oil{tap}}}}}
senders: {{sender: {{principle: switch, terminals: [S], ports: [P]}}}}
fittings: {{tee: {{kind: tee, ports: ['1', '2', '3'], ends: {{'3': 37 degree flare -4}}}}{fittings}}}
fluid_lines:
  L1: {{from: tap, to: tee.1, length: 1 ft}}
  L2: {{from: tee.2, to: sender.P, length: 1 ft}}
{more}
"""


def text(**words: str) -> str:
    return TEXT.format(**{"tap": "", "fittings": "", "more": "", **words})


def of(verdicts, *at):
    [one] = [v for v in verdicts if v.at[: len(at)] == at]
    return one


RULE = "port-closed"


def test_a_port_of_a_tee_that_is_not_told(judged):
    verdict = of(judged(text(), RULE), "tee", "tee.3")
    assert verdict.outcome == "undetermined"


def test_a_port_with_a_cap(judged):
    cap = ", cap: {kind: cap, ports: ['1'], screwed_into: tee.3}"
    assert of(judged(text(fittings=cap), RULE), "tee").outcome == "meets"


def test_a_port_that_a_removed_line_leaves(judged):
    gone = "  L3: {from: tee.3, to: sender.P, status: removed%s}"
    verdict = of(judged(text(more=gone % ", open_ends: open"), RULE), "tee", "tee.3")
    assert verdict.outcome == "discrepancy"
    assert "cap for a 37 degree flare -4" in verdict.remedy
    assert of(judged(text(more=gone % ", open_ends: capped"), RULE), "tee", "tee.3").outcome == "meets"
    assert of(judged(text(more=gone % ""), RULE), "tee", "tee.3").outcome == "undetermined"


@pytest.mark.parametrize(
    ("left", "outcome"), [(", left: capped", "meets"), (", left: open", "discrepancy"), ("", "undetermined")]
)
def test_what_is_removed(judged, left, outcome):
    more = f"removed: {{old line: {{kind: fluid line, ends: [tee.3]{left}}}}}"
    assert of(judged(text(more=more), RULE), "old line").outcome == outcome


@pytest.mark.parametrize(
    ("tap", "outcome"), [(", capped: yes", "meets"), (", capped: no", "discrepancy"), ("", "undetermined")]
)
def test_a_tap_that_a_removed_line_leaves(judged, tap, outcome):
    body = f"""
taps: {{tap: {{medium: oil{tap}}}}}
senders: {{sender: {{principle: switch, terminals: [S], ports: [P]}}}}
fluid_lines: {{L1: {{from: tap, to: sender.P, status: removed}}}}
"""
    [verdict] = judged(body, RULE)
    assert (verdict.outcome, verdict.path) == (outcome, ("taps", "tap"))


def test_a_wire_taken_out_is_no_port(judged):
    more = "removed: {old wire: {kind: wire, ends: [sender.S], left: tied back}}"
    assert [v for v in judged(text(more=more), RULE) if v.at[0] == "old wire"] == []


def test_an_instrument_taken_out_and_left_open(judged):
    more = "removed: {old gauge: {kind: instrument, left: open}}"
    assert of(judged(text(more=more), RULE), "old gauge").outcome == "discrepancy"


@pytest.mark.parametrize(
    ("given", "outcome"), [(", capped: yes", "meets"), (", capped: no", "discrepancy"), ("", "undetermined")]
)
def test_a_tap_with_nothing_on_it(judged, given, outcome):
    body = text().replace("taps: {tap:", f"taps: {{spare: {{medium: oil{given}}}, tap:")
    assert of(judged(body, RULE), "spare").outcome == outcome


def test_a_tap_that_is_capped_and_in_use(judged):
    verdict = of(judged(text(tap=", capped: yes"), RULE), "tap")
    assert (verdict.outcome, verdict.path) == ("discrepancy", ("taps", "tap", "capped"))
    # 'capped: no' of a port in use says what is so
    assert of(judged(text(tap=", capped: no"), RULE), "tap").outcome == "meets"


def test_ports_of_a_sender_and_a_gauge(judged):
    assert of(judged(text(), RULE), "sender").outcome == "meets"
    body = text(more="indicators: {gauge: {principle: direct pressure, ports: [P]}}")
    assert of(judged(body, RULE), "gauge", "gauge.P").missing == ("line that joins the gauge's port",)
    joined = body.replace("tee.3", "tee.2").replace(
        "fluid_lines:", "fluid_lines:\n  L3: {from: tee.3, to: gauge.P}"
    )
    assert of(judged(joined, RULE), "gauge").outcome == "meets"


def test_a_union_with_one_line(judged):
    body = text(fittings=", union: {kind: union, ports: ['1', '2']}").replace(
        "fluid_lines:", "fluid_lines:\n  L3: {from: tee.3, to: union.1}"
    )
    assert of(judged(body, RULE), "union", "union.2").outcome == "undetermined"


@pytest.mark.parametrize(
    ("given", "outcome"),
    [(", open_ends: capped", "meets"), (", open_ends: open", "discrepancy"), ("", "undetermined")],
)
def test_a_line_that_stays_and_leads_to_a_removed_sender(judged, given, outcome):
    body = (
        text()
        .replace("ports: [P]}", "ports: [P], status: removed}")
        .replace("to: sender.P, length: 1 ft", f"to: sender.P, length: 1 ft{given}")
    )
    assert of(judged(body, RULE), "L2", "sender").outcome == outcome
