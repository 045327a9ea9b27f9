"""How things and their terminals are found, and that the model can be told in words."""

import types
from typing import Annotated, Literal, Union, get_args, get_origin

import pytest
from pydantic import BaseModel

from installcheck.document import Installation, loads
from installcheck.document.sections import ITEM_WORDS, SPEC_WORDS
from installcheck.document.wording import a, nearest, unknown_word
from installcheck.model.installation import SPECS, inputs_of, split_end, switched, terminals_of

HEAD = "installation: {name: test}\n"


def model(text: str) -> Installation:
    return loads(HEAD + text).installation


@pytest.mark.parametrize(
    ("end", "split"),
    [("oil bulb.A", ("oil bulb", "A")), ("frame", ("frame", "")), ("sel.1 +", ("sel", "1 +"))],
)
def test_ends(end, split):
    assert split_end(end) == split


@pytest.mark.parametrize(
    ("text", "terminals"),
    [
        ("senders: {x: {}}", None),
        ("senders: {x: {terminals: [A, B]}}", ("A", "B")),
        ("senders: {x: {terminals: [S], case_return: yes}}", ("S", "case")),
        ("senders: {x: {terminals: [S, case], case_return: yes}}", ("S", "case")),
        ("senders: {x: {terminals: [S], ports: [P]}}", ("S", "P")),
        ("senders: {x: {principle: synchro transmitter}}", ("S1", "S2", "S3", "R1", "R2")),
        ("senders: {x: {principle: tachometer generator}}", ("1", "2", "3")),
        ("probes: {x: {}}", ("+", "-")),
        ("loads: {x: {}}", ("+", "-")),
        ("loads: {x: {grounding: {to: x.-}}}", ("+", "-", "case")),
        ("supplies: {x: {kind: bus}}", None),
        ("supplies: {x: {kind: contactor}}", ("in", "out", "coil +", "coil -")),
        ("supplies: {x: {kind: breaker, terminals: [line, load]}}", ("line", "load")),
        ("junctions: {x: {kind: plug, pins: {A: {}, B: {}}, terminals: [B, C]}}", ("B", "C", "A")),
        ("junctions: {x: {kind: shunt}}", ("in", "out", "sense +", "sense -")),
        ("grounds: {x: {kind: structure}}", None),
        ("taps: {x: {medium: oil}}", None),
        ("fittings: {x: {kind: tee}}", None),
        ("fittings: {x: {kind: cock}}", ("in", "out")),
        (
            "indicators: {x: {supply_terminals: [P, G], inputs: {a: {terminals: [1, 2]}, b: {terminals: [2, 3], ports: [Q]}}}}",
            ("1", "2", "3", "Q", "P", "G"),
        ),
    ],
)
def test_terminals(text, terminals):
    section, thing = model(text).find("x")
    assert terminals_of(section, thing) == terminals


def test_nothing_is_found_under_a_name_nobody_has():
    assert model("zones: {x: {}}").find("x") is None


def test_inputs_take_what_they_leave_out_from_the_indicator():
    indicator = model(
        "indicators: {m: {principle: electronic thermocouple, thermocouple: K, budget: 5 degF, terminals: [T],"
        " inputs: {one: {terminals: [A, B]}, two: {thermocouple: J, budget: 9 degF}}}}"
    ).indicators["m"]
    found = dict(inputs_of(indicator))
    assert [(n, i.principle, i.thermocouple, i.budget.text, i.terminals) for n, i in found.items()] == [
        ("one", "electronic thermocouple", "K", "5 degF", ["A", "B"]),
        ("two", "electronic thermocouple", "J", "9 degF", None),
    ]


def test_an_indicator_of_one_input():
    indicator = model("indicators: {g: {principle: ratio meter, terminals: [A, B]}}").indicators["g"]
    [(name, spec)] = inputs_of(indicator)
    assert (name, spec.principle, spec.terminals) == ("", "ratio meter", ["A", "B"])


@pytest.mark.parametrize(
    ("terminals", "joined"),
    [
        (["common", "1", "2"], [("1", "common", "1"), ("2", "common", "2")]),
        (["common +", "common -", "1 +", "1 -"], [("1", "common +", "1 +"), ("1", "common -", "1 -")]),
        (["common +", "left tank +", "spare"], [("left tank", "common +", "left tank +")]),
        (["1", "2"], []),
        ([], []),
    ],
)
def test_what_a_selector_can_join(terminals, joined):
    assert list(switched(terminals, "common")) == joined


def test_the_engine_a_thing_serves():
    two = model("engines: {left: {}, right: {}}\nsenders: {a: {engine: right}, b: {}}")
    assert two.engine_of(two.senders["a"])[0] == "right"
    assert two.engine_of(two.senders["b"]) is None
    one = model("engines: {only: {}}\nsenders: {b: {}}")
    assert one.engine_of(one.senders["b"])[0] == "only"


def models() -> set[type[BaseModel]]:
    seen: set[type[BaseModel]] = set()
    waiting: list[object] = [Installation, *SPECS.values()]
    while waiting:
        kind = waiting.pop()
        if isinstance(kind, type) and issubclass(kind, BaseModel):
            if kind not in seen:
                seen.add(kind)
                waiting += [f.annotation for f in kind.model_fields.values()]
        else:
            waiting += get_args(kind)
    return seen


def test_no_field_is_one_model_or_another():
    """Errors of a union name its branches among the words of the document; a field of two kinds reads both itself."""
    for kind in models():
        for name, field in kind.model_fields.items():
            if field.metadata:
                continue
            here = [field.annotation]
            while here:
                one = here.pop()
                if get_origin(one) in (Annotated, Literal):
                    continue
                if get_origin(one) in (Union, types.UnionType):
                    assert len(set(get_args(one)) - {type(None)}) == 1, f"{kind.__name__}.{name}"
                here += get_args(one)


def test_every_field_is_described():
    for kind in models() - {Installation}:
        for name, field in kind.model_fields.items():
            assert field.description or name == "spec", f"{kind.__name__}.{name}"


@pytest.mark.parametrize("section", SPECS)
def test_a_word_is_of_the_thing_or_of_its_part(section):
    both = set(ITEM_WORDS[section]) & set(SPEC_WORDS[section])
    # written where the thing is, these are of the thing: its supports as fitted, not the most its part allows
    assert both <= {"title", "size", "support_spacing"}


def test_articles():
    assert [a("indicator"), a("zone"), a("engine")] == ["an indicator", "a zone", "an engine"]


@pytest.mark.parametrize(
    ("word", "meant"),
    [
        ("terminal", "terminals"),
        ("TERMINALS", "terminals"),
        ("term", "terminals"),
        ("gage", "gauge"),
        ("colour", None),
        ("g", None),
        ("x" * 1000, None),
    ],
)
def test_what_was_meant(word, meant):
    assert nearest(word, ["terminals", "gauge", "from", "to"]) == meant


def test_a_dozen_words_are_listed_at_most():
    words = [f"word {n}" for n in range(40)]
    message = unknown_word("zzz", words, "zone")
    assert message.startswith("'zzz' is not a zone; known are ")
    assert message.count(",") == 11
    assert message.endswith(" and 28 more")
    assert unknown_word("zzz", words[:3], "end") == "'zzz' is not an end; known are word 0, word 1, word 2"
    assert unknown_word("zzz", words, "zone", hint=False) == "'zzz' is not a zone"
