import doctest
from math import nan

import pytest

from installcheck.physics import thermocouple_limits
from installcheck.physics.scale import OffScaleError
from installcheck.physics.thermocouple_limits import (
    as_degrees_c,
    extension_limit_mv,
    limit_of_error_c,
    limits,
    root_sum_square,
)


def test_doctests() -> None:
    assert doctest.testmod(thermocouple_limits).failed == 0


# ASTM E230: the greater of the two figures, by hand.
@pytest.mark.parametrize(
    ("grade", "kind", "t_c", "limit"),
    [
        ("standard", "K", 205, 2.2),
        ("standard", "K", 700, 5.25),
        ("standard", "J", 293, 2.2),
        ("standard", "J", 700, 5.25),
        ("standard", "E", 800, 4.0),
        ("standard", "T", 200, 1.5),
        ("standard", "N", 1000, 7.5),
        ("standard", "T", -100, 1.5),
        ("standard", "K", -150, 3.0),
        ("special", "K", 205, 1.1),
        ("special", "K", 700, 2.8),
        ("special", "J", 700, 2.8),
        ("special", "T", 300, 1.2),
    ],
)
def test_limits_of_error(grade: str, kind: str, t_c: float, limit: float) -> None:
    assert limit_of_error_c("ASTM E230", grade, kind, t_c) == pytest.approx(limit)


def test_classes_of_the_international_standard() -> None:
    assert limit_of_error_c("IEC 60584-1", "class 1", "K", 800) == pytest.approx(3.2)
    assert limit_of_error_c("IEC 60584-1", "class 2", "K", 205) == 2.5
    assert limit_of_error_c("IEC 60584-1", "class 3", "E", -180) == pytest.approx(2.7)


def test_beyond_the_rated_range_no_limit_is_promised() -> None:
    with pytest.raises(OffScaleError, match="from 0 to 760 degC, not 800"):
        limit_of_error_c("ASTM E230", "standard", "J", 800)
    with pytest.raises(OffScaleError, match="special type K"):
        limit_of_error_c("ASTM E230", "special", "K", -10)
    with pytest.raises(OffScaleError, match="extension wire"):
        extension_limit_mv("ASTM E230", "standard", "K", 205, 25)
    with pytest.raises(OffScaleError, match="to 100 degC, not 120"):
        extension_limit_mv("ASTM E230", "standard", "T", 120, 25)
    with pytest.raises(ValueError, match="finite"):
        limit_of_error_c("ASTM E230", "standard", "J", nan)


def test_probe_and_extension_add_as_emf() -> None:
    # Slopes of printed type K tables: 41.5 microvolt/degC at 82 degC, 40.0 at 205, so 2.2 degC of extension
    # is 2.28 degC at the probe; with 2.2 degC of probe 4.5 at worst and 3.2 likely.
    extension = as_degrees_c(extension_limit_mv("ASTM E230", "standard", "K", 82, 25), "K", 205)
    assert extension == pytest.approx(2.28, abs=0.01)
    probe = limit_of_error_c("ASTM E230", "standard", "K", 205)
    assert probe + extension == pytest.approx(4.4, abs=0.1)
    assert root_sum_square([probe, extension]) == pytest.approx(3.1, abs=0.1)


def test_microvolt_limits_are_taken_as_they_stand() -> None:
    assert extension_limit_mv("IEC 60584-3", "class 2", "K", 150, 25) == pytest.approx(0.100)
    assert extension_limit_mv("IEC 60584-3", "class 1", "T", 60, 25) == pytest.approx(0.030)


@pytest.mark.parametrize(
    "row", [r for r in limits("extension_limits") if r.limit_mv], ids=lambda r: f"{r.grade} {r.type}"
)
def test_microvolts_and_degrees_of_the_international_standard_agree(row: thermocouple_limits.Limit) -> None:
    # The standard states both; they meet near the working temperature of the couple, 60 to 900 degC by type.
    assert row.limit_mv is not None
    t_c = {"J": 500, "K": 900, "N": 900, "E": 500, "T": 300}[row.type]
    assert as_degrees_c(row.limit_mv, row.type, t_c) == pytest.approx(row.limit_c, rel=0.08)


def test_every_source_status_is_carried() -> None:
    # Wire-makers' tables show every class of ASTM, special J too (1.1 degC or 0.4 percent); two public tables agree on IEC's.
    assert not any(r.recalled for r in limits("thermocouple_limits"))
    assert limit_of_error_c("ASTM E230", "special", "J", 200) == pytest.approx(1.1)
    assert limit_of_error_c("ASTM E230", "special", "J", 700) == pytest.approx(2.8)
    assert all(r.recalled for r in limits("extension_limits") if r.standard == "IEC 60584-3")


def test_unknown_names_are_named() -> None:
    with pytest.raises(ValueError, match="no standard among the thermocouple limits 'DIN'"):
        limit_of_error_c("DIN", "standard", "K", 100)
    with pytest.raises(ValueError, match="did you mean 'special'"):
        limit_of_error_c("ASTM E230", "specal", "K", 100)
    with pytest.raises(ValueError, match="no type among the extension limits 'B'"):
        extension_limit_mv("IEC 60584-3", "class 1", "B", 60, 20)
    with pytest.raises(ValueError, match="limit of error"):
        root_sum_square([1, -1])
