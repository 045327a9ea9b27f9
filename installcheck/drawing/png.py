"""A sheet as a PNG picture."""

from .page import compose
from .page_dot import page_dot
from .render import render
from .sheet import Sheet


def sheet_png(sheet: Sheet, *, dots_per_inch: float = 200.0) -> bytes:
    """One sheet, whole page, as PNG; split a full sheet with `split_sheet` first."""
    return render(page_dot(compose(sheet)), "png", dots_per_inch=dots_per_inch)
