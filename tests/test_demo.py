"""The demo aircraft: every planted mistake is found at its line, and the corrected installation is clean."""

import json
import re
import statistics
from pathlib import Path

import pytest
from typer.testing import CliRunner

from installcheck import check, load
from installcheck.cli.commands import app
from installcheck.document import loads
from installcheck.outputs.machine.expanded import as_expanded
from installcheck.rules.verdicts import Outcome

DEMO = Path(__file__).parents[1] / "demo_aircraft"
MISTAKE = re.compile(r"#.*mistake: ([a-z-]+)")


def planted() -> list[tuple[range, str]]:
    """The lines of each thing that ends in a mark, and the rule the mark names."""
    found, first = [], 0
    for number, line in enumerate((DEMO / "retrofit.yaml").read_text(encoding="utf-8").splitlines(), start=1):
        if re.match(r"  \S", line):
            first = number
        if (mark := MISTAKE.search(line)) and number > 2:
            found.append((range(first, number + 1), mark[1]))
    return found


def test_at_least_eight_mistakes_are_planted():
    assert len(planted()) >= 8
    assert len({rule for _, rule in planted()}) >= 8


@pytest.fixture(scope="module")
def retrofit() -> dict:
    result = CliRunner().invoke(app, ["check", str(DEMO / "retrofit.yaml"), "--form", "json"])
    assert result.exit_code == 1
    return json.loads(result.stdout)


@pytest.mark.parametrize(("lines", "rule"), planted())
def test_planted_mistake_is_found_at_its_lines(retrofit, lines, rule):
    found = {(v["place"]["line"], v["rule"]) for v in retrofit["verdicts"] if v["outcome"] == "discrepancy"}
    assert any((line, rule) in found for line in lines)


def test_every_discrepancy_of_the_retrofit_comes_from_a_planted_mistake(retrofit):
    """What else is faulted must follow from a mistake: these rules see the same faults from another side."""
    consequences = {
        "line-medium",  # the tee to the primer, told of every line it reaches
        "primer-apart",
        "terminal-fits",  # rings of 18 to 22 AWG crimped on the thin wires
        "thermocouple-loop-resistance",  # the thin, the long and the copper lead
        "thermocouple-leads-matched",
        "indication-within-budget",
        "true-at-the-limit",
    }
    known = {rule for _, rule in planted()} | consequences
    assert {v["rule"] for v in retrofit["verdicts"] if v["outcome"] == "discrepancy"} <= known


def test_corrected_retrofit_has_no_discrepancy_and_nothing_undetermined():
    result = CliRunner().invoke(app, ["check", str(DEMO / "retrofit_corrected.yaml"), "--form", "json"])
    body = json.loads(result.stdout)
    open_points = [
        (v["rule"], v["message"]) for v in body["verdicts"] if v["outcome"] in ("discrepancy", "undetermined")
    ]
    assert open_points == []
    assert result.exit_code == 0


def test_the_aircraft_as_found_brings_oil_and_fuel_into_the_cabin():
    ledger = check(load(DEMO / "before.yaml"), ["fluid-into-cabin"])
    lines = {v.at[0] for v in ledger.verdicts if v.outcome is Outcome.DISCREPANCY}
    assert {"oil panel line", "fuel panel line"} <= lines


def test_the_retrofit_takes_oil_and_fuel_out_of_the_cabin():
    ledger = check(load(DEMO / "retrofit_corrected.yaml"), ["fluid-into-cabin"])
    assert [v for v in ledger.verdicts if v.outcome is Outcome.DISCREPANCY] == []


def test_twin_loads_and_can_be_judged():
    assert check(load(DEMO / "twin.yaml")).verdicts


@pytest.mark.parametrize("name", ["retrofit", "twin"])
def test_written_out_in_full_it_is_the_same_installation(name):
    short = load(DEMO / f"{name}.yaml")
    long = loads(as_expanded(short), folder=DEMO)
    assert long.installation == short.installation


def test_written_out_in_full_the_retrofit_has_the_same_verdicts():
    short = load(DEMO / "retrofit.yaml")
    long = loads(as_expanded(short), folder=DEMO)
    told = [[(v.rule, v.outcome, v.at, v.message) for v in check(one).verdicts] for one in (short, long)]
    assert told[0] == told[1]


def test_no_line_is_too_long_to_read():
    long = [
        f"{path.name}:{n}"
        for path in sorted(DEMO.glob("*.yaml"))
        for n, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1)
        if len(line) > 120
    ]
    assert long == []


def test_lists_of_a_shop_are_read_and_a_verdict_names_the_cell(tmp_path):
    """Eight probes and 25 runs in CSV files; the README changes the gauge of P3 in a copy."""
    ledger = check(load(DEMO / "from_lists.yaml"))
    counts = {s: len(ledger.study.model.section(s)) for s in ("probes", "wire_runs")}
    assert counts == {"probes": 8, "wire_runs": 25}
    assert {str(v.outcome) for v in ledger.verdicts} == {"meets"}
    for path in DEMO.glob("from_lists*"):
        (tmp_path / path.name).write_bytes(path.read_bytes())
    wires = tmp_path / "from_lists_wires.csv"
    listed = wires.read_text(encoding="utf-8").splitlines()
    row = next(n for n, line in enumerate(listed, 1) if line.startswith("P3,"))
    listed[row - 1] = listed[row - 1].replace(",22,", ",24,")
    wires.write_text("\n".join(listed), encoding="utf-8")
    document = load(tmp_path / "from_lists.yaml")
    ledger = check(document)
    [thin] = [v for v in ledger.verdicts if v.rule == "wire-gauge" and v.at[0] == "P3"]
    assert thin.outcome != "meets"
    assert str(document.place(thin.path)).endswith(f"from_lists_wires.csv row {row} AWG")


def test_a_first_document_is_short_and_right():
    """Six cylinders, 28 V, twelve probes, five indicators, 29 runs: at most 5 kB of text, and nothing left to answer."""
    path = DEMO / "first_document.yaml"
    text = path.read_text(encoding="utf-8")
    assert len(text.encode()) <= 5000
    document = load(path)
    model = document.installation
    counts = {s: len(model.section(s)) for s in ("probes", "indicators", "wire_runs")}
    assert counts == {"probes": 12, "indicators": 5, "wire_runs": 29}
    ledger = check(document)
    assert {str(v.outcome) for v in ledger.verdicts} == {"meets"}
    assert (
        len(ledger.study.indications) == 15
    )  # twelve couples, two bulbs and the tachometer; the voltmeter reads the bus
    legs = {leg: (c.from_, c.to) for leg, c in (model.wire_runs["S3"].conductors or {}).items()}
    assert legs == {
        "A": ("speed pick-up.+", "tachometer.5 V"),
        "B": ("speed pick-up.signal", "tachometer.signal"),
        "C": ("speed pick-up.-", "tachometer.signal ground"),
    }


@pytest.mark.parametrize(("name", "in_the_long_form"), [("retrofit", 34_475), ("twin", 69_073)])
def test_a_demo_is_told_in_a_third_of_the_text(name, in_the_long_form):
    """Characters before the short forms were there, counted in the history of the file; half its runs take less than 100."""
    text = (DEMO / f"{name}.yaml").read_text(encoding="utf-8")
    assert len(text) <= 0.35 * in_the_long_form
    runs = re.search(r"^wire_runs:\n(?P<lines>(?:(?: .*)?\n)*)", text, re.MULTILINE)["lines"]
    told = [" ".join(one.split()) for one in re.split(r"^  (?=\w)", runs, flags=re.MULTILINE) if one.strip()]
    assert statistics.median(map(len, told)) < 100
