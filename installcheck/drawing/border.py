"""Frame of a sheet with its grid references and centring marks (ISO 5457), and the place the drawing has inside it."""

from collections.abc import Iterator
from itertools import pairwise

from .ink import THIN, Ink, Path, Text, rectangle
from .kinds import Paper

MM = 72 / 25.4  # points in a millimetre
PAPERS = {Paper.A4: (841.89, 595.28), Paper.LETTER: (792.0, 612.0)}  # landscape [pt]
PAPER_SIZES = {Paper.A4: ("297mm", "210mm"), Paper.LETTER: ("11in", "8.5in")}
LEFT = 20 * MM  # filing edge: ISO 5457, 4.2
EDGE = 10 * MM  # the other three edges
_FRAME = 0.7 * MM  # line of the frame: ISO 5457, 4.2
_FIELD = 50 * MM  # length of a grid reference field, from the centre lines out: ISO 5457, 4.4
_BAND = 5 * MM  # width of the grid reference border
_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"  # I and O are not used
_SIZE = 3.5 * MM / 0.72  # type size of capitals 3.5 mm high


def inside(paper: Paper) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of the space inside the frame [pt]."""
    wide, high = PAPERS[paper]
    return LEFT, EDGE, wide - EDGE, high - EDGE


def draw_border(paper: Paper) -> Iterator[Ink]:
    """The frame, fields 1, 2, 3 along the top and A, B, C down the right as a sheet of this size has them, centring marks."""
    wide, high = PAPERS[paper]
    left, top, right, bottom = inside(paper)
    yield rectangle(left, top, right - left, bottom - top, stroke=_FRAME)
    outer_top, outer_right = top - _BAND, right + _BAND
    yield Path(((left, outer_top), (outer_right, outer_top), (outer_right, bottom)), THIN)
    yield Path(((left, outer_top), (left, top)), THIN)
    yield Path(((right, bottom), (outer_right, bottom)), THIN)
    across = _fields(wide / 2, left, right)
    for number, (start, end) in enumerate(across, start=1):
        if end < right:
            yield Path(((end, outer_top), (end, top)), THIN)
        yield Text((start + end) / 2, top - _BAND / 2 + _SIZE * 0.36, str(number), _SIZE, anchor="middle")
    for letter, (start, end) in zip(_LETTERS, _fields(high / 2, top, bottom), strict=False):
        if end < bottom:
            yield Path(((right, end), (outer_right, end)), THIN)
        yield Text(right + _BAND / 2, (start + end) / 2 + _SIZE * 0.36, letter, _SIZE, anchor="middle")
    x, y = wide / 2, high / 2
    yield Path(((x, 0.0), (x, outer_top)), _FRAME)
    yield Path(((x, high), (x, bottom)), _FRAME)
    yield Path(((0.0, y), (left, y)), _FRAME)
    yield Path(((wide, y), (outer_right, y)), _FRAME)


def _fields(centre: float, start: float, end: float) -> list[tuple[float, float]]:
    """Fields of a side from its centre line out; what is left over goes to the outermost."""
    each = round((centre - min(start, 2 * centre - end)) / _FIELD)
    edges = [start, *(centre + n * _FIELD for n in range(1 - each, each)), end]
    return list(pairwise(edges))
