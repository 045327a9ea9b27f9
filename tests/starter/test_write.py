"""A starter loads, checks without a discrepancy, and draws, whatever is chosen."""

from datetime import date
from itertools import combinations
from typing import get_args

import pytest
from jsonschema import Draft202012Validator
from typer.testing import CliRunner

from installcheck import check
from installcheck.cli.commands import app
from installcheck.document import loads
from installcheck.document.parsing import read_source
from installcheck.document.schema import document_schema
from installcheck.graph import build, indications
from installcheck.model.fields import Measure
from installcheck.rules.asking import asks
from installcheck.rules.verdicts import Outcome
from installcheck.starter.questions import chosen
from installcheck.starter.write import BASES, INDICATIONS, LAYOUTS, Wishes, starter

SCHEMA = Draft202012Validator(document_schema())


def verdicts_of(wishes):
    text = starter(wishes)
    SCHEMA.validate(read_source(text.encode(), "starter").plain)
    ledger = check(loads(text))
    return [f"{v.rule}: {v.message}" for v in ledger.verdicts if v.outcome is Outcome.DISCREPANCY], ledger


@pytest.mark.parametrize("volts", [14, 28])
@pytest.mark.parametrize("one", INDICATIONS)
def test_each_indication_by_itself(one, volts):
    found, ledger = verdicts_of(Wishes(indications=(one,), volts=volts))
    assert found == []
    assert ledger.count(Outcome.UNDETERMINED) > 0


@pytest.mark.parametrize("basis", BASES)
def test_all_indications(basis):
    found, _ = verdicts_of(Wishes(indications=INDICATIONS, basis=basis, cylinders=6, layout="inline"))
    assert found == []


@pytest.mark.parametrize("pair", list(combinations(INDICATIONS, 2)), ids=" and ".join)
def test_every_pair_loads(pair):
    loads(starter(Wishes(indications=pair)))


def test_every_indication_the_checker_knows_is_offered():
    assert set(INDICATIONS) == set(get_args(Measure))


def test_every_electrical_indication_reaches_its_sender():
    graph = build(loads(starter(Wishes(indications=INDICATIONS))).installation)
    found, unread = indications(graph)
    assert {one.indicator for one in unread} <= {"voltmeter", "ammeter"}  # which read the bus and its feed
    assert {one.source for one in found} == {
        "oil pressure sender",
        "oil bulb",
        "head probe",
        "exhaust probe",
        "fuel transducer",
        "manifold transducer",
        "tachometer generator",
        "fuel quantity sender",
        "turbine inlet probe",
        "fuel flow pick-up",
        "carburettor air bulb",
        "coolant bulb",
        "outside air bulb",
        "oil quantity sender",
        "hydraulic transducer",
    }


def test_name_is_quoted():
    name = "it's \"new\": {a} # [b] - 'ü' \\"
    assert loads(starter(Wishes(name=name))).installation.installation.name == name


@pytest.mark.parametrize(
    ("wishes", "told"),
    [
        (Wishes(name="two\nlines"), "a line of 1 to 120"),
        (Wishes(name=" "), "a line of 1 to 120"),
        (Wishes(indications=()), "at least one indication"),
        (Wishes(indications=("oil presure",)), "did you mean 'oil pressure'?"),
        (Wishes(layout="flat"), "is not a layout"),
        (Wishes(cylinders=0), "1 to 36 cylinders"),
        (Wishes(engines=3), "1 or 2 engines"),
        (Wishes(volts=0), "whole volts"),
        (Wishes(operation=("VFR dya",)), "did you mean 'VFR day'?"),
        (Wishes(basis="part 24"), "is not a basis"),
    ],
)
def test_what_a_document_could_not_say_is_refused(wishes, told):
    with pytest.raises(ValueError, match=told.replace("?", r"\?")):
        starter(wishes)


def test_answers():
    assert chosen("1, engine speed,3,") == [INDICATIONS[0], "engine speed", INDICATIONS[2]]
    assert chosen("0, 99, Oil Pressure") == ["0", "99", "oil pressure"]
    assert len(LAYOUTS) == len(set(LAYOUTS))


def test_command_writes_checks_and_draws(tmp_path):
    file = tmp_path / "my plane.yaml"
    run = CliRunner().invoke
    result = run(
        app,
        [
            "new",
            str(file),
            "--name",
            "my plane",
            "--indication",
            "oil pressure",
            "--indication",
            "head temperature",
        ],
    )
    assert result.exit_code == 0
    assert "next: installcheck check" in result.stdout
    document = loads(file.read_text(encoding="utf-8"))
    assert set(document.installation.indicators) == {"oil pressure gauge", "head gauge"}
    assert run(app, ["check", str(file)]).exit_code == 0
    assert run(app, ["draw", str(file), "--out", str(tmp_path / "sheet.svg")]).exit_code == 0
    sheets = list(tmp_path.rglob("sheet*.svg"))
    assert sheets
    assert all(b"<svg" in sheet.read_bytes() for sheet in sheets)


def test_command_does_not_write_over_a_file(tmp_path):
    file = tmp_path / "a.yaml"
    file.write_text("mine")
    result = CliRunner().invoke(app, ["new", str(file)])
    assert result.exit_code == 2
    assert "is there already" in result.stderr
    assert file.read_text() == "mine"
    assert CliRunner().invoke(app, ["new", str(file), "--force"]).exit_code == 0
    assert file.read_text(encoding="utf-8").startswith("# engine instruments")


def test_command_into_a_folder_that_is_not_there(tmp_path):
    result = CliRunner().invoke(app, ["new", str(tmp_path / "none" / "a.yaml")])
    assert result.exit_code == 2
    assert "cannot be written" in result.stderr


def test_questions(tmp_path, monkeypatch):
    file = tmp_path / "asked.yaml"
    monkeypatch.setattr("installcheck.cli.new._asks", lambda: True)
    answers = "my plane\n2, 7\n1\n6\n\n28\nCAR 3\nVFR day, IFR\n"
    result = CliRunner().invoke(app, ["new", str(file)], input=answers)
    assert result.exit_code == 0, result.output
    model = loads(file.read_text(encoding="utf-8")).installation
    assert model.installation.name == "my plane"
    assert set(model.indicators) == {"oil temperature gauge", "tachometer"}
    assert model.engines["engine"].cylinders == 6
    assert (model.aircraft.basis, float(model.aircraft.system_voltage)) == ("CAR 3", 28.0)
    assert model.aircraft.operation == ["VFR day", "IFR"]
    assert model.installation.date == date.today().isoformat()


def test_an_answer_that_cannot_be_is_asked_again_at_once(tmp_path, monkeypatch):
    file = tmp_path / "asked.yaml"
    monkeypatch.setattr("installcheck.cli.new._asks", lambda: True)
    answers = "my plane\noil presure\nfuel flow\n3\nsingle\nsome\n99\nsix\nround\nflat six\n28 V\nCAR3\nVRF\nday and night VFR\n"
    result = CliRunner().invoke(app, ["new", str(file)], input=answers)
    assert result.exit_code == 0, result.output
    for told in (
        "did you mean 'oil pressure'?",
        "for 1 or 2 engines",
        "1 to 36 cylinders",
        "is not a layout",
        "is not a kind of operation",
    ):
        assert told in result.output
    model = loads(file.read_text(encoding="utf-8")).installation
    assert set(model.indicators) == {"fuel flow gauge"}
    assert (model.engines["engine"].cylinders, float(model.aircraft.system_voltage)) == (6, 28.0)


def test_an_option_that_cannot_be_is_refused_before_anything_is_asked(tmp_path, monkeypatch):
    monkeypatch.setattr("installcheck.cli.new._asks", lambda: True)
    for words, told in (
        (["--volts", "99"], "whole volts"),
        (["--indication", "oil"], "is not an indication"),
    ):
        result = CliRunner().invoke(app, ["new", str(tmp_path / "a.yaml"), *words])
        assert result.exit_code == 2
        assert told in result.output
        assert "Name of the installation" not in result.output


def test_options_are_understood_as_answers_are(tmp_path):
    file = tmp_path / "a.yaml"
    words = {
        "--layout": "flat six",
        "--cylinders": "six",
        "--volts": "28 V",
        "--engines": "twin",
        "--basis": "CAR3",
    }
    told = [word for pair in words.items() for word in pair]
    result = CliRunner().invoke(
        app, ["new", str(file), *told, "--indication", "CHT", "--operation", "day and night VFR"]
    )
    assert result.exit_code == 0, result.output
    model = loads(file.read_text(encoding="utf-8")).installation
    assert {(e.layout, e.cylinders) for e in model.engines.values()} == {("opposed", 6)}
    assert set(model.engines) == {"left", "right"}
    assert (model.aircraft.basis, float(model.aircraft.system_voltage)) == ("CAR 3", 28.0)
    assert model.aircraft.operation == ["VFR day", "VFR night"]


def test_what_was_answered_is_told_when_asking_is_broken_off(tmp_path, monkeypatch):
    monkeypatch.setattr("installcheck.cli.new._asks", lambda: True)
    file = tmp_path / "asked.yaml"
    result = CliRunner().invoke(app, ["new", str(file), "--volts", "28"], input="my plane\nEGT, 7\ntwin\n6\n")
    assert result.exit_code == 2
    told = " ".join(result.output.split())
    assert (
        "--name 'my plane' --indication 'exhaust temperature' --indication 'engine speed' --engines 2 --cylinders 6"
        in told
    )
    assert not file.exists()


FILLED = (
    ("length: unknown", "length: 2 ft"),
    ("clearance: unknown", "clearance: 0.5 in"),
    (
        "bend_radius: unknown, clearances: unknown, wires: unknown, outside_diameter: unknown, drip_loop: unknown",
        "bend_radius: 6 in, clearances: [], wires: 40, load_share: 20 %, outside_diameter: 0.5 in, drip_loop: yes",
    ),
)
TEMPERATURES = {"engine": "-20 to 110 degC", "firewall space": "-20 to 85 degC", "cabin": "-20 to 50 degC"}


WINGS = {
    f"{side} {zone}": degrees
    for side in ("left", "right")
    for zone, degrees in (("engine", "-20 to 110 degC"), ("wing", "-20 to 55 degC"))
}


def filled(wishes):
    """The starter with its zone temperatures, its lengths and what is usual of a bundle told."""
    text = starter(wishes).replace(
        "bus to breaker:\n    - {zone: cabin, length: unknown}", "bus to breaker: cabin 3 in"
    )
    for unknown, told in FILLED:
        assert unknown in text
        text = text.replace(unknown, told)
    for zone, degrees in {**TEMPERATURES, **WINGS}.items():
        text = text.replace(f"  {zone}: {{title", f"  {zone}: {{temperature: {degrees}, title")
    return check(loads(text))


@pytest.mark.parametrize("volts", [14, 28])
@pytest.mark.parametrize("engines", [1, 2])
@pytest.mark.parametrize("one", INDICATIONS)
def test_temperatures_lengths_and_one_bundle_leave_few_questions(one, engines, volts):
    ledger = filled(Wishes(indications=(one,), engines=engines, volts=volts, cylinders=6, date="2026-05-01"))
    found = [v.message for v in ledger.verdicts if v.outcome in (Outcome.DISCREPANCY, Outcome.ADVISORY)]
    assert found == []
    assert len(questions(ledger)) < 10


MOST_ASKED = (
    ("exhaust temperature", "fuel pressure", "manifold pressure", "engine speed", "fuel flow"),
    ("head temperature", "oil temperature", "fuel pressure", "manifold pressure", "engine speed"),
    ("oil pressure", "oil temperature", "head temperature", "exhaust temperature", "fuel flow"),
    ("hydraulic pressure", "vacuum", "outside air temperature", "fuel quantity", "load current"),
)
"""Fives of indications: those that ask most, by what each asks alone, and two that people choose."""


def questions(ledger):
    """Facts that are asked for, each once however many things want it."""
    return {missing for v in ledger.verdicts for missing in v.missing}


@pytest.mark.parametrize(("engines", "volts"), [(1, 14), (2, 28)])
@pytest.mark.parametrize("five", MOST_ASKED, ids=" and ".join)
def test_five_indications_leave_fewer_than_twenty_questions(five, engines, volts):
    ledger = filled(Wishes(indications=five, engines=engines, volts=volts, cylinders=6, date="2026-05-01"))
    found = [v.message for v in ledger.verdicts if v.outcome in (Outcome.DISCREPANCY, Outcome.ADVISORY)]
    assert found == []
    assert len(questions(ledger)) < 20


@pytest.mark.parametrize(("engines", "volts"), [(1, 28), (2, 14)])
def test_every_indication_at_once_is_asked_in_fewer_than_twenty_lines(engines, volts):
    wishes = Wishes(indications=INDICATIONS, engines=engines, volts=volts, cylinders=6, date="2026-05-01")
    ledger = filled(wishes)
    found = [v.message for v in ledger.verdicts if v.outcome in (Outcome.DISCREPANCY, Outcome.ADVISORY)]
    assert found == []
    assert len(asks(ledger)) < 20
    assert len(questions(ledger)) <= 20


@pytest.mark.parametrize("engines", [1, 2])
@pytest.mark.parametrize(
    "some",
    [
        ("oil pressure", "oil temperature"),
        ("oil pressure", "oil temperature", "engine speed"),
        ("oil pressure", "oil temperature", "head temperature", "exhaust temperature", "fuel flow"),
        ("manifold pressure", "load current", "bus voltage", "fuel quantity"),
    ],
    ids=len,
)
def test_its_own_choices_raise_nothing(some, engines):
    ledger = filled(Wishes(indications=some, engines=engines, cylinders=6))
    found = [v.message for v in ledger.verdicts if v.outcome in (Outcome.DISCREPANCY, Outcome.ADVISORY)]
    assert found == []


def test_a_twin_has_everything_twice_but_what_is_of_the_aircraft():
    text = starter(Wishes(indications=("oil temperature", "fuel flow", "bus voltage"), engines=2))
    model = loads(text).installation
    assert list(model.engines) == ["left", "right"]
    assert set(model.indicators) == {
        "left oil temperature gauge",
        "right oil temperature gauge",
        "left fuel flow gauge",
        "right fuel flow gauge",
        "voltmeter",
    }
    fed = {i: r.from_ for i, r in model.wire_runs.items() if r.to == f"{i.removesuffix(' power')}.power"}
    assert fed == {
        "left fuel flow gauge power": "left gauges bus",
        "right fuel flow gauge power": "right gauges bus",
    }


@pytest.mark.parametrize(
    "wishes",
    [
        Wishes(),
        Wishes(
            volts=28, cylinders=6, indications=("oil temperature", "head temperature", "exhaust temperature")
        ),
    ],
)
def test_temperatures_are_asked_little_of(wishes):
    ledger = filled(wishes)
    assert len(questions(ledger)) < 10
    assert ledger.count(Outcome.DISCREPANCY) == ledger.count(Outcome.ADVISORY) == 0
