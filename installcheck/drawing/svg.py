"""A sheet as SVG: the renderer's drawing, sized for its paper, with links, titles and texts that keep their width."""

from xml.etree import ElementTree

from .page import compose
from .page_dot import page_dot
from .render import render
from .sheet import Paper, Sheet
from .text_width import text_width

_SVG = "http://www.w3.org/2000/svg"
_XLINK = "http://www.w3.org/1999/xlink"
_SIZES = {Paper.A4: ("297mm", "210mm"), Paper.LETTER: ("11in", "8.5in")}
_FONTS = "Arimo, Helvetica, Arial, 'Liberation Sans', sans-serif"
_TARGET = "g:target > polygon, g:target > a > polygon { stroke: black; stroke-width: 1.5; }"


def sheet_svg(sheet: Sheet, *, prefix: str = "") -> bytes:
    """One sheet, whole page, as SVG; split a full sheet with `split_sheet` first.

    `prefix` is set before every id and link target, for several sheets in one web page.
    """
    page = compose(sheet)
    root = ElementTree.fromstring(render(page_dot(page), "svg"))
    width, height = _SIZES[sheet.paper]
    root.set("width", width)
    root.set("height", height)
    root.set("viewBox", f"0 0 {page.width:g} {page.height:g}")
    root.set("role", "img")
    drawing = root.find(f"{{{_SVG}}}g")
    if drawing is None:
        raise RuntimeError("the renderer gave an SVG without a drawing")
    drawing.set("transform", f"translate(0 {page.height:g})")
    for title in drawing.findall(f"{{{_SVG}}}title"):
        drawing.remove(title)
    title = ElementTree.Element(f"{{{_SVG}}}title")
    title.text = page.title
    style = ElementTree.Element(f"{{{_SVG}}}style")
    style.text = _TARGET
    root.insert(0, title)
    root.insert(1, style)
    for group in drawing.findall(f"{{{_SVG}}}g"):
        _tidy(drawing, group, prefix)
    for text in root.iter(f"{{{_SVG}}}text"):
        _keep_width(text)
    drawing.attrib.pop("id", None)
    ElementTree.register_namespace("", _SVG)
    ElementTree.register_namespace("xlink", _XLINK)
    written: bytes = ElementTree.tostring(root, encoding="utf-8", xml_declaration=True)
    return written + b"\n"


def _tidy(drawing: ElementTree.Element, group: ElementTree.Element, prefix: str) -> None:
    """Give a group the title of the thing that it stands for, in place of its node name; keep only our own ids."""
    for title in group.findall(f"{{{_SVG}}}title"):
        group.remove(title)
    name = group.get("id", "")
    if name.startswith(("node", "edge")):
        del group.attrib["id"]
    elif name:
        group.set("id", prefix + name)
    inner = group.find(f"{{{_SVG}}}g")
    if inner is None:
        if len(group) == 0:
            drawing.remove(group)
        return
    group.remove(inner)
    link = inner.find(f"{{{_SVG}}}a")
    if link is None:
        return
    words = link.attrib.pop(f"{{{_XLINK}}}title", "")
    target = link.attrib.pop(f"{{{_XLINK}}}href", "")
    if target:
        link.set("href", f"#{prefix}{target.removeprefix('#')}")
        link.set(f"{{{_XLINK}}}href", f"#{prefix}{target.removeprefix('#')}")
        group.append(link)
    else:
        group.extend(link)
    for area in group.iter(f"{{{_SVG}}}polygon"):
        area.set("pointer-events", "all")  # it has no ink, and must feel the pointer all the same
    if words.strip():
        title = ElementTree.Element(f"{{{_SVG}}}title")
        title.text = words
        group.insert(0, title)


def _keep_width(text: ElementTree.Element) -> None:
    """Hold a text to the width that it was laid out for, whatever font the viewer has."""
    size = float(text.get("font-size", "7"))
    bold = text.get("font-weight") == "bold"
    width = text_width(text.text or "", size, bold=bold)
    text.set("font-family", _FONTS)
    text.set("textLength", f"{width:.2f}")
    text.set("lengthAdjust", "spacingAndGlyphs")
