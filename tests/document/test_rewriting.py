"""An edit changes a text where it falls and nowhere else; the text then says what the edit makes of the document."""

from __future__ import annotations

import difflib
import random
import re
from pathlib import Path

import pytest
import yaml
from edits import some_edit, spelled
from layouts import Layout

from installcheck.document import Document, DocumentError, load, loads
from installcheck.document.edited import edited
from installcheck.document.rewriting import CannotWriteError, rewritten, written_in
from installcheck.document.source import Plain
from installcheck.document.spelling import one_line, scalar
from installcheck.model.edits import Change, Drop, Edit, Put, Swap

DEMO = Path(__file__).parents[2] / "demo_aircraft"
TEXT = """\
# two runs
installation: {name: two runs}
zones: {engine: {fire_zone: yes}, cabin: {occupied: yes}}
senders:
  bulb: {terminals: [A, B], zone: engine}   # see drawing
indicators:
  gauge: {terminals: [A, B], zone: cabin}

wire_runs: # as fitted
  E1: {from: bulb.A, to: gauge.A,   gauge: '22 AWG', part: AS22759/16} # signal
  # the return
  E2:
    from: bulb.B   # at the case
    to: gauge.B
    title: |
      return of
      the bulb
    gauge: 20 AWG\t# thick
    part: AS22759/16
  E3: {from: bulb.A, # one
       to: gauge.A,  # two
       gauge: 22 AWG} # three

measured:
- of: E1 # with a meter
  what: resistance
  value: 0.2 ohm
- {of: E2, what: resistance, value: 0.3 ohm}
bundles:
# the end
"""
E1, E2, E3 = (("wire_runs", name) for name in ("E1", "E2", "E3"))


def changed(text: str, *changes: Change) -> str:
    """The text with an edit made; the same bytes otherwise."""
    document = loads(text)
    edit = Edit(changes, "try it")
    (new,) = rewritten(document, edit).values()
    assert loads(new).installation == edited(document, edit).installation
    return new.decode()


@pytest.mark.parametrize(
    ("change", "old", "new"),
    [
        (Put((*E1, "gauge"), "18 AWG"), "gauge: '22 AWG'", "gauge: '18 AWG'"),
        (Put((*E1, "slack"), "3 in"), "AS22759/16} # signal", "AS22759/16, slack: 3 in} # signal"),
        (Put((*E2, "from"), "bulb.A"), "from: bulb.B   # at", "from: bulb.A   # at"),
        (Put((*E2, "gauge"), "18 AWG"), "20 AWG\t# thick", "18 AWG\t# thick"),
        (Put((*E2, "title"), "a: b # c"), "|\n      return of\n      the bulb\n", "'a: b # c'\n"),
        (Put((*E2, "slack"), "3 in"), "16\n  E3", "16\n    slack: 3 in\n  E3"),
        (Put((*E3, "slack"), "3 in"), "22 AWG} # three", "22 AWG, slack: 3 in} # three"),
        (Drop((*E1, "part")), ", part: AS22759/16} # signal", "} # signal"),
        (Drop((*E2, "title")), "    title: |\n      return of\n      the bulb\n", ""),
        (Drop((*E3, "gauge")), "22 AWG} # three", None),
        (Drop(E1), "  E1: {from: bulb.A, to: gauge.A,   gauge: '22 AWG', part: AS22759/16} # signal\n", ""),
        (Drop(("measured", 1)), "- {of: E2, what: resistance, value: 0.3 ohm}\n", ""),
        (Put(("measured", 2), {"of": "E3", "what": "resistance", "value": "1 ohm"}), "bundles:", None),
        (
            Put(("wire_runs", "E4"), {"from": "bulb.A", "to": "gauge.B"}),
            "# three\n",
            "# three\n  E4: {from: bulb.A, to: gauge.B}\n",
        ),
        (Put(("bundles", "harness"), {"wires": "3"}), "bundles:\n", "bundles: {harness: {wires: 3}}\n"),
    ],
    ids=lambda value: str(value)[:50] if isinstance(value, (Put, Drop)) else "",
)
@pytest.mark.parametrize("ends", ["\n", "\r\n"], ids=["LF", "CRLF"])
def test_one_change_touches_one_spot(change: Change, old: str, new: str | None, ends: str) -> None:
    if change == Drop(E1):
        change, text = Drop(E1), TEXT.replace("of: E1", "of: E3")
    else:
        text = TEXT
    assert text.count(old) == 1
    got = changed(text.replace("\n", ends), change)
    wanted = text.replace(old, new) if new is not None else _by_hand(change)
    assert got == wanted.replace("\n", ends)


def _by_hand(change: Change) -> str:
    if isinstance(change, Drop):
        return TEXT.replace("gauge.A,  # two\n       gauge: 22 AWG}", "gauge.A  # two\n       }")
    return TEXT.replace("bundles:", "- {of: E3, what: resistance, value: 1 ohm}\nbundles:")


def test_leads_are_exchanged_in_place() -> None:
    got = changed(TEXT, Swap((*E1, "to"), (*E2, "to")))
    assert got == TEXT.replace("to: gauge.A,   ", "to: gauge.B,   ").replace(
        "    to: gauge.B\n", "    to: gauge.A\n"
    )


def test_a_new_section_stands_at_the_end() -> None:
    got = changed(TEXT, Put(("grounds", "engine case"), {"kind": "engine case", "zone": "engine"}))
    added = "\ngrounds:\n  engine case: {kind: engine case, zone: engine}\n"
    assert got == TEXT.replace("bundles:\n", f"bundles:\n{added}")


def test_a_byte_order_mark_and_a_last_line_without_an_end_stay() -> None:
    raw = b"\xef\xbb\xbf" + TEXT.rstrip("\n").encode()
    edit = Edit((Put((*E1, "gauge"), "18 AWG"),), "try it")
    (new,) = rewritten(loads(raw), edit).values()
    assert new == raw.replace(b"'22 AWG'", b"'18 AWG'")


SHARED = TEXT.replace("gauge: '22 AWG'", "gauge: &thin 22 AWG").replace("gauge: 22 AWG}", "gauge: *thin}")


def test_what_an_alias_stands_for_is_written_in_its_place() -> None:
    got = changed(SHARED, Put((*E3, "gauge"), "18 AWG"))
    assert got == SHARED.replace("*thin", "18 AWG")


def test_a_shared_value_stays_with_those_that_share_it() -> None:
    got = changed(SHARED, Put((*E1, "gauge"), "18 AWG"))
    assert got == SHARED.replace("&thin 22 AWG", "18 AWG").replace("*thin", "&thin 22 AWG")


def test_a_thing_that_is_an_alias_is_written_out_when_a_word_of_it_changes() -> None:
    text = TEXT.replace("part: AS22759/16} # signal", "route: &way [{zone: engine, length: 3 ft}]}").replace(
        "    part: AS22759/16\n", "    route: *way\n"
    )
    got = changed(text, Put((*E2, "route", 0, "length"), "4 ft"))
    assert got == text.replace("*way", "[{zone: engine, length: 4 ft}]")


MERGED = TEXT.replace("E1: {", "E1: &run {").replace(
    "  E3: {from: bulb.A, # one\n       to: gauge.A,  # two\n       gauge: 22 AWG} # three\n",
    "  E3: {<<: *run, to: gauge.B} # three\n",
)


@pytest.mark.parametrize(
    ("change", "new"),
    [
        (Put((*E3, "gauge"), "18 AWG"), "{<<: *run, to: gauge.B, gauge: 18 AWG} # three"),
        (Put((*E3, "to"), "gauge.A"), "{<<: *run, to: gauge.A} # three"),
        (Drop((*E3, "part")), "{to: gauge.B, from: bulb.A, gauge: 22 AWG} # three"),
    ],
)
def test_what_is_merged_is_overridden_in_the_thing_itself(change: Change, new: str) -> None:
    assert changed(MERGED, change) == MERGED.replace("{<<: *run, to: gauge.B} # three", new)


def test_what_others_merge_stays_theirs() -> None:
    got = changed(MERGED, Put((*E1, "gauge"), "18 AWG"))
    whole = "{from: bulb.A, to: gauge.A, gauge: 22 AWG, part: AS22759/16}"
    assert got == MERGED.replace("&run ", "").replace("'22 AWG'", "'18 AWG'").replace("*run", f"&run {whole}")


def test_a_word_that_hides_a_merged_one_is_taken_out_with_it() -> None:
    """Without the merge key written out, the hidden word would show again."""
    got = changed(MERGED, Put((*E3, "part"), "AS22759/34"), Drop((*E3, "part")))
    assert "E3: {to: gauge.B, from: bulb.A, gauge: 22 AWG} # three" in got


SHORT = """\
installation: {name: short}
usual: {wire_runs: {part: AS22759/16, gauge: 22 AWG}}   # all of them
routes: {to panel: 'engine 3 ft, cabin 4 ft'}
zones: {engine: {}, cabin: {}}
senders: {bulb: {terminals: [A, B], zone: engine}}
indicators: {gauge: {terminals: [A, B], zone: cabin}}
wire_runs:
  E1: bulb.A to gauge.A, 20 AWG, to panel   # first
  E2: bulb.B to gauge.B, to panel
"""


@pytest.mark.parametrize(
    ("change", "old", "new"),
    [
        (Put((*E1, "gauge"), "18 AWG"), "20 AWG, to", "18 AWG, to"),
        (
            Put((*E2, "gauge"), "18 AWG"),
            "bulb.B to gauge.B, to panel",
            "{from: bulb.B, to: gauge.B, route: to panel, gauge: 18 AWG}",
        ),
        (Put(("usual", "wire_runs", "gauge"), "20 AWG"), "gauge: 22 AWG}}", "gauge: 20 AWG}}"),
        (
            Put((*E2, "route", 0, "length"), "5 ft"),
            "bulb.B to gauge.B, to panel",
            "{from: bulb.B, to: gauge.B, route: [{zone: engine, length: 5 ft}, {zone: cabin, length: 4 ft}]}",
        ),
        (Drop(E1), "  E1: bulb.A to gauge.A, 20 AWG, to panel   # first\n", ""),
    ],
)
def test_what_is_said_in_short_is_changed_in_the_thing_itself(change: Change, old: str, new: str) -> None:
    assert changed(SHORT, change) == SHORT.replace(old, new)


def test_a_long_value_is_broken_into_lines() -> None:
    route = [{"zone": zone, "length": f"{feet} ft"} for feet, zone in enumerate(["engine", "cabin"] * 3, 1)]
    got = changed(TEXT, Put((*E1, "route"), route))
    assert max(len(line) for line in got.splitlines()) <= 120
    assert [line for line in TEXT.splitlines() if line not in got.splitlines()] == [TEXT.splitlines()[9]]


def test_an_included_file_is_named_and_only_it_changes(tmp_path: Path) -> None:
    (tmp_path / "main.yaml").write_text("include: [more.yaml]\n" + TEXT)
    more = "wire_runs:\n  F1: {from: bulb.A, to: gauge.B} # more\n"
    (tmp_path / "more.yaml").write_text(more)
    document = load(tmp_path / "main.yaml")
    edit = Edit((Put(("wire_runs", "F1", "gauge"), "18 AWG"),), "try it")
    name = str(tmp_path / "more.yaml")
    assert written_in(document, edit) == (name,)
    assert rewritten(document, edit) == {name: more.replace("B}", "B, gauge: 18 AWG}").encode()}
    assert (tmp_path / "more.yaml").read_text() == more
    new = Edit((Put(("wire_runs", "F2"), {"from": "bulb.A", "to": "gauge.B"}),), "try it")
    assert written_in(document, new) == (str(tmp_path / "main.yaml"),)


def test_a_way_of_writing_that_cannot_be_changed_is_refused_with_its_place() -> None:
    text = TEXT.replace("part: AS22759/16} # signal", "route: [zone: engine]} # signal")
    with pytest.raises(CannotWriteError, match=r"document:10:\d+: .*make it by hand"):
        rewritten(loads(text), Edit((Put((*E1, "route", 0, "length"), "3 ft"),), "try it"))
    with pytest.raises(DocumentError, match="'slack' of wire_runs E1 is not written"):
        rewritten(loads(text), Edit((Drop((*E1, "slack")),), "try it"))


def test_the_text_of_an_edited_document_is_asked_for() -> None:
    edit = Edit((Put((*E1, "gauge"), "18 AWG"),), "try it")
    with pytest.raises(ValueError, match="read it again"):
        rewritten(edited(loads(TEXT), edit), edit)


def untouched(raw: bytes, edit: Edit) -> tuple[list[str], list[str]]:
    """What an edit does not touch, as it is written: the things, and the comments outside of those it touches.

    Things are found by the marks of a parser other than that by which changes are made.
    """
    text = raw.decode("utf-8-sig")
    root = yaml.compose(text, Loader=yaml.CSafeLoader)
    kept, outside, at = [], "", 0
    for key, section in root.value:
        listed = any(p[0] == key.value and (len(p) == 1 or isinstance(p[1], int)) for p in edit.paths)
        things = section.value if isinstance(section, yaml.MappingNode) and not listed else [(key, section)]
        for ident, thing in things:
            start, end = ident.start_mark.index, max(thing.end_mark.index, ident.end_mark.index)
            written = re.sub(r"(\s*\n[ \t]*(#.*)?)*\Z", "", text[start:end])
            if listed or (key.value, ident.value) in edit.touches:
                outside += text[at:start]
                beside = re.compile(r"[ \t]*,?[ \t]*(#.*)?").match(text, start + len(written))
                at = beside.end() if beside else start
            else:
                kept.append(written)
    return kept, re.findall(r"# .*", outside + text[at:])


PLAINS = {
    name: load(DEMO / f"{name}.yaml") for name in ("poor_ground", "poor_ground_cured", "before", "retrofit")
}


def made_by_lot(dice: random.Random) -> dict[str, Plain]:
    """The data of a demo, as if its text stood alone."""
    document = PLAINS[dice.choice(("poor_ground", "poor_ground_cured") * 12 + ("before", "retrofit"))]
    whole = spelled(dict(document.whole), document)
    assert isinstance(whole, dict)
    header = whole["installation"]
    assert isinstance(header, dict)
    header.pop("replaces", None)
    surveys = whole.get("survey", {})
    assert isinstance(surveys, dict)
    for survey in surveys.values():
        assert isinstance(survey, dict)
        survey.pop("log", None)
    return whole


@pytest.mark.parametrize("tens", range(20))
def test_in_any_layout(tens: int) -> None:
    """Ten documents in layouts drawn by lot, with three edits each."""
    held = 0
    for seed in range(tens * 10, tens * 10 + 10):
        dice = random.Random(seed)
        raw = Layout(dice).written(made_by_lot(dice))
        document = loads(raw)
        held += sum(holds(document, raw, some_edit(document, dice)) for _ in range(3))
    assert held > 6


@pytest.mark.parametrize("name", ["retrofit_corrected", "twin", "before"])
def test_in_the_demos(name: str) -> None:
    document, dice = load(DEMO / f"{name}.yaml"), random.Random(name)
    raw = (DEMO / f"{name}.yaml").read_bytes()
    assert sum(holds(document, raw, some_edit(document, dice)) for _ in range(16)) > 1


def holds(document: Document, raw: bytes, edit: Edit) -> bool:
    """Whether an edit makes a document; if so, its text says the same, and is the old one wherever it is not changed."""
    try:
        wanted = edited(document, edit)
    except DocumentError:
        return False
    if written_in(document, edit) != (document.name,):
        return False
    new = rewritten(document, edit)[document.name]
    if document.folder is None:
        again = loads(new)
        assert again.installation == wanted.installation
        assert spelled(dict(again.whole), again) == spelled(dict(wanted.whole), wanted)
    if not re.search(rb"[ \[]\*\w", raw):  # an anchor that moves changes the thing it moves to
        things, remarks = untouched(raw, edit)
        assert untouched(new, edit)[0] == things
        assert [r for r in remarks if r not in new.decode()] == []
    assert new.startswith(b"\xef\xbb\xbf") == raw.startswith(b"\xef\xbb\xbf")
    assert (b"\r\n" in new) == (b"\r\n" in raw)
    lines = difflib.ndiff(raw.decode().splitlines(), new.decode().splitlines()) if len(raw) < 20_000 else []
    assert sum(line[:1] in "+-" for line in lines) <= 60 * len(edit.changes)
    return True


def test_a_line_with_commas_is_plain_in_a_block_and_quoted_in_brackets() -> None:
    """In brackets a comma ends the value (YAML 1.2.2, 7.3.3); in a block it does not."""
    assert scalar("a.b to c.d, 20 AWG, cabin 3 ft", flow=False) == "a.b to c.d, 20 AWG, cabin 3 ft"
    assert one_line("a.b to c.d, 20 AWG") == "'a.b to c.d, 20 AWG'"
    assert scalar("a: b", flow=False) == "'a: b'"
    assert scalar("*a, b", flow=False) == "'*a, b'"
    assert scalar("a #b", flow=False) == "'a #b'"
    assert scalar("- a, b", flow=False) == "'- a, b'"
