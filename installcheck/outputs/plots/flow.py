"""Blocks of a plot one under another, on pages of paper or on one page as long as it takes."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from ...drawing.border import PAPER_SIZES, PAPERS
from ...drawing.ink import Ink, Page, Text
from ...drawing.kinds import Paper
from ...drawing.text_width import printable, wrap

SMALL, TEXT, LARGE = 10.0, 11.0, 14.0
MARGIN = 20.0


class Flow:
    """Fills pages of one width, in units of which a small letter is 10 high: 8 pt on A4, 7.6 pt on Letter."""

    def __init__(self, title: str, width: float, paper: Paper | None) -> None:
        self.title = printable(title)
        self.width = width
        self.paper = paper
        across, down = PAPERS[paper or Paper.A4]
        self.foot = width * down / across - 2 * MARGIN if paper else float("inf")
        self.y = MARGIN
        self.page: list[Ink] = []
        self.full: list[tuple[list[Ink], float]] = []

    def block(self, height: float, draw: Callable[[float], Iterable[Ink]]) -> None:
        """A block of a height, drawn from a top edge: on the next page where this one has no room for it."""
        if self.page and self.y + height > self.foot:
            self._turn()
        self.page += draw(self.y)
        self.y += height

    def paragraph(self, text: str, size: float, *, bold: bool = False, indent: float = 0.0) -> None:
        """Lines of text across the page; an indented one begins with a dash."""
        lines = wrap(printable(text), size, self.width - 2 * MARGIN - indent, bold=bold)
        for number, words in enumerate(lines):
            mark = [Text(MARGIN, 0.0, "-", size)] if indent and not number else []

            def draw(top: float, words: str = words, mark: list[Text] = mark) -> Iterable[Ink]:
                base = top + size * 1.4
                yield from (Text(one.x, base, one.text, size) for one in mark)
                yield Text(MARGIN + indent, base, words, size, bold)

            self.block(size * 1.4, draw)

    def gap(self, height: float) -> None:
        """Leave some height free."""
        self.y += height

    def pages(self) -> list[Page]:
        """All pages, with their numbers where there are several."""
        self._turn()
        made = []
        for number, (inks, height) in enumerate(self.full, start=1):
            size = PAPER_SIZES[self.paper] if self.paper else (f"{self.width:.0f}px", f"{height:.0f}px")
            title = self.title
            if len(self.full) > 1:
                title = f"{title}, page {number} of {len(self.full)}"
                words = f"page {number} of {len(self.full)}"
                inks.append(Text(self.width - MARGIN, height - MARGIN, words, SMALL, anchor="end"))
            made.append(Page(self.width, round(height, 2), title, tuple(inks), size))
        return made

    def _turn(self) -> None:
        # A block higher than the paper makes its page higher: it is printed smaller, and nothing is cut.
        height = self.y + MARGIN if self.paper is None else max(self.foot, self.y) + 2 * MARGIN
        self.full.append((self.page, height))
        self.page, self.y = [], MARGIN
