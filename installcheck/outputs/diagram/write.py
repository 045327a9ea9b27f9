"""Sheets into files: svg and png one file a sheet, pdf one file for all, dot for other tools."""

from __future__ import annotations

from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from ...drawing.sheet import Sheet
from ..files import OutputError, write_whole

ENDINGS = (".svg", ".png", ".pdf", ".dot")


def sheet_names(out: Path, count: int) -> list[Path]:
    """``retrofit.svg`` for one sheet; ``retrofit-01.svg``, ``retrofit-02.svg``... for several."""
    if count == 1:
        return [out]
    digits = max(2, len(str(count)))
    return [out.with_name(f"{out.stem}-{n:0{digits}}{out.suffix}") for n in range(1, count + 1)]


def write_sheets(sheets: Sequence[Sheet], out: Path) -> list[Path]:
    """Write sheets in the form the ending of ``out`` names; returns the files written.

    Raises:
        OutputError: an ending that is not known, a file that cannot be written, or the pdf extra not installed.
    """
    ending = out.suffix.lower()
    if ending not in ENDINGS:
        raise OutputError(f"'{out}' must end in {', '.join(ENDINGS)}: the ending picks the form")
    if ending == ".pdf":
        write_whole(out, sheets_pdf(sheets))
        return [out]
    names = sheet_names(out, len(sheets))
    with (
        ThreadPoolExecutor() as threads
    ):  # the renderer is a process of its own, so sheets are rendered side by side
        for name, data in zip(names, threads.map(lambda s: _bytes(s, ending), sheets), strict=True):
            write_whole(name, data)
    return names


def _bytes(sheet: Sheet, ending: str) -> bytes:
    if ending == ".svg":
        from ...drawing.svg import sheet_svg

        return sheet_svg(sheet)
    if ending == ".png":
        from ...drawing.png import sheet_png

        return sheet_png(sheet)
    from .dot import sheet_dot

    return sheet_dot(sheet).encode()


def sheets_pdf(sheets: Sequence[Sheet]) -> bytes:
    """All sheets as one PDF, each on its own page, edge to edge.

    Raises:
        OutputError: the pdf extra is not installed.
    """
    try:
        import typst
    except ImportError:
        raise OutputError("PDF needs one more package: pip install 'installcheck[pdf]'") from None
    import tempfile

    from ...drawing.sheet import Paper
    from ...drawing.svg import sheet_svg

    papers = {Paper.A4: "a4", Paper.LETTER: "us-letter"}
    with tempfile.TemporaryDirectory() as folder:
        pages = []
        for n, sheet in enumerate(sheets):
            Path(folder, f"{n}.svg").write_bytes(sheet_svg(sheet))
            pages.append(
                f'#page(paper: "{papers[sheet.paper]}", flipped: true, margin: 0pt)[#image("{n}.svg", width: 100%, height: 100%)]'
            )
        main = Path(folder, "main.typ")
        main.write_text("#set document(date: none)\n" + "\n".join(pages), encoding="utf-8")
        made: bytes = typst.compile(str(main))
        return made
