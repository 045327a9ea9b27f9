"""Every rule is tried on its own samples: one that meets it, one that breaks it, one that says too little."""

import pytest

from installcheck import check
from installcheck.document import loads
from installcheck.rules.engine import all_rules
from installcheck.rules.samples import KINDS, _of_module, samples

# Read and judged by the loader's own types: 'yes' stays a word of the document.
WANTED = {"meets": {"meets"}, "breaks": {"discrepancy", "advisory"}, "unclear": {"undetermined"}}
RULES = sorted(all_rules())


def judged(text, ident):
    """What a rule says of a document; a deviation is judged after the rule that it is from."""
    document = loads(text)
    asked = [ident, *(deviation.rule for deviation in document.installation.deviations)]
    return [verdict for verdict in check(document, asked).verdicts if verdict.rule == ident]


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("ident", RULES)
def test_a_rule_ends_as_its_sample_says(ident, kind):
    told = samples(all_rules()[ident])
    assert told is not None, f"{ident} has no samples beside its module"
    if kind in told.never:
        assert len(told.never[kind]) > 20, "the reason is told in a sentence"
        return
    outcomes = {verdict.outcome.value for verdict in judged(told.texts[kind], ident)}
    if kind == "meets":
        assert outcomes == {"meets"}
    else:
        assert outcomes & WANTED[kind]


def test_words_of_a_sample_stay_as_they_are_written(tmp_path, monkeypatch):
    (tmp_path / "switching.samples.yaml").write_text(
        "given: {loads: {lamp: {state: off, part: '10'}}}\n"
        "rests: {meets: {}, breaks: {loads: {lamp: {part: null, rating: 1.50 A}}}, never_unclear: it asks for nothing}\n"
    )
    monkeypatch.setattr("installcheck.rules.samples.files", lambda package: tmp_path)
    told = _of_module.__wrapped__("some.switching")["rests"]
    assert told.texts["meets"].endswith("loads:\n  lamp: {state: off, part: 10}\n")
    assert told.texts["breaks"].endswith("loads:\n  lamp: {state: off, rating: 1.50 A}\n")
    assert told.never == {"unclear": "it asks for nothing"}
