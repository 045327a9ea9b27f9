"""The page read aloud and used by keys: what a screen reader is told, and where Tab leads."""

from __future__ import annotations

import json
from typing import Any

import pytest
from accessible import barriers
from page_window import SMALL, Window

CROSSED = SMALL.replace("W1: {from: bulb.A, to: gauge.A", "W1: {from: bulb.A, to: gauge.C")

pytestmark = pytest.mark.browser


def tree(window: Window) -> list[dict[str, Any]]:
    """What is told to a screen reader: role, name and properties of each thing on the page."""
    window.browser.execute_cdp_cmd("Accessibility.enable", {})
    nodes = window.browser.execute_cdp_cmd("Accessibility.getFullAXTree", {})["nodes"]
    return [
        {
            "role": node.get("role", {}).get("value"),
            "name": node.get("name", {}).get("value", ""),
            **{one["name"]: one["value"].get("value") for one in node.get("properties", ())},
        }
        for node in nodes
        if not node.get("ignored")
    ]


def drawn(window: Window) -> None:
    window.until(lambda: window.run("return document.querySelector('#paper svg')"), 120)


def test_every_part_has_a_role_and_a_name(window: Window) -> None:
    window.start("small.yaml")
    drawn(window)
    told = tree(window)
    named = {(one["role"], one["name"]) for one in told}
    assert ("main", "") in named
    assert ("banner", "") in named
    for name in ("Text of the installation", "Drawing", "Findings"):
        assert ("region", name) in named
    assert ("textbox", "Text of small.yaml") in named
    assert ("heading", "small.yaml") in named
    for tab in ("To put right", "Thing", "Not judged"):
        assert ("tab", tab) in named
    for button in ("Undo", "Redo", "Add", "Keys", "larger", "smaller", "Whole sheet"):
        assert ("button", button) in named
    assert ("combobox", "Sheet") in named
    assert [one for one in told if one["role"] == "status"]
    # the pane that scrolls takes the focus by script alone
    nameless = [
        one
        for one in told
        if one.get("focusable") and not one["name"] and one["role"] not in ("RootWebArea", "generic")
    ]
    assert nameless == [], nameless


def test_the_tabs_tell_which_is_chosen_and_turn_by_arrow_keys(window: Window) -> None:
    window.start("small.yaml")
    window.run("document.getElementById('tab-causes').focus()")
    window.type("\ue014")  # right
    assert window.run("return document.activeElement.id") == "tab-thing"
    chosen = [one["name"] for one in tree(window) if one["role"] == "tab" and one.get("selected")]
    assert chosen == ["Thing"]


def test_tab_leads_through_head_text_drawing_and_findings_and_is_caught_nowhere(window: Window) -> None:
    window.start("small.yaml")
    drawn(window)
    window.run("document.activeElement.blur()")
    seen = []
    for _ in range(60):
        window.type("\ue004")
        part = window.run(
            "return document.activeElement.closest('header, main > section')?.id || document.activeElement.className || document.activeElement.tagName"
        )
        if not seen or seen[-1] != part:
            seen.append(part)
        if part == "BODY":
            break
    order = [part for part in seen if part in ("text", "drawing", "right")]
    assert seen[0] == "skip"
    assert order[:3] == ["text", "drawing", "right"]


def test_what_it_comes_to_is_said_once_typing_rests(window: Window) -> None:
    window.start("small.yaml")
    window.until(lambda: "not judged" in window.run("return document.getElementById('aloud').textContent"))
    window.run(
        "window.said = []; new MutationObserver(() => window.said.push(document.getElementById('aloud').textContent))"
        ".observe(document.getElementById('aloud'), { childList: true, characterData: true, subtree: true });"
    )
    window.put_cursor("W1: {from: bulb.A, to: gauge.A")
    window.type("bcde")
    window.until(lambda: window.run("return window.said.length"))
    said = json.loads(window.run("return JSON.stringify(window.said)"))
    assert len(said) == 1
    assert said[0].startswith("cannot be read: 1 problem")


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [1400, 390])
def test_no_barrier_is_found_in_any_state_of_the_page(window: Window, scheme: str, width: int) -> None:
    browser = window.browser
    browser.execute_cdp_cmd(
        "Emulation.setEmulatedMedia", {"features": [{"name": "prefers-color-scheme", "value": scheme}]}
    )
    browser.execute_cdp_cmd(
        "Emulation.setDeviceMetricsOverride",
        {"width": width, "height": 850, "deviceScaleFactor": 1, "mobile": width < 500},
    )
    try:
        (window.folder / "small.yaml").write_text(
            SMALL.replace("zone: cabin}\nwire", "zone: cabin, part: none}\nwire")
        )
        (window.folder / "other.yaml").write_text("include: [small.yaml]\n")
        window.start("small.yaml")  # it cannot be read
        assert barriers(browser) == []
        window.editor(
            "view.dispatch({ changes: { from: 0, to: view.state.doc.length, insert: given[0] } });", SMALL
        )
        drawn(window)
        for part in ("text", "drawing", "right"):
            window.run("document.querySelector(`#shown [data-part=${arguments[0]}]`).click()", part)
            assert barriers(browser) == []
        window.run("document.querySelector('#tab-thing').click()")
        window.run(
            "const box = document.querySelector('#which'); box.value = 'W1'; box.dispatchEvent(new Event('change'));"
        )
        window.until(
            lambda: "W1" in window.run("return document.querySelector('#card h2')?.textContent || ''")
        )
        assert barriers(browser) == []
        window.run("document.querySelector('#adding').click()")
        window.until(lambda: window.run("return document.querySelector('#add-kind')"))
        assert barriers(browser) == []
    finally:
        browser.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})
        browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": []})
