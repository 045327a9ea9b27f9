"""A form filled in becomes a thing in the text, at its place, in the short form."""

import pytest

from installcheck.document import loads
from installcheck.document.rewriting import rewritten
from installcheck.page.forms import NotFilledError, edit_of, forms

TEXT = """installation: {name: test}
zones: {engine: {}, cabin: {occupied: yes}}
senders:
  oil bulb: {part: resistance bulb Pt100, measures: oil temperature, zone: engine}  # by the sump
indicators:
  oil gauge: {part: electronic oil temperature indicator Pt100, zone: cabin}
wire_runs:
  O1: {from: oil bulb.A, to: oil gauge.A, part: AS22759/16, gauge: 22 AWG, length: 8 ft}
"""
DOCUMENT = loads(TEXT)
RUN = {
    "id": "O2",
    "from": "oil bulb.B",
    "to": "oil gauge.B",
    "part": "AS22759/16",
    "size": "22 AWG",
    "route": "engine 3 ft, cabin 4 ft",
}


def added(kind: str, **answers: str) -> str:
    edit = edit_of(kind, answers, DOCUMENT.installation, DOCUMENT.library)
    return rewritten(DOCUMENT, edit)["document"].decode()


def test_a_run_is_one_line_after_its_like_and_the_rest_is_untouched() -> None:
    text = added("wire_runs", **RUN)
    assert text.startswith(TEXT)
    assert (
        text[len(TEXT) :].strip()
        == "O2: oil bulb.B to oil gauge.B, AS22759/16 22 AWG, engine 3 ft, cabin 4 ft"
    )
    run = loads(text).installation.wire_runs["O2"]
    assert (run.from_, run.to, str(run.gauge)) == ("oil bulb.B", "oil gauge.B", "22")
    assert run.route is not None
    assert [step.zone for step in run.route] == ["engine", "cabin"]


def test_a_probe_is_put_into_a_section_that_was_not_there() -> None:
    text = added("probes", id="head 3", part="bayonet probe K isolated", zone="engine", cylinder="3")
    assert loads(text).installation.probes["head 3"].cylinder == 3
    assert all(line in text for line in TEXT.splitlines())


@pytest.mark.parametrize(
    ("kind", "change", "told"),
    [
        ("wire_runs", {"from": ""}, "From"),
        ("wire_runs", {"id": "O1"}, "there already"),
        ("wire_runs", {"id": "oil bulb"}, "there already"),
        ("wire_runs", {"part": "AS22759/61"}, "near it are"),
        ("wire_runs", {"size": ""}, "sizes"),
        ("zeppelins", {}, "no form"),
    ],
)
def test_what_is_not_filled_in_right_is_told(kind: str, change: dict[str, str], told: str) -> None:
    with pytest.raises(NotFilledError, match=told):
        edit_of(kind, {**RUN, **change}, DOCUMENT.installation, DOCUMENT.library)


def test_the_forms_offer_what_the_document_has() -> None:
    run = next(form for form in forms(DOCUMENT.installation, DOCUMENT.library) if form.kind == "wire_runs")
    assert "oil bulb.B" in next(field for field in run.fields if field.word == "from").choices
