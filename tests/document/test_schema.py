"""The published schemas: valid themselves, and in step with what the reader accepts."""

import json
from pathlib import Path

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator, ValidationError
from typer.testing import CliRunner

from installcheck.cli.commands import app
from installcheck.document import DocumentError, loads
from installcheck.document.schema import document_schema, parts_schema
from installcheck.document.source import read_file, read_source
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
