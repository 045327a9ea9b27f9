"""A text read again is what would be read from nothing, and shares what was not touched."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from random import Random

import pytest

from installcheck.analysis.remembered.alike import alike
from installcheck.document import Document, DocumentError, loads
from installcheck.document.places import Problem
from installcheck.document.rereading import Rereading

TEXT = """\
installation: {name: two runs}
zones: {engine: {fire_zone: yes}, cabin: {occupied: yes}}
senders:
  bulb: {terminals: [A, B], zone: engine}
indicators:
  gauge: {terminals: [A, B], zone: cabin}
usual: {wire_runs: {gauge: 22 AWG}}
wire_runs:
  E1: {from: bulb.A, to: gauge.A, part: AS22759/16}
  E2:
    from: bulb.B
    to: gauge.B
    slack: unknown
"""
FOLDER = Path(__file__).parents[2] / "demo_aircraft"
DEMOS = sorted(f for f in FOLDER.glob("*.yaml") if f.stem not in ("airframe", "unchanged"))
"""The two left out are included by the others, and no installation alone."""


def told(document: Document) -> object:
    """All that can be asked of a document: its values, which are open, and where each stands."""
    things = [(section, ident) for section, ident, _ in document.installation.things()]
    paths = [
        (*thing, word)
        for thing in [*things, *(("wire_runs", i) for i in document.installation.wire_runs)]
        for word in ("part", "gauge", "zone", "from", "to", "route", "title", "slack", "bundle")
    ]
    return (
        [
            (path, document.place(path), document.holds(path), document.declared_unknown(path))
            for path in paths
        ],
        sorted(map(str, document.unknown_paths())),
        document.digest,
        dict(document.files.places.parts),
    )


def same(one: Document, other: Document) -> bool:
    return alike(one.installation, other.installation) and told(one) == told(other)


def outcome(reading: Callable[[], Document]) -> Document | list[Problem]:
    """What a text is read as, or why it cannot be."""
    try:
        return reading()
    except DocumentError as bad:
        return bad.problems


def assert_alike(one: Document | list[Problem], other: Document | list[Problem]) -> None:
    if isinstance(one, Document) and isinstance(other, Document):
        assert same(one, other)
    else:
        assert one == other


def test_a_thing_whose_line_stays_is_the_same_object_wherever_it_moves_to() -> None:
    read = Rereading("two.yaml", None)
    before = read.read(TEXT)
    changed = "# one more line\n" + TEXT.replace("bulb.A, to", "bulb.A, slack: 3 in, to")
    after = read.read(changed)
    assert after.installation.wire_runs["E2"] is before.installation.wire_runs["E2"]
    assert after.installation.wire_runs["E1"].slack is not None
    assert after.place(("wire_runs", "E2")).line == before.place(("wire_runs", "E2")).line + 1
    assert same(after, loads(changed, "two.yaml"))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("slack: unknown", "slack:"),
        ("slack: unknown", "slack: 3 in"),
        ("gauge: 22 AWG}}", "gauge: 20 AWG}}"),
        ("usual: {wire_runs: {gauge: 22 AWG}}\n", ""),
        ("  E1: {from: bulb.A, to: gauge.A, part: AS22759/16}\n", ""),
        ("terminals: [A, B], zone: cabin", "terminals: [B, A], zone: cabin"),
        ("wire_runs:\n", "wire_runs:\n  E3: bulb.A to gauge.A, 20 AWG\n"),
        ("senders:\n", "junctions: {joint: {kind: splice, zone: cabin}}\nsenders:\n"),
        ("{from: bulb.A, to: gauge.A, part: AS22759/16}", "unknown"),
    ],
)
def test_each_kind_of_change_is_read_as_from_nothing(old: str, new: str) -> None:
    assert old in TEXT
    changed = TEXT.replace(old, new)
    read = Rereading("two.yaml", None)
    read.read(TEXT)
    assert_alike(outcome(lambda: read.read(changed)), outcome(lambda: loads(changed, "two.yaml")))
    assert same(read.read(TEXT), loads(TEXT, "two.yaml"))


def _mutated(text: str, chance: Random) -> str:
    """A text with a letter, a line or a figure changed by chance."""
    lines = text.split("\n")
    at = chance.randrange(len(lines))
    how = chance.choice(("letter", "gone", "twice", "exchanged", "unknown", "figure", "figure", "comment"))
    if how == "letter" and lines[at]:
        k = chance.randrange(len(lines[at]))
        lines[at] = lines[at][:k] + chance.choice("ab1 ,:{}#'") + lines[at][k:]
    elif how == "gone":
        del lines[at]
    elif how == "twice":
        lines.insert(at, lines[at])
    elif how == "exchanged":
        other = chance.randrange(len(lines))
        lines[at], lines[other] = lines[other], lines[at]
    elif how == "unknown":
        words = lines[at].split(": ")
        lines[at] = ": ".join([*words[:-1], "unknown"]) if len(words) > 1 else lines[at]
    elif how == "figure":
        figures = [k for k, sign in enumerate(lines[at]) if sign.isdigit()]
        if figures:
            k = chance.choice(figures)
            lines[at] = lines[at][:k] + chance.choice("0123456789") + lines[at][k + 1 :]
    else:
        lines[at] += "  # a word"
    return "\n".join(lines)


@pytest.mark.parametrize("file", DEMOS, ids=lambda file: file.stem)
def test_texts_changed_by_chance_are_read_as_from_nothing(file: Path) -> None:
    chance = Random(file.name)
    good = file.read_text(encoding="utf-8")
    read = Rereading(file.name, FOLDER)
    read.read(good)
    was_read = 0
    for _ in range(60):
        changed = _mutated(good, chance)
        wanted = outcome(lambda text=changed: loads(text, file.name, FOLDER))
        assert_alike(outcome(lambda text=changed: read.read(text)), wanted)
        if isinstance(wanted, Document):
            was_read += 1
            good = changed
    assert was_read > 10
