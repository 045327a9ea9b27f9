"""The commands that rest on the solved network, as a person and a machine run them."""

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from installcheck.cli.commands import app

DEMO = Path(__file__).parents[2] / "demo_aircraft"


def run(*words, status=0):
    result = CliRunner().invoke(app, [str(w) for w in words])
    assert result.exit_code == status, result.output
    return result.output


def test_faults_as_text():
    told = run("faults", DEMO / "poor_ground.yaml")
    assert "battery takes over" in told
    assert "REQUIRED INDICATIONS THAT FALL TOGETHER" in told
    assert "This is an aid to a qualified person." in told


def test_faults_as_json_name_their_place():
    told = json.loads(run("faults", DEMO / "poor_ground.yaml", "--form", "json", "--point", "charging"))
    assert told["operating_point"] == "charging"
    strap = next(f for f in told["faults"] if f["at"] == "engine strap")
    assert strap["fault"] == "lost ground"
    assert strap["place"]["line"] > 0
    assert {e["effect"] for e in strap["effects"]} == {"reads low", "reads high"}


def test_faults_at_a_point_that_does_not_exist():
    run("faults", DEMO / "poor_ground.yaml", "--point", "chraging", status=2)


def test_size_as_text_and_json():
    assert "bound by" in run("size", DEMO / "poor_ground_cured.yaml")
    told = json.loads(run("size", DEMO / "poor_ground_cured.yaml", "--form", "json"))
    assert {"run", "gauge", "bound_by"} <= set(told["runs"][0])
    assert told["weight_kg"] > 0


def test_size_says_by_its_status_that_something_is_not_cured():
    assert "NO SIZE CURES" in run("size", DEMO / "poor_ground.yaml", status=1)


def test_scatter_follows_the_check():
    told = CliRunner().invoke(app, ["check", str(DEMO / "poor_ground_cured.yaml"), "--scatter", "500"]).output
    assert "Errors over 500 trials, percentiles" in told


@pytest.mark.parametrize("words", [("faults",), ("size",)])
def test_a_document_that_cannot_be_read(tmp_path, words):
    bad = tmp_path / "bad.yaml"
    bad.write_text("installation: {name: test}\nzones: {cabin: {occuppied: yes}}\n")
    run(*words, bad, status=2)
