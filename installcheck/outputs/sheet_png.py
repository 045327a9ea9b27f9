"""A sheet as a PNG picture."""

from installcheck.outputs.sheet import Sheet
from installcheck.outputs.sheet_page import compose
from installcheck.outputs.sheet_page_dot import page_dot
from installcheck.outputs.sheet_render import render


def sheet_png(sheet: Sheet, *, dots_per_inch: float = 200.0) -> bytes:
    """One sheet, whole page, as PNG; split a full sheet with `split_sheet` first."""
    return render(page_dot(compose(sheet)), "png", dots_per_inch=dots_per_inch)
