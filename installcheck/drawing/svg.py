"""A page as SVG, written stroke by stroke: links, titles, and texts that keep their width in any viewer."""

import re
from collections.abc import Iterable, Iterator
from html import escape

from .ink import HATCH, Dash, Disc, Ink, Page, Path, Spot, Text, Trace
from .page import compose
from .sheet import Sheet
from .text_width import clean, printable, text_width

_FONTS = "Arimo, Helvetica, Arial, 'Liberation Sans', sans-serif"
_STYLE = "g:target > rect, g:target > a > rect { stroke: black; stroke-width: 1.5; }"


def sheet_svg(sheet: Sheet, *, prefix: str = "") -> bytes:
    """One sheet, whole page, as SVG; split a full sheet with `split_sheet` first.

    `prefix` is set before every id and link target, for several sheets in one web page.
    """
    return page_svg(compose(sheet), prefix=prefix)


def page_svg(page: Page, *, prefix: str = "") -> bytes:
    """A page as SVG; `prefix` is set before every id and link target."""
    across, down = page.paper_size
    linked = any(isinstance(ink, Spot) and ink.href for ink in page.inks)
    role = "group" if linked else "img"  # a picture hides from a reader aloud what stands in it
    head = (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{across}" height="{down}" '
        f'viewBox="0 0 {page.width:g} {page.height:g}" role="{role}" font-family="{_FONTS}">\n'
        f"<title>{escape(printable(page.title), quote=False)}</title>\n"
    )
    lines = [head, *_Writer(prefix).lines(page), "</svg>\n"]
    return "".join(lines).encode()


class _Writer:
    """Writes the ink of one page; every id once, whatever the names of the document are."""

    def __init__(self, prefix: str) -> None:
        self.prefix = prefix
        self.taken: set[str] = set()

    def lines(self, page: Page) -> Iterator[str]:
        spots = [ink for ink in page.inks if isinstance(ink, Spot)]
        if spots:
            yield f"<style>{escape(_STYLE, quote=False)}</style>\n"
        if any(isinstance(ink, Path) and ink.fill == HATCH for ink in page.inks):
            yield (
                f'<defs><pattern id="{self.prefix}hatch" width="6" height="6" patternUnits="userSpaceOnUse" '
                'patternTransform="rotate(45)"><rect width="6" height="6" fill="white"/>'
                '<path d="M0 0V6" stroke="black" stroke-width="2.4"/></pattern></defs>\n'
            )
        yield f'<rect width="{page.width:g}" height="{page.height:g}" fill="white"/>\n'
        yield '<g xml:space="preserve">\n'
        for ink in page.inks:
            if not isinstance(ink, Spot):
                yield from self.drawn(ink)
        for spot in spots:  # over all else, so that they feel the pointer
            yield self.spot(spot)
        yield "</g>\n"

    def drawn(self, ink: Ink) -> Iterator[str]:
        match ink:
            case Path():
                name = "polygon" if ink.closed else "polyline"
                yield f'<{name} points="{_points(ink.points)}"{self.fill(ink)}{_stroke(ink.width, ink.dash, ink.color)}/>\n'
            case Disc():
                place = f'cx="{_number(ink.x)}" cy="{_number(ink.y)}" r="{_number(ink.radius)}"'
                yield f'<circle {place} fill="{ink.fill}"{_stroke(ink.width, Dash.SOLID, "black")}/>\n'
            case Text():
                yield _text(ink)
            case Trace():
                yield self.trace(ink)

    def fill(self, path: Path) -> str:
        if path.fill == HATCH:
            return f' fill="url(#{self.prefix}hatch)"'
        return f' fill="{path.fill if path.closed and path.fill else "none"}"'

    def anchor(self, name: str) -> str:
        """The attribute of an id that a link can name; told apart by a number where two names come out alike."""
        if not name:
            return ""
        plain = self.prefix + re.sub(r"[^\w.+-]+", "-", name)
        ident, number = plain, 1
        while ident in self.taken:
            number += 1
            ident = f"{plain}-{number}"
        self.taken.add(ident)
        return f' id="{ident}"'

    def trace(self, trace: Trace) -> str:
        course = f'<polyline points="{_points(trace.points)}" fill="none"'
        strokes = "".join(f"{course}{_stroke(*stroke)}/>" for stroke in trace.strokes)
        return f"<g{self.anchor(trace.id)}>{_title(trace.title)}{strokes}</g>\n"

    def spot(self, spot: Spot) -> str:
        # The area has no ink, and must feel the pointer all the same.
        area = (
            f'<rect x="{_number(spot.x)}" y="{_number(spot.y)}" width="{_number(spot.width)}" '
            f'height="{_number(spot.height)}" fill="none" pointer-events="all"/>'
        )
        if spot.href:
            target = _quoted(f"#{self.prefix}{spot.href.removeprefix('#')}")
            name = printable(spot.title) or spot.href.removeprefix("#").replace("-", " ")
            area = f"<a href={target} aria-label={_quoted(name)}>{area}</a>"
        return f"<g{self.anchor(spot.id)}>{_title(spot.title)}{area}</g>\n"


def _quoted(words: str) -> str:
    """A value of an attribute."""
    return '"' + escape(words, quote=False).replace('"', "&quot;") + '"'


def _title(title: str) -> str:
    words = printable(title)
    return f"<title>{escape(words, quote=False)}</title>" if words else ""


def _number(value: float) -> str:
    told = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if told == "-0" else told


def _points(points: Iterable[tuple[float, float]]) -> str:
    return " ".join(f"{_number(x)},{_number(y)}" for x, y in points)


def _stroke(width: float, dash: str, color: str) -> str:
    if not width:
        return ""
    dashed = f' stroke-dasharray="{dash}"' if dash else ""
    return f' stroke="{color}" stroke-width="{width:g}"{dashed}'


def _text(ink: Text) -> str:
    """A text, held to the width that it was laid out for, whatever font the viewer has."""
    words = clean(ink.text)
    size = round(ink.size, 2)
    width = text_width(words, size, bold=ink.bold)
    place = f'x="{_number(ink.x)}" y="{_number(ink.y)}"'
    if ink.upright:
        place = f'transform="translate({_number(ink.x)} {_number(ink.y)}) rotate(-90)"'
    anchor = "" if ink.anchor == "start" else f' text-anchor="{ink.anchor}"'
    weight = ' font-weight="bold"' if ink.bold else ""
    return (
        f'<text {place} font-size="{_number(size)}"{weight}{anchor} textLength="{width:.2f}" '
        f'lengthAdjust="spacingAndGlyphs">{escape(words, quote=False)}</text>\n'
    )
