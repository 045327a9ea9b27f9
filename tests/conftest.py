"""Rules are tried on small YAML documents written in the tests."""

import gc
import os
import sys
from collections.abc import Callable, Iterator
from dataclasses import replace

import hypothesis
import pytest

from installcheck import check
from installcheck.analysis.study import Study
from installcheck.document import loads
from installcheck.rules.engine import all_rules
from installcheck.rules.verdicts import Verdict
from installcheck.rules.vocabulary import Answer, Rule, Subject

# Commands are tried as a plain shell runs them: what they say they must send themselves, and what was compiled is kept.
os.environ.pop("PYTHONUNBUFFERED", None)
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
sys.dont_write_bytecode = False
# Documents are a million small objects, none of them garbage: looking through them as often as usual takes a fifth of the run.
gc.set_threshold(200_000, 20, 10)

# How long an example takes is no matter of these tests: on a machine that is shared it says nothing of the code.
hypothesis.settings.register_profile("shared machine", deadline=None)
hypothesis.settings.load_profile("shared machine")

Judge = Callable[..., list[Verdict]]


@pytest.fixture
def judged() -> Judge:
    """Verdicts of one rule on a document; a header is added when the text has none."""

    def run(text: str, rule: str) -> list[Verdict]:
        if "installation:" not in text:
            text = "installation: {name: test}\n" + text
        return check(loads(text), [rule]).verdicts

    return run


@pytest.fixture(autouse=True)
def _a_rule_that_fails_fails_the_test(
    request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The checker outlives a rule that raises; a test does not, unless it asks for ``failing_rules``."""

    def raised(rule: object, fault: Exception, *where: object) -> Verdict:
        raise fault

    if "failing_rules" not in request.fixturenames:
        monkeypatch.setattr("installcheck.rules.engine.failure", raised)


@pytest.fixture
def failing_rules(monkeypatch: pytest.MonkeyPatch) -> Callable[..., None]:
    """Make rules raise, at every item or at those named."""

    def fail(*idents: str, at: tuple[str, ...] = ()) -> None:
        for ident in idents:
            one = all_rules()[ident]

            def judge(study: Study, subject: Subject, item: object, one: Rule = one) -> Answer:
                if not at or subject.ident in at:
                    raise KeyError("no such thing")
                return one.judge(study, subject, item)

            def walk(study: Study, one: Rule = one) -> Iterator[Verdict]:
                yield from list(one.judge(study))[:1]  # type: ignore[arg-type]
                raise ZeroDivisionError

            monkeypatch.setitem(all_rules(), ident, replace(one, judge=judge if one.walks else walk))

    return fail
