"""How wide a text is when drawn, and where to break it.

The widths are those of Arimo, which comes in `fonts/`; Helvetica, Arial and Liberation Sans share them.
"""

import csv
import unicodedata
from functools import cache, lru_cache
from importlib import resources

# A character outside the table is drawn as a box or by a fallback font: one em is the widest that either gives.
_UNKNOWN_EM = 1.0
_LONGEST_WORD = 80.0  # a trade word is narrower; anything wider may be cut [pt]


@cache
def _advances() -> tuple[dict[str, float], dict[str, float]]:
    text = resources.files(__package__).joinpath("text_widths.csv").read_text(encoding="utf-8")
    rows = csv.DictReader(line for line in text.splitlines() if not line.startswith("#"))
    regular: dict[str, float] = {}
    bold: dict[str, float] = {}
    for row in rows:
        char = chr(int(row["code_point"]))
        regular[char] = int(row["regular"]) / 2048
        bold[char] = int(row["bold"]) / 2048
    return regular, bold


def in_font(text: str) -> bool:
    """Whether the font that comes with us has every letter of a text."""
    return all(char in _advances()[0] for char in text)


@lru_cache(maxsize=65536)
def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """Width of a line of text [pt] at a font size [pt].

    >>> round(text_width("A", 1000))
    667
    """
    table = _advances()[bold]
    return size * sum(table.get(char, _UNKNOWN_EM) for char in text)


@lru_cache(maxsize=16384)
def printable(text: str) -> str:
    """One line of text without control, surrogate, direction or line-breaking characters."""
    return " ".join(clean(text).split())


@lru_cache(maxsize=16384)
def clean(text: str) -> str:
    """The text with a plain space for every kind of space, and a sign for every character that has no shape."""
    if text.isprintable():
        return text
    return "".join(
        " " if char.isspace() else char if _drawable(char) else "\N{REPLACEMENT CHARACTER}" for char in text
    )


def _drawable(char: str) -> bool:
    return unicodedata.category(char) not in {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}


@lru_cache(maxsize=16384)
def wrap(text: str, size: float, width: float, *, bold: bool = False) -> tuple[str, ...]:
    """Break a text into lines no wider than `width` [pt]; a word wider than that is cut into pieces."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        longer = f"{line} {word}" if line else word
        if text_width(longer, size, bold=bold) <= width:
            line = longer
            continue
        if line:
            lines.append(line)
        *pieces, line = _cut(word, size, width, bold)
        lines += pieces
    return (*lines, line) if line else tuple(lines)


def longest_word(text: str, size: float, *, bold: bool = False) -> float:
    """Width of the widest word, or of as much of it as may stand on one line [pt]."""
    return min(_LONGEST_WORD, max((text_width(word, size, bold=bold) for word in text.split()), default=0.0))


def _cut(word: str, size: float, width: float, bold: bool) -> list[str]:
    pieces = [""]
    for char in word:
        if pieces[-1] and text_width(pieces[-1] + char, size, bold=bold) > width:
            pieces.append("")
        pieces[-1] += char
    return pieces


def shorten(text: str, size: float, width: float, *, bold: bool = False) -> str:
    """The text, or its beginning and dots when it is wider than `width` [pt]."""
    if text_width(text, size, bold=bold) <= width:
        return text
    while text and text_width(text + "…", size, bold=bold) > width:
        text = text[:-1]
    return text.rstrip() + "…"
