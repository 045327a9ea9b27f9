"""The review record as a file: one HTML page that needs nothing else, or a PDF of the same."""

from __future__ import annotations

import json
import tempfile
from importlib.resources import files
from pathlib import Path
from typing import Any

from jinja2 import Environment, StrictUndefined
from markupsafe import Markup

from ...drawing.png import FONTS
from ...files.writing import OutputError


def template(name: str) -> str:
    """A template of this folder as text."""
    return (files("installcheck.outputs.report") / "templates" / name).read_text(encoding="utf-8")


def as_html(record: dict[str, Any]) -> str:
    """The record as one self-contained HTML page; every text of the document is escaped."""
    page = Environment(autoescape=True, undefined=StrictUndefined).from_string(template("report.html.j2"))
    return page.render(**record, style=Markup(template("report.css")), script=Markup(template("report.js")))


def as_pdf(record: dict[str, Any]) -> bytes:
    """The record as PDF; texts reach the layout as data, never as markup.

    Raises:
        OutputError: the pdf extra is not installed.
    """
    try:
        import typst
    except ImportError:
        raise OutputError("PDF needs one more package: pip install 'installcheck[pdf]'") from None
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        plain = {**record}
        for group, key in (("sheets", "svg"), ("budgets", "svg"), ("surveys", "svg")):
            plain[group] = [
                {**one, key: _picture(place, f"{group}-{n}", one[key])} for n, one in enumerate(record[group])
            ]
        plain["plots"] = [_picture(place, f"plot-{n}", svg) for n, svg in enumerate(record["plots"])]
        (place / "record.json").write_text(json.dumps(plain), encoding="utf-8")
        (place / "main.typ").write_text(template("report.typ"), encoding="utf-8")
        made: bytes = typst.compile(str(place / "main.typ"), font_paths=[str(FONTS)])
        return made


def _picture(folder: Path, name: str, svg: str) -> str:
    if not svg:
        return ""
    (folder / f"{name}.svg").write_text(svg, encoding="utf-8")
    return f"{name}.svg"
