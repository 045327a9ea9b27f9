TEXT = """
zones: {{cabin: {{occupied: yes}}}}
senders: {{s: {{terminals: [A, B, C, D, E, F]}}}}
indicators: {{g: {{terminals: [A, B, C, D, E, F]}}}}
junctions:
  P: {{kind: plug, terminals: ['1', '2', '3', '4', '5', '6'], mates: R{plug}}}
  R: {{kind: plug, terminals: ['1', '2', '3', '4', '5', '6']{receptacle}}}
wire_runs:
{runs}
"""


def document(here, there, plug="", receptacle=""):
    runs = [f"  A{n}: {{from: s.{t}, to: P.{n}}}" for t, n in zip("ABCDEF", here, strict=False)]
    runs += [f"  B{n}: {{from: R.{n}, to: g.{t}}}" for t, n in zip("ABCDEF", there, strict=False)]
    return TEXT.format(runs="\n".join(runs), plug=plug, receptacle=receptacle)


def test_contacts_that_meet(judged):
    [verdict] = judged(document("1234", "1234"), "plug-cavities")
    assert verdict.outcome == "meets"
    assert "4 wired contacts" in verdict.message


def test_empty_cavity_shifts_those_after_it(judged):
    [verdict] = judged(document("12456", "12345"), "plug-cavities")
    assert (verdict.outcome, verdict.at) == ("discrepancy", ("P", "R"))
    # cavity 3 is empty and 6 left over: either 6 alone is out of place, or 4, 5 and 6 are each one place on
    assert "contact 6 of P and contact 3 of R" in verdict.message
    assert "the 3 contacts from 4 to 6 each belong one place back" in verdict.remedy


def test_one_contact_beside_its_cavity(judged):
    [verdict] = judged(document("124", "123"), "plug-cavities")
    assert verdict.remedy == "move contact 4 of P to cavity 3"


def test_stated_shift_is_told(judged):
    text = document("123", "234", plug=", cavities: {'1': '2', '2': '3', '3': '4'}")
    [verdict] = judged(text, "plug-cavities")
    assert verdict.outcome == "advisory"
    assert "contacts 1 to 3 stand one place on" in verdict.message


def test_functions_disagree(judged):
    text = document(
        "12",
        "12",
        plug=", pins: {'1': {function: oil temperature}, '2': {function: oil pressure}}",
        receptacle=", pins: {'1': {function: oil pressure}, '2': {function: oil temperature}}",
    )
    first, second = judged(text, "plug-cavities")
    assert (first.outcome, second.outcome) == ("discrepancy", "discrepancy")
    assert first.remedy == "move it to the cavity that meets 2"


def test_contact_that_meets_none(judged):
    text = document("12", "1", plug=", cavities: {'2': unknown}")
    [verdict] = judged(text, "plug-cavities")
    assert verdict.outcome == "discrepancy"
