"""A document of several files: each opened, typed in, cured, kept and saved by itself."""

from __future__ import annotations

import pytest
from page_window import Window

MAIN = """include: [wires.yaml]
installation: {name: two files, scope: part}
zones: {engine: {hot_parts: yes, temperature: {lowest: 0 degC, highest: 90 degC}}, cabin: {occupied: yes}}
probes:
  head: {part: bayonet probe K isolated, cylinder: 1, zone: engine}
indicators:
  gauge: {part: electronic head temperature indicator K, zone: cabin}
"""
WIRES = """# the wires
wire_runs:
  T1:
    part: thermocouple lead K
    gauge: 20 AWG
    conductors: {'+': {from: head.+, to: gauge.-}, '-': {from: head.-, to: gauge.+}}
    route: engine 3 ft, cabin 4 ft
"""

pytestmark = pytest.mark.browser


@pytest.fixture
def two(window: Window) -> Window:
    """A window of a document whose one mistake, crossed leads, stands in the file it includes."""
    (window.folder / "main.yaml").write_text(MAIN)
    (window.folder / "wires.yaml").write_text(WIRES)
    window.start("main.yaml")
    window.until(lambda: tabs(window) == ["main.yaml", "wires.yaml"])
    return window


def tabs(window: Window) -> list[str]:
    found: list[str] = window.run(
        "return [...document.querySelectorAll('#files [role=tab]')].map((one) => one.textContent)"
    )
    return found


def turn(window: Window, name: str) -> None:
    window.press(f"#files [data-file='{name}']")


def disk(window: Window, name: str) -> str:
    return (window.folder / name).read_text()


def test_a_cure_is_written_into_the_file_it_touches_and_undone_there(two: Window) -> None:
    two.until(lambda: two.run("return document.querySelectorAll('.do:not(:disabled)').length"), 120)
    assert "wires.yaml:" in two.one("li.cause .place").text
    before = two.serial()
    two.press(".do")
    two.until(lambda: "Written in wires.yaml" in two.one("#word").text)
    assert tabs(two) == ["main.yaml", "* wires.yaml"]
    assert two.text() == MAIN
    two.answered(before)
    two.until(lambda: two.run("return document.body.dataset.causes") == two.serial(), 120)
    written = two.serial()
    two.press("#word button")
    two.until(lambda: tabs(two) == ["main.yaml", "wires.yaml"])
    two.answered(written)
    two.until(lambda: two.run("return document.body.dataset.causes") == two.serial(), 120)
    two.press(".do")
    two.until(lambda: tabs(two) == ["main.yaml", "* wires.yaml"])
    assert disk(two, "wires.yaml") == WIRES
    two.press("#save-all")
    two.until(lambda: two.one("#saved").text == "saved")
    assert "head.+" in disk(two, "wires.yaml")
    assert disk(two, "wires.yaml").startswith(
        "# the wires\nwire_runs:\n  T1:\n    part: thermocouple lead K\n"
    )
    assert disk(two, "main.yaml") == MAIN


def test_a_press_on_a_place_brings_the_file_it_stands_in(two: Window) -> None:
    two.until(lambda: two.run("return document.querySelectorAll('li.cause .place').length"), 120)
    two.press("li.cause .place")
    assert two.text() == WIRES
    assert two.one("#files [aria-selected=true]").text == "wires.yaml"


def test_each_file_has_its_own_history_and_is_saved_by_itself(two: Window) -> None:
    two.put_cursor("name: two files")
    two.type(" x")
    turn(two, "wires.yaml")
    two.put_cursor("# the wires")
    two.type(" y")
    assert tabs(two) == ["* main.yaml", "* wires.yaml"]
    two.press("#save")
    two.until(lambda: tabs(two) == ["* main.yaml", "wires.yaml"])
    assert disk(two, "wires.yaml") == WIRES.replace("# the wires", "# the wires y")
    assert disk(two, "main.yaml") == MAIN
    turn(two, "main.yaml")
    two.press("#undo")
    two.until(lambda: two.text() == MAIN)
    turn(two, "wires.yaml")
    two.press("#undo")
    two.until(lambda: two.text() == WIRES)
    assert tabs(two) == ["main.yaml", "* wires.yaml"]


def test_a_mistake_typed_into_an_included_file_is_told_and_what_stood_there_is_judged(two: Window) -> None:
    turn(two, "wires.yaml")
    two.put_cursor("gauge: 20")
    two.type("x")
    two.until(lambda: "cannot be read" in two.one("#counts").text)
    assert "wires.yaml" in two.run("return document.querySelector('#causes .place').textContent") or two.run(
        "return document.querySelector('.cm-lint-marker-error')"
    )
    two.type("\ue003")
    two.until(lambda: "cannot be read" not in two.one("#counts").text)


def test_an_included_file_changed_by_another_program_is_told_and_nothing_is_lost(two: Window) -> None:
    turn(two, "wires.yaml")
    two.put_cursor("# the wires")
    two.type(" mine")
    (two.folder / "wires.yaml").write_text(WIRES + "# theirs\n")
    two.until(lambda: "wires.yaml was changed by another program" in two.one("#word").text)
    two.press("#save")
    two.until(lambda: two.run("return document.querySelector('#dialog').open"))
    assert "# theirs" in two.one(".difference").text
    assert disk(two, "wires.yaml") == WIRES + "# theirs\n"
    two.press("#dialog button[data-value=theirs]")
    two.until(lambda: two.text() == WIRES + "# theirs\n")
    two.press("#undo")
    two.until(lambda: "# the wires mine" in two.text())


def test_a_file_named_anew_is_opened_and_one_no_longer_named_is_put_away(two: Window) -> None:
    (two.folder / "more.yaml").write_text("routes: {across: cabin 2 ft}\n")
    two.put_cursor("include: [wires.yaml")
    two.type(", more.yaml")
    two.until(lambda: tabs(two) == ["* main.yaml", "wires.yaml", "more.yaml"])
    two.press("#undo")
    two.until(lambda: tabs(two) == ["main.yaml", "wires.yaml"])


HOSTILE = "<img src=x onerror=window.ran=1>"


def test_markup_and_script_in_names_stay_text_wherever_they_are_shown(window: Window) -> None:
    """Ids that are refused are told as they stand; titles, file names and what is typed are shown. A script would leave its mark."""
    wires = f"{HOSTILE}.yaml"
    main = (
        f"include: ['{wires}']\n"
        f"installation: {{name: '{HOSTILE}', scope: part}}\n"
        f"zones: {{cabin: {{occupied: yes, title: '</title><script>window.ran=1</script>'}}}}\n"
        f"senders: {{bulb: {{title: '{HOSTILE}', terminals: [A, B], zone: cabin}}}}\n"
        "indicators: {gauge: {terminals: [A, B], zone: cabin}}\n"
    )
    (window.folder / "main.yaml").write_text(main.replace("bulb:", f"'{HOSTILE}':"))
    (window.folder / wires).write_text(
        "wire_runs: {W1: {from: bulb.A, to: gauge.A, part: AS22759/16, gauge: 22 AWG, length: 5 ft}}\n"
    )
    window.start("main.yaml")
    window.until(lambda: tabs(window) == ["main.yaml", wires])
    assert f"'{HOSTILE}' cannot be an id" in window.one("#causes").text
    window.editor(
        "view.dispatch({ changes: { from: 0, to: view.state.doc.length, insert: given[0] } });", main
    )
    window.until(lambda: window.run("return document.querySelector('#paper svg')"), 120)
    window.press("#tab-thing")
    window.run(
        "const box = document.querySelector('#which'); box.value = 'bulb'; box.dispatchEvent(new Event('change'));"
    )
    window.until(lambda: HOSTILE in window.run("return document.querySelector('#card').textContent"))
    window.press("#differ")
    window.until(
        lambda: HOSTILE in window.run("return document.querySelector('.difference')?.textContent || ''")
    )
    window.press("#dialog button[data-value='']")
    assert window.run("return window.ran") is None
    made = "main img, main script, header img, dialog img, dialog script"
    assert window.run("return document.querySelectorAll(arguments[0]).length", made) == 0
