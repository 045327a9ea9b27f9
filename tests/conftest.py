"""Rules are tried on small YAML documents written in the tests."""

from collections.abc import Callable

import pytest

from installcheck import check
from installcheck.document import loads
from installcheck.rules.verdicts import Verdict

Judge = Callable[..., list[Verdict]]


@pytest.fixture
def judged() -> Judge:
    """Verdicts of one rule on a document; a header is added when the text has none."""

    def run(text: str, rule: str) -> list[Verdict]:
        if "installation:" not in text:
            text = "installation: {name: test}\n" + text
        return check(loads(text), [rule]).verdicts

    return run
