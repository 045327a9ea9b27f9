"""What to say next: each answer with all it settles, the one that settles most for each fact first."""

from __future__ import annotations

import pytest
from harm import applied, right
from installations import demo, read

from installcheck import check
from installcheck.analysis.study import Study
from installcheck.document import loads
from installcheck.document.edited import edited
from installcheck.model.edits import Drop, Edit, Put
from installcheck.rules.asking import Ask, Fact, asks
from installcheck.rules.rejudging import Judged
from installcheck.rules.verdicts import Ledger, Outcome, Verdict

EMPTY = "installation: {name: test}\n"


def asked(*missing: tuple[str, ...]) -> list[Ask]:
    """What is asked where some verdicts each lack some facts."""
    verdicts = [
        Verdict(Outcome.UNDETERMINED, (f"W{n}",), ("wire_runs", f"W{n}"), "", rule="r", missing=facts)
        for n, facts in enumerate(missing)
    ]
    return asks(Ledger(Study(loads(EMPTY)), verdicts))


def words(one: Ask) -> list[str]:
    return [fact.words for fact in one.facts]


def test_what_settles_most_stands_first() -> None:
    found = asked(("gauge",), ("route",), ("route",))
    assert [(words(one), len(one.settles)) for one in found] == [(["route"], 2), (["gauge"], 1)]


def test_a_fact_that_matters_only_with_another_is_not_asked_before_it() -> None:
    # Two wait for 'slack', each for the route as well: by itself it settles nothing. 'route' settles 1, both 3: 1.5 for each.
    found = asked(("route", "slack"), ("route", "slack"), ("route",), ("gauge",), ("gauge",))
    assert [words(one) for one in found] == [["gauge"], ["route", "slack"]]
    assert [len(one.settles) for one in found] == [2, 3]


def test_what_waits_for_something_else_as_well_is_counted() -> None:
    # 'route' settles 3 by itself, and has a part in one that waits for the slack too; with it 4 for two facts, 2 for each.
    found = asked(("route", "slack"), ("route",), ("route",), ("route",))
    assert [(words(one), len(one.settles), one.waits) for one in found] == [
        (["route"], 3, 1),
        (["slack"], 1, 0),
    ]


def test_two_facts_that_settle_nothing_apart_are_asked_together() -> None:
    found = asked(("a", "b"), ("a", "b"))
    assert [words(one) for one in found] == [["a", "b"]]


def test_every_verdict_that_cannot_be_judged_stands_in_one_answer() -> None:
    text = (
        EMPTY
        + "zones: {bay: {}}\nwire_runs: {W1: {from: a.A, to: b.A, route: [{zone: bay, length: 4 ft}]}}\n"
    )
    text += "senders: {a: {terminals: [A], zone: bay}}\nindicators: {b: {terminals: [A], zone: bay}}\n"
    ledger = check(loads(text))
    told = [id(v) for one in asks(ledger) for v in one.settles]
    wanted = [id(v) for v in ledger.verdicts if v.outcome is Outcome.UNDETERMINED and not v.failed]
    assert sorted(told) == sorted(wanted)
    assert len(told) > 3


RUNS = ", ".join(
    f"W{n}: {{from: a.{n}, to: b.{n}, bundle: harness, route: [{{zone: bay, length: 4 ft}}]}}" for n in (1, 2)
)
TWO = (
    EMPTY
    + f"zones: {{bay: {{}}, hold: {{}}}}\nbundles: {{harness: {{}}}}\nwire_runs: {{{RUNS}}}\n"
    + "senders: {a: {terminals: ['1', '2'], zone: bay}}\nindicators: {b: {terminals: ['1', '2'], zone: hold}}\n"
)


def fact(beginning: str) -> Fact:
    found = [f for one in asks(check(loads(TWO))) for f in one.facts if f.words.startswith(beginning)]
    return found[0]


def test_what_a_zone_does_not_say_is_asked_of_the_zone_the_wires_run_through() -> None:
    found = fact("temperature of the zone")
    assert (found.section, found.items) == ("zones", ("bay",))


def test_what_a_bundle_says_for_its_runs_is_asked_of_the_bundle() -> None:
    found = fact("smallest bend radius of the run or its bundle")
    assert (found.section, found.items) == ("bundles", ("harness",))


def test_what_each_run_says_is_asked_of_the_runs() -> None:
    found = fact("gauge of the run")
    assert (found.section, found.items) == ("wire_runs", ("W1", "W2"))


def test_what_is_not_said_of_the_aircraft_is_asked_of_it_while_a_document_is_edited():
    document = read(demo("retrofit_corrected"))
    judged = Judged(document)
    judged.judge()
    with judged.trying(edited(document, Edit((Drop(("aircraft", "basis")),), "leave out the basis"))):
        facts = [fact for ask in asks(judged.judge()) for fact in ask.facts]
    assert [(fact.section, fact.items) for fact in facts] == [("aircraft", ("aircraft",))]


@pytest.mark.parametrize(
    ("name", "path", "words"),
    [
        ("retrofit_corrected", ("supplies", "gauges breaker", "inner_resistance"), "through the contacts"),
        ("wren", ("supplies", "sense fuse A", "inner_resistance"), "through the contacts"),
        ("twin", ("supplies", "inverter", "frequency"), "frequency of the source of excitation"),
        ("retrofit_corrected", ("grounds", "firewall stud", "resistance"), "ground strap or joint"),
        ("retrofit_corrected", ("wire_runs", "P11", "gauge"), "gauge of the run"),
        ("retrofit_corrected", ("engines", "engine", "tachometer_drive"), "drive ratio of the tachometer"),
    ],
)
def test_an_unknown_word_is_asked_of_its_own_thing_in_words_that_fit_it(name, path, words):
    found = check(read(applied(right(name), Edit((Put(path, "unknown"),), "unsay it"))))
    facts = [fact for ask in asks(found) for fact in ask.facts if words in fact.words]
    assert facts
    assert all(fact.items == (path[1],) or "drive ratio" in words for fact in facts)
