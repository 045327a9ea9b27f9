"""The published schemas: valid themselves, and in step with what the reader accepts."""

import json
import re
from pathlib import Path
from typing import get_args

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator, ValidationError
from typer.testing import CliRunner

from installcheck.cli.commands import app
from installcheck.document import DocumentError, equivalents, loads
from installcheck.document.parsing import read_file, read_source
from installcheck.document.schema import document_schema, parts_schema
from installcheck.document.schema_words import blocks
from installcheck.document.sections import ITEMS
from installcheck.model.fields import Measure
from installcheck.model.quantities import KINDS, QuantityError, parse

ROOT = Path(__file__).parents[2]
DOCUMENT = document_schema()
CHECKER = Draft202012Validator(DOCUMENT)

SAMPLE = """
installation: {name: Oil temperature retrofit, revision: 2, date: 2026-05-01}
aircraft: {basis: CAR 3, operation: [VFR day], system_voltage: 14 V}
engines:
  engine: {cylinders: 4, layout: opposed, speed: 2700 rpm, seats: {1: right front, 2: left front}}
zones:
  engine bay: {vibrates: yes, temperature: {lowest: -20 degC, highest: 120 degC}}
  cabin: {occupied: true, pressurised: unknown}
barriers:
  firewall: {between: [engine bay, cabin], kind: firewall}
senders:
  oil bulb:
    zone: engine bay
    principle: thermistor
    terminals: [1, 2]
    curve: {points: [[100 degF, 450 ohm], [150 degF, 158.2 ohm], [200 degF, 64.3 ohm]]}
    location: unknown
indicators:
  oil gauge:
    zone: cabin
    terminals: [S, G]
    scale: {lowest: 100 degF, highest: 250 degF, division: 10 degF}
    open_shows: off scale low
junctions:
  plug: {kind: plug, contact_size: 20, pins: {1: {metal: copper}, 2: {spare: yes}}}
wire_runs:
  W1:
    from: oil bulb.1
    to: oil gauge.S
    gauge: 22 AWG
    route:
      - {zone: engine bay, length: 3 ft 6 in}
      - {barrier: firewall, through: fireproof grommet}
      - {zone: cabin, length: 24 in}
  W2: {from: oil bulb.2, to: oil gauge.G, gauge: AWG 20, length: 5 1/2 ft, marked: no, colour: unknown}
measured:
  - {between: [oil bulb.1, oil gauge.S], value: 0.08 ohm, what: resistance}
deviations:
"""


def as_read(text: str) -> object:
    """Plain data as the reader sees it: every scalar its text, 'unknown' as nothing."""
    return read_source(text.encode(), "sample").plain


def as_editors_read(text: str) -> object:
    """Plain data as a general YAML parser sees it: numbers and yes/no typed, keys as text."""

    def keyed(value: object) -> object:
        if isinstance(value, dict):
            return {str(k): keyed(v) for k, v in value.items()}
        return [keyed(v) for v in value] if isinstance(value, list) else value

    # Dates are text in YAML 1.2, which editors follow; the default loader makes them dates.
    return keyed(yaml.load(text.replace("2026-05-01", "'2026-05-01'"), Loader=yaml.SafeLoader))


def changed(old: str, new: str) -> str:
    assert SAMPLE.count(old) == 1
    return SAMPLE.replace(old, new)


def test_schemas_are_schemas():
    Draft202012Validator.check_schema(DOCUMENT)
    Draft202012Validator.check_schema(parts_schema())


@pytest.mark.parametrize("read", [as_read, as_editors_read])
def test_sample_is_valid_and_loads(read):
    CHECKER.validate(read(SAMPLE))
    assert loads(SAMPLE).installation.wire_runs["W2"].marked is False


@pytest.mark.parametrize("read", [as_read, as_editors_read])
@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("gauge: 22 AWG", "guage: 22 AWG"),
        ("gauge: 22 AWG", "gauge: 22"),
        ("gauge: 22 AWG", "spec: {kind: wire}"),
        ("length: 24 in", "length: 24"),
        ("length: 24 in", "length: 24 psi"),
        ("kind: firewall", "kind: fire door"),
        ("occupied: true", "occupied: perhaps"),
        ("cylinders: 4", "cylinders: four"),
        ("cylinders: 4", "cylinders: 40 degF"),
        ("principle: thermistor", "principle: magic"),
        ("between: [engine bay, cabin]", "between: [engine bay]"),
        ("{name: Oil temperature retrofit, ", "{"),
        ("zones:", "zonez:"),
        ("  W1:", "  W.1:"),
        ("basis: CAR 3", "basis: CAR 3, wings: 2"),
    ],
)
def test_what_the_reader_refuses_the_schema_refuses(read, old, new):
    text = changed(old, new)
    with pytest.raises(DocumentError):
        loads(text)
    with pytest.raises(ValidationError):
        CHECKER.validate(read(text))


@pytest.mark.parametrize("path", sorted((ROOT / "demo_aircraft").rglob("*.y*ml")), ids=lambda p: p.name)
def test_demonstration_documents_are_valid(path):
    plain = read_file(path).plain
    if "installation" in plain:
        CHECKER.validate(plain)
    elif "parts" in plain:
        Draft202012Validator(parts_schema()).validate(plain)


@pytest.mark.parametrize("path", sorted((ROOT / "parts").glob("*.yaml")), ids=lambda p: p.name)
def test_shipped_part_files_are_valid(path):
    Draft202012Validator(parts_schema()).validate(read_file(path).plain)


def test_part_with_a_word_of_another_section_is_refused():
    part = {"parts": {"wire": {"for": "wire_runs", "metal": "copper"}}}
    checker = Draft202012Validator(parts_schema())
    checker.validate(part)
    part["parts"]["wire"]["thermocouple_grade"] = "standard"
    with pytest.raises(ValidationError):
        checker.validate(part)


def test_every_field_of_a_wire_run_is_described():
    fields = DOCUMENT["$defs"]["WireRun"]["properties"]
    assert {"from", "gauge", "insulation", "temperature_rating"} <= set(fields)
    assert "spec" not in fields
    assert [word for word, field in fields.items() if not field.get("description")] == []


def test_length_names_its_units_and_an_example():
    length = DOCUMENT["$defs"]["length"]
    assert "ft" in length["description"]
    assert length["examples"] == ["12 ft 6 in"]


@given(
    st.sampled_from(sorted(KINDS)),
    st.one_of(
        st.decimals(0, 1000, places=3).map(str),
        st.sampled_from(["1/8", "3 1/2", ".5", "5.", "1e-3", "-40", "+3", "− 2", "", "x", "1//2"]),
    ),
    st.sampled_from(["", " ", "  "]),
    st.data(),
)
def test_a_quantity_that_is_read_matches_the_pattern(kind, number, gap, data):
    unit = data.draw(st.sampled_from(sorted(KINDS[kind].units)))
    text = f"{number}{gap}{unit}"
    name = kind.replace(" ", "-")
    if name not in DOCUMENT["$defs"]:
        return
    valid = Draft202012Validator(DOCUMENT["$defs"][name]).is_valid(text)
    try:
        parse(text, kind)
    except QuantityError:
        # A sign, a zero divisor or a temperature below absolute zero is the reader's to refuse.
        return
    assert valid, text


@pytest.mark.parametrize("text", ["12 ft 6 in", "12'6\"", "3 1/2 in", "-4 in", "0.5m"])
def test_lengths_written_as_people_do(text):
    assert Draft202012Validator(DOCUMENT["$defs"]["station"]).is_valid(text)


@pytest.mark.parametrize("of", ["document", "parts", "verdicts"])
def test_command_writes_a_schema(of):
    result = CliRunner().invoke(app, ["schema", "--of", of])
    made = json.loads(result.stdout)
    Draft202012Validator.check_schema(made)
    assert made["$id"] == f"urn:installcheck:schema:{of}"


SAID = """
installation: {name: as people say it}
aircraft: {operation: day and night VFR}
engines: {engine: {cylinders: 4, layout: flat four, limits: {RPM: {maximum: 2700 RPM}, oil temp: {maximum: 118 deg C}}}}
zones: {cabin: {occupied: Yes}}
supplies: {main: {kind: circuit breaker, rating: 60 amps}, bus: {kind: bus bar}}
senders: {pick-up: {measures: rpm, principle: Hall effect}}
operating_points: {cruise: {phase: cruising, readings: {CHT: 380 degF}}}
"""


def test_other_words_for_the_known_ones_pass_the_schema_and_are_read():
    CHECKER.validate(as_read(SAID))
    document = loads(SAID)
    model = document.installation
    assert model.aircraft.operation == ["VFR day", "VFR night"]
    assert set(model.engines["engine"].limits) == {"engine speed", "oil temperature"}
    assert list(model.operating_points["cruise"].readings) == ["head temperature"]
    assert str(document.place(("engines", "engine", "limits", "engine speed", "maximum"))) == "document:4:77"
    assert document.written(("engines", "engine", "limits", "engine speed", "maximum")) == "2700 RPM"


@pytest.mark.parametrize("word", ["night flying", "VFR day and helicopter", "rpm"])
def test_words_for_something_else_do_not_pass(word):
    text = SAID.replace("day and night VFR", word)
    with pytest.raises(ValidationError):
        CHECKER.validate(as_read(text))
    with pytest.raises(DocumentError):
        loads(text)


@given(st.sampled_from(sorted(equivalents._MEANT)), st.data())
def test_the_schema_takes_a_word_exactly_where_the_reader_does(word, data):
    choices = data.draw(
        st.sampled_from([get_args(Measure), ("opposed", "inline", "radial", "vee"), ("bus", "breaker")])
    )
    pattern = re.compile(equivalents.spelled(choices))
    for text in (word, word.upper(), word.title(), word.replace(" ", "-"), word.replace(" ", "_")):
        assert (pattern.match(text) is not None) == (equivalents.meant(text, choices) is not None), text


def offered(schema, item, word):
    """The values an editor would offer for a word."""
    field = schema["$defs"][item]["properties"][word]
    return [value for one in field["anyOf"] for value in one.get("enum", ())]


def test_parts_and_their_sizes_are_offered():
    assert "resistance bulb Pt100" in offered(DOCUMENT, "Sender", "part")
    assert "breaker" not in offered(DOCUMENT, "Sender", "part")
    assert {"60 A", "70 A"} <= set(offered(DOCUMENT, "Supply", "size"))


def test_the_schema_of_a_document_offers_its_names_and_refuses_nothing_more(tmp_path):
    file = tmp_path / "mine.yaml"
    file.write_text(SAMPLE)
    result = CliRunner().invoke(app, ["schema", str(file)])
    made = json.loads(result.stdout)
    assert offered(made, "Sender", "zone") == ["engine bay", "cabin"]
    assert {"oil bulb.1", "oil gauge.S", "plug.2"} <= set(offered(made, "WireRun", "from"))
    assert offered(made, "WireRun", "to") == offered(made, "WireRun", "from")
    Draft202012Validator(made).validate(as_read(changed("to: oil gauge.S", "to: a gauge to come.S")))


def test_every_section_is_described():
    assert [word for word, field in DOCUMENT["properties"].items() if not field.get("description")] == []


def test_every_pattern_says_in_words_what_is_wanted():
    def patterns(node):
        if isinstance(node, dict):
            if isinstance(node.get("pattern"), str) and len(node["pattern"]) > 60:
                yield node
            for value in node.values():
                yield from patterns(value)
        elif isinstance(node, list):
            for value in node:
                yield from patterns(value)

    assert [node["pattern"] for node in patterns(DOCUMENT) if not node.get("patternErrorMessage")] == []


def test_words_for_people_name_every_word_of_every_section():
    told = blocks(DOCUMENT)
    common = told["common words"]
    for section, kind in ITEMS.items():
        for word in DOCUMENT["$defs"][kind.__name__]["properties"]:
            assert f"  {word} " in told[section] or f"  {word} " in common, (section, word)
    assert max(len(line) for text in told.values() for line in text.splitlines()) <= 110
    assert "opposed | inline | radial | vee: arrangement of the cylinders" in told["engines"]


def test_words_for_people_on_the_command_line(tmp_path):
    run = CliRunner().invoke
    assert run(app, ["schema", "--words", "--section", "zones"]).stdout.startswith(
        "zones: A space of the aircraft."
    )
    assert "\n\nzones: A space" in run(app, ["schema", "--words"]).stdout
    wrong = run(app, ["schema", "--words", "--section", "zone"])
    assert (wrong.exit_code, "did you mean 'zones'?" in wrong.stderr) == (2, True)
    assert run(app, ["schema", "--words", "--of", "parts"]).exit_code == 2
