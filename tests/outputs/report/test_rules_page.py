import re

from typer.testing import CliRunner

from installcheck.cli.commands import app
from installcheck.outputs.report.rules_page import rules_page
from installcheck.outputs.wording import CAUTION
from installcheck.rules.engine import all_rules
from installcheck.rules.vocabulary import Rule


def test_every_rule_has_its_place_and_is_linked():
    page = rules_page(all_rules().values())
    headings = re.findall(r"^### (.+)$", page, re.MULTILINE)
    assert sorted(headings) == sorted(all_rules())
    assert set(re.findall(r"\]\(#([^)]+)\)", page)) == set(headings)
    assert CAUTION in page


def test_rule_is_told_whole_and_left_plain():
    one = Rule(
        "drop-in-limit",
        "Drop < limit",
        "Why_so",
        "AC 1-1 [a]",
        "V = I*R",
        "2 * 3 = 6",
        "wire_runs",
        test_rule_is_told_whole_and_left_plain,
        True,
    )
    page = rules_page([one])
    for told in (
        "Drop \\< limit.",
        "Why\\_so",
        "- Source: AC 1-1 \\[a\\]",
        "- Formula: V = I\\*R",
        "- Example: 2 \\* 3 = 6",
    ):
        assert told in page


def test_command():
    result = CliRunner().invoke(app, ["basis", "--page"])
    assert result.exit_code == 0
    assert result.stdout == rules_page(all_rules().values())
