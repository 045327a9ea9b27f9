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


def test_a_part_is_found_by_its_words_with_its_figures_and_taken_by_a_press(window: Window) -> None:
    window.start("small.yaml")
    window.press("#adding")
    window.until(lambda: window.run("return document.querySelector('#add-kind')"))
    window.run(
        "const kind = document.querySelector('#add-kind'); kind.value = 'senders'; kind.dispatchEvent(new Event('change')); document.querySelector('#add-part').focus()"
    )
    window.type("pt100")
    window.until(lambda: window.run("return document.querySelectorAll('.hits button').length"))
    assert "tolerance 1.1 degC" in window.one(".hits li").text
    window.press(".hits button")
    assert window.run("return document.querySelector('#add-part').value") == "resistance bulb Pt100"


def test_a_wire_list_pasted_becomes_runs_in_the_text(window: Window) -> None:
    window.start("small.yaml")
    window.press("#adding")
    window.until(lambda: window.run("return document.querySelector('#add-kind')"))
    window.run(
        "const kind = document.querySelector('#add-kind'); kind.value = 'wire list'; kind.dispatchEvent(new Event('change'));"
        "document.querySelector('#add-rows').value = arguments[0]",
        "id\tfrom\tto\tgauge\ttype\tlength\nW2\tbulb.B\tgauge.B\t22 AWG\tAS22759/16\t4 ft\n",
    )
    window.press("#dialog button[data-value=add]")
    window.until(lambda: "W2: bulb.B to gauge.B, AS22759/16 22 AWG, length 4 ft" in window.text())


def test_a_figure_turned_by_the_slider_or_by_keys_is_judged_and_put_back(window: Window) -> None:
    window.start("small.yaml")
    window.run(
        "document.querySelector('#tab-thing').click(); const box = document.querySelector('#which');"
        "box.value = 'W1'; box.dispatchEvent(new Event('change'));"
    )
    window.until(lambda: window.run("return document.querySelector('#try')"))
    figures = window.run("return [...document.querySelectorAll('#try option')].map((one) => one.textContent)")
    assert figures == ["gauge 22 AWG", "length 5 ft"]
    window.run(
        "const chosen = document.querySelector('#try select'); chosen.value = 1; chosen.dispatchEvent(new Event('change'));"
        "const slider = document.querySelector('#try input'); slider.focus(); slider.value = 12; slider.dispatchEvent(new Event('input'));"
    )
    window.until(lambda: "length: 12 ft" in window.text())
    window.until(lambda: "12 ft" in window.run("return document.querySelector('#card table').textContent"))
    window.run("document.querySelector('#try button').click()")
    window.until(lambda: window.text() == SMALL)
    window.put_cursor("length: 5")
    window.browser.execute_cdp_cmd(
        "Input.dispatchKeyEvent",
        {
            "type": "rawKeyDown",
            "key": "ArrowUp",
            "code": "ArrowUp",
            "windowsVirtualKeyCode": 38,
            "modifiers": 1,
        },
    )
    window.until(lambda: "length: 6 ft" in window.text())


def test_the_pointer_on_a_wire_tells_what_is_worked_out_of_it(window: Window) -> None:
    from selenium.webdriver.common.action_chains import ActionChains

    window.start("small.yaml")
    window.put_cursor("W1: {from: bulb")
    place = window.editor(
        "const at = view.coordsAtPos(view.state.selection.main.head); return [at.left, at.top + 4];"
    )
    body = window.one("body").rect
    ActionChains(window.browser).move_to_element_with_offset(
        window.one("body"), place[0] - body["width"] / 2, place[1] - body["height"] / 2
    ).perform()
    window.until(lambda: window.run("return document.querySelector('.help')"))
    told = window.run("return document.querySelector('.help').textContent")
    assert "length 5 ft" in told
    assert "0.081 ohm" in told  # 16.2 ohm in 1000 ft of 22 AWG (AS22759/16), 5 ft of it


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
