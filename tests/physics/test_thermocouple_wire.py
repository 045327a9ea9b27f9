import csv
import doctest
from pathlib import Path

import pytest

from installcheck.physics import thermocouple_wire
from installcheck.physics.tables import read_table
from installcheck.physics.thermocouple_wire import (
    FOOT,
    TABLE_DOUBT,
    at_temperature,
    colours,
    leg_ohm_per_m,
    leg_wire,
    loop_ohm_per_m,
    loop_tcr,
    meanings,
)
from installcheck.physics.thermocouples import LEGS, TYPES, UnknownLegError

SIZES = (14, 16, 18, 20, 22, 24, 26, 28, 30)


def circular_mils(awg: int) -> float:
    """Area of solid wire: (5 x 92^((36 - n) / 39))^2, the definition of the American wire gauge (ASTM
    B258)."""
    return float((5 * 92 ** ((36 - awg) / 39)) ** 2)


def test_doctests() -> None:
    assert doctest.testmod(thermocouple_wire).failed == 0


@pytest.mark.parametrize("kind", TYPES)
def test_loops_scale_with_the_area_of_the_wire(kind: str) -> None:
    resistivities = [loop_ohm_per_m(kind, awg) * FOOT * circular_mils(awg) for awg in SIZES]
    assert max(resistivities) / min(resistivities) == pytest.approx(1, abs=0.03)


@pytest.mark.parametrize("kind", ["J", "K", "E", "T"])
@pytest.mark.parametrize("awg", SIZES)
def test_two_legs_make_the_loop(kind: str, awg: int) -> None:
    legs = sum(leg_ohm_per_m(metal, awg) for metal in LEGS[kind])
    assert legs == pytest.approx(loop_ohm_per_m(kind, awg), rel=0.02)


def test_the_second_table_differs_less_than_the_stated_doubt() -> None:
    pairs = [
        (float(row["second_table"]), float(row["ohm_per_double_foot"]))
        for row in read_table("thermocouple_loop_resistance")
        if row["second_table"]
    ]
    assert len(pairs) == 29
    assert max(abs(second / first - 1) for second, first in pairs) <= TABLE_DOUBT


def test_published_resistivities() -> None:
    # ohm circular-mil/ft at AWG 20: copper 10.37, iron 71 to 75, constantan 294 to 300, chromel 425, alumel
    # 177.
    found = {
        m: leg_ohm_per_m(m, 20) * FOOT * circular_mils(20)
        for m in ("copper", "iron", "constantan", "chromel", "alumel")
    }
    assert found["copper"] == pytest.approx(10.37, abs=0.02)
    assert 71 <= found["iron"] <= 75
    assert 294 <= found["constantan"] <= 301
    assert found["chromel"] == pytest.approx(424.5, abs=1)
    assert found["alumel"] == pytest.approx(177, abs=1)


def test_an_ohmmeter_and_a_magnet_tell_the_legs_apart() -> None:
    assert leg_ohm_per_m("constantan", 20) / leg_ohm_per_m("iron", 20) == pytest.approx(4, abs=0.1)
    assert leg_ohm_per_m("J constantan", 20) == leg_ohm_per_m("constantan", 20)
    assert [m for m in ("copper", "iron", "constantan", "chromel", "alumel") if leg_wire(m).magnetic] == [
        "iron",
        "alumel",
    ]


def test_a_warm_lead_gains_resistance() -> None:
    # 0.705 x 0.00035 + 0.295 x 0.0021 = 0.00087 for K; 7 ohm warmed 30 degC gains 0.18 ohm. J: 0.2 x 0.00567
    # = 0.0011.
    assert loop_tcr("K") == pytest.approx(0.00087, abs=0.00001)
    assert at_temperature(7, loop_tcr("K"), 50) - 7 == pytest.approx(0.18, abs=0.005)
    assert loop_tcr("J") == pytest.approx(0.0011, abs=0.00005)


def test_what_is_not_known_is_said() -> None:
    with pytest.raises(UnknownLegError, match="nicrosil"):
        loop_tcr("N")
    with pytest.raises(ValueError, match="AWG '12'"):
        loop_ohm_per_m("K", 12)
    with pytest.raises(ValueError, match="no thermocouple type 'Z'"):
        loop_ohm_per_m("Z", 20)
    with pytest.raises(ValueError, match="did you mean 'alumel'"):
        leg_ohm_per_m("alumell", 20)
    with pytest.raises(ValueError, match=r"-273\.15"):
        at_temperature(1, 0.004, -300)


@pytest.mark.parametrize(
    ("scheme", "kind", "positive", "negative"),
    [
        ("US", "J", "white", "red"),
        ("US", "K", "yellow", "red"),
        ("US", "E", "purple", "red"),
        ("US", "T", "blue", "red"),
        ("US", "N", "orange", "red"),
        ("IEC", "J", "black", "white"),
        ("IEC", "K", "green", "white"),
        ("IEC", "E", "violet", "white"),
        ("IEC", "T", "brown", "white"),
        ("IEC", "N", "pink", "white"),
        ("military", "K", "white", "green"),
        ("military", "J", "black", "yellow"),
        ("military", "T", "red", "yellow"),
    ],
)
def test_colours(scheme: str, kind: str, positive: str, negative: str) -> None:
    code = colours(scheme, kind)
    assert (code.positive, code.negative) == (positive, negative)


def test_weak_colours_are_marked() -> None:
    assert not colours("military", "K").recalled
    assert colours("military", "J").recalled
    assert colours("US", "K").extension_jacket == "yellow"
    assert colours("military", "K").extension_jacket == ""


def test_one_colour_stands_for_both_signs() -> None:
    assert set(meanings("green")) == {("IEC", "K", "positive"), ("military", "K", "negative")}
    assert ("US", "K", "positive") in meanings("yellow")
    assert ("military", "J", "negative") in meanings("yellow")


def test_unknown_colour_codes_are_named() -> None:
    with pytest.raises(ValueError, match="colour code 'DIN'"):
        colours("DIN", "K")
    with pytest.raises(ValueError, match="military colours of thermocouple type 'N'"):
        colours("military", "N")


@pytest.mark.parametrize(
    "path",
    sorted((Path(thermocouple_wire.__file__).parent / "data").glob("thermo*.csv")),
    ids=lambda p: p.name,
)
def test_every_table_states_its_source_and_every_row_is_whole(path: Path) -> None:
    lines = path.read_text(encoding="utf-8").splitlines()
    assert lines[0].startswith("# ")
    rows = list(csv.reader(line for line in lines if not line.startswith("#")))
    assert {len(row) for row in rows} == {len(rows[0])}
