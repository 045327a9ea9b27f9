"""A page as a PNG picture: its SVG, painted with the font that comes with us, so that every machine paints alike."""

from importlib import resources
from pathlib import Path

import resvg_py

from .ink import Page, Text
from .svg import page_svg
from .text_width import in_font

FONTS = Path(str(resources.files(__package__))) / "fonts"
"""Folder of the font files of Arimo, regular and bold (SIL Open Font License 1.1)."""

_INCHES = {"mm": 1 / 25.4, "in": 1.0, "pt": 1 / 72}


def page_png(page: Page, *, dots_per_inch: float = 200.0) -> bytes:
    """A page as PNG. The machine's own fonts are asked only for letters that ours has not."""
    own = all(in_font(ink.text) for ink in page.inks if isinstance(ink, Text))
    across = page.paper_size[0]
    return resvg_py.svg_to_bytes(
        svg_string=page_svg(page).decode(),
        width=round(float(across[:-2]) * _INCHES[across[-2:]] * dots_per_inch),
        dpi=dots_per_inch,
        skip_system_fonts=own,
        font_files=[str(FONTS / "Arimo-Regular.ttf"), str(FONTS / "Arimo-Bold.ttf")],
        font_family="Arimo",
        sans_serif_family="Arimo",
        background="white",
    )
