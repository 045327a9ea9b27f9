"""A form filled in becomes a thing in the text, at its place, in the short form."""

import pytest

from installcheck.document import loads
from installcheck.document.rewriting import rewritten
from installcheck.model.edits import Put
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
    edit = edit_of(kind, answers, DOCUMENT)
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
        edit_of(kind, {**RUN, **change}, DOCUMENT)


def test_the_forms_offer_what_the_document_has() -> None:
    run = next(form for form in forms(DOCUMENT.installation, DOCUMENT.library) if form.kind == "wire_runs")
    assert "oil bulb.B" in next(field for field in run.fields if field.word == "from").choices


def test_a_pasted_list_becomes_a_line_a_row() -> None:
    rows = "Wire No.\tTo\tFrom\tAWG\tType\tLength [ft]\tRemarks\nO2\toil gauge.B\toil bulb.B\t22\tAS22759/16\t8\tnew\n"
    text = added("wire list", rows=rows)
    assert "O2: {run: 'oil bulb.B to oil gauge.B, AS22759/16 22 AWG, length 8 ft', notes: [new]}" in text
    run = loads(text).installation.wire_runs["O2"]
    assert run.notes == ["new"]
    assert run.length is not None
    assert round(float(run.length) / 0.3048, 6) == 8  # 1 ft is 0.3048 m


def test_a_pasted_cable_and_an_unknown_gauge_keep_what_they_say() -> None:
    rows = "id\tconductor\tfrom\tto\nO2\tA\toil bulb.A\toil gauge.A\nO2\tB\toil bulb.B\toil gauge.B\n"
    run = edit_of("wire list", {"rows": rows}, DOCUMENT).changes[0]
    assert run == Put(
        ("wire_runs", "O2"),
        {
            "conductors": {
                "A": {"from": "oil bulb.A", "to": "oil gauge.A"},
                "B": {"from": "oil bulb.B", "to": "oil gauge.B"},
            }
        },
    )
    rows = "id\tfrom\tto\tAWG\nO2\toil bulb.B\toil gauge.B\t?\n"
    run = edit_of("wire list", {"rows": rows}, DOCUMENT).changes[0]
    assert run == Put(("wire_runs", "O2"), {"run": "oil bulb.B to oil gauge.B", "gauge": "unknown"})


@pytest.mark.parametrize(
    ("rows", "told"),
    [
        ("id\tfrom\tto\nO1\ta\tb", "row 2: 'O1' is there already"),
        ("id\tfrom\nO2\ta", "no heading for to"),
        ("id\tfrom\tto", "no row below the headings"),
        ("id\tfrom\tto\tlenght\nO2\ta\tb\t3", "row 1 lenght: .*did you mean 'length'"),
        (
            "id,from,to,type\nO2,a,b,AS22759/61\nO3,,b,",
            "row 2: there is no part.*row 3 id: 'O3' has no 'from'",
        ),
        ("id", "there is no row of headings"),
    ],
)
def test_a_pasted_list_with_problems_lists_them(rows: str, told: str) -> None:
    with pytest.raises(NotFilledError, match=told):
        edit_of("wire list", {"rows": rows}, DOCUMENT)


def test_an_indication_comes_with_all_it_takes() -> None:
    text = """installation: {name: test}
zones: {engine: {vibrates: yes}, cabin: {occupied: yes}}
supplies: {bus: {kind: bus, zone: cabin}}
grounds: {airframe: {kind: structure, zone: cabin}}
"""
    document = loads(text)
    edit = edit_of("indication", {"measure": "fuel pressure"}, document)
    made = loads(rewritten(document, edit)["document"].decode()).installation
    assert made.senders
    assert made.indicators
    assert made.wire_runs
    with pytest.raises(NotFilledError, match="1 to 36"):
        edit_of("indication", {"measure": "head temperature", "cylinder": "x"}, document)
