"""The review record as a file: one HTML page that needs nothing else, or a PDF of the same."""

from __future__ import annotations

import json
import re
import tempfile
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any

from jinja2 import Environment, StrictUndefined, Template
from markupsafe import Markup, escape

from ...drawing.png import FONTS
from ...files.writing import OutputError
from ..pages import NO_PDF

_FRAME = re.compile(r'width="[^"]*" height="[^"]*" viewBox="[^"]*"')
"""Size of a drawing, as its root says it."""


def template(name: str) -> str:
    """A template of this folder as text."""
    return (files("installcheck.outputs.report") / "templates" / name).read_text(encoding="utf-8")


@cache
def page(name: str) -> Template:
    """A template of this folder as a page in which every text is escaped."""
    environment = Environment(autoescape=True, undefined=StrictUndefined)
    environment.filters["breakable"] = _breakable
    return environment.from_string(template(name))


def as_html(record: dict[str, Any]) -> str:
    """The record as one self-contained HTML page; every text of the document is escaped."""
    return page("report.html.j2").render(
        **record, style=Markup(template("report.css")), script=Markup(template("report.js"))
    )


def _breakable(place: str) -> Markup:
    """A path that may go on in the next line after each of its folders, never inside a word."""
    return escape(place).replace("/", Markup("/<wbr>"))


def as_pdf(record: dict[str, Any]) -> bytes:
    """The record as PDF; texts reach the layout as data, never as markup.

    Raises:
        OutputError: the pdf extra is not installed.
    """
    try:
        import typst
    except ImportError:
        raise OutputError(NO_PDF) from None
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        plain = {**record}
        for group, key in (("sheets", "svg"), ("budgets", "svg"), ("surveys", "svg")):
            plain[group] = [
                {**one, key: _picture(place, f"{group}-{n}", one[key])} for n, one in enumerate(record[group])
            ]
        plain["plots"] = [_picture(place, f"plot-{n}", svg) for n, svg in enumerate(record["plots"])]
        svgs = {one["id"]: one["svg"] for one in record["sheets"]}
        plain["causes"] = [{**one, "picture": _cropped(place, one, svgs)} for one in record["causes"]]
        (place / "record.json").write_text(json.dumps(plain), encoding="utf-8")
        (place / "main.typ").write_text(template("report.typ"), encoding="utf-8")
        made: bytes = typst.compile(str(place / "main.typ"), font_paths=[str(FONTS)])
        return made


def _cropped(folder: Path, cause: dict[str, Any], svgs: dict[str, str]) -> dict[str, Any] | None:
    """The picture of a cause as a file: its sheet, seen through the box around the place."""
    told: dict[str, Any] | None = cause["picture"]
    if told is None:
        return None
    box = f'width="{told["wide"]}pt" height="{told["high"]}pt" viewBox="{told["box"]}"'
    svg = _FRAME.sub(box, svgs[cause["sheet"]["id"]], count=1)
    return {**told, "file": _picture(folder, f"cause-{cause['number']}", svg)}


def _picture(folder: Path, name: str, svg: str) -> str:
    if not svg:
        return ""
    (folder / f"{name}.svg").write_text(svg, encoding="utf-8")
    return f"{name}.svg"
