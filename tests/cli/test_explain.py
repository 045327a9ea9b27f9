"""What `basis` tells of a rule."""

import textwrap

import pytest
from typer.testing import CliRunner

from installcheck.cli.commands import app
from installcheck.rules.samples import TITLES


@pytest.fixture
def told():
    result = CliRunner().invoke(app, ["basis", "run-marked"])
    assert result.exit_code == 0
    return result.stdout


def test_a_rule_is_told_with_its_source_and_a_worked_number(told):
    assert "rule: run-marked" in told
    assert "source: AC 43.13-1B 11-208" in told
    assert "20 in against 15 in" in told


def test_each_sample_is_a_document_that_ends_as_its_title_says(told, judged):
    wanted = {"meets": "meets", "breaks": "discrepancy", "unclear": "undetermined"}
    for kind, title in TITLES.items():
        _, _, after = told.partition(f"\n{title}:\n\n")
        text = textwrap.dedent(after.partition("\n\n")[0])
        assert [v.outcome.value for v in judged(text, "run-marked")] == [wanted[kind]]


def test_an_unknown_rule_is_named_with_one_like_it():
    result = CliRunner().invoke(app, ["basis", "run-markd"])
    assert result.exit_code == 2
    assert "'run-markd' is not a rule; did you mean 'run-marked'?" in result.stderr
