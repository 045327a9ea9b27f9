"""The few strokes from which a page is made, in points from the top left corner of the paper."""

from enum import StrEnum

from ..dataclass import dataclass

Point = tuple[float, float]

THIN = 0.5
LINE = 0.9
HEAVY = 2.0

GREY = "#666666"
"""What is less than black and still prints."""


HATCH = "hatch"
"""A fill of slanting strokes, told apart from white, grey and black on any printer."""


class Dash(StrEnum):
    """Usual line styles: lengths of strokes and gaps in turn [pt]."""

    SOLID = ""
    DASHED = "5 2"
    DOTTED = "1 5"


@dataclass(frozen=True, slots=True)
class Path:
    """An open polyline, or a closed outline with a fill: a colour or `HATCH`. A width of 0 leaves the stroke out."""

    points: tuple[Point, ...]
    width: float = LINE
    dash: str = Dash.SOLID
    closed: bool = False
    fill: str = ""
    color: str = "black"


@dataclass(frozen=True, slots=True)
class Disc:
    """A circle."""

    x: float
    y: float
    radius: float
    width: float = LINE
    fill: str = "white"


@dataclass(frozen=True, slots=True)
class Text:
    """A line of text on its baseline, by its start, middle or end; `upright` is read from below to above."""

    x: float
    y: float
    text: str
    size: float
    bold: bool = False
    anchor: str = "start"
    upright: bool = False


@dataclass(frozen=True, slots=True)
class Trace:
    """A wire or fluid line: one polyline, stroked once or several times one over the other (width, style, colour)."""

    id: str
    title: str
    points: tuple[Point, ...]
    strokes: tuple[tuple[float, Dash, str], ...]


@dataclass(frozen=True, slots=True)
class Spot:
    """A place that can be linked to (`id`), links elsewhere (`href`) and tells its name (`title`)."""

    x: float
    y: float
    width: float
    height: float
    id: str = ""
    title: str = ""
    href: str = ""


Ink = Path | Disc | Text | Trace | Spot


@dataclass(frozen=True, slots=True)
class Page:
    """A page ready to be written; `paper_size` is its size on paper, with units."""

    width: float
    height: float
    title: str
    inks: tuple[Ink, ...]
    paper_size: tuple[str, str]


def rectangle(
    x: float,
    y: float,
    width: float,
    height: float,
    *,
    stroke: float = LINE,
    fill: str = "white",
    dash: str = Dash.SOLID,
    color: str = "black",
) -> Path:
    """A rectangle by its top left corner and size."""
    corners = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
    return Path(corners, stroke, dash, closed=True, fill=fill, color=color)


def line(
    x1: float, y1: float, x2: float, y2: float, stroke: float, *, dash: str = Dash.SOLID, color: str = "black"
) -> Path:
    """A straight line."""
    return Path(((x1, y1), (x2, y2)), stroke, dash, color=color)
