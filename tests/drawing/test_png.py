"""The PNG page."""

import struct
import zlib
from collections.abc import Callable

from installcheck.drawing.ink import Page, Text
from installcheck.drawing.page import compose
from installcheck.drawing.png import page_png
from installcheck.drawing.sheet import Sheet


def size(png: bytes) -> tuple[int, int]:
    assert png.startswith(b"\x89PNG\r\n\x1a\n")
    width, height = struct.unpack(">II", png[16:24])
    return width, height


def test_a_picture_has_the_size_of_a4_at_its_resolution(fictional_sheet: Callable[[int], Sheet]) -> None:
    width, height = size(page_png(compose(fictional_sheet(5)), dots_per_inch=100))
    # ISO 216: A4 is 297 mm by 210 mm; one pixel of slack on each side for rounding.
    assert abs(width - 297 / 25.4 * 100) <= 3
    assert abs(height - 210 / 25.4 * 100) <= 3


def test_a_picture_has_ink(fictional_sheet: Callable[[int], Sheet]) -> None:
    png = page_png(compose(fictional_sheet(5)), dots_per_inch=50)
    data, at = b"", 8
    while at < len(png):
        length, kind = struct.unpack(">I4s", png[at : at + 8])
        if kind == b"IDAT":
            data += png[at + 8 : at + 8 + length]
        at += 12 + length
    pixels = zlib.decompress(data)
    assert len(set(pixels)) > 20


def test_letters_without_a_font_of_ours_are_painted_all_the_same() -> None:
    page = Page(200, 100, "", (Text(10, 30, "漢 sender Ω", 10.0),), ("200pt", "100pt"))
    assert size(page_png(page, dots_per_inch=72)) == (200, 100)
