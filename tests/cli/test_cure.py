"""``cure``: what is written, what is not, and how it ends."""

from __future__ import annotations

from pathlib import Path

import pytest
from typer.testing import CliRunner

from installcheck.cli.commands import app

# 20 AWG bears a 7.5 A breaker and 22 AWG 5 A by AC 43.13-1B table 11-3: both breakers are too big for their wires.
MAIN = """\
include: [lights.yaml]
installation: {name: two breakers}
aircraft: {system_voltage: 14 V}
zones: {cabin: {occupied: yes, fire_zone: no, hot_parts: no, vibrates: no, temperature: {lowest: 0 degC, highest: 40 degC}}}
supplies:
  battery: {kind: battery, voltage: 12.6 V, zone: cabin}
  bus: {kind: bus, zone: cabin}
  radio breaker: {kind: breaker, rating: 20 A, zone: cabin}   # as found
grounds: {airframe: {kind: structure, zone: cabin}}
loads: {radio: {current: 1 A, duty: continuous, zone: cabin}}
wire_runs:
  # the feeder
  P1: {from: battery.+, to: bus, part: AS22759/16, gauge: 10 AWG, route: [{zone: cabin, length: 6 in}]}
  P2: {from: bus, to: radio breaker.in, part: AS22759/16, gauge: 10 AWG, route: [{zone: cabin, length: 3 in}]}
  P3: {from: radio breaker.out, to: radio.+, part: AS22759/16, gauge: 20 AWG, route: [{zone: cabin, length: 4 ft}]}
  P4: {from: radio.-, to: airframe, part: AS22759/16, gauge: 20 AWG, route: [{zone: cabin, length: 4 ft}]}
  P5: {from: battery.-, to: airframe, part: AS22759/16, gauge: 10 AWG, route: [{zone: cabin, length: 6 in}]}
"""
LIGHTS = """\
supplies:
  lights breaker: {kind: breaker, rating: 20 A, zone: cabin}   # by the drawing
loads: {lights: {current: 1 A, duty: continuous, zone: cabin}}
wire_runs:
  L2: {from: bus, to: lights breaker.in, part: AS22759/16, gauge: 10 AWG, route: [{zone: cabin, length: 3 in}]}
  L3: {from: lights breaker.out, to: lights.+, part: AS22759/16, gauge: 22 AWG, route: [{zone: cabin, length: 4 ft}]}
  L4: {from: lights.-, to: airframe, part: AS22759/16, gauge: 22 AWG, route: [{zone: cabin, length: 4 ft}]}
"""


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / "main.yaml").write_text(MAIN)
    (tmp_path / "lights.yaml").write_text(LIGHTS)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def run(*words: str) -> tuple[int, str]:
    result = CliRunner().invoke(app, ["cure", *words])
    return result.exit_code, result.output


def test_an_included_file_is_left_as_it_is_and_named(folder: Path) -> None:
    status, told = run("main.yaml", "--out", "cured.yaml")
    assert "this needs lights.yaml" in told
    assert "Judged again: 1 discrepancy left" in told
    assert status == 1
    cured = (folder / "cured.yaml").read_text()
    changed = [(a, b) for a, b in zip(MAIN.splitlines(), cured.splitlines(), strict=True) if a != b]
    assert len(changed) == 1
    assert changed[0][1].startswith("  radio breaker: {kind: breaker, rating: ")
    assert changed[0][1].endswith(", zone: cabin}   # as found")
    assert (folder / "lights.yaml").read_text() == LIGHTS
    assert (folder / "main.yaml").read_text() == MAIN


def test_the_change_is_shown_as_a_unified_diff_and_nothing_is_written_without_a_name(folder: Path) -> None:
    status, told = run("main.yaml")
    assert "--- main.yaml\n+++ main.yaml\n" in told
    assert "-  radio breaker: {kind: breaker, rating: 20 A, zone: cabin}   # as found\n" in told
    assert "nothing is written" in told
    assert status == 1
    assert sorted(p.name for p in folder.iterdir()) == ["lights.yaml", "main.yaml"]


def test_an_included_file_that_is_named_is_changed_where_it_may_be(folder: Path) -> None:
    status, told = run("main.yaml", "--also", "lights.yaml", "--out", "cured.yaml")
    assert status == 2
    assert "'lights.yaml' is there already" in told
    assert not (folder / "cured.yaml").exists()
    status, told = run("main.yaml", "--also", "lights.yaml", "--out", "cured.yaml", "--force")
    assert status == 0
    assert "no discrepancy is left" in told
    assert (folder / "lights.yaml").read_text().count("# by the drawing") == 1
    assert (folder / "lights.yaml").read_text() != LIGHTS
    assert CliRunner().invoke(app, ["check", "cured.yaml"]).exit_code == 0


def test_cures_that_all_need_another_file_write_nothing(folder: Path) -> None:
    (folder / "main.yaml").write_text(MAIN.replace("rating: 20 A", "rating: 5 A"))
    status, told = run("main.yaml", "--out", "cured.yaml")
    assert status == 2
    assert "this needs lights.yaml" in told
    assert "nothing is written" in told
    assert not (folder / "cured.yaml").exists()


def test_only_what_is_asked_for_is_cured(folder: Path) -> None:
    _, told = run("main.yaml", "--also", "lights.yaml", "--only", "2")
    assert (told.count("--- main.yaml"), told.count("--- lights.yaml")) in ((1, 0), (0, 1))
    assert "1 discrepancy left" in told


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (["--only", "9"], "there is no 9 among the 2 things to put right"),
        (["--only", "one"], "no list of numbers"),
        (["--only", ","], "no list of numbers"),
        (["--also", "other.yaml"], "is not a file that main.yaml includes"),
        (["--out", "main.yaml"], "is the file it is made from"),
        (["--out", "lights.yaml"], "is there already"),
        (["--out", "no/such/cured.yaml"], "cannot be written"),
    ],
)
def test_what_cannot_be_done_is_said_and_nothing_changes(folder: Path, words: list[str], why: str) -> None:
    status, told = run("main.yaml", *words)
    assert why in " ".join(told.split())
    assert status == 2
    assert (folder / "main.yaml").read_text() == MAIN
    assert (folder / "lights.yaml").read_text() == LIGHTS


def test_where_nothing_is_wrong_nothing_is_done(folder: Path) -> None:
    (folder / "main.yaml").write_text(
        MAIN.replace("rating: 20 A", "rating: 5 A").replace("include: [lights.yaml]\n", "")
    )
    status, told = run("main.yaml", "--out", "cured.yaml")
    assert status == 0
    assert "there is nothing to cure" in told
    assert not (folder / "cured.yaml").exists()
