"""From an empty folder: a document typed letter by letter, its mistake told, and put right by one press."""

from __future__ import annotations

import pytest
from page_window import Window

from installcheck import check, load
from installcheck.rules.verdicts import Outcome

TYPED = """installation: {name: One head probe, scope: part, thermocouple_colours: US}
zones:
  engine: {hot_parts: yes, temperature: {lowest: -20 degC, highest: 110 degC}}
  cabin: {occupied: yes, temperature: {lowest: -20 degC, highest: 50 degC}}
barriers:
  firewall: {kind: firewall, between: [engine, cabin], fireproof: yes}
operating_points:
  cruise: {zone_temperatures: {engine: 90 degC, cabin: 22 degC}, readings: {head temperature: 380 degF}}
probes:
  head 3: {part: bayonet probe K isolated, cylinder: 3, zone: engine}
indicators:
  head gauge: {part: electronic head temperature indicator K, zone: cabin, budget: 15 degF}
wire_runs:
  H1:
    part: thermocouple lead K
    gauge: 20 AWG
    conductors: {'+': {from: head 3.+, to: head gauge.-}, '-': {from: head 3.-, to: head gauge.+}}
    route: engine 3 ft, firewall by fireproof grommet 0.5 in clear, cabin 4 ft
"""
BACK, ENTER = "\ue003", "\ue007"

pytestmark = pytest.mark.browser


def typed(window: Window, text: str) -> None:
    """Type a text as a person does: what the editor indents by itself is taken as it comes, and made up to what is meant."""
    for line in text.splitlines():
        wanted = len(line) - len(line.lstrip())
        while (there := _written(window)) > wanted:
            window.type(BACK)
        window.type(" " * (wanted - there))
        window.type(line.lstrip())
        window.type(ENTER)


def _written(window: Window) -> int:
    return len(str(window.editor("return view.state.doc.lineAt(view.state.selection.main.head).text")))


def test_a_document_typed_from_nothing_is_judged_and_its_mistake_put_right_by_one_press(
    window: Window,
) -> None:
    (window.folder / "small.yaml").unlink()
    window.start()
    window.until(lambda: not window.run("return document.getElementById('tour').hidden"))
    window.press("#tour .buttons button:nth-child(2)")
    window.editor("view.focus(); view.dispatch({ selection: { anchor: 0, head: view.state.doc.length } });")
    window.type(BACK)
    window.until(lambda: "cannot be read" in window.one("#counts").text)
    typed(window, TYPED)
    lines = [line.rstrip() for line in window.text().rstrip().split("\n")]
    assert lines == TYPED.rstrip().split("\n")
    window.until(
        lambda: window.run("return document.querySelector('li.cause h3')?.textContent.includes('H1')"), 120
    )
    window.until(lambda: window.run("return document.querySelectorAll('.do:not(:disabled)').length"), 120)
    told = window.one("li.cause h3").text
    assert "H1" in told
    assert "crossed" in told
    serial = window.serial()
    window.press("li.cause .do")
    window.answered(serial)
    window.until(lambda: window.run("return document.body.dataset.causes") == window.serial(), 120)
    left = window.run("return [...document.querySelectorAll('li.cause h3')].map((one) => one.textContent)")
    assert left == ["1. power and ground of head gauge are not wired"]

    window.press("#save")
    window.until(lambda: window.run("return document.querySelector('#file-name')"))
    window.run("document.querySelector('#file-name').value = 'mine.yaml'")
    window.press("#dialog button[data-value=save]")
    window.until(lambda: window.one("#saved").text == "saved")
    assert window.one("#name").text == "mine.yaml"
    wrong = [v for v in check(load(window.folder / "mine.yaml")).verdicts if v.outcome is Outcome.DISCREPANCY]
    assert [v.message for v in wrong] == ["power and ground of head gauge are not wired"]
