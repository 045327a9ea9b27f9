import pytest

RUN = """
zones: {{cabin: {{occupied: yes}}}}
senders: {{bulb: {{terminals: [A, B], zone: cabin}}}}
indicators: {{gauge: {{terminals: [A, B], zone: cabin}}}}
wire_runs:
  W1: {{from: bulb.A, to: gauge.A, length: {length}{more}}}
"""


def test_marked_run_meets(judged):
    [verdict] = judged(RUN.format(length="3 ft", more=", marked: yes"), "run-marked")
    assert verdict.outcome == "meets"


def test_marks_too_far_apart(judged):
    [verdict] = judged(RUN.format(length="5 ft", more=", marked: yes, mark_spacing: 20 in"), "run-marked")
    assert verdict.outcome == "discrepancy"
    # 15 in - 20 in
    assert (verdict.value, verdict.limit, verdict.margin, verdict.unit) == (
        pytest.approx(20),
        15,
        pytest.approx(-5),
        "in",
    )
    assert verdict.path == ("wire_runs", "W1", "mark_spacing")


def test_unmarked_run(judged):
    [verdict] = judged(RUN.format(length="5 ft", more=", marked: no"), "run-marked")
    assert verdict.outcome == "discrepancy"


def test_existing_wiring_without_marks_is_told_of(judged):
    [verdict] = judged(RUN.format(length="5 ft", more=", marked: no, status: existing"), "run-marked")
    assert verdict.outcome == "advisory"
    [verdict] = judged(RUN.format(length="5 ft", more=", marked: no, status: new"), "run-marked")
    assert verdict.outcome == "discrepancy"


def test_silence_is_undetermined(judged):
    [verdict] = judged(RUN.format(length="5 ft", more=""), "run-marked")
    assert verdict.outcome == "undetermined"
    assert verdict.missing


def test_short_run_needs_no_mark(judged):
    [verdict] = judged(RUN.format(length="2.5 in", more=""), "run-marked")
    assert verdict.outcome == "meets"


BUNDLED = "bundles: {{harness: {{{said}}}}}\n" + RUN.replace("{{from", "{{bundle: harness, from")


def test_what_a_bundle_says_of_its_marks_counts_for_its_runs(judged):
    [meets] = judged(BUNDLED.format(said="marked: yes", length="5 ft", more=""), "run-marked")
    assert meets.outcome == "meets"
    [wide] = judged(
        BUNDLED.format(said="marked: yes, mark_spacing: 20 in", length="5 ft", more=""), "run-marked"
    )
    assert (wide.outcome, wide.at[0], wide.path[-1]) == ("discrepancy", "W1", "mark_spacing")
    [own] = judged(BUNDLED.format(said="marked: no", length="5 ft", more=", marked: yes"), "run-marked")
    assert own.outcome == "meets"
