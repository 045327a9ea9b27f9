"""`unknown` is never zero: what is said to be unknown leaves no 'meets' that would come out otherwise with another figure there."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache

import pytest
from installations import demo, read
from words import Word, otherwise, unsaid, words

from installcheck.document import Document, DocumentError
from installcheck.document.edited import edited
from installcheck.model.edits import Edit
from installcheck.rules.rejudging import Judged
from installcheck.rules.verdicts import Outcome, Verdict

DEMOS = ("poor_ground_cured", "retrofit_corrected", "twin")
"""Demos with words of every kind; of each, the words that those before it do not say."""
WHOLE = ("twin",)
"""Demos of which every kind of word is swept apart: minutes, by ``-m long``."""
AT_ONCE = 6
"""Words said to be unknown in one document, far apart from each other; each is changed by itself."""
NO_FIGURE = {
    "installation": "tells of the paper",
    "deviations": "tells who accepted what",
    "notices": "its own rule asks for each word",
    "title": "for people",
    "notes": "for people",
    "label": "for people",
    "source": "for people",
    "standard": "for people",
    "location_note": "for people",
    "status": "what is removed is read before anything is judged",
    "part": "its figures are what the sweep unsays",
    "size": "as of the part",
    "terminals": "names its terminals; the runs that end at them say them again",
    "ports": "as of the terminals",
    "supply_terminals": "as of the terminals",
}
"""Words that no figure of a verdict rests on, and why."""
LEFT = {"bundles wires": "a wire is taken in the largest bundle there can be, and passes if it passes so"}
"""Words, 'section word', of which a verdict is known to meet still, and why that is right."""

Key = tuple[str, str, tuple[str | int, ...]]


class Swept:
    """A demo that is judged again with other words."""

    def __init__(self, name: str) -> None:
        self.document = read(demo(name))
        self.judged = Judged(self.document)
        self.before = _by_item(self.judged.judge().verdicts)

    def said(self, edit: Edit) -> dict[Key, list[Verdict]]:
        """What is said of each item with an edit made.

        Raises:
            DocumentError: the document cannot be read so.
        """
        with self.judged.trying(edited(self.document, edit)):
            return _by_item(self.judged.judge().verdicts)

    def can_be_said(self, edit: Edit) -> bool:
        """Whether the document can be read with an edit made."""
        try:
            edited(self.document, edit)
        except DocumentError:
            return False
        return True


@cache
def _swept(name: str) -> Swept:
    return Swept(name)


def _by_item(verdicts: Iterable[Verdict]) -> dict[Key, list[Verdict]]:
    found: dict[Key, list[Verdict]] = {}
    for v in verdicts:
        found.setdefault((v.rule, v.at[0] if v.at else "", v.path), []).append(v)
    return found


def _told(verdicts: list[Verdict]) -> list[tuple[str, str]]:
    """What is said of an item, to the last figure that is printed."""
    return sorted((v.outcome, v.message) for v in verdicts)


def _meets(verdicts: list[Verdict]) -> bool:
    return all(v.outcome is Outcome.MEETS for v in verdicts)


def _disputed(verdicts: list[Verdict]) -> bool:
    """Whether a verdict moved only because the other word disagrees with what is said elsewhere."""
    return any("two statements disagree" in v.message for v in verdicts)


def _told_apart(word: Word, before: list[Verdict], after: list[Verdict]) -> bool:
    """Whether the thing was told of with others alike, and is told of by itself once its word is unknown."""
    ident = word.path[1]
    return any(ident in v.at for v in before) and not any(ident in v.at for v in after)


def _sweep(name: str, document: Document, seen: set[tuple[str, str]]) -> Iterator[Word]:
    """One word for all of its section and name."""
    for word in words(document):
        named = {word.section, *(str(step) for step in word.path[2:])}
        if not named & NO_FIGURE.keys() and (word.section, word.words) not in seen:
            seen.add((word.section, word.words))
            yield word


@cache
def _batches(*names: str) -> list[tuple[str, tuple[Word, ...]]]:
    made: list[tuple[str, tuple[Word, ...]]] = []
    seen: set[tuple[str, str]] = set()
    for name in names:
        document = read(demo(name))
        sweep = [w for w in _sweep(name, document, seen) if f"{w.section} {w.words}" not in LEFT]
        count = -(-len(sweep) // AT_ONCE)
        made += [(name, tuple(sweep[i::count])) for i in range(count)]
    return made


@pytest.mark.parametrize("number", range(len(_batches(*DEMOS))))
def test_no_meets_rests_on_an_unknown_word(number):
    _held(*_batches(*DEMOS)[number])


@pytest.mark.long
@pytest.mark.parametrize("number", range(len(_batches(*WHOLE))))
def test_no_meets_of_a_whole_demo_rests_on_an_unknown_word(number):
    _held(*_batches(*WHOLE)[number])


def _held(name: str, batch: tuple[Word, ...]) -> None:
    demo = _swept(name)
    # a document that cannot be read without a word says so
    asked = [w for w in batch if demo.can_be_said(unsaid(demo.document, w))]
    after = demo.said(unsaid(demo.document, *asked)) if asked else {}
    assert not [v.message for told in after.values() for v in told if v.failed]
    still = {k for k, told in after.items() if k in demo.before and _meets(told) and _meets(demo.before[k])}
    silent = [
        f"'{'.'.join(map(str, word.path))}' ({word.value}) is unknown, and still: {key[0]}: {after[key][0].message}"
        for word in asked
        for edit in otherwise(demo.document, word)
        if demo.can_be_said(edit)
        for key, told in demo.said(edit).items()
        if key in still and not _disputed(told) and _told(told) != _told(demo.before[key])
        if not _told_apart(word, demo.before[key], after[key])
    ]
    assert not silent, "\n".join(silent)
