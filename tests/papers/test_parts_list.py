"""Parts, fluid lines and the change in weight and balance, against hand calculations."""

import pytest

from installcheck.papers.tables import cell_text

from .conftest import table_of


def test_parts_with_quantity_and_weight(small, rows):
    parts = rows(small, "parts", "part", "section", "status")
    wire = parts["AS22759/16, 20 AWG wire runs new"]
    # P2 12, S1 10, S2 9, S3 1 ft
    assert (wire["quantity"], wire["unit"], wire["used as"]) == (32, "ft", "P2, S1, S2, S3")
    gauge = parts["pressure gauge indicators new"]
    assert (gauge["quantity"], gauge["unit"], gauge["weight [lb]"]) == (1, "each", 2)
    assert "tube 5052-O, 1/4 x 0.035 fluid lines removed" not in parts


def test_weight_and_moment(small, rows):
    weight = rows(small, "weight", "id")
    # 0.5 lb at -10 in, 2 lb at 20 in, 1.5 lb taken out at 20 in
    assert weight["pressure sender"]["moment [in lb]"] == -5
    assert weight["pressure gauge"]["moment [in lb]"] == 40
    assert weight["old gauge"]["weight [lb]"] == -1.5
    assert weight["old gauge"]["moment [in lb]"] == -30
    # moment: -5 + 40 - 30
    assert weight["total"]["moment [in lb]"] == pytest.approx(5)


def test_what_is_not_weighed_is_named(small):
    notes = " ".join(table_of(small, "weight").notes)
    assert "Arms are from the datum: firewall." in notes
    assert "head probe" in notes
    assert "old line" in notes


def test_wire_without_an_arm_counts_in_weight_only(small, rows):
    """2 + 0.5 - 1.5 lb; 32 ft x 5.8 lb/1000 ft = 0.1856 lb; 20 in of tube at 40.88 g/m = 20.77 g = 0.0458 lb."""
    assert rows(small, "weight", "id")["total"]["weight [lb]"] == pytest.approx(1.2314, abs=5e-4)
    assert "No arm, weight counted but not moment" in " ".join(table_of(small, "weight").notes)


def test_fluid_lines(small, rows):
    lines = rows(small, "fluid", "id")
    assert list(lines) == ["new line"], "a removed line is not on the list"
    line = lines["new line"]
    assert cell_text(line["length"]) == "1 ft 8 in"
    assert line["route"] == "engine 1 ft 2 in, firewall by bulkhead fitting, cabin 6 in"
    assert line["crosses"] == "firewall by bulkhead fitting"
    assert (line["supports every"], line["bend radius"]) == ("12 in", "1.5 in")
    assert line["bands"] == "yellow"
