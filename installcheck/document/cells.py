"""The cells of a table in the words of a document."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from ..dataclass import dataclass
from ..model.quantities import QuantityError, parse
from .headings import CONDUCTOR, FROM_PIN, TO_PIN, Heading, fields
from .source import Plain, Spot

AS_THEY_STAND = frozenset(("id", "from", "to", FROM_PIN, TO_PIN, CONDUCTOR, "title", "notes"))
"""What a cell says of these is a name or a sentence, whatever it looks like."""
_UNKNOWN = frozenset(("unknown", "?", "tbd", "tba"))
EMPTY = frozenset(("-", "–", "—", "n/a"))
YES, NO = frozenset(("x", "✓", "✔")), frozenset(("✗", "✘"))
_BARE = re.compile(r"^[-+−]?(?:\d+[ -]\d+/\d+|\d+/\d+|\d+\.?\d*|\.\d+)$")
_COMMA = re.compile(r"^([-+−]?\d+),(\d+)(?=$|\s|[^\d\s,])")
_GAUGE = re.compile(r"^#?\s*(\d{1,2}|[1-4]/0|0{1,4})\s*(?:ga|ga\.|gauge)?$", re.IGNORECASE)
_MOVED = ", moved to other ends"
SLACK_M = 0.0064
"""m, a quarter of an inch: what a list rounds a length to."""


@dataclass(slots=True)
class Cell:
    """A cell: its text, row and column."""

    text: str
    row: int
    column: int

    @property
    def spot(self) -> Spot:
        """Where it stands."""
        return Spot(self.row, self.column, self.row, self.column)


def worded(section: str, heading: Heading, text: str) -> tuple[str, str]:
    """The text of a cell as a document writes it, and what is wrong with it.

    >>> worded("wire_runs", Heading("length", "ft"), "3,5"), worded("wire_runs", Heading("gauge"), "#20")
    (('3.5 ft', ''), ('20 AWG', ''))
    """
    word, unit = heading
    if text.casefold() in _UNKNOWN:
        return "unknown", ""
    why = ""
    comma = _COMMA.match(text)
    if comma is not None and fields(section).get(word) == "text":
        if len(comma[2]) == 3:
            why = f"'{text}' can be a thousand or a fraction; write a point before decimals, and nothing in thousands"
        text = f"{comma[1]}.{comma[2]}{text[comma.end() :]}"
    if word == "gauge":
        gauge = _GAUGE.match(text)
        return (f"{gauge[1]} AWG" if gauge is not None else text), why
    if unit and _BARE.match(text):
        text = f"{text} {unit}"
    return (text.removesuffix(_MOVED) if word == "status" else text), why


def lengths(route: str) -> Iterator[str]:
    """The lengths in a route in one line; nothing if it names routes or leaves a length out."""
    for piece in route.split(","):
        if " by " in piece or not piece.strip():
            continue
        found = re.search(r"\s([\d.].*)$", piece.strip())
        yield found[1] if found is not None else ""


def metres(text: Plain) -> float | None:
    try:
        return float(parse(str(text), "length"))
    except QuantityError:
        return None


def end_of(row: Mapping[str, Cell], word: str, pin: str) -> str:
    """An end of one column, or of one for the thing and one for its terminal."""
    whole, terminal = row[word].text, row.get(pin)
    return f"{whole}.{terminal.text}" if terminal is not None and "." not in whole else whole
