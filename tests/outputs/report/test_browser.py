"""The review record in headless Chromium: no console error, links and filter work, printed pages are whole."""

import base64
import shutil
from pathlib import Path

import pytest

from installcheck import check, load
from installcheck.outputs.report.files import as_html
from installcheck.outputs.report.record import record

DEMO = Path(__file__).parents[3] / "demo_aircraft"
CHROMIUM, DRIVER = shutil.which("chromium"), shutil.which("chromedriver")

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(
        not (CHROMIUM and DRIVER), reason="no Chromium with its driver on this machine; .ci/run installs both"
    ),
]


@pytest.fixture(scope="module")
def browser(tmp_path_factory):
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
        "--window-size=1200,1600",
    ):
        options.add_argument(word)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL"})
    folder = tmp_path_factory.mktemp("page")
    document = load(DEMO / "retrofit.yaml")
    (folder / "review.html").write_text(as_html(record(check(document))), encoding="utf-8")
    driver = webdriver.Chrome(options=options, service=Service(DRIVER))
    driver.get((folder / "review.html").as_uri())
    yield driver
    driver.quit()


def test_no_console_error(browser):
    assert [e for e in browser.get_log("browser") if e["level"] == "SEVERE"] == []


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


def test_heading_sorts_by_keyboard(browser):
    from selenium.webdriver.common.keys import Keys

    button = browser.execute_script("return document.querySelector('#verdict-table thead th button')")
    button.send_keys(Keys.ENTER)
    button.send_keys(Keys.ENTER)
    first = browser.execute_script(
        "return Number(document.querySelector('#verdict-table tbody tr td').textContent)"
    )
    count = browser.execute_script("return document.querySelectorAll('#verdict-table tbody tr').length")
    assert first == count


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
