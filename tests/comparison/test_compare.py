"""Load, weight, indications, what to test again, and the two forms."""

import json

import pytest
from typer.testing import CliRunner

from installcheck.cli.commands import app
from installcheck.outputs.machine.compare_json import comparison_as_json

KG = 0.45359237
"""kg in a pound, exact (NIST SP 811)."""
IN = 0.0254


def test_load(altered):
    load = altered(("current: 0.5 A", "current: 2 A")).load
    assert (load.old, load.new) == (0.5, 2.0)
    assert load.items == (("lamp", 0.5, 2.0),)


def test_load_by_power_at_system_voltage(altered):
    # 28 W / 14 V = 2 A
    assert altered(("current: 0.5 A", "power: 28 W")).load.new == pytest.approx(2.0)


def test_load_that_is_not_given(altered):
    assert altered(("current: 0.5 A, ", "")).load.unknown == ("lamp",)


def test_load_for_a_short_time_is_apart(altered):
    load = altered(("duty: continuous", "duty: intermittent")).load
    assert (load.old, load.new, load.old_short, load.new_short) == (0.5, 0.0, 0.0, 0.5)


def test_weight_and_moment(altered):
    weight = altered(("weight: 1 lb, station: 20 in", "weight: 3 lb, station: 10 in")).weight
    # 3 lb - 1 lb = 2 lb; 3 lb x 10 in - 1 lb x 20 in = 10 lb in
    assert weight.change == pytest.approx(2 * KG)
    assert weight.moment == pytest.approx(10 * KG * IN)
    assert weight.unit == "lb"


def test_weight_moved_only(altered):
    weight = altered(("weight: 1 lb, station: 20 in", "weight: 1 lb, station: 25 in")).weight
    assert weight.change == 0
    assert weight.moment == pytest.approx(5 * KG * IN)


def test_weight_of_a_run_by_its_length(altered):
    more = "length: 1 ft, linear_weight: 10 lb/1000 ft}\n  P4"
    weight = altered(("length: 1 ft}\n  P4", more)).weight
    # 10 lb / 1000 ft x 1 ft
    assert weight.change == pytest.approx(0.01 * KG)
    assert weight.no_arm == ("P3",)


def test_added_thing_of_unknown_weight_is_told(altered):
    weight = altered(("  gauge: {", "  clock: {zone: cabin}\n  gauge: {")).weight
    assert weight.no_weight == ("clock",)


def test_indications(altered):
    kept = {one.name: one.fate for one in altered().indications}
    assert kept == {"gauge": "kept", "oil gauge": "kept"}
    lost = altered(("to: gauge.A", "to: panel stud"), ("to: gauge.B", "to: airframe"))
    assert next(one for one in lost.indications if one.name == "gauge").fate == "reads nothing now"
    other = altered(
        ("  bulb: {", "  bulb 2: {principle: resistance bulb, terminals: [A, B], zone: engine}\n  bulb: {"),
        ("from: bulb.A", "from: bulb 2.A"),
        ("from: bulb.B", "from: bulb 2.B"),
    )
    one = next(one for one in other.indications if one.name == "gauge")
    assert (one.fate, one.old_source, one.new_source) == ("reads something else", ("bulb",), ("bulb 2",))


def test_what_to_test_again_after_a_longer_signal_wire(altered):
    found = altered(("length: 2 ft}]", "length: 6 ft}]"))
    assert [(one.what.split(":")[0].split(",")[0], one.at, one.why) for one in found.retests] == [
        ("ring out", ("W1",), "W1 re-lengthened"),
        ("check that gauge indicates", ("gauge",), "W1 re-lengthened"),
    ]


def test_what_to_test_again_after_a_new_oil_line(altered):
    found = altered(("kind: tube, medium: oil", "kind: hose, medium: oil"))
    whats = [one.what for one in found.retests]
    assert whats[0].startswith("leak check")
    assert any("oil gauge" in what and "test gauge" in what for what in whats)


def test_crossing_calls_for_a_look_at_the_barrier(altered):
    found = altered(("through: grommet", "through: fireproof grommet"))
    assert any(one.at == ("firewall",) for one in found.retests)


def test_saying_more_calls_for_no_test(altered):
    assert altered(("gauge: 20 AWG, length: 3 ft", "gauge: 20 AWG, marked: yes, length: 3 ft")).retests == ()


def test_error_of_a_thermocouple_follows_its_lead():
    from installcheck.comparison import compare
    from installcheck.document import loads

    text = """\
installation: {{name: head}}
zones: {{engine: {{temperature: {{lowest: 60 degC, highest: 60 degC}}}}, cabin: {{temperature: {{lowest: 20 degC, highest: 20 degC}}}}}}
operating_points: {{cruise: {{readings: {{head temperature: 200 degC}}}}}}
probes: {{head: {{thermocouple: K, zone: engine, junction: isolated, measures: head temperature}}}}
junctions: {{joint: {{kind: terminal block, terminals: [1 +, 1 -], zone: engine}}}}
indicators: {{gauge: {{principle: electronic thermocouple, thermocouple: K, terminals: [+, -], zone: cabin, compensation: at its terminals, measures: head temperature, accuracy: 1 degC, scale: {{lowest: 0 degC, highest: 300 degC}}}}}}
wire_runs:
  T1: {{gauge: 20 AWG, kind: thermocouple lead, thermocouple: K, grade: thermocouple, legs: {{+: {{metal: chromel, resistance: 0.4 ohm/ft}}, -: {{metal: alumel, resistance: 0.2 ohm/ft}}}}, route: [{{zone: engine, length: 2 ft}}], conductors: {{+: {{from: head.+, to: joint.1 +}}, -: {{from: head.-, to: joint.1 -}}}}}}
  T2: {{gauge: 20 AWG, {lead}, route: [{{zone: cabin, length: 2 ft}}], conductors: {{+: {{from: joint.1 +, to: gauge.+}}, -: {{from: joint.1 -, to: gauge.-}}}}}}
"""
    sound = "kind: thermocouple lead, thermocouple: K, grade: thermocouple, legs: {+: {metal: chromel, resistance: 0.4 ohm/ft}, -: {metal: alumel, resistance: 0.2 ohm/ft}}"
    copper = "kind: cable, metal: copper, resistance: 10 ohm/1000 ft"
    found = compare(loads(text.format(lead=sound)), loads(text.format(lead=copper)))
    [one] = found.indications
    # Copper from a joint at 60 degC to a gauge at 20 degC: E(200) - E(60) + E(20) of type K reads 159.0 degC.
    # 8.138 - 2.436 + 0.798 = 6.500 mV -> 159.0 degC (ITS-90 tables, NIST Monograph 175): 41.0 K low. No tolerance is given.
    assert one.new_error.size - one.old_error.size == pytest.approx(41.0, abs=0.1)
    assert one.new_error.point == "cruise"
    assert found.alarming


@pytest.fixture
def files(tmp_path, base):
    old, new = tmp_path / "old.yaml", tmp_path / "new.yaml"
    old.write_text(base)
    new.write_text(
        base.replace("length: 2 ft}]", "length: 6 ft}]").replace("  oil line:", "  oil line: # gone?\n   ")
    )
    return [str(old), str(new)]


def test_text(files):
    result = CliRunner().invoke(app, ["compare", *files])
    assert "W1 length 5 ft to 9 ft" in result.stdout
    assert "not approved data" in result.stdout
    assert result.exit_code == 0


def test_json(files):
    result = CliRunner().invoke(app, ["compare", *files, "--form", "json"])
    body = json.loads(result.stdout)
    [change] = body["changes"]
    assert (change["kind"], change["section"], change["id"]) == ("re-lengthened", "wire_runs", "W1")
    assert change["details"][0] == {"what": "length", "old": "5 ft", "new": "9 ft", "follows": False}
    assert change["place"]["line"] > 1
    assert body["summary"]["alarming"] == 0


def test_unreadable_file(files):
    assert CliRunner().invoke(app, ["compare", files[0], "absent.yaml"]).exit_code == 2


def test_alarming_change_gives_status_1(altered, base, tmp_path):
    old, new = tmp_path / "old.yaml", tmp_path / "new.yaml"
    old.write_text(base.replace("length: 5 ft}", "length: 5 ft, marked: yes, mark_spacing: 10 in}"))
    new.write_text(base.replace("length: 5 ft}", "length: 5 ft, marked: yes, mark_spacing: 20 in}"))
    result = CliRunner().invoke(app, ["compare", str(old), str(new)])
    assert result.exit_code == 1
    assert "WORSE OR NEW (1 discrepancy)" in result.stdout
    # 15 in is the most between marks (AC 43.13-1B 11-208): 15 in - 20 in
    assert "margin -5 in" in result.stdout
    result = CliRunner().invoke(app, ["compare", str(old), str(new), "--every"])
    assert "now 20 in (margin -5 in)" in result.stdout


def test_every_change_in_full(files):
    result = CliRunner().invoke(app, ["compare", *files, "--every"])
    assert "RE-LENGTHENED (1)" in result.stdout
    assert "run W1: length was 5 ft, now 9 ft" in result.stdout


def test_json_of_a_comparison_holds_no_infinity(altered):
    json.loads(comparison_as_json(altered()), parse_constant=pytest.fail)
