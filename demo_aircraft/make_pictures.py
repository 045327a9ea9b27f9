"""Makes the pictures of the README: a sheet, the first page of the review record, and a cause in it. Needs Chromium."""

import os
import shutil
import tempfile
from pathlib import Path

from selenium import webdriver
from selenium.webdriver.chrome.options import Options
from selenium.webdriver.chrome.service import Service

import installcheck
from installcheck.causes.causes import find_causes
from installcheck.drawing.page import compose
from installcheck.drawing.svg import page_svg
from installcheck.outputs.diagram.sheets import sheets
from installcheck.outputs.report.files import as_html
from installcheck.outputs.report.record import record

HERE = Path(__file__).parent


def main() -> None:
    """Write the pictures beside this file, in the folder pictures."""
    os.chdir(HERE.parent)  # so that places are told from the top of the checkout
    folder = HERE / "pictures"
    folder.mkdir(exist_ok=True)
    ledger = installcheck.check(installcheck.load("demo_aircraft/retrofit.yaml"))
    found = find_causes(ledger)
    made_sheets = sheets(ledger.document, ledger, causes=found)
    sheet = next(s for s in made_sheets if any(w.id == "T14 +" for w in s.wires))
    crossed = next(n for n, cause in enumerate(found.causes, start=1) if "T14" in cause.heading)
    with tempfile.TemporaryDirectory() as made:
        place = Path(made)
        (place / "sheet.svg").write_bytes(page_svg(compose(sheet)))
        (place / "sheet.html").write_text('<body style="margin:0"><img src="sheet.svg" width="1100">')
        (place / "review.html").write_text(as_html(record(ledger, causes=found)), encoding="utf-8")
        browser = _browser()
        try:
            _taken(browser, place / "sheet.html", folder / "sheet.png", (1100, 778))
            _taken(browser, place / "review.html", folder / "record.png", (900, 1080))
            _taken(browser, place / "review.html", folder / "causes.png", (900, 600), at=f"cause-{crossed}")
        finally:
            browser.quit()


def _taken(browser: webdriver.Chrome, page: Path, out: Path, size: tuple[int, int], at: str = "") -> None:
    browser.execute_cdp_cmd(
        "Emulation.setDeviceMetricsOverride",
        {"width": size[0], "height": size[1], "deviceScaleFactor": 1, "mobile": False},
    )
    browser.get(page.as_uri() + (f"#{at}" if at else ""))
    browser.save_screenshot(str(out))


def _browser() -> webdriver.Chrome:
    options = Options()
    options.binary_location = shutil.which("chromium") or ""
    for word in ("--headless=new", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--no-first-run"):
        options.add_argument(word)
    return webdriver.Chrome(options=options, service=Service(shutil.which("chromedriver")))


if __name__ == "__main__":
    main()
