"""A browser for all that is tried in it, and a page of a small document for each."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from page_window import CHROMIUM, DRIVER, SMALL, Window, chromium


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    if not (CHROMIUM and DRIVER):
        pytest.skip("no Chromium with its driver on this machine; .ci/run installs both")
    driver = chromium()
    yield driver
    driver.quit()


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
        and "net::ERR_" not in e["message"]  # the program was killed,
        and "(Unauthorized)" not in e["message"]  # and another answers at its address
        and e["source"] != "intervention"  # a window that was never pressed is left without being asked
    ]
    assert not severe
