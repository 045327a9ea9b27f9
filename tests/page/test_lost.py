"""Killed, closed and opened again at any moment: nothing typed is lost, and the files stay as they were saved."""

from __future__ import annotations

import os
import random
import time

import pytest
from page_window import SMALL, Window

KILLS = int(os.environ.get("INSTALLCHECK_KILLS", "5"))
OTHER = "# what stays\nroutes: {across: cabin 4 ft}\n"

pytestmark = pytest.mark.browser


def take_all(window: Window) -> None:
    """Go on with every text that was not saved."""
    seen = -1.0
    while time.monotonic() - seen < 1 or seen < 0:
        if window.run("return document.querySelector('#dialog').open"):
            window.press("#dialog button[data-value=take]")
            seen = time.monotonic()
        elif seen < 0 and window.run("return document.body.dataset.serial"):
            seen = time.monotonic()
        time.sleep(0.02)


def test_nothing_typed_is_lost_when_the_program_is_killed_or_the_window_closed(window: Window) -> None:
    """Two files are typed in, turn by turn; the program is killed or the window opened anew at a moment by chance."""
    rng = random.Random(4)
    folder = window.folder
    main = "include: [other.yaml]\n" + SMALL
    (folder / "small.yaml").write_text(main)
    (folder / "other.yaml").write_text(OTHER)
    window.start("small.yaml")
    window.until(lambda: window.run("return document.querySelectorAll('#files [role=tab]').length") == 2)
    expected = {"small.yaml": main, "other.yaml": OTHER}
    places = {"small.yaml": "# the only zone", "other.yaml": "# what stays"}
    for turn in range(KILLS):
        file = rng.choice(list(expected))
        window.press(f"#files [data-file='{file}']")
        window.put_cursor(places[file])
        for letter in f" {turn}":
            window.type(letter)
            expected[file] = window.text()
            if rng.random() < 0.2:
                break
        time.sleep(rng.random() * 0.5)
        if turn % 2:
            window.kill()
            window.until(lambda: "Ended" in window.one("#word").text)
            assert window.text() == expected[file]
            window.start("small.yaml")
        else:
            window.browser.refresh()
            window.until(
                lambda: window.run(
                    "return document.body.dataset.serial || document.querySelector('#dialog').open"
                )
            )
        take_all(window)
        window.until(lambda: window.run("return document.querySelectorAll('#files [role=tab]').length") == 2)
        for name, wanted in expected.items():
            window.press(f"#files [data-file='{name}']")
            window.until(lambda wanted=wanted: window.text() == wanted)
    assert (folder / "small.yaml").read_text() == main
    assert (folder / "other.yaml").read_text() == OTHER
