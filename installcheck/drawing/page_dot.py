"""A finished page in the DOT language, with every stroke pinned, for the renderer."""

import re
from collections.abc import Iterator
from itertools import pairwise

import graphviz

from .ink import (
    Dash,
    Disc,
    Ink,
    Page,
    Path,
    Point,
    Spot,
    Text,
    Trace,
)
from .text_width import printable, text_width

FONT = "Helvetica"


def page_dot(page: Page) -> str:
    """A finished page as DOT for `neato -n2`: strokes and text as background, wires as edges, links as nodes."""
    graph = graphviz.Graph(
        graph_attr={"pad": "0", "fontname": FONT, "outputorder": "edgesfirst", "bgcolor": "white"},
        node_attr={
            "shape": "box",
            "label": "",
            "fixedsize": "true",
            "style": "filled",
            "color": "transparent",
        },
    )
    background: list[str] = []
    graph.node("page", pos=f"{page.width / 2:.2f},{page.height / 2:.2f}", **_size(page.width, page.height))
    for end in ("tail", "head"):
        graph.node(end, pos="0,0", style="invis", **_size(0, 0))
    for number, ink in enumerate(page.inks):
        match ink:
            case Trace():
                _trace(graph, ink, page.height)
            case Spot():
                _spot(graph, f"spot{number}", ink, page.height)
            case Text() if "\\" in ink.text:
                _label(graph, f"text{number}", ink, page.height)
            case _:
                background += _xdot(ink, page.height)
    graph.graph_attr["_background"] = " ".join(background)
    return str(graph.source)


def _size(width: float, height: float) -> dict[str, str]:
    return {"width": f"{width / 72:.5f}", "height": f"{height / 72:.5f}"}


def _number(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")


def _points(points: tuple[Point, ...], page: float) -> str:
    return " ".join(f"{_number(x)} {_number(page - y)}" for x, y in points)


def _xdot(ink: Ink, page: float) -> Iterator[str]:
    """Drawing operations of the xdot form, which counts text in bytes."""
    match ink:
        case Path():
            yield f"{_op('c', _color(ink.color))} {_op('S', f'setlinewidth({ink.width:g})')} {_op('S', ink.dash)}"
            if ink.closed and ink.fill:
                yield _op("C", _color(ink.fill))
            shape = "L" if not ink.closed else "P" if ink.fill else "p"
            yield f"{shape} {len(ink.points)} {_points(ink.points, page)}"
        case Disc():
            yield f"{_op('c', '#000000')} {_op('S', f'setlinewidth({ink.width:g})')} {_op('S', 'solid')}"
            place = f"{_number(ink.x)} {_number(page - ink.y)} {_number(ink.radius)} {_number(ink.radius)}"
            yield f"{_op('C', _color(ink.fill))} E {place}"
        case Text():
            name = f"{FONT}-Bold" if ink.bold else FONT
            side = {"start": -1, "middle": 0, "end": 1}[ink.anchor]
            place = f"{_number(ink.x)} {_number(page - ink.y)} {side} 0"
            font = f"F {ink.size:.2f} {len(name)} -{name}"
            yield f"{_op('c', '#000000')} {font} T {place} {len(ink.text.encode())} -{ink.text}"


def _op(letter: str, word: str) -> str:
    return f"{letter} {len(word.encode())} -{word}"


def _color(name: str) -> str:
    return {"black": "#000000", "white": "#ffffff", "gray40": "#666666"}[name]


def _trace(graph: graphviz.Graph, trace: Trace, page: float) -> None:
    course = spline(trace.points, page)
    for number, (width, dash, color) in enumerate(trace.strokes):
        named = {"id": _anchor(trace.id)} if trace.id and not number else {}
        title = {"tooltip": graphviz.escape(printable(trace.title))} if trace.title else {}
        style = {} if dash is Dash.SOLID else {"style": str(dash)}
        graph.edge(
            "tail", "head", pos=course, penwidth=f"{width:g}", color=_color(color), **named, **title, **style
        )


def spline(points: tuple[Point, ...], page: float) -> str:
    """A polyline as the cubic spline that `neato -n2` expects: every control point on a corner."""
    places = [f"{_number(x)},{_number(page - y)}" for x, y in points]
    course = places[:1]
    for here, there in pairwise(places):
        course += [here, there, there]
    return " ".join(course)


def _label(graph: graphviz.Graph, name: str, text: Text, page: float) -> None:
    """A text with a backslash, which the xdot form cannot hold, as the label of a node."""
    width = text_width(text.text, text.size, bold=text.bold)
    middle = text.x + {"start": 0.5, "middle": 0.0, "end": -0.5}[text.anchor] * width
    graph.node(
        name,
        label=graphviz.escape(text.text),
        shape="plain",
        style="",
        fontname=f"{FONT}-Bold" if text.bold else FONT,
        fontsize=f"{text.size:.2f}",
        # The renderer sets the baseline of a label this much under its middle, and xdot text that much higher.
        pos=f"{middle:.2f},{page - text.y + 0.4 * text.size:.2f}",
        **_size(width, text.size),
    )


def _anchor(name: str) -> str:
    """An id that a link can name."""
    return re.sub(r"[^\w.+-]+", "-", name)


def _spot(graph: graphviz.Graph, name: str, spot: Spot, page: float) -> None:
    attributes = {"id": _anchor(spot.id)} if spot.id else {}
    if spot.href:
        attributes["href"] = spot.href
    if spot.title:
        attributes["tooltip"] = graphviz.escape(printable(spot.title))
    place = f"{spot.x + spot.width / 2:.2f},{page - spot.y - spot.height / 2:.2f}"
    graph.node(name, pos=place, **_size(spot.width, spot.height), **attributes)
