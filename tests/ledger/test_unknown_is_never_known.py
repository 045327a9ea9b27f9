"""`unknown` is never zero: what is said to be unknown leaves no 'meets' that would come out otherwise with another figure there."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

import pytest
from installations import demo, read
from words import Word, otherwise, unsaid, words

from installcheck.analysis.study import Study
from installcheck.document import Document, DocumentError
from installcheck.rules.engine import judge
from installcheck.rules.verdicts import Outcome, Verdict

DEMOS = ("poor_ground_cured", "retrofit_corrected", "twin")
"""Demos with words of every kind; what the others say, these say too."""
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
LEFT: dict[tuple[str, str], str] = {}
"""Words under their section of which a verdict is known to meet still, and why that is right."""

Key = tuple[str, str, tuple[str | int, ...]]


@cache
def _demo(name: str) -> tuple[Document, dict[Key, list[Verdict]]]:
    document = read(demo(name))
    return document, _judged(document)


def _judged(document: Document) -> dict[Key, list[Verdict]]:
    found: dict[Key, list[Verdict]] = {}
    for v in judge(Study(document)).verdicts:
        found.setdefault((v.rule, v.at[0] if v.at else "", v.path), []).append(v)
    return found


def _told(verdicts: list[Verdict]) -> list[tuple[str, str]]:
    """What is said of an item, to the last figure that is printed."""
    return sorted((v.outcome, v.message) for v in verdicts)


def _disputed(verdicts: list[Verdict]) -> bool:
    """Whether a verdict moved only because the other word disagrees with what is said elsewhere."""
    return any("two statements disagree" in v.message for v in verdicts)


def _sweep() -> Iterator[tuple[str, Word]]:
    """One word for all of its section and name, with the demo it is in."""
    seen: set[tuple[str, str]] = set()
    for name in DEMOS:
        document, _ = _demo(name)
        for word in words(document):
            named = {word.section, *(str(step) for step in word.path[2:])}
            if not named & NO_FIGURE.keys() and (word.section, word.words) not in seen:
                seen.add((word.section, word.words))
                yield name, word


@cache
def _batches() -> list[tuple[str, tuple[Word, ...]]]:
    by_demo: dict[str, list[Word]] = {}
    for name, word in _sweep():
        by_demo.setdefault(name, []).append(word)
    made = []
    for name, swept in by_demo.items():
        count = -(-len(swept) // AT_ONCE)
        made += [(name, tuple(swept[i::count])) for i in range(count)]
    return made


@pytest.mark.parametrize("number", range(len(_batches())))
def test_no_meets_rests_on_an_unknown_word(number):
    name, swept = _batches()[number]
    document, before = _demo(name)
    plain = demo(name)
    asked = []
    for word in swept:
        try:
            read(unsaid(demo(name), word, document))
        except DocumentError:
            continue  # a document cannot be read without it, and says so
        asked.append(word)
    for word in asked:
        plain = unsaid(plain, word, document)
    after = _judged(read(plain))
    assert not [v.message for told in after.values() for v in told if v.failed]
    still = {
        key
        for key, told in after.items()
        if key in before
        and all(v.outcome is Outcome.MEETS for v in told)
        and all(v.outcome is Outcome.MEETS for v in before[key])
    }
    silent = [
        f"'{'.'.join(map(str, word.path))}' ({word.value}) is unknown, and still: {key[0]}: {after[key][0].message}"
        for word in asked
        if (word.section, word.words) not in LEFT
        for other in otherwise(document, word)
        for key, told in _judged(other).items()
        if key in still and not _disputed(told) and _told(told) != _told(before[key])
    ]
    assert not silent, "\n".join(silent)
