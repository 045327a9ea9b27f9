"""The review record in headless Chromium: no console error, links and filter work, printed pages are whole."""

import base64
import json
import re
from itertools import pairwise
from pathlib import Path

import pytest
from accessible import barriers
from demo_causes import causes_of
from page_window import CHROMIUM, DRIVER, chromium

from installcheck import check, load
from installcheck.outputs.report.files import as_html
from installcheck.outputs.report.record import record
from installcheck.rules.decisions import open_refusals, read_decisions, still_asked

DEMO = Path(__file__).parents[3] / "demo_aircraft"

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(
        not (CHROMIUM and DRIVER), reason="no Chromium with its driver on this machine; .ci/run installs both"
    ),
]


@pytest.fixture(scope="module")
def browser(tmp_path_factory):
    folder = tmp_path_factory.mktemp("page")
    causes = causes_of("retrofit")
    (folder / "review.html").write_text(as_html(record(causes.ledger, causes=causes)), encoding="utf-8")
    driver = chromium("1200,1600")
    driver.command_executor.client_config.timeout = 600  # a busy machine prints the appendix for minutes
    driver.get((folder / "review.html").as_uri())
    assert not driver.execute_script("return document.getElementById('appendix').open"), "folded on screen"
    driver.execute_script("document.getElementById('appendix').open = true")
    yield driver
    driver.quit()


def test_no_console_error(browser):
    assert [e for e in browser.get_log("browser") if e["level"] == "SEVERE"] == []


def test_it_can_be_read_aloud_and_used_by_keyboard(browser):
    assert barriers(browser) == []


def test_filter_shows_only_what_is_asked(browser):
    from selenium.webdriver.common.by import By
    from selenium.webdriver.support.ui import Select

    Select(browser.find_element(By.ID, "by-outcome")).select_by_value("advisory")
    shown = browser.execute_script(
        "return [...document.querySelectorAll('#verdict-table tbody tr')].filter(r => !r.hidden).map(r => r.dataset.outcome)"
    )
    assert shown
    assert set(shown) == {"advisory"}
    Select(browser.find_element(By.ID, "by-outcome")).select_by_value("")
    browser.find_element(By.ID, "by-text").send_keys("head probe on cylinder 4")
    shown = browser.execute_script(
        "return [...document.querySelectorAll('#verdict-table tbody tr')].filter(r => !r.hidden).map(r => r.dataset.rule)"
    )
    assert "head-probe-on-hottest" in shown
    browser.find_element(By.ID, "by-text").clear()


def test_a_thing_finds_its_verdicts(browser):
    """The leads of exhaust 4 are crossed in run T14, which the rule names by the probe."""
    from selenium.webdriver.common.by import By

    browser.find_element(By.ID, "by-text").send_keys("T14")
    shown = browser.execute_script(
        "return [...document.querySelectorAll('#verdict-table tbody tr')].filter(r => !r.hidden).map(r => r.dataset.rule)"
    )
    assert "thermocouple-leg-material" in shown
    browser.execute_script(
        "const t = document.getElementById('by-text'); t.value = ''; t.dispatchEvent(new Event('input'))"
    )


def test_a_sort_keeps_figures_of_one_unit_together(browser):
    browser.execute_script("document.querySelectorAll('#verdict-table thead button')[5].click()")
    units = browser.execute_script(
        "return [...document.querySelectorAll('#verdict-table tbody tr')].map(r => r.cells[5]).filter(c => c.dataset.key).map(c => c.dataset.unit)"
    )
    changes = sum(1 for a, b in pairwise(units) if a != b)
    assert changes == len(set(units)) - 1


def test_decisions_are_saved_as_they_are_ticked(browser):
    from selenium.webdriver.common.by import By

    save = browser.find_element(By.ID, "save")
    browser.execute_script("arguments[0].click()", save)
    assert "Nothing is decided" in browser.find_element(By.ID, "saved").text
    browser.execute_script(
        "window.kept = null; const old = URL.createObjectURL; URL.createObjectURL = (b) => { b.text().then(t => window.kept = t); return old.call(URL, b); };"
        "document.querySelector('input[name=decision-1][value=accept]').click();"
        "document.querySelector('input[name=decision-2][value=refuse]').click();"
    )
    browser.execute_script("arguments[0].click()", save)
    assert "who reviewed, the data relied on, a last day" in browser.find_element(By.ID, "saved").text
    for ident, words in (("reviewer", "R. Viewer"), ("on-data", "drawing 7"), ("until", "2099-01-01")):
        browser.execute_script("document.getElementById(arguments[0]).value = arguments[1]", ident, words)
    browser.execute_script("arguments[0].click()", save)
    kept = json.loads(
        browser.execute_async_script("const d = arguments[0]; setTimeout(() => d(window.kept), 200)")
    )
    assert [one["decision"] for one in kept["causes"]] == ["accept", "refuse"]
    assert kept["causes"][0]["verdicts"][0]["rule"]
    assert kept["whole"] == {"decision": "", "comment": ""}
    assert kept["open"] == []


def test_the_whole_change_and_what_is_not_judged_are_saved_and_read_back(browser, tmp_path):
    from selenium.webdriver.common.by import By

    save = browser.find_element(By.ID, "save")
    browser.execute_script(
        "window.kept = null; const old = URL.createObjectURL; URL.createObjectURL = (b) => { b.text().then(t => window.kept = t); return old.call(URL, b); };"
        "document.querySelector('input[name=whole][value=refuse]').click();"
        "document.querySelector('#whole input[type=text]').value = 'not in this state';"
        "document.querySelector('tr.open input[value=\"ask for\"]').click();"
        "document.getElementById('reviewer').value = 'R. Viewer';"
        "document.getElementById('on-data').value = 'drawing 7';"
        "document.getElementById('until').value = '2099-01-01';"
    )
    browser.execute_script("arguments[0].click()", save)
    assert "Give the date first" in browser.find_element(By.ID, "saved").text
    browser.execute_script("document.getElementById('on-date').value = '2031-01-02'")
    browser.execute_script("arguments[0].click()", save)
    kept = browser.execute_async_script("const d = arguments[0]; setTimeout(() => d(window.kept), 200)")
    (tmp_path / "d.json").write_text(kept)
    ledger = check(load(DEMO / "retrofit.yaml"))
    review = read_decisions(tmp_path / "d.json")
    assert (review.whole.decision, review.whole.comment) == ("refuse", "not in this state")
    assert open_refusals(review, ledger.verdicts)[0] is review.whole
    assert ["oil bulb" in one.words for one in still_asked(review, ledger)] == [True]


@pytest.mark.parametrize("wide", [186, 215.9 - 24])
def test_each_cause_has_one_line_on_paper(browser, wide):
    """A4 and Letter inside margins of 12 mm."""
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "print"})
    browser.execute_cdp_cmd(
        "Emulation.setDeviceMetricsOverride",
        {"width": round(wide / 25.4 * 96), "height": 1000, "deviceScaleFactor": 1, "mobile": False},
    )
    try:
        lines = browser.execute_script(
            """return [...document.querySelectorAll('.causes tbody td:nth-child(2)')].map((cell) => {
              const range = document.createRange();
              range.selectNodeContents(cell);
              return new Set([...range.getClientRects()].map((r) => Math.round(r.top))).size;
            })"""
        )
        assert lines == [1] * 13
    finally:
        browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": ""})
        browser.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})


@pytest.mark.parametrize(
    "letters", ["", "font-family: monospace", "font-family: monospace; letter-spacing: .1em"]
)
@pytest.mark.parametrize("width", [390, 320])
def test_nothing_is_wider_than_a_phone(browser, width, letters):
    """With the letters of the page and with wider ones, as a phone without them falls back to."""
    browser.execute_cdp_cmd(
        "Emulation.setDeviceMetricsOverride",
        {"width": width, "height": 844, "deviceScaleFactor": 1, "mobile": True},
    )
    browser.execute_script(
        "const s = document.createElement('style'); s.id = 'letters'; s.textContent = arguments[0];"
        "document.head.append(s)",
        f"body, body *:not(svg *) {{ {letters} !important }}" if letters else "",
    )
    try:
        wide = browser.execute_script(
            """const out = [], range = document.createRange();
            const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
            for (let text; (text = walk.nextNode()); ) {
              if (text.parentElement.closest('svg, .wide table, script, .skip')) continue;
              range.selectNodeContents(text);
              if (range.getBoundingClientRect().right > arguments[0] + 1) out.push(text.textContent.slice(0, 90));
            }
            return out""",
            width,
        )
        assert wide == []
        assert browser.execute_script("return document.documentElement.scrollWidth") <= width
    finally:
        browser.execute_script("document.getElementById('letters').remove()")
        browser.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})


def test_at_most_25_pages_without_the_appendix(browser):
    browser.execute_script("document.getElementById('appendix').open = false")
    made = browser.execute_cdp_cmd("Page.printToPDF", {"preferCSSPageSize": True})
    browser.execute_script("document.getElementById('appendix').open = true")
    pdf = base64.b64decode(made["data"])
    assert len(re.findall(rb"/Type\s*/Page\b", pdf)) <= 25


def test_heading_sorts_by_keyboard(browser):
    from selenium.webdriver.common.keys import Keys

    button = browser.execute_script("return document.querySelector('#verdict-table thead th button')")
    button.send_keys(Keys.ENTER)
    button.send_keys(Keys.ENTER)
    order = browser.execute_script(
        "return [...document.querySelectorAll('#verdict-table tbody tr')].map(r => r.cells[0].dataset.key)"
    )
    numbers = [int(key) for key in order if key]
    assert numbers == sorted(numbers, reverse=True)
    assert order == [str(n) for n in numbers] + [""] * (len(order) - len(numbers))  # what meets has none


def test_link_to_a_verdict_shows_it(browser):
    hidden = browser.execute_script(
        "location.hash = '#verdict-1'; return document.getElementById('verdict-1').hidden"
    )
    assert hidden is False


@pytest.mark.parametrize("paper", [(8.27, 11.69), (8.5, 11.0)])
def test_prints_whole_pages(browser, paper):
    made = browser.execute_cdp_cmd(
        "Page.printToPDF", {"paperWidth": paper[0], "paperHeight": paper[1], "printBackground": False}
    )
    pdf = base64.b64decode(made["data"])
    assert pdf.startswith(b"%PDF")
    wide = browser.execute_script("return document.documentElement.scrollWidth <= innerWidth + 1")
    assert wide


def test_the_first_page_stands_alone(browser):
    """What is to put right, boxes and signature end on the first sheet of A4: 186 mm by 273 mm inside margins of 12 mm."""
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "print"})
    browser.execute_cdp_cmd(
        "Emulation.setDeviceMetricsOverride",
        {"width": round(186 / 25.4 * 96), "height": 1000, "deviceScaleFactor": 1, "mobile": False},
    )
    try:
        bottom = browser.execute_script(
            "return document.getElementById('summary').getBoundingClientRect().bottom + scrollY"
        )
        assert bottom <= 273 / 25.4 * 96
    finally:
        browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": ""})
        browser.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})
