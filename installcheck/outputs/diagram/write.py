"""The diagram into files: sheets as svg, png or pdf, the graph of the installation as dot."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from ...analysis.study import Study
from ...drawing.page import compose
from ...drawing.sheet import Sheet
from ...files.writing import write_whole
from ..pages import ENDINGS, require_form, write_pages

GRAPH = ".dot"
FORMS = (*ENDINGS, GRAPH)


def write_sheets(sheets: Sequence[Sheet], out: Path) -> list[Path]:
    """Write sheets in the form the ending of ``out`` names; returns the files written.

    Raises:
        OutputError: an ending that is not known, a file that cannot be written, or the pdf extra not installed.
    """
    require_form(out)
    return write_pages([compose(sheet) for sheet in sheets], out)


def write_graph(study: Study, out: Path) -> list[Path]:
    """Write the graph of an installation in the DOT language; returns the file written.

    Raises:
        OutputError: it cannot be written.
    """
    from .dot import graph_dot

    write_whole(out, graph_dot(study).encode())
    return [out]
