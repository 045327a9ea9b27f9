"""Every mistake of the demo put right by clicks alone, in whichever file it stands, and the files saved."""

from __future__ import annotations

import difflib
import shutil
from pathlib import Path

import pytest
from page_window import Window

from installcheck import check, load
from installcheck.document import Document
from installcheck.rules.verdicts import Outcome

DEMO = Path(__file__).parents[2] / "demo_aircraft"
FILES = ("retrofit.yaml", "airframe.yaml", "unchanged.yaml")

pytestmark = pytest.mark.browser


def causes(window: Window) -> int:
    """How many things are to be put right, once they were looked for in the text as it is now."""
    window.until(lambda: window.run("return document.body.dataset.causes") == window.serial(), 300)
    return int(window.run("return document.querySelectorAll('li.cause').length"))


def test_every_mistake_of_the_demo_is_cured_by_clicks_and_nothing_else_is_touched(window: Window) -> None:
    for name in FILES:
        shutil.copy(DEMO / name, window.folder / name)
    before = {name: (DEMO / name).read_bytes() for name in FILES}
    window.start("retrofit.yaml")
    assert causes(window) > 9
    for _ in range(30):
        if not causes(window):
            break
        serial = window.serial()
        window.press("li.cause .do:not(:disabled)")
        window.answered(serial)
    assert causes(window) == 0
    assert str(window.one("#counts").text).startswith("0 discrepancies")
    assert {name: (window.folder / name).read_bytes() for name in FILES} == before  # nothing is saved unasked
    window.press("#save")
    window.until(lambda: window.one("#saved").text == "saved")

    assert check(load(window.folder / "retrofit.yaml")).count(Outcome.DISCREPANCY) == 0
    cured = load(window.folder / "retrofit.yaml")
    first = load(DEMO / "retrofit.yaml")
    for name in FILES:
        for line in _taken_out(before[name], (window.folder / name).read_bytes()):
            section, ident = _owner(first, name, line)
            assert _said(first, section, ident) != _said(cured, section, ident), (
                f"{name}:{line} was left as it is"
            )


def _owner(document: Document, file: str, line: int) -> tuple[str, str]:
    """The thing whose lines a line of a file is among."""
    found = [
        (place.line, section, ident)
        for section, held in document.whole.items()
        for ident in (held if isinstance(held, dict) else ())
        if Path((place := document.files.places.place((section, ident), of_key=True)).file).name == file
        and place.line <= line
    ]
    return max(found)[1:]


def _said(document: Document, section: str, ident: str) -> object:
    held = document.whole.get(section)
    return held.get(ident) if isinstance(held, dict) else None


def _taken_out(before: bytes, after: bytes) -> list[int]:
    """The lines of the text before, by number, that are not byte for byte in the text after."""
    old, new = before.splitlines(keepends=True), after.splitlines(keepends=True)
    matcher = difflib.SequenceMatcher(None, old, new, autojunk=False)
    return [k + 1 for tag, a, b, _, _ in matcher.get_opcodes() if tag != "equal" for k in range(a, b)]
