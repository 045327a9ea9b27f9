"""The window in headless Chromium: typed, pressed, cured, saved; killed and opened again with nothing lost."""

from __future__ import annotations

import json
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
        command = [sys.executable, "-c", "from installcheck.cli import main; main()", "page", "--stay", *words]
        self.program = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, cwd=self.folder, env=environment)
        assert self.program.stdout is not None
        self.browser.get(self.program.stdout.readline().split("open ")[1].strip())
        self.until(lambda: self.run("return document.body.dataset.serial"))

    def kill(self) -> None:
        assert self.program is not None
        self.program.send_signal(signal.SIGKILL)
        self.program.wait()

    def run(self, script: str, *given: Any) -> Any:
        return self.browser.execute_script(script, *given)

    def until(self, true: Callable[[], Any], seconds: float = 60) -> Any:
        end = time.monotonic() + seconds
        while time.monotonic() < end:
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
        return str(self.run("return document.querySelector('.cm-content').cmTile?.view?.state.doc.toString() ?? window.installcheckText()"))

    def answered(self, before: str) -> None:
        self.until(lambda: self.run("return document.body.dataset.serial") != before)

    def serial(self) -> str:
        return str(self.run("return document.body.dataset.serial"))


@pytest.fixture
def window(browser: Any, tmp_path: Path) -> Iterator[Window]:
    (tmp_path / "small.yaml").write_text(SMALL)
    made = Window(browser, tmp_path)
    yield made
    if made.program is not None and made.program.poll() is None:
        made.program.terminate()
        made.program.wait(timeout=20)
    browser.get("about:blank")
    severe = [e for e in browser.get_log("browser") if e["level"] == "SEVERE" and "ERR_CONNECTION" not in e["message"]]
    assert not severe


def cursor_after(window: Window, text: str) -> None:
    window.run("window.installcheckCursor(arguments[0])", text)
