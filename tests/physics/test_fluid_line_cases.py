"""Every figure of fluid_line_cases.csv, from our own functions."""

import csv
from collections.abc import Callable
from pathlib import Path

import pytest

from installcheck.physics.capillaries import capillary_volume_m3, liquid_filled_error_c
from installcheck.physics.flow import SHARP_EDGE, Restrictor, Segment, area_ratio, line_flow, orifice_flow
from installcheck.physics.friction import hagen_poiseuille_flow, reynolds_number
from installcheck.physics.hoses import hose_length, shortest_under_pressure
from installcheck.physics.media import kinematic_viscosity, medium, walther_constants, walther_viscosity
from installcheck.physics.sensing_lines import (
    acoustic_delay,
    head_pressure,
    line_inventory,
    liquid_lag,
    pneumatic_lag,
    thermal_growth,
    thermal_lock_pressure,
)
from installcheck.physics.spill import (
    liquid_to_explosive_limit,
    litres_per_minute,
    time_to_explosive_limit,
    time_to_lose,
    vapour_volume,
)
from installcheck.physics.tubes import (
    BURST_OVER_WORKING,
    barlow_pressure,
    lame_pressure,
    pressure_margin,
    tube_bore,
    tube_mass_per_length,
    tube_material,
)
from installcheck.physics.vibration import (
    firing_frequency,
    second_moment,
    span_frequency,
    stem_frequency,
    stem_stress,
    support_spacing,
    supports_between,
)

INCH = 0.0254
PSI = 6894.757293168
QUART = 0.946352946e-3
INCH_OF_MERCURY = 3386.389

CASES = {
    row["case"]: row
    for row in csv.DictReader(
        line
        for line in (Path(__file__).parent / "fluid_line_cases.csv").read_text(encoding="utf-8").splitlines()
        if not line.startswith("#")
    )
}

NUMBER_60 = 0.040 * INCH
SHARP = Restrictor(NUMBER_60, SHARP_EDGE)
QUARTER = Segment(0.180 * INCH, 1.5)
EIGHTH = Segment(0.061 * INCH, 1.5)
THREE_SIXTEENTHS = Segment(0.1175 * INCH, 1.5)
OIL_90 = 26.7253e-6
WALTHER = walther_constants(215e-6, 40, 20e-6, 100)


def orifice(psi: float, density: float, coefficient: float = SHARP_EDGE) -> float:
    return orifice_flow(NUMBER_60, psi * PSI, density, coefficient)


def fuel(*line: Segment | Restrictor) -> float:
    return line_flow(line, 25 * PSI, 720, 0.6e-6)


def oil(*line: Segment | Restrictor) -> float:
    return line_flow(line, 60 * PSI, 840, OIL_90)


def manifold_lag(bore_in: float) -> float:
    return pneumatic_lag([Segment(bore_in * INCH, 2.0)], 30e-6, 70927.5, 1.81e-5)


def oil_gauge_lag(bore_in: float) -> float:
    return liquid_lag(
        [Segment(bore_in * INCH, 2.0)], 0.1e-6 / (100 * PSI), walther_viscosity(*WALTHER, 0) * 890
    )


def burst(metal: str, outside_in: float, wall_in: float) -> float:
    return barlow_pressure(tube_material(metal).ultimate, outside_in * INCH, wall_in * INCH) / PSI


def full_quarter_tube_frequency() -> float:
    metal = tube_material("5052-O")
    outside, wall = 0.25 * INCH, 0.035 * INCH
    mass = tube_mass_per_length(outside, wall, metal.density, 870)
    moment = second_moment(outside, tube_bore(outside, wall))
    return span_frequency(metal.elastic_modulus, moment, mass, 13.5 * INCH)


STEM = (0.334 * INCH, 0.22 * INCH)

COMPUTED: dict[str, Callable[[], float]] = {
    "orifice fuel 25 psi": lambda: litres_per_minute(orifice(25, 720)),
    "orifice fuel 6 psi": lambda: litres_per_minute(orifice(6, 720)),
    "orifice oil 60 psi": lambda: litres_per_minute(orifice(60, 840)),
    "time to lose 4 qt restricted": lambda: time_to_lose(4 * QUART, orifice(60, 840)) / 60,
    "orifice oil 60 psi short tube": lambda: litres_per_minute(orifice(60, 840, 0.80)),
    "orifice oil reynolds": lambda: reynolds_number(orifice(60, 840), NUMBER_60, OIL_90),
    "restrictor area ratio": lambda: area_ratio(NUMBER_60, 0.180 * INCH),
    "fuel quarter tube": lambda: litres_per_minute(fuel(QUARTER)),
    "fuel quarter tube restricted": lambda: litres_per_minute(fuel(SHARP, QUARTER)),
    "restrictor reduction": lambda: fuel(QUARTER) / fuel(SHARP, QUARTER),
    "fuel eighth tube": lambda: litres_per_minute(fuel(EIGHTH)),
    "fuel three sixteenths tube": lambda: litres_per_minute(fuel(THREE_SIXTEENTHS)),
    "oil quarter tube 90 C": lambda: litres_per_minute(oil(QUARTER)),
    "time to lose 6 qt quarter tube": lambda: time_to_lose(6 * QUART, oil(QUARTER)),
    "oil eighth tube 90 C": lambda: litres_per_minute(
        hagen_poiseuille_flow(EIGHTH.bore, EIGHTH.length, 60 * PSI, 840 * OIL_90)
    ),
    "oil quarter tube restricted 90 C": lambda: litres_per_minute(oil(SHARP, QUARTER)),
    "walther A": lambda: WALTHER[0],
    "walther B": lambda: WALTHER[1],
    "oil viscosity 90 C": lambda: kinematic_viscosity(medium("SAE 50 oil"), 90) * 1e6,
    "oil viscosity 0 C": lambda: kinematic_viscosity(medium("SAE 50 oil"), 0) * 1e6,
    "oil viscosity -20 C": lambda: walther_viscosity(*WALTHER, -20) * 1e6,
    "head fuel 0.6 m": lambda: head_pressure(720, 0.6) / PSI,
    "head oil 0.6 m": lambda: head_pressure(870, 0.6) / PSI,
    "manifold lag quarter tube": lambda: manifold_lag(0.180) * 1e3,
    "manifold lag eighth tube": lambda: manifold_lag(0.061) * 1e3,
    "manifold lag 0.040 bore": lambda: manifold_lag(0.040) * 1e3,
    "acoustic delay 2 m": lambda: acoustic_delay(2.0, 343.2) * 1e3,
    "condensate head 150 mm": lambda: head_pressure(998, 0.150) / INCH_OF_MERCURY,
    "fuel slug head 150 mm": lambda: head_pressure(720, 0.150) / INCH_OF_MERCURY,
    "burst 5052-O quarter 0.035": lambda: burst("5052-O", 0.25, 0.035),
    "burst margin at 100 psi": lambda: pressure_margin(burst("5052-O", 0.25, 0.035), 100),
    "working at a quarter of burst": lambda: burst("5052-O", 0.25, 0.035) / BURST_OVER_WORKING,
    "burst 304 quarter 0.028": lambda: burst("304 annealed", 0.25, 0.028),
    "burst copper eighth 0.032": lambda: burst("copper C12200 annealed", 0.125, 0.032),
    "lame copper eighth 0.032": lambda: lame_pressure(30000, 0.125, 0.032),
    "burst 6061-T6 three eighths 0.035": lambda: burst("6061-T6", 0.375, 0.035),
    "hose for 18 in at 5 percent": lambda: hose_length(18),
    "hose for 18 in at 8 percent": lambda: hose_length(18, 0.08),
    "hose shrunk": lambda: shortest_under_pressure(18.9),
    "clamps in 60 in": lambda: supports_between(60 * INCH, support_spacing(0.25 * INCH, "aluminium")),
    "span frequency 13.5 in": full_quarter_tube_frequency,
    "firing frequency": lambda: firing_frequency(2700, 4),
    "stem frequency": lambda: stem_frequency(100e9, second_moment(*STEM), 0.150, 0.060),
    "stem stress 10 g": lambda: stem_stress(0.150, 98.0665, 0.060, *STEM) / 1e6,
    "growth of 1 m at 80 K": lambda: thermal_growth(23.6e-6, 1.0, 80) * 1e3,
    "blocked fuel at 10 K": lambda: thermal_lock_pressure(1.0e-3, 1.1e9, 10) / 1e6,
    "capillary error at 40 K": lambda: liquid_filled_error_c(
        1e-6, [(capillary_volume_m3(0.3e-3, 2.5), 60)], 20
    ),
    "vapour of 100 mL fuel": lambda: vapour_volume(100e-6, 720, 0.100, 20) * 1e3,
    "fuel to the limit in 2 m3": lambda: liquid_to_explosive_limit(0.013, 2.0, 720, 0.100, 20) * 1e6,
    "time to the limit": lambda: time_to_explosive_limit(orifice(25, 720), 0.013, 2.0, 720, 0.100, 20),
    "oil gauge lag 0 C eighth": lambda: oil_gauge_lag(0.061),
    "oil gauge lag 0 C quarter": lambda: oil_gauge_lag(0.180),
    "held in quarter line 2 m": lambda: line_inventory([Segment(0.180 * INCH, 2.0)]) * 1e6,
    "held over one quart": lambda: line_inventory([Segment(0.180 * INCH, 2.0)]) / QUART,
}


def test_every_case_is_computed() -> None:
    assert len(CASES) == 54
    assert COMPUTED.keys() == CASES.keys()


@pytest.mark.parametrize("case", CASES)
def test_case(case: str) -> None:
    row = CASES[case]
    # A whole count or an exact product may still differ in its last bit.
    tolerance = max(float(row["percent"]) / 100, 1e-12)
    assert COMPUTED[case]() == pytest.approx(float(row["expected"]), rel=tolerance), row["worked"]
