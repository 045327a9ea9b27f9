"""Wire list, cut list and label list against hand calculations."""

import pytest

from installcheck.analysis.circuit.solved import circuit
from installcheck.analysis.study import Study
from installcheck.document import loads
from installcheck.papers.tables import cell_text
from installcheck.papers.wires import label_count

from .conftest import SMALL


def test_a_wire_from_end_to_end(small, rows):
    p2 = rows(small, "wires", "id", "conductor")["P2"]
    assert (p2["from"], p2["to"], p2["gauge"], p2["type"]) == (
        "lamp breaker.out", "lamp.+", "20 AWG", "AS22759/16"
    )  # fmt: skip
    assert cell_text(p2["length"]) == "12 ft"
    assert p2["route"] == "cabin 8 ft, firewall by fireproof grommet, engine 4 ft"
    assert (p2["end at from"], p2["end at to"]) == ("ring for 0.164 in stud", "spade")
    assert p2["bundle"] == "harness"
    assert p2["status"] == "new"


def test_current_and_drop_of_a_power_wire(small, rows):
    wires = rows(small, "wires", "id", "conductor")
    # 20 AWG: 9.88 ohm/1000 ft (AC 43.13-1B table 11-9); 12 ft x 9.88e-3 = 0.11856 ohm; x 2 A = 0.2371 V
    assert wires["P2"]["current [A]"] == 2
    assert wires["P2"]["drop [V]"] == pytest.approx(0.2371, abs=5e-5)
    # the lamp's 2 A come back by P3: 5 in x 9.88e-3 / 12 = 0.0041167 ohm
    assert wires["P3"]["drop [V]"] == pytest.approx(0.008233, rel=1e-3)


def test_listed_current_and_drop_are_those_of_the_solved_circuit(small, rows):
    wires = rows(small, "wires", "id", "conductor")
    net = circuit(small, small.points[0])
    for ident in ("P1", "P2", "P3", "S5"):
        (edge,) = small.edges(ident)
        current = net.current(edge)
        assert abs(current) == pytest.approx(wires[ident]["current [A]"], rel=1e-3), ident
        drop = abs(net.voltage(edge.a) - net.voltage(edge.b))
        assert drop == pytest.approx(wires[ident]["drop [V]"], rel=1e-3), ident


def test_drop_is_taken_where_the_wire_is_warm(rows):
    """Copper has (234.5 + 85) / 254.5 = 1.2554 of its resistance in the zone, 1.5108 at the wire's rating of 150 degC."""
    warm = SMALL.replace(
        "zones: {engine: {}, cabin: {}}",
        "zones: {engine: {temperature: {lowest: 0 degC, highest: 85 degC}}, "
        "cabin: {temperature: {lowest: 0 degC, highest: 85 degC}}}",
    )
    wires = rows(Study(loads(warm)), "wires", "id", "conductor")
    assert 0.2371 * 1.2554 <= wires["P2"]["drop [V]"] < 0.2371 * 1.5108


def test_a_length_that_is_not_given_is_left_empty(small, rows):
    s4 = rows(small, "wires", "id", "conductor")["S4"]
    assert (s4["length"], s4["drop [V]"]) == (None, None)


def test_thermocouple_legs_by_metal_and_colour(small, rows):
    wires = rows(small, "wires", "id", "conductor")
    assert (wires["T1 +"]["metal"], wires["T1 +"]["colour"]) == ("iron", "white")  # ASTM E230
    assert (wires["T1 -"]["metal"], wires["T1 -"]["colour"]) == ("constantan", "red")


def test_cut_lengths(small, rows):
    cut = rows(small, "cut", "type", "gauge", "id")
    # run + 5 % + 6 in an end: 12 x 1.05 + 1 = 13.6; 10 x 1.05 + 1 = 11.5; 9: 10.45; 1: 2.05; 2 in: 0.16667 x 1.05 + 1
    told = {ident: cell_text(row["cut"]) for ident, row in cut.items()}
    assert told["AS22759/16 20 AWG P2"] == "13 ft 7 1/4 in"  # 7.2 in, up to the next 1/4
    assert told["AS22759/16 20 AWG S1"] == "11 ft 6 in"
    assert told["AS22759/16 20 AWG P1"] == "1 ft 2 1/4 in"  # 14.1 in
    total = cut["AS22759/16 20 AWG total, 6 runs"]
    # P1, P2, S1, S2, S3, S5: 0.16667 + 12 + 10 + 9 + 1 + 3 = 35.17; cut 35.16667 x 1.05 + 6 = 42.925
    assert cell_text(total["run"]) == "35 ft 2 in"
    assert cell_text(total["cut"]) == "42 ft 11 1/4 in"  # 11.1 in
    assert "AS22759/16 20 AWG P3" not in cut, "existing wire is not cut"


def test_a_run_without_length_is_named_under_the_cut_list(small):
    from .conftest import table_of

    assert "Length not given, not in the totals: S4." in table_of(small, "cut").notes


def test_labels(small, rows):
    labels = rows(small, "labels", "id")
    assert labels["P1"]["labels"] == 0  # 2 in: none below 3 in
    assert labels["P3"]["labels"] == 1  # 5 in: one at the centre
    assert labels["P2"]["labels"] == 11  # 144 in: ceil(144 / 15) = 10 gaps, 11 marks
    assert labels["S4"]["labels"] is None
    assert labels["P2"]["label at the from end"] == "P2: lamp breaker.out to lamp.+"
    assert labels["T1 +"]["label at the to end"] == "T1 +: head gauge.+ to head probe.+"
    assert (labels["P2"]["label along it"], labels["P2"]["of these"]) == ("P2", 9)  # 11 less one at each end


@pytest.mark.parametrize(
    ("inches", "count"), [(2.9, 0), (3, 1), (7, 1), (7.1, 2), (15, 2), (15.1, 3), (60, 5)]
)
def test_label_count(inches, count):
    assert label_count(inches) == count
