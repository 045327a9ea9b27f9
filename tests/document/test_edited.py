"""An edited document is what would be read from the edited text, and shares what was not touched."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
import yaml
from edits import some_edit, spelled

from installcheck.document import Document, DocumentError, load, loads
from installcheck.document.edited import edited
from installcheck.document.opening import opened
from installcheck.model.edits import Change, Drop, Edit, Put, Swap

TEXT = """\
installation: {name: two runs}
zones: {engine: {fire_zone: yes}, cabin: {occupied: yes}}
senders:
  bulb: {terminals: [A, B], zone: engine}
indicators:
  gauge: {terminals: [A, B], zone: cabin}
wire_runs:
  E1: {from: bulb.A, to: gauge.A, gauge: 22 AWG, part: AS22759/16}
  E2:
    from: bulb.B
    to: gauge.B
    slack: unknown
measured:
  - {of: E1, what: resistance, value: 0.2 ohm}
  - {of: E2, what: resistance, value: 0.3 ohm}
"""
DEMOS = sorted((Path(__file__).parents[2] / "demo_aircraft").glob("*.yaml"))


def one(*changes: Change) -> Edit:
    return Edit(changes, "try it")


def read_anew(document: Document, folder: Path | None = None) -> Document:
    """The document read from its own whole, written out."""
    whole = spelled(dict(document.whole), document)
    assert isinstance(whole, dict)
    parts = document.files.main.plain
    if isinstance(parts, dict) and "part_files" in parts and folder is not None:
        whole["part_files"] = parts["part_files"]
    return loads(yaml.dump(whole, Dumper=yaml.CSafeDumper, sort_keys=False, allow_unicode=True))


def test_a_value_is_replaced_and_all_else_is_the_same_object() -> None:
    document = loads(TEXT)
    now = edited(document, one(Put(("wire_runs", "E1", "gauge"), "18 AWG")))
    assert str(now.installation.wire_runs["E1"].gauge) == "18"
    assert str(document.installation.wire_runs["E1"].gauge) == "22"
    assert document.written(("wire_runs", "E1", "gauge")) == "22 AWG"
    assert now.installation.wire_runs["E2"] is document.installation.wire_runs["E2"]
    assert now.installation.senders is document.installation.senders
    assert now.digest != document.digest


def test_the_spec_is_filled_again_from_the_part_in_its_new_size() -> None:
    document = loads(TEXT)
    now = edited(document, one(Put(("wire_runs", "E1", "gauge"), "18 AWG")))
    thick = now.installation.wire_runs["E1"].spec.resistance
    thin = document.installation.wire_runs["E1"].spec.resistance
    assert thick is not None
    assert thin is not None
    assert thick < thin
    assert now.supplied("wire_runs", "E1")["resistance"] == thick.text
    assert document.supplied("wire_runs", "E1")["resistance"] == thin.text


def test_a_written_figure_still_overrides_the_part() -> None:
    document = loads(TEXT)
    changes = one(
        Put(("wire_runs", "E1", "resistance"), "1 ohm/m"), Put(("wire_runs", "E1", "gauge"), "18 AWG")
    )
    spec = edited(document, changes).installation.wire_runs["E1"].spec
    assert spec.resistance is not None
    assert spec.resistance.text == "1 ohm/m"


def test_unknown_stays_unknown_and_can_be_put_and_taken() -> None:
    document = loads(TEXT)
    now = edited(document, one(Put(("wire_runs", "E2", "title"), "return")))
    assert now.declared_unknown(("wire_runs", "E2", "slack"))
    known = edited(now, one(Put(("wire_runs", "E2", "slack"), "3 in")))
    assert not known.declared_unknown(("wire_runs", "E2", "slack"))
    assert known.written(("wire_runs", "E2", "slack")) == "3 in"
    again = edited(known, one(Put(("wire_runs", "E2", "slack"), "unknown")))
    assert again.written(("wire_runs", "E2", "slack")) == "unknown"
    assert again.installation.wire_runs["E2"].slack is None


def test_ends_are_exchanged() -> None:
    document = loads(TEXT)
    now = edited(document, one(Swap(("wire_runs", "E1", "to"), ("wire_runs", "E2", "to"))))
    runs = now.installation.wire_runs
    assert (runs["E1"].to, runs["E2"].to) == ("gauge.B", "gauge.A")


def test_things_come_and_go() -> None:
    document = loads(TEXT)
    new = {"from": "bulb.A", "to": "gauge.B", "gauge": "20 AWG"}
    now = edited(
        document, one(Put(("wire_runs", "E3"), new), Drop(("measured", 0)), Drop(("wire_runs", "E1")))
    )
    assert list(now.installation.wire_runs) == ["E2", "E3"]
    assert [m.of for m in now.installation.measured] == ["E2"]
    assert now.installation.measured[0] is document.installation.measured[1]
    assert now.holds(("wire_runs", "E3", "from"))
    assert not now.holds(("wire_runs", "E1"))


def test_an_end_named_since_is_missed_when_it_goes() -> None:
    dial = "  dial: {terminals: [A, B, C], zone: cabin}\nwire_runs:"
    document = loads(TEXT.replace("wire_runs:", dial, 1))
    fewer = one(Put(("indicators", "dial", "terminals"), ["A", "B"]))
    other = one(Put(("senders", "bulb", "terminals"), ["A", "B", "D"]))
    assert edited(edited(document, fewer), other).installation.indicators["dial"].spec.terminals == ["A", "B"]
    moved = edited(document, one(Put(("wire_runs", "E2", "to"), "dial.C")))
    for now in (moved, edited(moved, other)):
        with pytest.raises(DocumentError, match="'C' is not a terminal of 'dial'"):
            edited(now, fewer)


def test_a_new_thing_has_the_place_of_its_section_and_an_old_one_keeps_its_own() -> None:
    document = loads(TEXT)
    now = edited(
        document, one(Put(("wire_runs", "E0"), {"from": "bulb.A", "to": "gauge.B"}), Drop(("measured", 0)))
    )
    assert now.place(("wire_runs", "E0", "from")) == document.place(("wire_runs",))
    assert now.place(("wire_runs", "E2", "to")) == document.place(("wire_runs", "E2", "to"))
    assert now.place(("measured", 0, "of")) == document.place(("measured", 1, "of"))


def test_a_section_that_is_not_there_is_made() -> None:
    document = loads(TEXT)
    now = edited(document, one(Put(("grounds", "engine case"), {"kind": "engine case", "zone": "engine"})))
    assert list(now.installation.grounds) == ["engine case"]
    listed = edited(document, one(Put(("notices", 0), {"number": "7", "at": ["E1"]})))
    assert len(listed.installation.notices) == 1


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (Put(("wire_runs", "E1", "gauge"), "blue"), "gauge"),
        (Put(("wire_runs", "E1", "to"), "gauge.Z"), "'Z' is not a terminal of 'gauge'"),
        (Put(("wire_runs", "E1", "zone"), "cellar"), "'cellar' is not a zone"),
        (Drop(("zones", "cabin")), "'cabin' is not a zone"),
        (Drop(("senders", "bulb")), "'bulb' is not a thing in this document"),
        (Drop(("wire_runs", "E1")), "'E1' is not a thing in this document"),
        (Put(("senders", "gauge"), {"zone": "cabin"}), "'gauge' is already used under senders"),
        (Put(("senders", "bulb", "terminals"), ["A", "C"]), "'B' is not a terminal of 'bulb'"),
        (Put(("wire_runs", "E1", "colour of day"), "x"), "'colour of day' is not a word"),
        (Put(("wire_runs", "E 1."), {"from": "bulb.A", "to": "gauge.B"}), "'E 1.' cannot be an id"),
        (Drop(("installation",)), "'installation' is missing"),
        (Put(("wirings",), {}), "'wirings' is not a section"),
        (Drop(("wire_runs", "E1", "slack")), "'slack' of wire_runs E1 is not written"),
        (Put(("measured", 5), {}), "there is no entry 5"),
        (Put(("wire_runs", "E1", "gauge", "least"), "1"), "is one text, '22 AWG'"),
        (Swap(("wire_runs", "E1"), ("wire_runs", "E1", "to")), "a part of"),
        (Put(("include",), ["x.yaml"]), "changes no file names"),
    ],
)
def test_what_is_no_document_is_refused_with_its_place(change: Change, told: str) -> None:
    document = loads(TEXT, "two.yaml")
    with pytest.raises(DocumentError) as refused:
        edited(document, one(change))
    assert told in str(refused.value)
    assert all(p.place.file == "two.yaml" and p.place.line >= 1 for p in refused.value.problems)
    assert document.installation == loads(TEXT).installation


def test_a_thing_of_an_included_file_is_changed_there(tmp_path: Path) -> None:
    (tmp_path / "main.yaml").write_text("include: [more.yaml]\n" + TEXT)
    (tmp_path / "more.yaml").write_text(
        "wire_runs:\n  F1: {from: bulb.A, to: gauge.B}\nmeasured:\n  - {of: F1, what: resistance, value: 1 ohm}\n"
    )
    document = load(tmp_path / "main.yaml")
    now = edited(
        document, one(Put(("wire_runs", "F1", "slack"), "3 in"), Put(("measured", 2, "value"), "2 ohm"))
    )
    assert now.installation.measured[2].value.text == "2 ohm"  # type: ignore[union-attr]
    assert now.place(("wire_runs", "F1", "to")) == document.place(("wire_runs", "F1", "to"))
    assert now.sources[0] is document.sources[0]
    swapped = edited(now, one(Swap(("wire_runs", "E2"), ("wire_runs", "F1"))))
    assert swapped.declared_unknown(("wire_runs", "F1", "slack"))
    assert not swapped.declared_unknown(("wire_runs", "E2", "slack"))


@pytest.mark.parametrize("demo", DEMOS, ids=lambda p: p.stem)
def test_it_is_what_would_be_read(demo: Path) -> None:
    """The same model or the same complaints as a full reading of what the edit makes."""
    if "installation:" not in demo.read_text():
        pytest.skip("a file that others include")
    dice = random.Random(demo.stem)
    document = load(demo)
    held = refused = 0
    for _ in range(60):
        edit = some_edit(document, dice)
        try:
            now = edited(document, edit)
        except DocumentError as bad:
            refused += 1
            told = {p.message for p in bad.problems}
            assert told == complaints(document, edit) or any(
                "not written" in t or "a part of" in t for t in told
            )
            continue
        held += 1
        anew = read_anew(now)
        assert now.installation == anew.installation
        assert {k: v[1] for k, v in now.files.places.parts.items()} == {
            k: v[1] for k, v in anew.files.places.parts.items()
        }
    assert held > 9
    assert refused > 9
    assert document.installation == load(demo).installation


def complaints(document: Document, edit: Edit) -> set[str]:
    """What a full reading of the edited text complains of."""
    from installcheck.document.changing import Changing
    from installcheck.document.reading import Reading

    changing = Changing(document.files.places.sources)
    try:
        changing.make(opened(document, edit))
    except DocumentError as bad:
        return {p.message for p in bad.problems}
    files = document.files.holding(changing.sources)
    files.places.parts.clear()
    reading = Reading(files)
    with pytest.raises(DocumentError) as refused:
        reading.read()
    return {p.message for p in refused.value.problems}
