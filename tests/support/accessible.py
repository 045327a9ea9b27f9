"""What a person who cannot see, or use a mouse, would miss in a page of a browser, found by axe-core."""

from __future__ import annotations

from importlib.resources import files
from typing import Any

_ASK = """
const done = arguments[0];
axe.run(document, {resultTypes: ['violations']}).then(
  (r) => done(r.violations.map((v) => [v.impact, v.id, v.nodes.length, v.nodes[0].html.slice(0, 200)])),
  (e) => done([['critical', String(e), 0, '']]));
"""


def barriers(browser: Any) -> list[list[Any]]:
    """Findings of the two worse grades in the page that is open: grade, what, how many, the first of them."""
    browser.set_script_timeout(600)  # minutes on a busy machine, for a page with an open appendix
    browser.execute_script((files("axe_core_python") / "axe.min.js").read_text(encoding="utf-8"))
    found = browser.execute_async_script(_ASK)
    return [one for one in found if one[0] in ("serious", "critical")]
