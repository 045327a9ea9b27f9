"""Numbers of findings: the things to put right first, then what is left, equal verdicts under one number."""

from demo_causes import causes_of

from installcheck import check
from installcheck.document import loads
from installcheck.outputs.diagram.sheets import sheets
from installcheck.outputs.numbering import findings
from installcheck.rules.verdicts import Outcome

WIRES = """
installation: {name: trainer}
zones: {cabin: {}}
grounds: {stud: {kind: stud, zone: cabin}}
supplies: {bus: {kind: bus, zone: cabin, voltage: 14 V}}
wire_runs:
"""


def of_wires(count):
    runs = "".join(
        f"  W{n}: {{from: bus, to: stud, gauge: 22 AWG, length: 1 ft, marked: no}}\n"
        for n in range(1, count + 1)
    )
    return loads(WIRES + runs)


def test_twenty_equal_verdicts_are_one_finding_with_one_note():
    document = of_wires(20)
    ledger = check(document, ["run-marked"])
    (one,) = [f for f in findings(ledger) if f.outcome is not Outcome.MEETS]
    assert len(one.verdicts) == 20
    assert "W1 to W20" in one.text
    marks = [m for sheet in sheets(document, ledger) for m in sheet.marks]
    assert {m.target for m in marks} == {f"W{n}" for n in range(1, 21)}
    assert {(m.number, m.text) for m in marks} == {(1, one.text)}


def test_many_names_that_do_not_draw_together_are_counted():
    runs = "".join(
        f"  lead {n} of the left harness: {{from: bus, to: stud, gauge: 22 AWG, length: 1 ft, marked: no}}\n"
        for n in range(1, 40, 3)
    )
    (one,) = findings(check(loads(WIRES + runs), ["run-marked"]))
    named = ", ".join(f"lead {n} of the left harness" for n in (1, 4, 7))
    assert one.text == f"run {named} and 10 more carries no mark"


def test_what_is_not_equal_keeps_a_number_of_its_own():
    text = WIRES + (
        "  W1: {from: bus, to: stud, part: AS22759/16, gauge: 24 AWG, length: 1 ft, marked: no}\n"
        "  W2: {from: bus, to: stud, part: AS22759/16, gauge: 22 AWG, length: 1 ft, marked: no}\n"
    )
    found = findings(check(loads(text), ["wire-gauge", "run-marked"]))
    told = sorted([f.verdicts[0].rule, *(v.at[0] for v in f.verdicts)] for f in found)
    # both are without a mark; 24 AWG is thinner than the 22 AWG of AC 43.13-1B 11-66, which a zone that vibrates may still not bear
    assert told == [["run-marked", "W1", "W2"], ["wire-gauge", "W1"], ["wire-gauge", "W2"]]


def test_every_verdict_that_asks_for_something_has_a_number_and_causes_come_first():
    causes = causes_of("retrofit")
    ledger = causes.ledger
    found = findings(ledger, causes)
    assert [f.number for f in found] == list(range(1, len(found) + 1))
    assert [f.verdicts for f in found[: len(causes.causes)]] == [c.verdicts for c in causes.causes]
    asking = {id(v) for v in ledger.verdicts if v.outcome is not Outcome.MEETS}
    assert {id(v) for f in found for v in f.verdicts} == asking
