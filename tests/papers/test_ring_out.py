"""Ring-out sheet against hand calculations, and against the solved network."""

import re
from dataclasses import replace

import numpy as np
import pytest

from installcheck.analysis.circuit.solved import solve_circuit
from installcheck.analysis.evidence.bench import all_checks, loop_checks, run_checks
from installcheck.analysis.study import Point, Study
from installcheck.document import load, loads
from installcheck.papers.tables import cell_text
from installcheck.physics.networks import solve
from installcheck.physics.water import boiling_point_c

from .conftest import SMALL, table_of

OHMS = ("computed", "pass from", "pass to")


def ohms(row):
    return [row[name] for name in OHMS]


def test_a_wire_with_both_ends_free(small, rows):
    sheet = rows(small, "ring-out", "check", "of", "from")
    # 12 ft x 9.88e-3 = 0.11856; x 25.38/28.40 - 0.02 = 0.08595; + 0.02 + 2 x 0.003 = 0.14456
    assert ohms(sheet["run P2 lamp breaker.out"]) == pytest.approx([0.1186, 0.08595, 0.1446], abs=5e-5)


def test_a_sender_loop(small, rows):
    loop = rows(small, "ring-out", "check", "of", "from")["loop pressure gauge pressure gauge.A"]
    # leads 20 ft x 9.88e-3 = 0.1976, spool 0.5, sender 10 at 0 psi; 1.7 ohm a psi, so 2 psi is 3.4 ohm
    # lowest 6.6 + 0.1976 x 0.89366 + 0.5 - 0.02 = 7.2566; highest 13.4 + 0.1976 + 0.5 + 0.02 + 6 x 0.003 = 14.1356
    assert ohms(loop) == pytest.approx([10.70, 7.257, 14.14], abs=5e-3)
    assert (loop["from"], loop["to"], loop["first"]) == (
        "pressure gauge.A", "pressure gauge.B", "indicator off"
    )  # fmt: skip


def test_a_thermocouple_loop_and_its_legs(small, rows):
    sheet = rows(small, "ring-out", "check", "of", "from")
    # type J 22 AWG (part table): iron 0.1171 ohm/ft, constantan 0.4669 ohm/ft; 10 ft; 5 percent either way
    assert sheet["run T1 + head probe.+"]["computed"] == pytest.approx(1.171, rel=1e-3)
    assert sheet["run T1 - head probe.-"]["computed"] == pytest.approx(4.669, rel=1e-3)
    # + probe 0.5: 6.34; 5.84 x 0.95 + 0.45 - 0.02 = 5.978; 5.84 x 1.05 + 0.55 + 0.02 + 4 x 0.003 = 6.714
    assert ohms(sheet["loop head gauge head gauge.+"]) == pytest.approx([6.34, 5.978, 6.714], rel=1e-3)


def test_a_warm_bench(small):
    """At 40 degC copper has (234.5 + 40) / 254.5 = 1.07859 of its resistance at 20 degC."""
    (p2,) = (c for c in run_checks(small, 40.0) if c.ident == "P2")
    assert p2.expected == pytest.approx(0.11856 * 1.07859, rel=1e-4)


def test_straps_shields_and_insulation_points(small, rows):
    sheet = rows(small, "ring-out", "check", "of", "from")
    # 1 milliohm stated; 3 milliohm is the most a bonding joint may have (AC 43.13-1B 11-189)
    assert ohms(sheet["strap stud stud"]) == [0.001, None, 0.003]
    assert sheet["insulation pressure gauge pressure gauge.A"]["to"] == "airframe"
    table = table_of(small, "ring-out")
    assert table.blank == ("measured [ohm]", "initials")
    assert all(row[7] is None and row[8] is None for row in table.rows)


def test_what_is_missing_is_told_beside_what_to_do_first(small, rows):
    text = SMALL.replace("curve: {points: [[0 psi, 10 ohm], [100 psi, 180 ohm]]}", "location: gallery")
    loop = rows(Study(loads(text)), "ring-out", "check", "of", "from")["loop pressure gauge pressure gauge.A"]
    assert ohms(loop) == [None, None, None]
    assert loop["first"] == "indicator off; give the resistance of the sender or probe at bench temperature"
    assert rows(small, "ring-out", "check", "of", "from")["run S4 main bus"]["first"] == (
        "give the length of the run; put right first: wire-protected"
    )


def test_boiling_point_at_the_field(small):
    """Standard atmosphere at 5000 ft: 84.31 kPa, where steam tables give 94.9 degC, 203 degF."""
    assert any("203 degF" in note for note in table_of(small, "function").notes)
    assert boiling_point_c(84310.0) == pytest.approx(94.9, abs=0.2)
    with pytest.raises(ValueError, match="50 to 110 kPa"):
        boiling_point_c(40_000.0)


def test_a_field_beyond_the_atmosphere_is_told_not_raised():
    high = Study(loads(SMALL.replace("5000 ft", "60000 ft")))
    assert any("altitude" in note or "boiling point" in note for note in table_of(high, "function").notes)


def bench_network(study):
    """The solver's own network at 20 degC, supplies and the insides of indicators lifted."""
    net = solve_circuit(study, Point("bench", dict.fromkeys(study.model.zones, 20.0)))
    lifted = np.array(
        [edge is None or edge.kind in ("supply", "load", "coil") for edge in net.edge_of], dtype=bool
    )
    network = net.solution.network
    return net, solve(replace(network, is_open=network.is_open | lifted, draw_value=0 * network.draw_value))


@pytest.mark.parametrize("name", ["retrofit", "retrofit_corrected", "twin"])
def test_runs_equal_the_solver(name, demo):
    study = Study(load(demo / f"{name}.yaml"))
    net = solve_circuit(study, Point("bench", dict.fromkeys(study.model.zones, 20.0)))
    unheated = net.parts.resistance(np.zeros_like(net.own_heat), no_contacts=True)
    compared = 0
    for check in run_checks(study):
        (edge,) = check.edges
        number = net.branch_of.get(edge)
        if number is None or check.expected is None:
            continue
        assert unheated[number] == pytest.approx(check.expected, rel=1e-6)
        compared += 1
    assert compared > 20


def test_loops_equal_the_solver():
    """An ohmmeter across the gauge's two terminals, by nodal analysis of the whole network; senders at rest are laid in."""
    study = Study(loads(SMALL))
    net, solution = bench_network(study)
    (loop,) = (c for c in loop_checks(study) if c.ident == "pressure gauge")
    (element,) = (e for e in study.graph.by_thing[("senders", "pressure sender")] if e.kind == "element")
    number = net.branch_of[element]
    resistance = solution.network.resistance.copy()
    resistance[number] = 10.0
    quiet = solve(solution.network.with_resistance(resistance))
    seen = quiet.resistance_between([net.nodes[loop.start]], [net.nodes[loop.end]])[0]
    assert seen == pytest.approx(loop.expected, rel=1e-6)


def test_every_check_of_the_twin_is_named_once(demo):
    checks = all_checks(Study(load(demo / "twin.yaml")))
    keys = [(c.kind, c.ident, c.start, c.end) for c in checks]
    assert len(set(keys)) == len(keys)


def test_a_defect_is_never_the_value_to_pass(demo, rows):
    study = Study(load(demo / "retrofit.yaml"))
    sheet = rows(study, "ring-out", "check", "of", "from", "to")
    painted = sheet["strap oil pressure sender case oil pressure sender.case airframe"]
    # 20 ohm by painted bolts; AC 43.13-1B 11-189 allows a bonding joint 3 milliohm
    assert [cell_text(painted[n]) for n in OHMS] == ["20 ohm", "", "3 milliohm"]
    assert "does not pass" in painted["first"]
    head = sheet["loop head gauge head gauge.+ head gauge.-"]
    # 2 ohm within 0.05 ohm as the indicator is calibrated, and 0.02 ohm for the meter
    assert ohms(head)[1:] == pytest.approx([1.93, 2.07])
    # all in one loop of 4.27 ohm: either may be the one of too thin a gauge
    for ends in ("T1 + head probe.+ head block.1 +", "T2 - head block.1 - head spool.in"):
        assert [sheet[f"run {ends}"][n] for n in OHMS[1:]] == [None, None]
        assert sheet[f"run {ends}"]["first"] == "put right first: thermocouple-loop-resistance"
    assert sheet["run T20 + selector.common + exhaust gauge.+"]["pass from"] is not None
    crossed = sheet["run T14 + exhaust 4.+ selector.4 -"]
    assert (crossed["pass from"], crossed["pass to"]) == (None, None)
    assert "put right first: thermocouple-leg-material" in crossed["first"]


def test_a_bench_value_as_a_person_reads_it(demo, rows):
    sheet = rows(Study(load(demo / "retrofit.yaml")), "ring-out", "check", "of", "from", "to")
    # 4 in of 4 AWG: 0.28e-3 ohm/ft (AC 43.13-1B table 11-9) / 3 = 0.093 milliohm
    assert cell_text(sheet["run P2 master.out main fuse.in"]["computed"]) == "0.1 milliohm"
    assert all(
        not re.search(r"\de[-+]?\d", cell_text(cell)) for row in sheet.values() for cell in row.values()
    )
