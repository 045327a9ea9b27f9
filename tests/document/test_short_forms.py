"""What is said once, in one line, or by the standard: it comes out as the long form, with the place where it was said."""

import re

import pytest

from installcheck import check
from installcheck.document import Document, DocumentError, loads
from installcheck.document.edited import edited
from installcheck.document.rewriting import rewritten
from installcheck.model.edits import Change, Drop, Edit, Put, Swap
from installcheck.model.installation import inputs_of
from installcheck.outputs.machine.expanded import as_expanded

TEXT = """\
installation: {name: short forms}
aircraft: {system_voltage: 14 V, basis: CAR 3}
engines:
  engine: {cylinders: 4, layout: opposed}
zones:
  engine: {fire_zone: yes}
  engine bay: {}
  cabin: {occupied: yes}
barriers:
  firewall: {between: [engine bay, cabin], kind: firewall}
usual:
  zones: {occupied: no}
  probes: {part: exhaust clamp probe K, zone: engine, measures: exhaust temperature}
  wire_runs:
    part: AS22759/16
    ends: ring
    marked: yes
    by kind:
      thermocouple lead: {gauge: 22 AWG}
    by gauge:
      22 to 18 AWG: {slack: 3 in}
routes:
  engine to panel: engine 3 ft, engine bay 3 ft, firewall by fireproof grommet 0.5 in clear, cabin 4 ft
senders:
  oil bulb: {part: resistance bulb nickel 90.38, zone: engine}
  tachometer generator: {part: tachometer generator three wire, zone: engine}
grounds:
  stud: {kind: stud, stud: 1/4 in, zone: cabin}
probes:
  exhaust 1: {cylinder: 1}
  exhaust 2: {cylinder: 2}
indicators:
  oil temperature gauge: {part: bridge oil temperature indicator two lead, zone: cabin}
  tachometer: {part: synchronous tachometer, zone: cabin}
  exhaust gauge: {part: moving-coil exhaust temperature indicator 8 ohm K, zone: cabin}
junctions:
  selector: {part: thermocouple selector switch, size: 4 position, zone: cabin}
  spool: {part: trim spool alumel, resistance: 0.8 ohm, zone: cabin}
bundles:
  engine harness: {mark_spacing: 14 in, wires: 3}
wire_runs:
  E3: oil bulb.A to oil temperature gauge.A, 20 AWG, engine to panel, in engine harness, sensing
  E4: {run: 'oil bulb.B to oil temperature gauge.B, 12 AWG, engine 3 ft, firewall by grommet, cabin 2 ft', slack: 1 in}
  E5: oil temperature gauge.ground to stud, 20 AWG, cabin 2 ft, not marked
  E8: tachometer generator to tachometer, shielded cable 3 core 20 AWG, engine to panel
  T11: exhaust 1 to selector.1, thermocouple lead K, engine to panel
  T12: exhaust 2 to selector.2, thermocouple lead K 20 AWG, engine to panel reversed, + to 2 -, - to 2 +, ends ring and pin 20
  T20: selector.common to exhaust gauge, thermocouple lead K, cabin 12 in, - to spool.in
  T21: {from: spool.out, to: exhaust gauge.-, gauge: 22 AWG, terminations: [{kind: pin, smallest_gauge: 24 AWG}, {kind: ring}]}
"""


@pytest.fixture(scope="module")
def short() -> Document:
    return loads(TEXT, "f")


def long(document: Document, ident: str) -> dict:
    run = document.installation.wire_runs[ident]
    return run.model_dump(by_alias=True, exclude_none=True, exclude={"spec"})


def test_a_run_in_one_line(short):
    ring = {"kind": "ring", "smallest_gauge": "22 AWG", "largest_gauge": "18 AWG", "max_current": "10 A"}
    assert long(short, "E3") == {
        "part": "AS22759/16",
        "from": "oil bulb.A",
        "to": "oil temperature gauge.A",
        "gauge": "20 AWG",
        "route": [
            {"zone": "engine", "length": "3 ft"},
            {"zone": "engine bay", "length": "3 ft"},
            {"barrier": "firewall", "through": "fireproof grommet", "clearance": "0.5 in"},
            {"zone": "cabin", "length": "4 ft"},
        ],
        "bundle": "engine harness",
        "marked": True,
        "mark_spacing": "14 in",
        "slack": "3 in",
        "sensing": True,
        "terminations": (ring, ring),
    }


def test_the_nearest_wins(short):
    runs = short.installation.wire_runs
    assert [runs[i].slack and runs[i].slack.text for i in ("E3", "E4", "T11")] == ["3 in", "1 in", "3 in"]
    assert (runs["E5"].marked, runs["E3"].marked) == (False, True)
    assert (str(runs["T11"].gauge), str(runs["T12"].gauge)) == ("22", "20")
    assert short.installation.zones["cabin"].occupied is True
    assert short.installation.zones["engine bay"].occupied is False


@pytest.mark.parametrize(
    ("ident", "joined"),
    [
        ("T11", {"+": ("exhaust 1.+", "selector.1 +"), "-": ("exhaust 1.-", "selector.1 -")}),
        ("T12", {"+": ("exhaust 2.+", "selector.2 -"), "-": ("exhaust 2.-", "selector.2 +")}),
        ("T20", {"+": ("selector.common +", "exhaust gauge.+"), "-": ("selector.common -", "spool.in")}),
        ("E8", {leg: (f"tachometer generator.{n}", f"tachometer.{n}") for n, leg in enumerate("ABC", 1)}),
    ],
)
def test_pairs_and_cables_are_joined_whole(short, ident, joined):
    conductors = short.installation.wire_runs[ident].conductors
    assert {name: (one.from_, one.to) for name, one in conductors.items()} == joined


def test_a_ring_takes_the_barrel_of_its_gauge_and_the_hole_of_its_stud(short):
    barrels = {i: long(short, i)["terminations"] for i in ("E4", "E5", "T12", "T21")}
    assert barrels["E4"][0] == {"kind": "ring", "smallest_gauge": "12 AWG", "largest_gauge": "10 AWG"}
    assert [one.get("stud") for one in barrels["E5"]] == [None, "1/4 in"]
    assert barrels["T12"][1] == {
        "kind": "pin",
        "smallest_gauge": "24 AWG",
        "largest_gauge": "20 AWG",
        "max_current": "7.5 A",
    }
    assert barrels["T21"][0]["kind"] == "pin"
    assert barrels["T21"][0]["smallest_gauge"] == "24 AWG"


def spot(word: str, line: str, nth: int = 0) -> str:
    """The place of a word in the line of the text that begins so."""
    lines = TEXT.splitlines()
    number = next(i for i, one in enumerate(lines) if one.strip().startswith(line))
    column = [m.start() for m in re.finditer(re.escape(word), lines[number])][nth]
    return f"f:{number + 1}:{column + 1}"


@pytest.mark.parametrize(
    ("path", "place"),
    [
        (("wire_runs", "E3", "gauge"), spot("20 AWG", "E3:")),
        (("wire_runs", "E3", "marked"), spot("yes", "marked:")),
        (("wire_runs", "E3", "mark_spacing"), spot("14 in", "engine harness:")),
        (("wire_runs", "E3", "route", 2, "through"), spot("fireproof", "engine to panel:")),
        (("wire_runs", "E3", "terminations", 0, "largest_gauge"), spot("ring", "ends:")),
        (("wire_runs", "E4", "route", 1, "barrier"), spot("firewall", "E4:")),
        (("wire_runs", "T11", "conductors", "+", "to"), spot("selector", "T11:")),
        (("wire_runs", "T11", "gauge"), spot("22 AWG", "thermocouple lead:")),
        (("wire_runs", "T12", "conductors", "-", "to"), spot("2 +", "T12:")),
        (("wire_runs", "T12", "terminations", 1, "kind"), spot("pin 20", "T12:")),
        (("zones", "engine", "occupied"), spot("no", "zones: {occupied")),
        (("probes", "exhaust 2", "zone"), spot("engine", "probes: {part")),
    ],
)
def test_a_place_points_to_where_it_was_said(short, path, place):
    assert str(short.place(path)) == place
    assert short.holds(path)


def test_written_out_in_full_it_is_the_same_installation_with_the_same_verdicts(short):
    again = loads(as_expanded(short), "f")
    assert again.installation == short.installation
    told = [[(v.rule, v.outcome, v.at, v.message) for v in check(one).verdicts] for one in (short, again)]
    assert told[0] == told[1]


def test_unknown_may_be_usual():
    document = loads(TEXT.replace("marked: yes", "marked: unknown"), "f")
    assert document.declared_unknown(("wire_runs", "E3", "marked"))
    assert not document.declared_unknown(("wire_runs", "E5", "marked"))
    assert "marked: unknown" in as_expanded(document)


@pytest.mark.parametrize(
    ("old", "new", "word", "said"),
    [
        ("AWG, engine to panel, in", "AWG, enigne to panel, in", "enigne", "did you mean 'engine to panel'?"),
        ("in engine harness", "in engine harnes", "engine harnes,", "did you mean 'engine harness'?"),
        ("E3: oil bulb.A", "E3: oil blub.A", "oil blub", "did you mean 'oil bulb'?"),
        ("E3: oil bulb.A to ", "E3: oil bulb.A ", "oil bulb.A oil", "is not a run's two ends"),
        ("firewall by fireproof", "firewal by fireproof", "firewal by", "did you mean 'firewall'?"),
        ("by fireproof grommet", "by fire grommet", "fire grommet", "did you mean 'fireproof grommet'?"),
        ("cabin 4 ft", "cabin 4 fet", "4 fet", "did you mean 'ft'?"),
        ("cabin 4 ft", "cabn 4 ft", "cabn", "did you mean 'cabin'?"),
        (
            "generator to tachometer,",
            "generator to oil temperature gauge,",
            "oil temperature gauge, sh",
            "A, B, C",
        ),
        ("to selector.1,", "to selector.9,", "selector.9", "did you mean 'selector.1 +'?"),
        ("ends: ring", "ends: rung", "rung", "did you mean 'ring'?"),
        ("ends: ring", "ends: pin 24", "pin 24", "it comes in 22D, 20, 16, 12"),
        ("marked: yes", "marked: perhaps", "perhaps", "is neither yes nor no"),
        ("marked: yes", "makred: yes", "makred", "did you mean 'marked'?"),
        ("slack: 1 in}", "slack: 1 in, gauge: 12 AWG}", "12 AWG}", "take one out"),
        ("20 AWG, engine to panel", "20 AWG, 22 AWG, engine to panel", "22 AWG, e", "told twice"),
        ("20 AWG, engine to panel", "20 AWG,, engine to panel", ", engine to panel, in", "take one out"),
        ("AWG, engine to panel, in", "AWG, colur red, in", "colur", "did you mean 'colour'?"),
        ("- to 2 +", "A to selector.2 +", "selector.2 +", "known are +, -"),
        ("22 to 18 AWG:", "thick:", "thick", "is not a gauge or a range of them"),
    ],
)
def test_errors_point_at_the_word(old, new, word, said):
    text = TEXT.replace(old, new, 1)
    assert text != TEXT
    with pytest.raises(DocumentError) as refused:
        loads(text, "f")
    line = next(i for i, one in enumerate(text.splitlines(), 1) if word in one)
    wanted = f"f:{line}:{text.splitlines()[line - 1].index(word) + 1}: "
    told = [str(p) for p in refused.value.problems]
    assert any(one.startswith(wanted) and said in one for one in told), (wanted, told)


def after(*changes: Change) -> Document:
    return edited(loads(TEXT, "f"), Edit(changes, "try it"))


def test_an_edit_of_a_run_in_one_line_leaves_the_rest_of_the_line(short):
    made = after(Put(("wire_runs", "E3", "gauge"), "16 AWG"))
    was, now = long(short, "E3"), long(made, "E3")
    assert now.pop("gauge") == "16 AWG"
    assert now.pop("slack", None) is None  # usual of 22 to 18 AWG only
    assert {one["largest_gauge"] for one in now.pop("terminations")} == {"14 AWG"}
    assert now == {w: v for w, v in was.items() if w not in ("gauge", "terminations", "slack")}
    assert made.installation.wire_runs["E4"] == short.installation.wire_runs["E4"]


def test_an_edit_of_what_is_usual_counts_for_every_thing():
    before = loads(TEXT, "f")
    made = edited(before, Edit((Put(("usual", "wire_runs", "marked"), "no"),), "take the marks off"))
    marked = {i: run.marked for i, run in made.installation.wire_runs.items()}
    assert set(marked.values()) == {False}
    assert made.installation.wire_runs["E5"] is before.installation.wire_runs["E5"]


def test_a_field_told_elsewhere_is_overridden_in_the_thing_itself():
    made = after(Put(("wire_runs", "T21", "marked"), "no"), Drop(("wire_runs", "E4", "marked")))
    runs = made.installation.wire_runs
    assert (runs["T21"].marked, runs["E4"].marked, runs["E3"].marked) == (False, None, True)
    assert made.declared_unknown(("wire_runs", "E4", "marked"))


def test_parts_of_what_is_implied_can_be_changed():
    made = after(
        Put(("wire_runs", "E3", "route", 2, "through"), "open hole"),
        Swap(("wire_runs", "T11", "conductors", "+", "to"), ("wire_runs", "T11", "conductors", "-", "to")),
        Put(("wire_runs", "E5", "terminations", 1, "stud"), "1/8 in"),
    )
    assert long(made, "E3")["route"][2]["through"] == "open hole"
    assert long(made, "T11")["conductors"]["+"] == {"from": "exhaust 1.+", "to": "selector.1 -"}
    assert [one.get("stud") for one in long(made, "E5")["terminations"]] == [None, "1/8 in"]


def test_a_stud_that_is_changed_changes_the_ring_that_lands_on_it():
    made = after(Put(("grounds", "stud", "stud"), "3/16 in"))
    assert long(made, "E5")["terminations"][1]["stud"] == "3/16 in"


def test_an_edited_document_is_what_the_edited_text_would_be():
    made = after(
        Put(("wire_runs", "E3", "gauge"), "16 AWG"),
        Put(("routes", "engine to panel"), "engine 5 ft, cabin 5 ft"),
    )
    text = TEXT.replace("gauge.A, 20 AWG", "gauge.A, 16 AWG")
    text = re.sub("engine to panel: .*", "engine to panel: engine 5 ft, cabin 5 ft", text)
    assert made.installation == loads(text, "f").installation


def test_the_text_of_a_line_is_changed_where_the_word_stands():
    document = loads(TEXT, "f")
    edit = Edit((Put(("wire_runs", "E3", "gauge"), "16 AWG"),), "fit 16 AWG")
    changed = rewritten(document, edit)["f"].decode().splitlines()
    [line] = [one for one, was in zip(changed, TEXT.splitlines(), strict=True) if one != was]
    line_now = (
        "E3: oil bulb.A to oil temperature gauge.A, 16 AWG, engine to panel, in engine harness, sensing"
    )
    assert line.replace("'", "").strip() == line_now
    edit = Edit((Put(("wire_runs", "E4", "route", 1, "through"), "open hole"),), "open it")
    assert rewritten(document, edit)["f"].decode() == TEXT.replace(
        "firewall by grommet", "firewall by open hole"
    )


@pytest.mark.parametrize(
    "change",
    [
        Put(("wire_runs", "E3", "status"), "new"),
        Put(("wire_runs", "E3", "route", 2, "through"), "open hole"),
        Swap(("wire_runs", "T11", "conductors", "+", "to"), ("wire_runs", "T11", "conductors", "-", "to")),
        Drop(("wire_runs", "E3", "marked")),
        Put(("usual", "wire_runs", "ends"), "pin 20"),
        Put(("bundles", "engine harness", "mark_spacing"), "12 in"),
    ],
)
def test_the_text_of_an_edit_says_what_the_edit_makes(change):
    document, edit = loads(TEXT, "f"), Edit((change,), "try it")
    again = loads(rewritten(document, edit)["f"], "f")
    assert again.installation == edited(document, edit).installation
    assert again.installation != document.installation


def test_unknown_in_a_line():
    document = loads(TEXT.replace("in engine harness, sensing", "in engine harness, slack unknown"), "f")
    assert document.installation.wire_runs["E3"].slack is None
    assert document.declared_unknown(("wire_runs", "E3", "slack"))


@pytest.mark.parametrize(
    ("section", "ident", "word", "text", "long"),
    [
        ("zones", "cabin", "temperature", "-20 to 50 degC, normal 25 degC",
         {"lowest": "-20 degC", "highest": "50 degC", "normal": "25 degC"}),
        ("indicators", "exhaust gauge", "markings", "green 900 to 1600 degF, red 1650 degF",
         [{"colour": "green", "lowest": "900 degF", "highest": "1600 degF"}, {"colour": "red", "at": "1650 degF"}]),
        ("bundles", "engine harness", "clearances", "fuel hose (flammable line) 6 in above clamped, compass 14 in not guarded",
         [{"to": "fuel hose", "kind": "flammable line", "distance": "6 in", "position": "above", "clamped": True},
          {"to": "compass", "kind": "compass", "distance": "14 in", "guarded": False}]),
    ],
)  # fmt: skip
def test_ranges_markings_and_clearances_in_one_line(section, ident, word, text, long):
    head, tail = TEXT.split(f"\n  {ident}: {{", 1) if section != "zones" else TEXT.split("\n  cabin: {", 1)
    document = loads(f"{head}\n  {ident}: {{{word}: '{text}', {tail}", "f")
    thing = document.installation.section(section)[ident]
    thing = thing if word in type(thing).model_fields else thing.spec
    made = thing.model_dump(exclude_none=True)[word]
    assert made == long
    place = document.place((section, ident, word, *([0] if isinstance(long, list) else ["highest"])))
    assert place.line == head.count("\n") + 2


@pytest.mark.parametrize(
    ("word", "said"),
    [
        ("temperature: '-20 degC', ", "'-20 degC' is not a range: write its two ends, like '60 to 90 psi'"),
        ("temperature: '-20 to 50 degx', ", "did you mean"),
    ],
)
def test_a_range_that_is_none(word, said):
    with pytest.raises(DocumentError, match=said):
        loads(TEXT.replace("cabin: {", f"cabin: {{{word}"), "f")


MONITOR = """\
installation: {name: monitor}
zones: {cabin: {occupied: yes}}
indicators:
  monitor:
    part: electronic engine monitor 4 cylinder
    zone: cabin
    budget: 12 degF
    inputs: {CHT 1: {budget: 10 degF}, carburettor air temperature: unused, EGT 4: unused}
"""


def test_inputs_are_overridden_one_by_one():
    found = dict(inputs_of(loads(MONITOR, "f").installation.indicators["monitor"]))
    assert {"carburettor air temperature", "EGT 4"}.isdisjoint(found)
    assert found["CHT 1"].terminals == ["CHT 1 +", "CHT 1 -"]
    budgets = {name: one.budget and one.budget.text for name, one in found.items()}
    assert [budgets[n] for n in ("CHT 1", "CHT 2", "oil temperature")] == ["10 degF", "12 degF", "12 degF"]
    assert [budgets[n] for n in ("oil pressure", "engine speed", "bus voltage")] == [None, None, None]


def test_an_input_the_part_does_not_have_cannot_be_unused():
    with pytest.raises(DocumentError, match="'EGT 5' is not an input of its part; did you mean 'EGT 1'"):
        loads(MONITOR.replace("EGT 4", "EGT 5"), "f")
