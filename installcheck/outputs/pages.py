"""Drawn pages into files: svg and png one file a page, several in a folder of their own; pdf one file for all."""

from __future__ import annotations

import re
from collections.abc import Sequence
from importlib.util import find_spec
from pathlib import Path

from ..drawing.ink import Page
from ..files.writing import OutputError, write_whole

ENDINGS = (".svg", ".png", ".pdf")
NO_PDF = (
    "PDF needs the package 'typst', which is not installed; from the folder of this checkout: pip install '.[pdf]' "
    "(another form needs nothing more)"
)


def require_form(out: Path, endings: Sequence[str] = ENDINGS) -> str:
    """The ending of a file to write, in small letters.

    Raises:
        OutputError: it names no form that can be written, or one whose extra is not installed.
    """
    ending = out.suffix.lower()
    if ending not in endings:
        raise OutputError(f"'{out}' must end in {', '.join(endings)}: the ending picks the form")
    if ending == ".pdf" and find_spec("typst") is None:
        raise OutputError(NO_PDF)
    return ending


def write_pages(pages: Sequence[Page], out: Path) -> list[Path]:
    """Write pages in the form the ending of ``out`` names; returns the files written.

    ``retrofit.svg`` holds a single page; several go into the folder ``retrofit`` beside where it would be.

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
    if len(made) == 1:
        write_whole(out, made[0])
        return [out]
    folder = out.with_suffix("")
    names = [folder / name for name in _names(out, len(made))]
    try:
        folder.mkdir(exist_ok=True)
    except OSError as bad:
        raise OutputError(
            f"the folder '{folder}' for {len(made)} pages cannot be made: {bad.strerror}"
        ) from None
    for name, data in zip(names, made, strict=True):
        write_whole(name, data)
    _drop_others(folder, out, set(names))
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
        raise OutputError(NO_PDF) from None


def _names(out: Path, count: int) -> list[str]:
    """``retrofit-01.svg``, ``retrofit-02.svg``..., which sort as they are bound."""
    digits = max(2, len(str(count)))
    return [f"{out.stem}-{n:0{digits}}{out.suffix}" for n in range(1, count + 1)]


def _drop_others(folder: Path, out: Path, kept: set[Path]) -> None:
    """Take away pages that an earlier drawing of the same name left: they would be bound with the new ones."""
    pattern = re.compile(rf"{re.escape(out.stem)}-\d{{2,}}{re.escape(out.suffix)}")
    for other in folder.iterdir():
        if other not in kept and pattern.fullmatch(other.name):
            other.unlink()
