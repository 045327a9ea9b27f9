"""Texts on a sheet with the verdict marks behind them, and the headings made of them."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from ..dataclass import dataclass
from .kinds import Change
from .sheet import Mark
from .text_width import longest_word, printable, text_width, wrap

SMALL = 7.0  # smallest text on the sheet [pt], the least that is read at arm's length on a bench
NAME = 8.0  # names of devices, bands and barriers [pt]
LINE = 8.5  # distance of the text lines in a heading [pt]
MARK_SIZE = 7.0  # height of a verdict mark [pt]

_MARKS_IN_LINE = 3  # as many marks as fit beside a flag or a terminal; the list names the others


@dataclass(frozen=True, slots=True)
class Caption:
    """A line of text followed by verdict marks; the bold part comes first."""

    bold: str = ""
    plain: str = ""
    marks: tuple[Mark, ...] = ()
    size: float = SMALL
    hidden: int = 0  # marks for which there is no room, said as a number

    @property
    def width(self) -> float:
        """Width [pt]."""
        width = text_width(self.bold, self.size, bold=True) + text_width(self.plain, self.size)
        if self.bold and self.plain:
            width += self.size * 0.45
        return width + sum(mark_width(mark) for mark in self.marks) + self.hidden_width

    @property
    def hidden_width(self) -> float:
        """Width of the number of marks that are not drawn [pt]."""
        return 3.0 + text_width(f"+{self.hidden}", SMALL, bold=True) if self.hidden else 0.0


def mark_width(mark: Mark) -> float:
    """Width of a verdict mark with its number and the space before it [pt]."""
    return 3.0 + MARK_SIZE + 1.5 + text_width(str(mark.number), SMALL, bold=True)


def change_word(change: Change) -> str:
    """The word printed with a thing that the alteration adds or takes away."""
    return {Change.NONE: "", Change.NEW: "NEW", Change.REMOVED: "REMOVED"}[change]


def elsewhere_lines(sheets: tuple[int, ...], lead: str = "also") -> tuple[str, ...]:
    """Where else a thing is drawn: always two lines, so that a sheet keeps its layout when the numbers become known.

    >>> elsewhere_lines((2, 3, 4, 7))
    ('also sheets', '2-4, 7')
    """
    if not sheets:
        return ()
    said = spans(sheets)
    if said.count(",") > 1:
        return (lead, "other sheets")
    return (f"{lead} {'sheets' if len(set(sheets)) > 1 else 'sheet'}", said)


def spans(numbers: Iterable[int]) -> str:
    """Numbers in order, neighbours drawn together.

    >>> spans((7, 2, 3, 4))
    '2-4, 7'
    """
    found: list[list[int]] = []
    for number in sorted(set(numbers)):
        if found and number == found[-1][-1] + 1:
            found[-1].append(number)
        else:
            found.append([number])
    return ", ".join(f"{span[0]}-{span[-1]}" if len(span) > 1 else str(span[0]) for span in found)


def few(marks: Sequence[Mark]) -> tuple[tuple[Mark, ...], int]:
    """The marks drawn where there is one line for them, and how many more there are."""
    return tuple(marks[:_MARKS_IN_LINE]), max(0, len(marks) - _MARKS_IN_LINE)


def heading(
    lines: Iterable[str],
    change: Change,
    elsewhere: tuple[str, ...],
    marks: Sequence[Mark],
    width: float,
    size: float = SMALL,
) -> tuple[Caption, ...]:
    """Heading of an item: its name in bold, its marks behind it, its other lines, and where else it is."""
    name, *rest = [printable(line) for line in lines] or [""]
    width = max(width, longest_word(name, size, bold=True), *(longest_word(line, SMALL) for line in rest))
    captions = [Caption(bold=line, size=size) for line in wrap(name, size, width, bold=True)] or [Caption()]
    queue = list(marks)
    taken = _fitting(captions[-1], queue, width)
    captions[-1] = replace(captions[-1], marks=taken)
    queue = queue[len(taken) :]
    while queue:
        taken = _fitting(Caption(), queue, width) or (queue[0],)
        captions.append(Caption(marks=taken))
        queue = queue[len(taken) :]
    for line in (*rest, change_word(change)):
        captions += [Caption(plain=part) for part in wrap(line, SMALL, width)]
    captions += [Caption(plain=line) for line in elsewhere]
    return tuple(captions)


def _fitting(caption: Caption, marks: Sequence[Mark], width: float) -> tuple[Mark, ...]:
    """As many of the first marks as fit behind a caption."""
    count = 0
    while count < len(marks) and replace(caption, marks=tuple(marks[: count + 1])).width <= width:
        count += 1
    return tuple(marks[:count])
