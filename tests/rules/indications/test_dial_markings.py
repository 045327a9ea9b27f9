import pytest

DOCUMENT = """
aircraft: {{basis: {basis}, operation: [VFR day]}}
zones: {{cabin: {{}}}}
engines: {{e: {{cooling: air, cowl_flaps: no, cooled_above_climb_speed: no, pressure_oil: yes, limits: {{oil pressure: {{minimum: 25 psi, maximum: 100 psi, normal_low: 60 psi, normal_high: 90 psi{limits}}}}}}}}}
indicators: {{gauge: {{principle: direct pressure, measures: oil pressure, ports: [P], scale: {{lowest: 0 psi, highest: 120 psi, division: 5 psi}}{marks}{more}, zone: cabin}}}}
"""
GOOD = [
    "{colour: red, at: 25 psi}",
    "{colour: green, lowest: 60 psi, highest: 90 psi}",
    "{colour: red, at: 100 psi}",
]


@pytest.fixture
def marked(judged):
    def run(marks, *, more="", limits="", basis="CAR 3"):
        told = "" if marks is None else f", markings: [{', '.join(marks)}]"
        text = DOCUMENT.format(marks=told, more=more, limits=limits, basis=basis)
        return judged(text, "dial-markings")

    return run


def faults(verdicts):
    return [v for v in verdicts if v.outcome != "meets"]


def test_marks_as_the_papers_say(marked):
    verdicts = marked(GOOD)
    assert [v.outcome for v in verdicts] == ["meets"] * 3
    # half a division of 5 psi
    assert verdicts[0].margin == pytest.approx(2.5)


def test_red_line_off_by_more_than_half_a_division(marked):
    [verdict] = faults(marked([*GOOD[:2], "{colour: red, at: 105 psi}"]))
    assert verdict.outcome == "discrepancy"
    # 100 psi and half a division of 5
    assert (verdict.value, verdict.limit, verdict.margin) == tuple(
        pytest.approx(x) for x in (105, 102.5, -2.5)
    )
    assert "5 psi too high" in verdict.message
    assert verdict.remedy == "move the red line to 100 psi"
    assert verdict.path == ("indicators", "gauge", "markings", 2)


def test_within_half_a_division(marked):
    assert faults(marked([*GOOD[:2], "{colour: red, at: 102 psi}"])) == []


def test_lower_red_line_missing(marked):
    [verdict] = faults(marked(GOOD[1:]))
    assert "no red line at its lower limit of 25 psi" in verdict.message


def test_red_arc_counts_from_its_start(marked):
    assert faults(marked([*GOOD[:2], "{colour: red, lowest: 100 psi, highest: 120 psi}"])) == []


def test_green_arc_beyond_the_limit(marked):
    [verdict] = faults(marked([GOOD[0], "{colour: green, lowest: 60 psi, highest: 110 psi}", GOOD[2]]))
    assert verdict.outcome == "discrepancy"
    # 110 - 100; 2.5 - (110 - 90)
    assert "10 psi beyond the limit" in verdict.message
    assert verdict.margin == pytest.approx(-17.5)


def test_no_marks_at_all(marked):
    assert [v.outcome for v in marked([])] == ["discrepancy"] * 3
    [verdict] = marked(None)
    assert verdict.outcome == "undetermined"


def test_mark_off_the_scale(marked):
    [verdict] = faults(marked([*GOOD, "{colour: white, at: 130 psi}"]))
    assert "not on its scale" in verdict.message


def test_caution_range(marked):
    limits = ", caution_low: 90 psi, caution_high: 100 psi"
    [verdict] = faults(marked(GOOD, limits=limits))
    assert "no yellow arc for 90 psi to 100 psi" in verdict.message
    assert faults(marked([*GOOD, "{colour: yellow, lowest: 90 psi, highest: 100 psi}"], limits=limits)) == []


def test_an_extra_is_only_advised(marked):
    [verdict] = faults(marked(GOOD[1:], more=", required: no"))
    assert verdict.outcome == "advisory"
    assert marked(None, more=", required: no") == []


def test_amateur_built_is_recommended(marked):
    [verdict] = faults(marked(GOOD[1:], basis="amateur-built"))
    assert verdict.outcome == "advisory"
    assert "recommendation" in verdict.message


def test_normal_range_not_said(judged):
    text = DOCUMENT.format(marks=f", markings: [{GOOD[0]}, {GOOD[2]}]", more="", limits="", basis="CAR 3")
    text = text.replace(", normal_low: 60 psi, normal_high: 90 psi", "")
    [verdict] = faults(judged(text, "dial-markings"))
    assert verdict.missing == ("normal range of the indication",)


@pytest.mark.parametrize(
    ("basis", "outcome"), [("CAR 3", "discrepancy"), ("part 27", "advisory"), ("part 29", "meets")]
)
def test_a_rotorcraft_may_leave_its_normal_range_without_a_mark(marked, basis, outcome):
    # 27.1549(b) from amendment 27-51 on; part 29
    found = [v for v in marked([GOOD[0], GOOD[2]], basis=basis) if "60" in v.message]
    assert [v.outcome for v in found] == [outcome]
