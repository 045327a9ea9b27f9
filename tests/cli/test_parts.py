"""``parts`` on the command line."""

import json

from typer.testing import CliRunner

from installcheck.cli.commands import app

RUN = CliRunner()


def test_one_part_is_shown_whole_with_the_lines_to_paste() -> None:
    told = RUN.invoke(app, ["parts", "bayonet", "probe", "K", "isolated"])
    assert told.exit_code == 0
    assert "bayonet probe K isolated" in told.output
    assert "0.5 ohm" in told.output
    assert "source" in told.output
    assert "{part: bayonet probe K isolated, zone: ...}" in told.output


def test_several_are_listed_by_section() -> None:
    told = RUN.invoke(app, ["parts", "pt100"])
    assert told.output.index("senders") < told.output.index("resistance bulb Pt100")


def test_none_is_told_with_what_is_near() -> None:
    told = RUN.invoke(app, ["parts", "bayonett", "prob"])
    assert told.exit_code == 1
    assert "near it are" in told.stderr


def test_an_unknown_section_is_told_with_those_there_are() -> None:
    told = RUN.invoke(app, ["parts", "--section", "sender"])
    assert told.exit_code == 2
    assert "senders" in told.stderr


def test_json_holds_the_figures_as_they_are_written() -> None:
    told = json.loads(RUN.invoke(app, ["parts", "breaker", "--section", "supplies", "--form", "json"]).output)
    one = next(part for part in told["parts"] if part["key"] == "breaker")
    assert one["sizes"][0] == "1 A"
    assert one["terminals"] == ["in", "out"]
