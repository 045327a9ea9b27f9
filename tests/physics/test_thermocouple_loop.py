import csv
import doctest
from math import nan
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from installcheck.physics import thermocouple_loop
from installcheck.physics.scale import OffScaleError
from installcheck.physics.thermocouple_loop import Segment, loop_emf, reading, side
from installcheck.physics.thermocouples import LEGS, UnknownLegError, emf_mv

Loop = tuple[float, list[tuple[str, float]], list[tuple[str, float]]]
METALS = ["chromel", "alumel", "constantan", "copper", "iron", "J constantan"]


def table(name: str) -> list[dict[str, str]]:
    with (Path(__file__).parent / "data" / f"{name}.csv").open(encoding="utf-8") as lines:
        return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def fahrenheit(t_c: float) -> float:
    return 1.8 * t_c + 32


def celsius(t_f: float) -> float:
    return (t_f - 32) / 1.8


def indicated(emf: float, scale: str, t_compensation: float) -> float:
    t_c = reading(emf, scale, t_compensation).indicated_c
    assert t_c is not None
    return t_c


def two_piece(
    probe: str, positive: str, negative: str, t_junction: float, t_splice: float, t_terminal: float
) -> float:
    plus, minus = LEGS[probe]
    return loop_emf(
        t_junction,
        side(t_junction, [(plus, t_splice), (positive, t_terminal)]),
        side(t_junction, [(minus, t_splice), (negative, t_terminal)]),
    ).emf_mv


@pytest.mark.parametrize("row", table("wrong_extension"), ids=lambda row: "-".join(list(row.values())[:5]))
def test_every_wrong_extension(row: dict[str, str]) -> None:
    probe, extension = row["probe"], row["extension"]
    t_junction, t_splice, t_terminal = (
        float(row[name]) for name in ("t_junction_c", "t_splice_c", "t_terminal_c")
    )
    if extension == "copper":
        legs = ("copper", "copper")
    elif extension == "reversed":
        legs = LEGS[probe][::-1]
    else:
        legs = LEGS[extension]
    emf = two_piece(probe, *legs, t_junction, t_splice, t_terminal)
    right = emf_mv(probe, t_junction) - emf_mv(probe, t_terminal)
    assert emf - right == pytest.approx(float(row["emf_error_mv"]), abs=0.00006)
    assert indicated(emf, probe, t_terminal) == pytest.approx(float(row["indicated_c"]), abs=0.006)


# Copper spliced into both legs of a lead; gauge at 20 degC. E(true) - E(join) + E(gauge) read back by hand
# from tables.
@pytest.mark.parametrize(
    ("kind", "true_c", "join_c", "error_f"),
    [
        ("K", 200, 40, -36.7),
        ("K", 200, 60, -73.8),
        ("K", 200, 100, -147.5),
        ("K", 760, 40, -35.3),
        ("K", 760, 60, -71.0),
        ("K", 760, 100, -142.3),
        ("J", 200, 40, -18.7 * 1.8),
        ("J", 200, 60, -37.8 * 1.8),
        ("J", 200, 80, -57.2 * 1.8),
    ],
)
def test_copper_used_to_lengthen_a_lead(kind: str, true_c: float, join_c: float, error_f: float) -> None:
    shown = indicated(two_piece(kind, "copper", "copper", true_c, join_c, 20), kind, 20)
    assert 1.8 * (shown - true_c) == pytest.approx(error_f, abs=0.1)


def test_doctests() -> None:
    assert doctest.testmod(thermocouple_loop).failed == 0


def test_the_length_of_the_copper_does_not_enter() -> None:
    warm_join_cool_gauge = two_piece("K", "copper", "copper", 200, 60, 20)
    join_beside_gauge = two_piece("K", "copper", "copper", 200, 20, 20)
    assert indicated(warm_join_cool_gauge, "K", 20) == pytest.approx(159.0, abs=0.05)
    assert indicated(join_beside_gauge, "K", 20) == pytest.approx(200, abs=1e-6)


# Probe of one type on an indicator of another, gauge end 20 degC: E_probe(true) - E_probe(20) + E_scale(20)
# by hand.
@pytest.mark.parametrize(
    ("probe", "scale", "true_f", "shown_f"),
    [
        ("K", "E", 1400, 821),
        ("K", "E", 400, 274),
        ("E", "K", 400, 622),
        ("J", "K", 400, 511),
        ("K", "J", 400, 319),
    ],
)
def test_probe_of_one_type_on_an_indicator_of_another(
    probe: str, scale: str, true_f: float, shown_f: float
) -> None:
    true_c = celsius(true_f)
    emf = two_piece(probe, *LEGS[probe], true_c, 60, 20)
    assert fahrenheit(indicated(emf, scale, 20)) == pytest.approx(shown_f, abs=0.5)


def test_type_e_probe_drives_a_type_k_pointer_off_the_scale() -> None:
    shown = reading(two_piece("E", *LEGS["E"], celsius(1400), 60, 20), "K", 20)
    # NIST tables: E_E(760 degC) 57.87 less E_E(20) 1.192 plus E_K(20) 0.798, against the 54.886 at the top of
    # K.
    assert shown.emf_mv == pytest.approx(57.87 - 1.192 + 0.798, abs=0.005)
    assert (shown.indicated_c, shown.beyond) == (None, "above")


def test_whole_loop_at_one_temperature_hides_every_fault() -> None:
    crossed = two_piece("K", "alumel", "copper", 15, 15, 15)
    assert indicated(crossed, "J", 15) == pytest.approx(15, abs=1e-6)


def test_equal_pieces_of_an_unknown_metal_in_both_legs_are_known() -> None:
    emf = loop_emf(
        205,
        side(205, [("chromel", 60), ("brass", 50), ("chromel", 25)]),
        side(205, [("alumel", 60), ("brass", 50), ("alumel", 25)]),
    ).emf_mv
    assert emf == pytest.approx(
        emf_mv("K", 205) - emf_mv("K", 25) - emf_mv("K", 60) + emf_mv("K", 50), abs=1e-9
    )


@pytest.mark.parametrize("metal", ["brass", "nisil", "nicrosil"])
def test_an_unknown_metal_that_acts_by_itself_is_refused(metal: str) -> None:
    with pytest.raises(UnknownLegError, match=r"its ends at 50, 60 degC"):
        loop_emf(205, side(205, [("chromel", 60), (metal, 50), ("chromel", 25)]), side(205, [("alumel", 25)]))


def test_one_wrong_leg_of_type_n_is_unknown_but_its_pair_is_not() -> None:
    assert two_piece("N", *LEGS["N"], 800, 60, 25) == pytest.approx(
        emf_mv("N", 800) - emf_mv("N", 25), abs=1e-9
    )
    with pytest.raises(UnknownLegError, match="nisil"):
        two_piece("N", "nicrosil", "copper", 800, 60, 25)


@pytest.mark.parametrize(("kind", "t_c"), [("J", 1200), ("K", 1370), ("E", 1000), ("N", 1300), ("T", 400)])
def test_a_right_pair_holds_to_the_top_of_its_type(kind: str, t_c: float) -> None:
    result = loop_emf(t_c, side(t_c, [(LEGS[kind][0], 20)]), side(t_c, [(LEGS[kind][1], 20)]))
    assert result.emf_mv == pytest.approx(emf_mv(kind, t_c) - emf_mv(kind, 20), abs=1e-9)
    assert result.uncertainty_mv == 0


def test_lone_j_constantan_carries_its_doubt() -> None:
    result = loop_emf(205, side(205, [("iron", 25)]), side(205, [("constantan", 25)]))
    assert result.uncertainty_mv == 0.03
    # By hand, trapezium rule: 30 + 30 + 5 x 0.3925 microvolt to 205 degC, less 25 x 0.375 to 25 degC; it
    # adds, for J constantan lies above constantan and the negative side is now the lower one.
    right = emf_mv("J", 205) - emf_mv("J", 25)
    assert result.emf_mv - right == pytest.approx(0.0619625 - 0.009375, abs=1e-6)


def test_meter_terminals_at_two_temperatures_are_closed_with_copper() -> None:
    # Chromel terminal at 40, alumel terminal at 30: E_K(205) - E_K(30) - [chromel - copper] from 30 to 40
    # degC.
    result = loop_emf(205, side(205, [("chromel", 40)]), side(205, [("alumel", 30)]))
    by_hand = emf_mv("K", 205) - emf_mv("K", 30) - (0.8079 - 0.6046)
    assert result.emf_mv == pytest.approx(by_hand, abs=0.0002)


def test_pieces_must_meet_at_one_temperature() -> None:
    with pytest.raises(
        ValueError, match="alumel of the negative side starts at 60 degC where the piece before it ends at 82"
    ):
        loop_emf(205, side(205, [("chromel", 25)]), (Segment("alumel", 205, 82), Segment("alumel", 60, 25)))
    with pytest.raises(ValueError, match="finite"):
        loop_emf(205, side(205, [("chromel", nan)]), side(205, [("alumel", 25)]))
    with pytest.raises(OffScaleError, match="copper by itself must be from -270 to 400 degC"):
        loop_emf(600, side(600, [("chromel", 25)]), side(600, [("copper", 25)]))


temperatures = st.floats(-50, 400).map(lambda t: round(t, 3))
runs = st.lists(st.tuples(st.sampled_from(METALS), temperatures), min_size=1, max_size=4)


@st.composite
def loops(draw: st.DrawFn) -> Loop:
    t_junction, t_meter = draw(temperatures), draw(temperatures)
    sides = []
    for _ in range(2):
        run = draw(runs)
        sides.append([*run[:-1], (run[-1][0], t_meter)])
    return t_junction, sides[0], sides[1]


@given(loops(), temperatures, st.data())
def test_cutting_a_homogeneous_piece_changes_nothing(loop: Loop, t_cut: float, data: st.DataObject) -> None:
    t_junction, positive, negative = loop
    whole = loop_emf(t_junction, side(t_junction, positive), side(t_junction, negative)).emf_mv
    where = data.draw(st.integers(0, len(positive) - 1))
    cut = [*positive[:where], (positive[where][0], t_cut), *positive[where:]]
    assert loop_emf(t_junction, side(t_junction, cut), side(t_junction, negative)).emf_mv == pytest.approx(
        whole, abs=1e-9
    )


@given(loops(), st.sampled_from([*METALS, "brass", "nisil"]), st.data())
def test_any_metal_at_one_temperature_changes_nothing(loop: Loop, metal: str, data: st.DataObject) -> None:
    t_junction, positive, negative = loop
    whole = loop_emf(t_junction, side(t_junction, positive), side(t_junction, negative)).emf_mv
    where = data.draw(st.integers(0, len(negative) - 1))
    with_pin = [*negative[: where + 1], (metal, negative[where][1]), *negative[where + 1 :]]
    again = loop_emf(t_junction, side(t_junction, positive), side(t_junction, with_pin)).emf_mv
    assert again == pytest.approx(whole, abs=1e-9)


@given(loops())
def test_crossing_the_whole_loop_reverses_it(loop: Loop) -> None:
    t_junction, positive, negative = loop
    there = loop_emf(t_junction, side(t_junction, positive), side(t_junction, negative)).emf_mv
    back = loop_emf(t_junction, side(t_junction, negative), side(t_junction, positive)).emf_mv
    assert back == pytest.approx(-there, abs=1e-9)


@given(loops(), temperatures)
def test_one_metal_all_round_gives_nothing(loop: Loop, t_junction: float) -> None:
    _, positive, negative = loop
    rest = [side(t_junction, [("iron", t) for _, t in run]) for run in (positive, negative)]
    assert loop_emf(t_junction, *rest).emf_mv == pytest.approx(0, abs=1e-12)


@given(st.sampled_from(list(LEGS)), st.floats(-50, 390), st.floats(-50, 90), st.floats(-50, 60))
def test_right_wire_reads_right_whatever_the_joints_do(
    kind: str, t_junction: float, t_splice: float, t_terminal: float
) -> None:
    emf = two_piece(kind, *LEGS[kind], t_junction, t_splice, t_terminal)
    assert indicated(emf, kind, t_terminal) == pytest.approx(t_junction, abs=1e-6)
