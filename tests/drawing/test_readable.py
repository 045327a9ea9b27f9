"""Every page can be read: no text on another text or off the paper, none crossed by a wire, none too small."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from xml.etree import ElementTree

import pytest

from installcheck.drawing.border import EDGE, MM
from installcheck.drawing.captions import heading
from installcheck.drawing.ink import Page, Text, Trace
from installcheck.drawing.kinds import Change, Outcome
from installcheck.drawing.page import compose
from installcheck.drawing.sheet import Mark, Sheet
from installcheck.drawing.split import split_sheet
from installcheck.drawing.svg import sheet_svg
from installcheck.drawing.text_width import text_width

MARGIN = EDGE - 5 * MM
"""Letters of the grid reference border stand in the 5 mm outside the frame (ISO 5457); nothing stands further out."""

SVG = "{http://www.w3.org/2000/svg}"
# Height over and depth under the baseline of Arimo letters, accents apart [em]: font version 1.341, table OS/2 and glyf.
ASCENT, DESCENT = 0.73, 0.21
SMALLEST = 6.75  # pt on paper


@dataclass(frozen=True)
class Box:
    left: float
    top: float
    right: float
    bottom: float
    text: str

    def overlaps(self, other: "Box", slack: float = 0.05) -> bool:
        return (
            self.left < other.right - slack
            and other.left < self.right - slack
            and self.top < other.bottom - slack
            and other.top < self.bottom - slack
        )


def text_boxes(svg: bytes) -> list[Box]:
    root = ElementTree.fromstring(svg)
    width, height = (float(number) for number in root.get("viewBox", "").split()[2:])
    assert width > height, "the page is landscape"
    boxes = []
    for text in root.iter(f"{SVG}text"):
        words = text.text or ""
        size = float(text.get("font-size", "0"))
        wide = text_width(words, size, bold=text.get("font-weight") == "bold")
        assert float(text.get("textLength", "0")) == pytest.approx(wide, abs=0.01)
        x, y = float(text.get("x", "0")), float(text.get("y", "0"))
        x -= {"start": 0.0, "middle": 0.5, "end": 1.0}[text.get("text-anchor", "start")] * wide
        boxes.append(Box(x, y - ASCENT * size, x + wide, y + DESCENT * size, words))
    return boxes


def overlaps(boxes: list[Box]) -> Iterator[tuple[str, str]]:
    boxes = sorted(boxes, key=lambda box: box.top)
    for index, box in enumerate(boxes):
        for other in boxes[index + 1 :]:
            if other.top >= box.bottom:
                break
            if box.overlaps(other):
                yield box.text, other.text


def crossed(page: Page) -> Iterator[tuple[str, str]]:
    """Texts with a wire through the middle of their letters."""
    texts = [
        Box(
            ink.x,
            ink.y - 0.5 * ink.size,
            ink.x + text_width(ink.text, ink.size, bold=ink.bold),
            ink.y,
            ink.text,
        )
        for ink in page.inks
        if isinstance(ink, Text)
    ]
    for ink in page.inks:
        if isinstance(ink, Trace) and ink.id:
            for (x1, y1), (x2, y2) in pairwise(ink.points):
                stroke = Box(
                    min(x1, x2) - 0.1, min(y1, y2) - 0.1, max(x1, x2) + 0.1, max(y1, y2) + 0.1, ink.id
                )
                yield from ((box.text, ink.title) for box in texts if box.overlaps(stroke))


def require_readable(parts: Iterable[Sheet], smallest: float = SMALLEST) -> None:
    for part in parts:
        svg = sheet_svg(part)
        boxes = text_boxes(svg)
        assert boxes
        assert list(overlaps(boxes)) == []
        page = compose(part)
        for box in boxes:
            assert box.left >= MARGIN, box
            assert box.top >= MARGIN, box
            assert box.right <= page.width - MARGIN, box
            assert box.bottom <= page.height - MARGIN, box
        assert (
            min(float(t.get("font-size", "0")) for t in ElementTree.fromstring(svg).iter(f"{SVG}text"))
            >= smallest
        )
        assert list(crossed(page)) == []


@pytest.mark.parametrize("wires", [5, 20, 60, 300])
def test_fictional_sheets_can_be_read(fictional_sheet: Callable[[int], Sheet], wires: int) -> None:
    require_readable(split_sheet(fictional_sheet(wires)))


@pytest.mark.parametrize("seed", range(40))
def test_tangled_sheets_can_be_read(tangled_parts: Callable[[int], list[Sheet]], seed: int) -> None:
    require_readable(tangled_parts(seed))


def test_an_overlap_is_found() -> None:
    here = Box(0, 0, 10, 10, "here")
    assert list(overlaps([here, Box(9, 9, 20, 20, "there")])) == [("here", "there")]
    assert list(overlaps([here, Box(10, 0, 20, 10, "beside")])) == []


def test_a_wire_through_a_text_is_found() -> None:
    text, wire = Text(0, 10, "flag", 7.0), Trace("run-1", "W1", ((5.0, 0.0), (5.0, 20.0)), ())
    assert list(crossed(Page(100, 100, "", (text, wire), ("100pt", "100pt")))) == [("flag", "W1")]


def test_marks_stand_behind_a_name_and_never_between_its_words() -> None:
    marks = tuple(Mark(n, Outcome.ADVISORY, f"verdict {n}", "D") for n in (1, 2, 3))
    lines = heading(("oil temperature gauge, left", "8 ohm"), Change.NONE, (), marks, 56.0)
    words = [(line.bold, line.plain, [mark.number for mark in line.marks]) for line in lines]
    first = next(n for n, (_, _, numbers) in enumerate(words) if numbers)
    assert "".join(bold for bold, _, _ in words[: first + 1]).replace(" ", "") == "oiltemperaturegauge,left"
    assert [n for _, _, numbers in words for n in numbers] == [1, 2, 3]
    assert words[-1] == ("", "8 ohm", [])
