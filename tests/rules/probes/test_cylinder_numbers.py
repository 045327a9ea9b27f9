from installcheck.analysis.study import Study
from installcheck.analysis.surveys import other_number
from installcheck.document import loads

ENGINE = """
zones: {{engine: {{}}}}
engines: {{engine: {{cylinders: 4, layout: opposed{more}}}}}
probes: {{head: {{kind: bayonet, measures: head temperature, cylinder: 4, zone: engine{seat}}}}}
"""
SEATS = ", seats: {1: right front, 2: left front, 3: right rear, 4: left rear}"
FRONT = ", numbered_from: propeller end"


def test_end_stated(judged):
    [verdict] = judged(ENGINE.format(more=FRONT + SEATS, seat=""), "cylinder-numbering")
    assert verdict.outcome == "meets"


def test_end_not_stated(judged):
    [verdict] = judged(ENGINE.format(more=SEATS, seat=""), "cylinder-numbering")
    assert verdict.outcome == "undetermined"
    assert verdict.missing == ("end at which cylinder number 1 sits",)


def test_seats_against_the_end(judged):
    [verdict] = judged(
        ENGINE.format(more=", numbered_from: accessory end" + SEATS, seat=""), "cylinder-numbering"
    )
    assert verdict.outcome == "discrepancy"
    assert verdict.path == ("engines", "engine", "seats", 1)


def test_seat_of_a_probe(judged):
    said = ENGINE.format(more=FRONT + SEATS, seat=", seat: rear left")
    assert [v.outcome for v in judged(said, "cylinder-numbering")] == ["meets", "meets"]
    _, wrong = judged(ENGINE.format(more=FRONT + SEATS, seat=", seat: left front"), "cylinder-numbering")
    assert wrong.outcome == "discrepancy"
    assert "number 4 of engine engine sits at the left rear; the left front is number 2" in wrong.message
    _, unknown = judged(ENGINE.format(more=FRONT, seat=", seat: left front"), "cylinder-numbering")
    assert unknown.outcome == "undetermined"


def test_survey_without_temperatures(judged):
    [verdict] = judged(ENGINE.format(more=FRONT, seat="") + "survey: {climb: {}}\n", "head-survey")
    assert verdict.outcome == "undetermined"


def test_survey_without_the_count(judged):
    text = ENGINE.format(more=FRONT, seat="").replace("cylinders: 4, ", "")
    [verdict] = judged(
        text + "survey: {s: {stages: {climb: {temperatures: {1: 400 degF}}}}}\n", "head-survey"
    )
    assert verdict.missing == ("number of cylinders of the engine",)


def engine(text):
    return Study(loads(f"installation: {{name: t}}\nengines: {{e: {text}}}\n")).model.engines["e"]


def test_numbers_from_the_other_end():
    # opposed four: 1 right front, 2 left front, 3 right rear, 4 left rear, against 1 right rear, 2 left rear, 3, 4 in front
    four = engine("{cylinders: 4, layout: opposed}")
    assert [other_number(four, n) for n in (1, 2, 3, 4)] == [3, 4, 1, 2]
    six = engine("{cylinders: 6, layout: opposed}")
    assert [other_number(six, n) for n in range(1, 7)] == [5, 6, 3, 4, 1, 2]
    assert other_number(engine("{cylinders: 4, layout: inline}"), 1) == 4
    assert other_number(engine("{cylinders: 9, layout: radial}"), 2) is None
