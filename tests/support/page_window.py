"""The page in headless Chromium, and the program behind it."""

from __future__ import annotations

import contextlib
import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

SMALL = """installation: {name: small, scope: part}
zones: {cabin: {occupied: yes}}  # the only zone
senders:
  bulb: {terminals: [A, B], zone: cabin}
indicators:
  gauge: {terminals: [A, B], zone: cabin}
wire_runs:
  W1: {from: bulb.A, to: gauge.A, part: AS22759/16, gauge: 22 AWG, length: 5 ft}
"""
CHROMIUM, DRIVER = shutil.which("chromium"), shutil.which("chromedriver")


def chromium(size: str = "1400,900") -> Any:
    """A headless Chromium with a window of a size; ``quit`` ends it."""
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
        f"--window-size={size}",
    ):
        options.add_argument(word)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL"})
    options.set_capability("unhandledPromptBehavior", "accept")
    driver = webdriver.Chrome(options=options, service=Service(DRIVER))
    driver.set_script_timeout(60)
    return driver


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
