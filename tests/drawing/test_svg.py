"""The SVG page: links that lead somewhere, the same bytes each time, text that stays text."""

import hashlib
import os
import subprocess
import sys
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import pytest

from installcheck.drawing.ink import Dash, Page, Spot, Text, Trace
from installcheck.drawing.kinds import Paper
from installcheck.drawing.sheet import Sheet
from installcheck.drawing.split import split_sheet
from installcheck.drawing.svg import page_svg, sheet_svg

SVG = "{http://www.w3.org/2000/svg}"


@pytest.mark.parametrize("wires", [5, 60])
def test_every_mark_leads_to_its_verdict(fictional_sheet: Callable[[int], Sheet], wires: int) -> None:
    for part in split_sheet(fictional_sheet(wires)):
        root = ElementTree.fromstring(sheet_svg(part))
        ids = [element.get("id") for element in root.iter() if element.get("id")]
        assert [name for name, times in Counter(ids).items() if times > 1] == []
        links = [link.get("href", "") for link in root.iter(f"{SVG}a")]
        for mark in part.marks:
            assert f"verdict-{mark.number}" in ids
            if mark.target in {run.id for run in part.runs} | {d.id for d in part.devices}:
                assert f"#verdict-{mark.number}" in links
        assert {link.removeprefix("#") for link in links} <= set(ids)
        for run in part.runs:
            assert f"run-{run.id}" in ids


def test_ids_of_several_sheets_can_be_kept_apart(fictional_sheet: Callable[[int], Sheet]) -> None:
    root = ElementTree.fromstring(sheet_svg(fictional_sheet(5), prefix="s1-"))
    assert all(element.get("id", "s1-").startswith("s1-") for element in root.iter())
    assert all(link.get("href", "").startswith("#s1-") for link in root.iter(f"{SVG}a"))


@pytest.mark.parametrize(
    ("paper", "width", "height"), [(Paper.A4, "297mm", "210mm"), (Paper.LETTER, "11in", "8.5in")]
)
def test_the_page_has_the_size_of_its_paper(
    fictional_sheet: Callable[[int], Sheet], paper: Paper, width: str, height: str
) -> None:
    root = ElementTree.fromstring(sheet_svg(replace(fictional_sheet(5), paper=paper)))
    assert (root.get("width"), root.get("height")) == (width, height)


def test_the_title_block_is_filled(fictional_sheet: Callable[[int], Sheet]) -> None:
    sheet = fictional_sheet(5).titled(2, 7)
    words = [text.text for text in ElementTree.fromstring(sheet_svg(sheet)).iter(f"{SVG}text")]
    for part in (sheet.installation, sheet.subject, "B", "2031-04-12", "2 of 7"):
        assert part in words
    assert " ".join(sheet.caution.split()) in " ".join(word or "" for word in words)


def test_black_and_grey_are_all_the_ink(fictional_sheet: Callable[[int], Sheet]) -> None:
    root = ElementTree.fromstring(sheet_svg(fictional_sheet(20)))
    inks = {element.get(name) for element in root.iter() for name in ("fill", "stroke")} - {None}
    assert inks <= {"none", "black", "white", "#666666"}


def test_text_of_the_document_stays_text(hostile_sheet: Sheet) -> None:
    for part in split_sheet(hostile_sheet):
        svg = sheet_svg(part)
        root = ElementTree.fromstring(svg)
        allowed = {"svg", "g", "a", "title", "style", "text", "polygon", "polyline", "rect", "circle"}
        assert {str(element.tag).removeprefix(SVG) for element in root.iter()} <= allowed
        for element in root.iter():
            assert not [name for name in element.keys() if name.lower().startswith("on")]  # noqa: SIM118
            assert element.get("href", "#").startswith("#")
            assert not any("href" in name for name in set(element.keys()) - {"href"})
        assert b"<script" not in svg


def test_names_that_come_out_alike_as_ids_are_told_apart() -> None:
    traces = tuple(
        Trace(f"run-{name}", name, ((0, 0), (9, 9)), ((1.0, Dash.SOLID, "black"),))
        for name in ("a b", "a-b", "a/b")
    )
    root = ElementTree.fromstring(page_svg(Page(10, 10, "", traces, ("10pt", "10pt"))))
    assert [element.get("id") for element in root.iter() if element.get("id")] == [
        "run-a-b",
        "run-a-b-2",
        "run-a-b-3",
    ]


@pytest.mark.parametrize("char", ["\x00", "\x1b", "\u202e", "\u2066", "\ufffe", "\ud800", "\U000e0041"])
def test_a_character_that_has_no_shape_or_turns_text_round_is_shown_as_a_sign(char: str) -> None:
    page = Page(
        99,
        99,
        f"a{char}b",
        (Text(0, 9, f"a{char}b", 7.0), Spot(0, 0, 9, 9, title=f"a{char}b")),
        ("1in", "1in"),
    )
    svg = page_svg(page).decode()
    ElementTree.fromstring(svg)
    assert char not in svg
    assert svg.count("a\ufffdb") == 3


def test_text_of_the_document_is_shown_as_it_is_written(fictional_sheet: Callable[[int], Sheet]) -> None:
    text = '<b>9</b> & \\N "x"'
    sheet = replace(fictional_sheet(5), subject=text, date=text, notes=(text,))
    words = [text.text for text in ElementTree.fromstring(sheet_svg(sheet)).iter(f"{SVG}text")]
    assert words.count(text) == 3  # drawing, date, note


BUILD = """
import hashlib, sys
from importlib.util import module_from_spec, spec_from_file_location
spec = spec_from_file_location("fictional", sys.argv[1])
module = module_from_spec(spec)
spec.loader.exec_module(module)
from installcheck.drawing.page import compose
from installcheck.drawing.png import page_png
from installcheck.drawing.split import split_sheet
from installcheck.drawing.svg import sheet_svg
for sheet in (module.SheetBuilder(60).build(), module.build_tangled_sheet(5)):
    for part in split_sheet(sheet):
        for data in (sheet_svg(part), page_png(compose(part), dots_per_inch=50)):
            print(hashlib.sha256(data).hexdigest())
"""


def test_the_same_sheet_gives_the_same_bytes_in_every_process() -> None:
    fictional = Path(__file__).with_name("conftest.py")
    outputs = [
        subprocess.run(
            [sys.executable, "-c", BUILD, str(fictional)],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
            text=True,
        ).stdout
        for seed in ("1", "2")
    ]
    assert outputs[0] == outputs[1]
    assert len(outputs[0].splitlines()) >= 8
    assert hashlib.sha256(b"").hexdigest() not in outputs[0]
