"""The window in headless Chromium: typed, pressed and saved, one part at a time."""

from __future__ import annotations

import pytest
from accessible import barriers
from page_window import SMALL, Window

pytestmark = pytest.mark.browser


def counts(window: Window) -> str:
    return str(window.one("#counts").text)


def test_it_can_be_read_aloud_and_used_by_keyboard(window: Window) -> None:
    window.start("small.yaml")
    window.until(lambda: window.run("return document.querySelector('#paper svg')"))
    assert barriers(window.browser) == []


def test_a_letter_typed_is_judged_and_a_mistake_is_told_at_its_place(window: Window) -> None:
    window.start("small.yaml")
    before = window.serial()
    window.put_cursor("W1: {from: bulb.A, to: gauge.")
    window.type("\ue017C")  # the letter after the cursor deleted, another in its place
    # told once without a letter and once with the wrong one, if the answers are quick enough
    window.until(lambda: "terminal of 'gauge'" in window.one("#causes").text)
    assert "cannot be read" in counts(window)
    assert window.serial() != before
    window.until(lambda: window.run("return document.querySelector('.cm-lint-marker-error')"))
    assert window.one("#saved").text == "not saved"
    window.press("#undo")
    window.until(lambda: "cannot be read" not in counts(window))
    assert window.text() == SMALL


def test_what_can_be_written_is_offered_at_the_cursor(window: Window) -> None:
    window.start("small.yaml")
    window.put_cursor("zones: {cabin: {")
    window.type("te")
    window.until(
        lambda: (
            "temperature"
            in (window.run("return document.querySelector('.cm-tooltip-autocomplete')?.innerText") or "")
        )
    )


def test_a_press_on_the_drawing_shows_the_line_and_the_card(window: Window) -> None:
    window.start("small.yaml")
    group = "#paper g[id$='run-W1'], #paper g[id$='-run-W1']"
    window.until(lambda: window.run("return document.querySelector(arguments[0])", group))
    window.run(
        "document.querySelector(arguments[0]).dispatchEvent(new MouseEvent('click', {bubbles: true}))", group
    )
    window.until(
        lambda: (
            "W1" in window.one("#thing h2").text
            if window.run("return document.querySelector('#thing h2')")
            else False
        )
    )
    assert "length" in window.one("#thing").text
    assert "22 AWG" in window.one("#thing").text
    assert window.one(".shown-line").text.strip().startswith("W1")


def test_a_thing_is_added_by_its_form_and_can_be_undone(window: Window) -> None:
    window.start("small.yaml")
    window.press("#adding")
    window.until(lambda: window.run("return document.querySelector('#add-kind')"))
    window.run(
        "const kind = document.querySelector('#add-kind'); kind.value = 'wire_runs'; kind.dispatchEvent(new Event('change'))"
    )
    window.until(lambda: window.run("return document.querySelector('#add-id')"))
    for word, value in {
        "id": "W2",
        "from": "bulb.B",
        "to": "gauge.B",
        "part": "AS22759/16",
        "size": "22 AWG",
        "route": "cabin 4 ft",
    }.items():
        window.run("document.getElementById(arguments[0]).value = arguments[1]", f"add-{word}", value)
    window.press("#dialog button[data-value=add]")
    window.until(lambda: "W2: bulb.B to gauge.B, AS22759/16 22 AWG, cabin 4 ft" in window.text())
    assert window.text().startswith(SMALL)
    window.press("#undo")
    assert window.text() == SMALL


def test_saving_writes_the_file_and_another_programs_change_is_told(window: Window) -> None:
    window.start("small.yaml")
    window.put_cursor("# the only zone")
    window.type(" of it")
    window.press("#save")
    window.until(lambda: window.one("#saved").text == "saved")
    changed = SMALL.replace("# the only zone", "# the only zone of it")
    assert (window.folder / "small.yaml").read_text() == changed
    (window.folder / "small.yaml").write_text(changed + "# theirs\n")
    window.until(lambda: "changed by another program" in window.one("#word").text)
    window.type(" now")
    window.press("#save")
    window.until(lambda: window.run("return document.querySelector('#dialog').open"))
    assert "# theirs" in window.one(".difference").text
    assert (window.folder / "small.yaml").read_text() == changed + "# theirs\n"
    window.press("#dialog button[data-value=mine]")
    window.until(lambda: "of it now" in (window.folder / "small.yaml").read_text())


def test_a_first_run_opens_an_example_with_a_tour_and_its_first_cure_is_one_press(window: Window) -> None:
    (window.folder / "small.yaml").unlink()
    window.start()
    window.until(lambda: not window.run("return document.getElementById('tour').hidden"))
    for _ in range(5):
        window.press("#tour .buttons button")
    assert window.run("return document.getElementById('tour').hidden")
    window.until(lambda: window.run("return document.querySelectorAll('.do:not(:disabled)').length"), 240)
    before = len(window.run("return [...document.querySelectorAll('li.cause')]"))
    assert before
    serial = window.serial()
    window.press(".do")
    window.answered(serial)
    window.until(lambda: window.run("return document.body.dataset.causes") == window.serial(), 240)
    assert len(window.run("return [...document.querySelectorAll('li.cause')]")) < before


def test_the_keyboard_alone_reaches_every_part(window: Window) -> None:
    window.start("small.yaml")
    window.put_cursor("zones")
    seen = set()
    for _ in range(3):
        window.type("\ue036")  # F6
        seen.add(window.run("return document.activeElement.closest('main > section').id"))
    assert seen == {"text", "drawing", "right"}


@pytest.mark.parametrize(("width", "height"), [(390, 800), (1400, 900)])
def test_nothing_is_wider_than_the_screen(window: Window, width: int, height: int) -> None:
    window.browser.set_window_size(width, height)
    window.start("small.yaml")
    assert window.run("return document.documentElement.scrollWidth <= window.innerWidth")
    window.browser.set_window_size(1400, 900)
