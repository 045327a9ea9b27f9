"""Worked temperature circuits, each computed once more from the document to the pointer."""

import csv
from collections.abc import Callable
from pathlib import Path

import pytest

from installcheck.physics.bulbs import (
    NICKEL,
    PT100,
    resistance_ohm,
    self_heating_c,
    slope_ohm_per_c,
    three_lead_ohm,
    two_lead_ohm,
)
from installcheck.physics.bulbs import temperature_c as bulb_temperature_c
from installcheck.physics.capillaries import isa_pressure_pa, vapour_fill, vapour_indicated_c
from installcheck.physics.moving_coil import parallel_couples, shown_emf_mv, spool_ohm
from installcheck.physics.thermistors import (
    ground_offset_ohm,
    series_ohm,
    steinhart_hart_c,
    steinhart_hart_ohm,
    typical_curve,
)
from installcheck.physics.thermocouple_limits import limit_of_error_c
from installcheck.physics.thermocouple_loop import loop_emf, reading, side
from installcheck.physics.thermocouple_wire import FOOT, at_temperature, loop_ohm_per_m
from installcheck.physics.thermocouples import LEGS, emf_mv, temperature_c

Piece = tuple[str, float]


def table(name: str) -> list[dict[str, str]]:
    with (Path(__file__).parent / "data" / f"{name}.csv").open(encoding="utf-8") as lines:
        return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def shown(
    t_junction: float, positive: list[Piece], negative: list[Piece], scale: str, t_compensation: float
) -> float:
    emf = loop_emf(t_junction, side(t_junction, positive), side(t_junction, negative)).emf_mv
    indicated = reading(emf, scale, t_compensation).indicated_c
    assert indicated is not None
    return indicated


def extension(probe: str, legs: tuple[str, str], t_junction: float = 205) -> float:
    """Probe to a splice at 82 degC, extension to terminals at 25 degC, right indicator."""
    plus, minus = LEGS[probe]
    return shown(t_junction, [(plus, 82), (legs[0], 25)], [(minus, 82), (legs[1], 25)], probe, 25)


def third_metal_in_both(t_hot: float, t_cold: float) -> float:
    return shown(
        205,
        [("chromel", t_hot), ("copper", t_cold), ("chromel", 25)],
        [("alumel", t_hot), ("copper", t_cold), ("alumel", 25)],
        "K",
        25,
    )


def moving_coil(kind: str, true_c: float, calibrated: float, external: float, meter: float) -> float:
    emf = shown_emf_mv(emf_mv(kind, true_c) - emf_mv(kind, 25), calibrated, external, meter)
    indicated = reading(emf, kind, 25).indicated_c
    assert indicated is not None
    return indicated


def averaged(temperatures: list[float], ohms: list[float]) -> float:
    emfs = [emf_mv("K", t) - emf_mv("K", 25) for t in temperatures]
    indicated = reading(parallel_couples(emfs, ohms).emf_mv, "K", 25).indicated_c
    assert indicated is not None
    return indicated


def bulb_error(bulb: str, true_c: float, seen_ohm: float) -> float:
    return bulb_temperature_c(bulb, seen_ohm) - true_c


NI_0, NI_90 = resistance_ohm(NICKEL, 0), resistance_ohm(NICKEL, 90)
PT_100 = resistance_ohm(PT100, 100)
ETHER = vapour_fill("diethyl ether")
SENDER_2K, SENDER_10K = typical_curve("2 kohm"), typical_curve("10 kohm")
AT_90 = steinhart_hart_ohm(SENDER_2K, 90)
K, J, E, T, N = (LEGS[kind] for kind in "KJETN")
COPPER = ("copper", "copper")

CASES: dict[str, Callable[[], float]] = {
    "emf_K_205": lambda: emf_mv("K", 205),
    "emf_J_230": lambda: emf_mv("J", 230),
    "inverse_K_8.338": lambda: temperature_c("K", 8.338),
    "ok_K_on_K": lambda: extension("K", K),
    "Cu_ext_K_205": lambda: extension("K", COPPER),
    "Cu_ext_J_205": lambda: extension("J", COPPER),
    "Cu_ext_K_EGT": lambda: extension("K", COPPER, 700),
    "ext_J_on_K_probe": lambda: extension("K", J),
    "ext_K_on_J_probe": lambda: extension("J", K),
    "ext_T_on_K_probe": lambda: extension("K", T),
    "ext_E_on_K_probe": lambda: extension("K", E),
    "ext_T_on_J_probe": lambda: extension("J", T),
    "ext_K_on_T_probe": lambda: extension("T", K),
    "ext_K_on_E_probe": lambda: extension("E", K),
    "ext_N_on_K_probe": lambda: extension("K", N),
    "indicator_K_probe_J": lambda: shown(205, [(J[0], 25)], [(J[1], 25)], "K", 25),
    "indicator_J_probe_K": lambda: shown(205, [(K[0], 25)], [(K[1], 25)], "J", 25),
    "rev_both_ends_K": lambda: extension("K", K[::-1]),
    "rev_both_ends_J": lambda: extension("J", J[::-1]),
    "rev_probe_end_only_K": lambda: shown(205, [(K[1], 82), (K[0], 25)], [(K[0], 82), (K[1], 25)], "K", 25),
    "rev_indicator_end_only_K": lambda: shown(120, [(K[1], 25)], [(K[0], 25)], "K", 25),
    "rev_splice_cold_J": lambda: shown(120, [(J[1], 60), (J[0], 25)], [(J[0], 60), (J[1], 25)], "J", 25),
    "Cu_pins_both_legs_K": lambda: third_metal_in_both(60, 50),
    "Cu_pins_isothermal": lambda: third_metal_in_both(55, 55),
    "Cu_in_chromel_leg_only_K": lambda: extension("K", ("copper", K[1])),
    "Cu_in_alumel_leg_only_K": lambda: extension("K", (K[0], "copper")),
    "Cu_in_constantan_leg_only_J": lambda: extension("J", (J[0], "copper")),
    "Cu_in_iron_leg_only_J": lambda: extension("J", ("copper", J[1])),
    "Alumel_for_chromel": lambda: extension("K", ("alumel", "alumel")),
    "terminal_block_warm_K": lambda: shown(205, [(K[0], 45)], [(K[1], 45)], "K", 30),
    "no_cjc_K": lambda: shown(205, [(K[0], 25)], [(K[1], 25)], "K", 0),
    "mc_2ohm_J_2.6_Rm10": lambda: moving_coil("J", 230, 2, 2.6, 10),
    "mc_2ohm_J_2.6_Rm30": lambda: moving_coil("J", 230, 2, 2.6, 30),
    "mc_2ohm_J_1.5_Rm10": lambda: moving_coil("J", 230, 2, 1.5, 10),
    "mc_8ohm_K_8.4": lambda: moving_coil("K", 700, 8, 8.4, 20),
    "mc_8ohm_K_8.05": lambda: moving_coil("K", 700, 8, 8.05, 20),
    "spool_needed": lambda: spool_ohm(8, 0.60, 20 * 0.280),
    "lead_len_K20": lambda: 12 * FOOT * loop_ohm_per_m("K", 20),
    "lead_len_J18": lambda: 8 * FOOT * loop_ohm_per_m("J", 18),
    "parallel_equal_K": lambda: averaged([600, 650, 700, 750], [1, 1, 1, 1]),
    "parallel_unequal_K": lambda: averaged([600, 650, 700, 750], [1, 1, 1, 2]),
    "parallel_one_open_K": lambda: averaged([600, 650, 700], [1, 1, 1]),
    "ni_2lead": lambda: bulb_temperature_c(NICKEL, two_lead_ohm(NI_90, 0.20, 0.15)),
    "ni_2lead_err_0C": lambda: bulb_error(NICKEL, 0, two_lead_ohm(NI_0, 0.20, 0.15)),
    "ni_3lead_imbalance": lambda: bulb_error(NICKEL, 90, three_lead_ohm(NI_90, 0.20, 0.15)),
    "ni_ground_joint": lambda: bulb_error(NICKEL, 90, two_lead_ohm(NI_90, 0, 1.0)),
    "ni_lead_temp": lambda: bulb_error(NICKEL, 90, NI_90 + at_temperature(0.35, 0.0039, 80) - 0.35),
    "pt100_R_100": lambda: PT_100,
    "pt100_2lead": lambda: bulb_error(PT100, 100, two_lead_ohm(PT_100, 0.20, 0.15)),
    "ni_curve_on_pt100": lambda: bulb_temperature_c(PT100, NI_90),
    "self_heating": lambda: self_heating_c(0.005, PT_100, 0.005),
    "thermistor_10k_25": lambda: steinhart_hart_ohm(SENDER_10K, 25),
    "thermistor_10k_T": lambda: steinhart_hart_c(SENDER_10K, 1000),
    "thermistor_2k_series": lambda: steinhart_hart_c(SENDER_2K, series_ohm(AT_90, 5)),
    "thermistor_2k_offset": lambda: steinhart_hart_c(SENDER_2K, offset_added_to_the_unloaded_voltage()),
    "vap_altitude_ether_80": lambda: vapour_indicated_c(ETHER, 80, isa_pressure_pa(10_000 * FOOT)),
    "vap_head_ether_40": lambda: vapour_indicated_c(ETHER, 40, bulb_above_gauge_m=-0.5) - 40,
    "tol_K_std_205": lambda: limit_of_error_c("ASTM E230", "standard", "K", 205),
    "tol_K_std_700": lambda: limit_of_error_c("ASTM E230", "standard", "K", 700),
}


def offset_added_to_the_unloaded_voltage() -> float:
    """Apparent resistance [ohm] as the worked example takes it: the sender current does not fall with the
    offset."""
    v = 5.0 * AT_90 / (1000 + AT_90) + 0.100
    return 1000 * v / (5.0 - v)


@pytest.mark.parametrize("row", table("temperature_cases"), ids=lambda row: row["case"])
def test_case(row: dict[str, str]) -> None:
    assert CASES[row["case"]]() == pytest.approx(float(row["expected"]), abs=float(row["tolerance"]))


def test_every_case_has_its_row() -> None:
    assert {row["case"] for row in table("temperature_cases")} == set(CASES)


def test_ground_offset_in_full_reads_less_low_than_the_worked_example() -> None:
    # Kirchhoff by hand: (5.0 - 0.1) V through 1000 ohm and R(90) = 243.85 ohm: 3.9394 mA; v = 0.1 + 0.9606 V.
    exact = ground_offset_ohm(AT_90, 0.1, 1000, 5.0)
    assert exact == pytest.approx(1000 * 1.0606 / (5.0 - 1.0606), abs=0.05)
    # The example forgets that the sender current falls with the offset, and so reads 85.6 where the gauge
    # shows 86.4: 25.4 ohm more over a mean slope of 7.1 ohm/degC.
    assert 90 - steinhart_hart_c(SENDER_2K, exact) == pytest.approx((exact - AT_90) / 7.1, abs=0.1)
    assert steinhart_hart_c(SENDER_2K, exact) == pytest.approx(85.6 + 0.8, abs=0.1)


def test_slopes_behind_the_two_lead_errors() -> None:
    # 2.954 and 2.342 degC per ohm of the nickel curve at 0 and 90 degC, 0.3793 ohm/degC of Pt100 at 100 degC.
    assert 1 / slope_ohm_per_c(NICKEL, 0) == pytest.approx(2.954, abs=0.001)
    assert 1 / slope_ohm_per_c(NICKEL, 90) == pytest.approx(2.342, abs=0.001)
    assert slope_ohm_per_c(PT100, 100) == pytest.approx(0.3793, abs=0.0001)
