"""A text parsed again where one entry changed says what it says parsed whole, to the last place."""

from collections.abc import Iterator
from pathlib import Path
from random import Random

import pytest

from installcheck.document.parsing import read_source
from installcheck.document.reparsing import parsed_again
from installcheck.document.source import DocPath, DocumentError, Plain, Source

FOLDER = Path(__file__).parents[2] / "demo_aircraft"
DEMOS = sorted(FOLDER.glob("*.yaml"))
TWISTED = """\
# a text of every shape
title: 'it''s one
  of two lines'
words:
  plain: a b
    c  # a comment
  quoted: "x: {y}, \\
    z"
  flow: {
    a: 1,
    b: [2, {c: unknown}],
    d: 3}
  block: |
    one
     two
    # no comment

  folded: >-
    three

    four
  empty:
  list:
  - a: 1
    b: unknown
  - [x, y]
  deep:
    deeper:
      deepest: {k: v}
      other: unknown
    last: 5
  ? strange
  : key
more: {a: 1, b: 2}
"é ü": ü
end: 7"""


def _entries(source: Source) -> Iterator[tuple[DocPath, object]]:
    """All that a source says, each with its path: value, spot, whether it is unknown."""
    left: list[tuple[DocPath, Plain]] = [((), source.plain)]
    while left:
        path, value = left.pop()
        if isinstance(value, (dict, list)):
            spots = source.spots[id(value)]
            for step, inner in value.items() if isinstance(value, dict) else enumerate(value):
                left.append(((*path, step), inner))
                yield (*path, step), (spots[step], (id(value), step) in source.unknowns)
            yield path, (type(value), list(spots))
        else:
            yield path, value


def _assert_alike(one: Source, other: Source) -> None:
    assert list(_entries(one)) == list(_entries(other))
    assert (one.digest, one.raw, one.top, one.name) == (other.digest, other.raw, other.top, other.name)
    assert set(one.spots) == _ids(one.plain).union(*map(_ids, one.merged))
    assert {of for of, _ in one.unknowns} <= set(one.spots)


def _ids(value: object) -> set[int]:
    if not isinstance(value, (dict, list)):
        return set()
    return {id(value)}.union(*map(_ids, value.values() if isinstance(value, dict) else value))


def _changed(text: str, chance: Random) -> str:
    """A text with a few letters taken out and others put in, or two places of it exchanged."""
    start = chance.randrange(len(text))
    end = start + chance.choice((0, 0, 0, 1, 1, 3, 20))
    signs = (
        "",
        "a",
        " ",
        "'",
        '"',
        "{",
        "}",
        ": ",
        "- ",
        "#",
        "|",
        ">",
        "&",
        "*a",
        "unknown",
        "\t",
        ",",
        "!x ",
        "\n",
        "é",
    )
    new = "".join(chance.choice(signs) for _ in range(chance.choice((0, 1, 1, 2))))
    if chance.random() < 0.1:
        new = chance.choice(("\n---\n", "\n...\n", "\n  ", "\n%x\n", "--- ", "\r"))
    return text[:start] + new + text[end:]


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("name", ["twisted", *(file.name for file in DEMOS)])
def test_texts_changed_by_chance_are_parsed_as_whole(name: str, seed: int) -> None:
    good = TWISTED if name == "twisted" else (FOLDER / name).read_text(encoding="utf-8")
    chance = Random(f"{name} {seed}")
    source = read_source(good.encode(), name)
    again_read = refused = 0
    for _ in range(100 if name == "twisted" else 25):
        text = _changed(good, chance)
        again = parsed_again(source, text.encode())
        try:
            whole = read_source(text.encode(), name)
        except DocumentError:
            assert again is None, text
            refused += 1
            continue
        if whole.problems:
            assert again is None, text
            continue
        if again is None:
            continue
        again_read += 1
        _assert_alike(again, whole)
        source, good = again, text
    assert again_read >= 5
    assert name != "twisted" or refused >= 5


@pytest.mark.parametrize(
    ("old", "new", "is_again"),
    [
        ("a b", "a bc", True),
        ("deepest: {k: v}", "deepest: {k: unknown}", True),
        ("last: 5", "last: [5, 6]", True),
        ("end: 7", "end: 77", True),
        ("    two", "    twoo", True),
        ("last: 5", "lost: 5", False),  # another key
        ("last: 5", "last: '5", False),  # a quote that swallows what follows
        ("last: 5", "last: *a", False),  # an alias
        ("last: 5", "last: &a 5", False),  # an anchor
        ("last: 5", "last: 5\n    new: 6", False),  # every place below is another
        ("\nmore:", "\nmuch:", False),
        ("more: {a: 1", "more: {a: 1, a: 1", False),  # a key twice
    ],
)
def test_what_is_parsed_alone(old: str, new: str, is_again: bool) -> None:
    assert TWISTED.count(old) == 1
    text = TWISTED.replace(old, new).encode()
    again = parsed_again(read_source(TWISTED.encode(), "f"), text)
    assert (again is not None) == is_again
    if again is not None:
        _assert_alike(again, read_source(text, "f"))


@pytest.mark.parametrize(
    ("old", "new", "is_again"),
    [("d: 1", "d: 2", True), ("c: *x", "c: 3", False), ("{b: 1}", "{b: 2}", False), ("d: 1", "d: *x", False)],
)
def test_what_stands_at_several_places_is_not_parsed_alone(old: str, new: str, is_again: bool) -> None:
    text = "a: &x {b: 1}\nc: *x\nd: 1\ne: {<<: *x, f: 2}\n"
    changed = text.replace(old, new).encode()
    again = parsed_again(read_source(text.encode(), "f"), changed)
    assert (again is not None) == is_again
    if again is not None:
        _assert_alike(again, read_source(changed, "f"))
