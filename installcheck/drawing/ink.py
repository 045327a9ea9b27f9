"""The few strokes from which a page is made, in points from the top left corner of the paper."""

from dataclasses import dataclass
from enum import StrEnum

Point = tuple[float, float]

THIN = 0.5
LINE = 0.9
HEAVY = 2.0


class Dash(StrEnum):
    """Line styles that every renderer has."""

    SOLID = "solid"
    DASHED = "dashed"
    DOTTED = "dotted"


@dataclass(frozen=True, slots=True)
class Path:
    """An open polyline, or a closed outline with a fill."""

    points: tuple[Point, ...]
    width: float = LINE
    dash: Dash = Dash.SOLID
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
    """A line of text on its baseline."""

    x: float
    y: float
    text: str
    size: float
    bold: bool = False
    anchor: str = "start"


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
    """A page ready to be rendered; `scale` is how much the drawing on it was enlarged."""

    width: float
    height: float
    title: str
    inks: tuple[Ink, ...]
    scale: float


def rectangle(
    x: float,
    y: float,
    width: float,
    height: float,
    *,
    stroke: float = LINE,
    fill: str = "white",
    dash: Dash = Dash.SOLID,
    color: str = "black",
) -> Path:
    """A rectangle by its top left corner and size."""
    corners = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
    return Path(corners, stroke, dash, closed=True, fill=fill, color=color)
