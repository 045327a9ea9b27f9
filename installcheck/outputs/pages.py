"""Drawn pages into files: svg and png one file a page, pdf one file for all."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from ..drawing.ink import Page
from ..files.writing import OutputError, write_whole

ENDINGS = (".svg", ".png", ".pdf")


def require_form(out: Path, endings: Sequence[str] = ENDINGS) -> str:
    """The ending of a file to write, in small letters.

    Raises:
        OutputError: it names no form that can be written.
    """
    ending = out.suffix.lower()
    if ending not in endings:
        raise OutputError(f"'{out}' must end in {', '.join(endings)}: the ending picks the form")
    return ending


def write_pages(pages: Sequence[Page], out: Path) -> list[Path]:
    """Write pages in the form the ending of ``out`` names; returns the files written.

    Raises:
        OutputError: an ending that is not known, a file that cannot be written, or the pdf extra not installed.
    """
    ending = require_form(out)
    if ending == ".pdf":
        write_whole(out, pages_as_pdf(pages))
        return [out]
    if ending == ".svg":
        from ..drawing.svg import page_svg

        made = [page_svg(page) for page in pages]
    else:
        from ..drawing.png import page_png

        made = [page_png(page) for page in pages]
    names = _names(out, len(pages))
    for name, data in zip(names, made, strict=True):
        write_whole(name, data)
    return names


def pages_as_pdf(pages: Sequence[Page]) -> bytes:
    """All pages as one PDF, each edge to edge.

    Raises:
        OutputError: the pdf extra is not installed.
    """
    from ..drawing.pdf import pages_pdf

    try:
        return pages_pdf(pages)
    except ImportError:
        raise OutputError("PDF needs one more package: pip install 'installcheck[pdf]'") from None


def _names(out: Path, count: int) -> list[Path]:
    """``retrofit.svg`` for one page; ``retrofit-01.svg``, ``retrofit-02.svg``... for several."""
    if count == 1:
        return [out]
    digits = max(2, len(str(count)))
    return [out.with_name(f"{out.stem}-{n:0{digits}}{out.suffix}") for n in range(1, count + 1)]
