import pytest

TEXT = """
installation: {{name: test{date}}}
taps: {{tap: {{medium: oil{tap}}}}}
senders: {{sender: {{principle: switch, terminals: [S], ports: [P]}}}}
fittings: {{tee: {{kind: tee, ports: ['1', '2', '3'], ends: {{'3': 37 degree flare -4}}}}{fittings}}}
fluid_lines:
  L1: {{from: tap, to: tee.1, length: 1 ft{line}}}
  L2: {{from: tee.2, to: sender.P, length: 1 ft, marked: yes}}
{more}
"""


def text(**words: str) -> str:
    return TEXT.format(**{"date": "", "tap": "", "fittings": "", "line": "", "more": "", **words})


def of(verdicts, *at):
    [one] = [v for v in verdicts if v.at[: len(at)] == at]
    return one


def test_marks(judged):
    assert of(judged(text(line=", marked: yes"), "line-marked"), "L1").outcome == "meets"
    verdict = of(judged(text(line=", marked: no"), "line-marked"), "L1")
    assert verdict.outcome == "advisory"
    # 12 in is not more than 24 in: one band; oil is yellow
    assert "one band 1 in wide in yellow" in verdict.remedy
    assert of(judged(text(), "line-marked"), "L1").outcome == "undetermined"


AGE = ", kind: hose, fitted: 2012-04-01"


@pytest.mark.parametrize(
    ("line", "outcome", "limit"),
    [
        (AGE, "advisory", 5),
        (f"{AGE}, life: 10 years", "discrepancy", 10),
        (f"{AGE}, life: 15 years", "meets", 15),
        (", kind: hose, fitted: 2030-01-01", "discrepancy", None),
        (", kind: hose", "undetermined", None),
    ],
)
def test_age(judged, line, outcome, limit):
    [verdict] = judged(text(line=line, date=", date: 2026-05-20"), "hose-age")
    assert verdict.outcome == outcome
    assert verdict.limit == (None if limit is None else pytest.approx(limit, rel=1e-3))
    if limit is not None:
        # 2012-04-01 to 2026-05-20 is 5162 days: 14.13 years
        assert verdict.value == pytest.approx(14.13, abs=0.01)


def test_age_in_a_document_without_a_date(judged):
    [verdict] = judged(text(line=AGE), "hose-age")
    assert verdict.missing == ("date of this revision of the document",)


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
