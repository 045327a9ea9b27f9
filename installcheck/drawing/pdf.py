"""Pages as one PDF file: each page's SVG, placed edge to edge on paper of its size, with the font that comes with us."""

import tempfile
from collections.abc import Sequence
from pathlib import Path

from .ink import Page
from .png import FONTS
from .svg import page_svg


def pages_pdf(pages: Sequence[Page]) -> bytes:
    """Pages as one PDF, the same bytes on every run.

    Raises:
        ImportError: the typst package, which the pdf extra brings, is not installed.
    """
    import typst

    with tempfile.TemporaryDirectory() as folder:
        sheets = ["#set document(date: none)"]
        for number, page in enumerate(pages):
            Path(folder, f"{number}.svg").write_bytes(page_svg(page))
            across, down = page.paper_size
            sheets.append(
                f"#page(width: {across}, height: {down}, margin: 0pt)"
                f'[#image("{number}.svg", width: 100%, height: 100%)]'
            )
        main = Path(folder, "main.typ")
        main.write_text("\n".join(sheets), encoding="utf-8")
        made: bytes = typst.compile(str(main), font_paths=[str(FONTS)])
        return made
