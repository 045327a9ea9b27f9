"""What is new, gone and kept between two documents, told apart on one drawing."""

import importlib.util
import sys
from pathlib import Path

import pytest
from typer.testing import CliRunner

from installcheck.cli.commands import app
from installcheck.document import load, loads
from installcheck.drawing.kinds import Change
from installcheck.drawing.svg import sheet_svg
from installcheck.outputs.diagram.change import sheets_of_change

spec = importlib.util.spec_from_file_location("shared_diagram", Path(__file__).parent / "test_sheets.py")
diagram = importlib.util.module_from_spec(spec)
sys.modules[spec.name] = diagram
spec.loader.exec_module(diagram)

OLD = diagram.SMALLEST


def changed(new, old=OLD):
    return sheets_of_change(loads(old), loads(new))


def wires(made):
    return {w.id: w for s in made for w in s.wires}


def test_a_wire_of_another_gauge_and_length_is_drawn_once_with_what_it_was():
    made = changed(
        OLD.replace(
            "W4: {from: bulb.B, to: gauge.B, part: AS22759/16, gauge: 22 AWG, length: 2.5 m",
            "W4: {from: bulb.B, to: gauge.B, part: AS22759/16, gauge: 20 AWG, length: 3 m",
        )
    )
    w4 = wires(made)["W4"]
    assert (w4.flag, w4.change) == (("20 AWG", "3 m", "was 22 AWG, 2.5 m"), Change.NONE)
    assert "W4 before" not in wires(made)


def test_a_wire_that_goes_elsewhere_is_drawn_where_it_was_and_where_it_is():
    made = changed(OLD.replace("W7: {from: gauge.ground, to: stud", "W7: {from: gauge.ground, to: airframe"))
    assert (wires(made)["W7"].end, wires(made)["W7"].change) == ("airframe", Change.NEW)
    assert (wires(made)["W7 before"].end, wires(made)["W7 before"].change) == ("stud", Change.REMOVED)


def test_things_that_come_and_go():
    made = changed(
        OLD.replace("  breaker: {", "  fuse: {").replace("breaker:", "fuse:").replace("breaker.", "fuse.")
    )
    devices = {d.lines[0]: d.change for s in made for d in s.devices}
    assert devices["fuse"] is Change.NEW
    assert devices["breaker"] is Change.REMOVED
    assert devices["gauge"] is Change.NONE


def test_a_thing_that_moves_to_another_zone_is_drawn_in_both():
    made = changed(OLD.replace("splice: {kind: splice, zone: engine}", "splice: {kind: splice, zone: cabin}"))
    joints = {j.id: (j.band, j.change) for s in made for j in s.joints}
    assert joints["splice"] == ("zone cabin", Change.NEW)
    assert joints["splice before"] == ("zone engine", Change.REMOVED)
    assert wires(made)["W1 before"].end == "splice before"


def test_circuits_in_which_nothing_changes_are_counted_not_drawn():
    other = OLD + "  X1: {from: breaker.in, to: bus, gauge: 22 AWG, length: 1 ft}\n"
    made = changed(other.replace("length: 8 in", "length: 9 in"), other)
    assert "X1" not in wires(made)
    # X1, W5 and the joint of the stud belong to no one indication
    assert any("3 runs of circuits in which nothing changes are not drawn" in note for note in made[0].notes)


def test_plain_wire_replaced_by_thermocouple_wire_says_what_it_was():
    head = "indicators: {g: {terminals: [+, '-'], thermocouple: K, principle: moving-coil thermocouple}}\nprobes: {p: {thermocouple: K}}\ninstallation: {name: t}\nwire_runs: {T1: {gauge: 20 AWG, length: 3 ft, part: PART, conductors: {+: {from: p.+, to: g.+}, '-': {from: p.-, to: g.-}}}}"
    made = changed(head.replace("PART", "thermocouple lead K"), head.replace("PART", "AS22759/16"))
    assert wires(made)["T1 +"].flag[-1] == "was plain wire"


def test_nothing_changed():
    (sheet,) = changed(OLD)
    assert not sheet.wires
    assert diagram.readable.text_boxes(sheet_svg(sheet))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("before", "retrofit"),
        ("retrofit", "retrofit_corrected"),
        ("retrofit_corrected", "before"),
        ("before", "twin"),
    ],
)
def test_changes_of_the_demos_can_be_read(old, new, demo_folder):
    made = sheets_of_change(load(demo_folder / f"{old}.yaml"), load(demo_folder / f"{new}.yaml"))
    diagram.require_readable(made)
    assert {w.change for s in made for w in s.wires} >= {Change.NEW, Change.REMOVED}


def test_joints_to_ground_are_compared_by_what_they_ground(demo_folder):
    made = sheets_of_change(
        load(demo_folder / "retrofit.yaml"), load(demo_folder / "retrofit_corrected.yaml")
    )
    joints = [w for s in made for w in s.wires if {w.start, w.end} == {"signal ground", "airframe"}]
    assert all(w.change is Change.NONE for w in joints)


def test_draw_since(tmp_path, demo_folder):
    run = CliRunner().invoke(
        app,
        [
            "draw",
            str(demo_folder / "retrofit.yaml"),
            "--since",
            str(demo_folder / "before.yaml"),
            "--out",
            str(tmp_path / "c.svg"),
        ],
    )
    assert run.exit_code == 0
    assert sorted(tmp_path.glob("c/c-*.svg"))
    assert b"Change from revision - to A" in (tmp_path / "c" / "c-01.svg").read_bytes()
