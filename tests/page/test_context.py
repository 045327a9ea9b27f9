"""Where in a document a place of its text is; the bar marks the place."""

import pytest

from installcheck.page.context import context_at

CASES = [
    ("wire_runs:\n  W1:\n    fr|", ("wire_runs", "W1"), False, "fr"),
    ("wire_runs:\n  W1:\n    from: a.b\n    |", ("wire_runs", "W1"), False, ""),
    ("wire_runs:\n  W1: {from: a.b, ga|", ("wire_runs", "W1"), False, "ga"),
    ("wire_runs:\n  W1: {from: a.b, gauge: 2|, to: x}", ("wire_runs", "W1", "gauge"), True, "2"),
    ("wire_runs:\n  W1: {from: a.b,\n    to: |", ("wire_runs", "W1", "to"), True, ""),
    (
        "wire_runs:\n  W1:\n    route:\n      - {zone: eng|",
        ("wire_runs", "W1", "route", 0, "zone"),
        True,
        "eng",
    ),
    (
        "wire_runs:\n  W1:\n    route:\n      - zone: a\n        le|",
        ("wire_runs", "W1", "route", 0),
        False,
        "le",
    ),
    (
        "wire_runs:\n  W1:\n    route:\n      - zone: a\n      - zone: b|",
        ("wire_runs", "W1", "route", 1, "zone"),
        True,
        "b",
    ),
    ("wire_runs:\n  W1:\n    ends: [{stud: 6, ho|", ("wire_runs", "W1", "ends", 0), False, "ho"),
    ("wire_runs:\n  W1:\n    ends: [{stud: 6}, {stud: |", ("wire_runs", "W1", "ends", 1, "stud"), True, ""),
    ("wire_runs:\n  W1:\n    from: x\n  W2|", ("wire_runs",), False, "W2"),
    (
        "zones:\n  cabin: {temperature: {lowest: 1 degC, highest: 2|",
        ("zones", "cabin", "temperature", "highest"),
        True,
        "2",
    ),
    ("zones:\n  'a b': {oc|", ("zones", "a b"), False, "oc"),
    ("wi|", (), False, "wi"),
    ("a:\n  b: c\n|", (), False, ""),
    ("|", (), False, ""),
    ('a:\n  b: {c: "x, y: z", d|', ("a", "b"), False, "d"),
    ("a:\n  b: {c: d} # {e\n  f|", ("a",), False, "f"),
]


@pytest.mark.parametrize(("text", "path", "of_value", "written"), CASES)
def test_the_path_and_what_is_written_of_it(
    text: str, path: tuple[str | int, ...], of_value: bool, written: str
) -> None:
    offset = text.index("|")
    found = context_at(text.replace("|", ""), offset)
    assert (found.path, found.of_value, found.written) == (path, of_value, written)
    assert found.start == offset - len(written)


def test_words_that_are_there_already_are_known() -> None:
    text = "wire_runs:\n  W1: {from: a.b, to: c.d, "
    assert context_at(text, len(text)).beside == {"from", "to"}


def test_any_offset_of_any_broken_text_has_a_context() -> None:
    text = "a: {b: [c, {d: 'e\nf: \"g}]\n  - h:\n - {i]: }\n\t? j\n: k\n- - - l: m"
    for offset in range(-1, len(text) + 2):
        assert 0 <= context_at(text, offset).start <= len(text)
