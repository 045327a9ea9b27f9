"""A document judged again after an edit has the verdicts it has when judged from nothing."""

from __future__ import annotations

from pathlib import Path

import pytest
from harm import right
from installations import read
from random_edits import RandomEdits

from installcheck.analysis.study import Study
from installcheck.document import load, loads
from installcheck.document.edited import edited
from installcheck.model.edits import Drop, Edit, Put, Swap
from installcheck.rules.engine import all_rules, asked_of, judge
from installcheck.rules.rejudging import Judged

DEMOS = [
    p
    for p in sorted((Path(__file__).parents[2] / "demo_aircraft").glob("*.yaml"))
    if p.stem not in ("airframe", "unchanged")
]


def told(ledger):
    """Everything a ledger says, figures to the last bit."""
    return [repr(v) for v in ledger.verdicts], ledger.coverage


def follow(path: Path, edits: int, seed: int) -> None:
    """Try edits on a document one after another, some within another, keep every third, and compare each time."""
    judged = Judged(load(path))
    stands = told(judged.judge())
    chance = RandomEdits(seed)
    for number in range(edits):
        edit, document = chance.of(judged.document)
        anew = told(judge(Study(document)))
        with judged.trying(document):
            assert told(judged.judge()) == anew, edit
        if number % 4 != 2:  # else it goes over to what it has just tried
            assert told(judged.judge()) == stands, f"not left as it was by {edit}"
        if number % 4 in (0, 2):
            judged.go(document)
            assert told(judged.judge()) == anew, edit
            further, beyond = chance.of(document)
            with judged.trying(beyond):
                assert told(judged.judge()) == told(judge(Study(beyond))), (edit, further)
            assert told(judged.judge()) == anew, f"not left as it was by {further} after {edit}"
            judged.back()
            assert told(judged.judge()) == stands, f"not left as it was by {edit}"
        if number % 3 == 0:
            judged.move(document)
            stands = told(judged.judge())
            assert stands == anew, edit


@pytest.mark.parametrize("path", DEMOS, ids=lambda p: p.stem)
def test_random_edits_of_the_demos_are_judged_as_from_nothing(path):
    follow(path, 10, seed=20)


@pytest.mark.long
@pytest.mark.parametrize("path", DEMOS, ids=lambda p: p.stem)
def test_a_thousand_random_edits_are_judged_as_from_nothing(path):
    follow(path, 1000 // len(DEMOS) + 1, seed=1)


DOCUMENT = """\
installation: {name: lamp}
aircraft: {system_voltage: 14 V}
zones: {cabin: {occupied: yes, temperature: {lowest: 0 degF, highest: 110 degF}}}
grounds: {frame: {kind: structure, zone: cabin}}
supplies:
  battery: {kind: battery, voltage: 12 V, inner_resistance: 0.01 ohm, zone: cabin}
  breaker: {kind: breaker, rating: 5 A, zone: cabin}
loads:
  lamp: {current: 1 A, zone: cabin}
wire_runs:
  W1: {part: AS22759/16, gauge: 20 AWG, from: battery.+, to: breaker.in, length: 1 ft}
  W2: {part: AS22759/16, gauge: 20 AWG, from: breaker.out, to: lamp.+, length: 10 ft}
  W3: {part: AS22759/16, gauge: 20 AWG, from: lamp.-, to: frame, length: 10 ft}
  W4: {part: AS22759/16, gauge: 20 AWG, from: battery.-, to: frame, length: 1 ft}
"""


def edit(*changes) -> Edit:
    return Edit(changes, "try it")


@pytest.mark.parametrize(
    "changes",
    [
        (Put(("wire_runs", "W2", "gauge"), "14 AWG"),),
        (Put(("wire_runs", "W2", "length"), "3.1 m"),),
        (Drop(("wire_runs", "W2")), Drop(("wire_runs", "W3")), Drop(("loads", "lamp"))),
        (Swap(("wire_runs", "W1", "to"), ("wire_runs", "W2", "to")),),
        (Put(("zones", "cabin", "temperature", "highest"), "160 degF"),),
        (Put(("loads", "lamp 2"), {"current": "2 A"}),),
        (Put(("wire_runs", "W2", "status"), "removed"),),
        (Put(("supplies", "battery", "voltage"), "unknown"),),
        (Put(("aircraft", "system_voltage"), "28 V"),),
    ],
    ids=lambda changes: str(changes[0].path),
)
def test_one_edit_is_judged_as_from_nothing(changes):
    judged = Judged(loads(DOCUMENT))
    before = told(judged.judge())
    document = edited(judged.document, edit(*changes))
    anew = told(judge(Study(document)))
    assert anew != before
    with judged.trying(document):
        assert told(judged.judge()) == anew
    assert told(judged.judge()) == before
    judged.move(document)
    assert told(judged.judge()) == anew


def test_a_length_in_another_unit_is_another_text():
    judged = Judged(loads(DOCUMENT))
    judged.judge()
    judged.move(edited(judged.document, edit(Put(("wire_runs", "W2", "length"), "120 in"))))
    assert told(judged.judge()) == told(judge(Study(judged.document)))


def test_some_rules_can_be_asked_first_and_all_afterwards():
    judged = Judged(loads(DOCUMENT))
    judged.judge()
    document = edited(judged.document, edit(Put(("wire_runs", "W2", "gauge"), "10 AWG")))
    with judged.trying(document):
        some = judged.judge(["voltage-drop", "wire-protected"])
        assert told(some)[0] == told(judge(Study(document), ["voltage-drop", "wire-protected"]))[0]
        assert told(judged.judge()) == told(judge(Study(document)))


@pytest.mark.parametrize("stem", ["retrofit", "poor_ground"])
def test_a_document_of_which_little_was_asked_on_the_way_is_judged_as_from_nothing(stem):
    """It goes away, with one rule asked there, and comes back: what was worked out before stands for the things as they were."""
    first = load(next(p for p in DEMOS if p.stem == stem))
    anew, judged, chance = told(judge(Study(first))), Judged(first), RandomEdits(5)
    judged.judge()
    rules = sorted(all_rules())
    for number in range(40):
        _, document = chance.of(first)
        judged.move(document)
        judged.judge([rules[7 * number % len(rules)]])
        judged.move(first)
        if number % 2:
            judged.judge(["voltage-drop"])
        else:
            assert told(judged.judge()) == anew


def test_wires_led_elsewhere_and_back_are_the_same_wires():
    """A way from source to bus, and the circuit it lies in, are told of the same conductors after the wires are back."""
    first = read(right("finch"))
    judged = Judged(first)
    judged.judge()
    crossed = Edit((Swap(("wire_runs", "A2", "to"), ("wire_runs", "S3", "from")),), "")
    judged.move(edited(first, crossed))
    judged.judge(["voltage-drop"])
    judged.move(first)
    assert told(judged.judge()) == told(judge(Study(first)))


def test_a_glance_tells_of_an_item_what_its_rule_tells():
    judged = Judged(load(next(p for p in DEMOS if p.stem == "retrofit")))
    asked = [(v.rule, v.at[0]) for v in judged.judge().verdicts if v.at and v.rule in all_rules()]
    narrow = [one for one in dict.fromkeys(asked) if all_rules()[one[0]].narrows]
    some = [*narrow, *[one for one in dict.fromkeys(asked) if one not in narrow][::9]]
    assert len(narrow) > 10
    assert len(some) > 2 * len(narrow)
    for changes in (Put(("wire_runs", "E3", "gauge"), "10 AWG"), Drop(("wire_runs", "E3"))):
        document = edited(judged.document, edit(changes))
        anew = Study(document)
        answers = {rule: asked_of(all_rules()[rule], anew).verdicts for rule, _ in some}
        with judged.trying(document):
            for rule, ident in some:
                glanced = [repr(v) for v in judged.glance(rule, ident) if v.at[:1] == (ident,)]
                assert glanced == [repr(v) for v in answers[rule] if v.at[:1] == (ident,)], (rule, ident)


def test_a_document_in_doubt_is_judged_before_another_is_tried():
    judged = Judged(loads(DOCUMENT))
    judged.judge()
    judged.move(edited(judged.document, edit(Drop(("loads", "lamp", "current")))))
    with pytest.raises(RuntimeError, match="judge the document"), judged.trying(loads(DOCUMENT)):
        pass


def test_only_what_read_the_edited_word_is_asked_again(monkeypatch):
    from installcheck.rules import rejudging

    judged = Judged(loads(DOCUMENT))
    judged.judge()
    asked = []
    ask = rejudging.told_of

    def noted(one, study, subject, item):
        asked.append((one.id, subject.ident))
        return ask(one, study, subject, item)

    monkeypatch.setattr(rejudging, "told_of", noted)
    judged.move(edited(judged.document, edit(Put(("loads", "lamp", "notes"), ["seen"]))))
    judged.judge()
    assert asked == []
    judged.move(edited(judged.document, edit(Put(("wire_runs", "W3", "marked"), "yes"))))
    judged.judge()
    assert asked == [("run-marked", "W3")]


def test_a_document_that_disputes_itself_is_followed():
    text = DOCUMENT.replace(
        "length: 10 ft}\n  W3", "length: 10 ft, route: [{zone: cabin, length: 2 ft}]}\n  W3"
    )
    judged = Judged(loads(text))
    first = judged.judge()
    assert any("two statements disagree" in v.message for v in first.verdicts)
    for changes in (
        Put(("wire_runs", "W3", "gauge"), "12 AWG"),
        Put(("wire_runs", "W2", "length"), "2 ft"),
        Put(("wire_runs", "W2", "length"), "5 ft"),
    ):
        document = edited(judged.document, edit(changes))
        judged.move(document)
        assert told(judged.judge()) == told(judge(Study(document)))


def test_a_document_read_anew_is_followed_too(tmp_path):
    file = tmp_path / "lamp.yaml"
    file.write_text(DOCUMENT)
    judged = Judged(load(file))
    judged.judge()
    file.write_text(DOCUMENT.replace("length: 10 ft}\n  W4", "length: 30 ft}\n  W4"))
    judged.move(load(file))
    assert told(judged.judge()) == told(judge(Study(load(file))))
