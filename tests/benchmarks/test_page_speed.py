"""From a letter typed to its verdicts shown, in Chromium: wall time, and the processor time it is made of."""

from __future__ import annotations

import os
import shutil
import statistics
import time
from pathlib import Path
from typing import Any

import pytest
from big_document import big_document
from page_window import CHROMIUM, DRIVER, Window, chromium

DEMO = Path(__file__).parents[2] / "demo_aircraft"
_WATCH = """
window.shown = [];
let begun = 0;
document.addEventListener('keydown', (event) => { begun = event.timeStamp; }, true);
new MutationObserver(() => requestAnimationFrame(() => setTimeout(() => window.shown.push(performance.now() - begun))))
  .observe(document.body, { attributes: true, attributeFilter: ['data-serial'] });
window.held = [];
new PerformanceObserver((list) => window.held.push(...list.getEntries().map((one) => one.duration))).observe({ type: 'longtask' });
"""

pytestmark = pytest.mark.skipif(
    not (CHROMIUM and DRIVER), reason="no Chromium with its driver on this machine"
)


def used(program: int) -> float:
    """Seconds of processor time a process has used (proc(5), fields 14 and 15)."""
    told = Path(f"/proc/{program}/stat").read_text().rsplit(")", 1)[1].split()
    return (int(told[11]) + int(told[12])) / os.sysconf("SC_CLK_TCK")


def drawn(window: Window) -> float:
    """Seconds the window's own thread has worked."""
    told: dict[str, Any] = window.browser.execute_cdp_cmd("Performance.getMetrics", {})
    return next(float(one["value"]) for one in told["metrics"] if one["name"] == "TaskDuration")


def median_of(window: Window, after: str, letters: str) -> dict[str, float]:
    """Milliseconds from letter to verdicts, and the processor time of both sides, each as the median."""
    assert window.program is not None
    window.browser.execute_cdp_cmd("Performance.enable", {})
    window.run(_WATCH)
    window.put_cursor(after)
    rows = []
    for letter in letters:
        serial, before = window.serial(), (used(window.program.pid), drawn(window))
        window.type(letter)
        window.answered(serial)
        before_it = len(rows)
        window.until(lambda before_it=before_it: window.run("return window.shown.length") > before_it)
        rows.append(
            (
                window.run("return window.shown.at(-1)"),
                used(window.program.pid) - before[0],
                drawn(window) - before[1],
            )
        )
        time.sleep(0.2)
    wall, program, page = (statistics.median(column) for column in zip(*rows[4:], strict=True))
    held = window.run("return window.held")
    return {
        "wall_ms": wall,
        "program_ms": program * 1e3,
        "window_ms": page * 1e3,
        "longest_held_ms": max(held, default=0),
        "load": os.getloadavg()[0],
    }


@pytest.mark.parametrize(
    ("document", "after"),
    [
        ("demo", "P20: power block.2 to oil pressure gauge.power, 22 AWG, cabin "),
        ("demo comment", "P20: power block.2 to oil pressure gauge.power, 22 AWG, cabin 2 ft"),
        ("thousand", "to: block 1, length: "),
        ("thousand title", "name: large installation"),
    ],
)
def test_a_letter_to_its_verdicts(benchmark: Any, tmp_path: Path, document: str, after: str) -> None:
    if document.startswith("demo"):
        for name in ("retrofit.yaml", "airframe.yaml", "unchanged.yaml"):
            shutil.copy(DEMO / name, tmp_path / name)
        file = "retrofit.yaml"
    else:
        file = "big.yaml"
        (tmp_path / file).write_text(big_document(1000))
    letters = (
        " # a word here"
        if document == "demo comment"
        else "x" * 14
        if document.endswith("title")
        else "1\ue003" * 7
    )
    browser = chromium()
    window = Window(browser, tmp_path)
    try:
        window.start(file)
        window.until(lambda: window.run("return document.body.dataset.causes") == window.serial(), 600)
        found = benchmark.pedantic(lambda: median_of(window, after, letters), rounds=1)
    finally:
        browser.quit()
        window.end()
    benchmark.extra_info.update({name: round(value, 1) for name, value in found.items()})
    print(document, benchmark.extra_info)
