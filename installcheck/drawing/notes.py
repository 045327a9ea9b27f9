"""Verdicts and notes of a sheet, told once each and broken into lines."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from .captions import MARK_SIZE, SMALL, spans
from .kinds import Outcome
from .sheet import Mark, Sheet
from .text_width import printable, text_width, wrap

_NAMES = 8  # things named in one verdict


@dataclass(frozen=True, slots=True)
class Entry:
    """A verdict, several alike, or a note, broken into lines."""

    marks: tuple[Mark, ...]
    lines: tuple[str, ...]
    anchor: str = ""

    @property
    def label(self) -> str:
        """The numbers of its verdicts."""
        return spans(mark.number for mark in self.marks)


def entries(sheet: Sheet, width: float) -> list[Entry]:
    """Verdicts and notes of a sheet, no wider than ``width`` [pt]."""
    told = [Entry(marks, (text,)) for marks, text in _alike(sheet.marks)]
    inset = indent(told)
    made = [
        replace(
            entry, lines=wrap(f"{entry.marks[0].outcome}: {printable(entry.lines[0])}", SMALL, width - inset)
        )
        for entry in told
    ]
    away = sorted({mark.listed_on for mark in sheet.marks} - {0})
    if away:
        said = (f"{spans(m.number for m in sheet.marks if m.listed_on == n)} on sheet {n}" for n in away)
        lines = wrap(f"verdicts {', '.join(said)}", SMALL, width - inset)
        # At least three lines, so that the drawing keeps its room when the sheet numbers become known.
        made.append(Entry((), (*lines, *("",) * (3 - len(lines))), "verdicts-elsewhere"))
    made += [Entry((), wrap(printable(note), SMALL, width - inset)) for note in sheet.notes if note.strip()]
    return made


def _alike(marks: Sequence[Mark]) -> Iterator[tuple[tuple[Mark, ...], str]]:
    """Verdicts that say the same of several things, told once with the names of all."""
    groups: dict[tuple[Outcome, str, str], list[tuple[Mark, str]]] = {}
    first: dict[int, Mark] = {}
    for mark in marks:
        if not mark.listed_on:
            first.setdefault(mark.number, mark)
    for mark in first.values():
        before, name, after = _named(mark)
        groups.setdefault((mark.outcome, before, after), []).append((mark, name))
    for (_, before, after), members in groups.items():
        for start in range(0, len(members), _NAMES):
            some = members[start : start + _NAMES]
            names = ", ".join(dict.fromkeys(name for _, name in some))
            yield tuple(mark for mark, _ in some), f"{before}{names}{after}"


def _named(mark: Mark) -> tuple[str, str, str]:
    """The text of a verdict around the name of the thing it stands at."""
    name = mark.target.removeprefix("device ")
    found = re.search(rf"(?<![\w.]){re.escape(name)}(?![\w.])", mark.text) if name else None
    if found is None:
        return mark.text, "", ""
    return mark.text[: found.start()], name, mark.text[found.end() :]


def indent(entries: Sequence[Entry]) -> float:
    """Room for the shape and the widest number before a text [pt]."""
    widest = max((text_width(entry.label, SMALL, bold=True) for entry in entries), default=0.0)
    return MARK_SIZE + 3 + widest + 4


def balance(entries: Sequence[Entry]) -> tuple[tuple[Entry, ...], ...]:
    """Two columns of about one height, read down the first and then down the second."""
    total = sum(len(entry.lines) for entry in entries)
    first: list[Entry] = []
    filled = 0
    for entry in entries:
        if filled + len(entry.lines) / 2 > total / 2 and first:
            break
        first.append(entry)
        filled += len(entry.lines)
    return tuple(part for part in (tuple(first), tuple(entries[len(first) :])) if part)
