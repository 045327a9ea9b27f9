"""Verdicts and notes of a sheet, told once each and broken into lines."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from ..dataclass import dataclass
from .captions import MARK_SIZE, SMALL, spans
from .sheet import Mark, Sheet
from .text_width import printable, text_width, wrap


@dataclass(frozen=True, slots=True)
class Entry:
    """A finding or a note, broken into lines."""

    marks: tuple[Mark, ...]
    lines: tuple[str, ...]
    anchor: str = ""

    @property
    def label(self) -> str:
        """The numbers of its verdicts."""
        return spans(mark.number for mark in self.marks)


def entries(sheet: Sheet, width: float) -> list[Entry]:
    """Verdicts and notes of a sheet, no wider than ``width`` [pt]."""
    told = [Entry((mark,), (mark.text,)) for mark in _told(sheet.marks)]
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


def _told(marks: Sequence[Mark]) -> Iterator[Mark]:
    """Every finding once, at however many places it stands; without those that are told on another sheet."""
    seen: set[int] = set()
    for mark in marks:
        if not mark.listed_on and mark.number not in seen:
            seen.add(mark.number)
            yield mark


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
