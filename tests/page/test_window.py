"""The window in headless Chromium: typed, pressed, cured, saved; killed and opened again with nothing lost."""

from __future__ import annotations

import contextlib
import os
import random
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from accessible import barriers

DEMO = Path(__file__).parents[2] / "demo_aircraft"
CHROMIUM, DRIVER = shutil.which("chromium"), shutil.which("chromedriver")
KILLS = int(os.environ.get("INSTALLCHECK_KILLS", "5"))

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(
        not (CHROMIUM and DRIVER), reason="no Chromium with its driver on this machine; .ci/run installs both"
    ),
]
SMALL = """installation: {name: small, scope: part}
zones: {cabin: {occupied: yes}}  # the only zone
senders:
  bulb: {terminals: [A, B], zone: cabin}
indicators:
  gauge: {terminals: [A, B], zone: cabin}
wire_runs:
  W1: {from: bulb.A, to: gauge.A, part: AS22759/16, gauge: 22 AWG, length: 5 ft}
"""


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    from selenium import webdriver
    from selenium.webdriver.chrome.options import Options
    from selenium.webdriver.chrome.service import Service

    options = Options()
    options.binary_location = CHROMIUM
    for word in (
        "--headless=new",
        "--no-sandbox",
        "--disable-gpu",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
        "--no-first-run",
        "--window-size=1400,900",
    ):
        options.add_argument(word)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL"})
    options.set_capability("unhandledPromptBehavior", "accept")
    driver = webdriver.Chrome(options=options, service=Service(DRIVER))
    driver.set_script_timeout(60)
    yield driver
    driver.quit()


class Window:
    """A page of a file in the browser, and the program behind it."""

    def __init__(self, browser: Any, folder: Path) -> None:
        self.browser, self.folder = browser, folder
        self.program: subprocess.Popen[str] | None = None

    def start(self, *words: str) -> None:
        environment = {**os.environ, "XDG_STATE_HOME": str(self.folder / "state")}
        command = [
            sys.executable,
            "-c",
            "from installcheck.cli import main; main()",
            "page",
            "--stay",
            *words,
        ]
        self.program = subprocess.Popen(
            command, stdout=subprocess.PIPE, text=True, cwd=self.folder, env=environment
        )
        assert self.program.stdout is not None
        self.browser.get(self.program.stdout.readline().split("open ")[1].strip())
        self.until(
            lambda: self.run("return document.body.dataset.serial || document.querySelector('#dialog').open")
        )

    def kill(self) -> None:
        assert self.program is not None
        self.program.send_signal(signal.SIGKILL)
        self.end()

    def end(self) -> None:
        """End the program, and close what it was heard by."""
        if self.program is not None:
            self.program.terminate()
            self.program.wait(timeout=20)
            if self.program.stdout is not None:
                self.program.stdout.close()

    def run(self, script: str, *given: Any) -> Any:
        return self.browser.execute_script(script, *given)

    def until(self, true: Callable[[], Any], seconds: float = 60) -> Any:
        from selenium.common.exceptions import StaleElementReferenceException

        end = time.monotonic() + seconds
        while time.monotonic() < end:
            with contextlib.suppress(StaleElementReferenceException):  # drawn anew while it was read
                if found := true():
                    return found
            time.sleep(0.05)
        raise AssertionError("it did not come")

    def one(self, selector: str) -> Any:
        from selenium.webdriver.common.by import By

        return self.browser.find_element(By.CSS_SELECTOR, selector)

    def press(self, selector: str) -> None:
        self.run("arguments[0].click()", self.one(selector))

    def type(self, text: str) -> None:
        from selenium.webdriver.common.action_chains import ActionChains

        ActionChains(self.browser).send_keys(text).perform()

    def text(self) -> str:
        return str(self.editor("return view.state.doc.toString()"))

    def editor(self, script: str, *given: Any) -> Any:
        """Run a script with the editor's ``view`` and what is ``given``."""
        return self.browser.execute_async_script(
            "const [given, done] = arguments; import('/static/editor.js').then((E) => {"
            "const view = E.EditorView.findFromDOM(document.querySelector('.cm-editor'));"
            f"done((() => {{ {script} }})()); }})",
            list(given),
        )

    def put_cursor(self, after: str) -> None:
        self.editor(
            "const at = view.state.doc.toString().indexOf(given[0]) + given[0].length;"
            "view.dispatch({ selection: { anchor: at } }); view.focus();",
            after,
        )

    def answered(self, before: str) -> None:
        self.until(lambda: self.run("return document.body.dataset.serial") != before)

    def serial(self) -> str:
        return str(self.run("return document.body.dataset.serial"))


@pytest.fixture
def window(browser: Any, tmp_path: Path) -> Iterator[Window]:
    (tmp_path / "small.yaml").write_text(SMALL)
    made = Window(browser, tmp_path)
    yield made
    made.end()
    browser.get("about:blank")
    severe = [
        e
        for e in browser.get_log("browser")
        if e["level"] == "SEVERE"
        and "ERR_CONNECTION" not in e["message"]  # the program was killed
        and e["source"] != "intervention"  # a window that was never pressed is left without being asked
    ]
    assert not severe


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


def test_nothing_typed_is_lost_when_the_program_is_killed_or_the_window_closed(window: Window) -> None:
    rng = random.Random(4)
    window.start("small.yaml")
    expected = SMALL
    for turn in range(KILLS):
        window.put_cursor("# the only zone")
        for letter in f" {turn}":
            window.type(letter)
            expected = window.text()
        time.sleep(rng.random() * 0.5)
        if turn % 2:
            window.kill()
            window.until(lambda: "Ended" in window.one("#word").text)
            assert window.text() == expected
            window.start("small.yaml")
        else:
            window.browser.refresh()
            window.until(
                lambda: window.run(
                    "return document.body.dataset.serial || document.querySelector('#dialog').open"
                )
            )
        window.until(lambda: window.run("return document.querySelector('#dialog').open"))
        window.press("#dialog button[data-value=take]")
        window.until(lambda wanted=expected: window.text() == wanted)
    assert (window.folder / "small.yaml").read_text() == SMALL


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
