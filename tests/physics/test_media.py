import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from installcheck.physics.media import (
    air_density,
    air_viscosity,
    kinematic_viscosity,
    liquid_density,
    media,
    medium,
    speed_of_sound,
    walther_constants,
    walther_viscosity,
)


def test_which_media_burn() -> None:
    assert {name for name, fluid in media().items() if fluid.flammable} == {
        "avgas",
        "Jet A",
        "SAE 50 oil",
        "MIL-H-5606",
        "mixture",
    }


def test_fuel_as_a_checker_takes_it() -> None:
    fuel = medium("avgas")
    assert liquid_density(fuel, 15) == 720
    assert kinematic_viscosity(fuel, 20) == pytest.approx(0.6e-6)
    assert fuel.lower_explosive_limit == pytest.approx(0.013)
    assert fuel.molar_mass == pytest.approx(0.1)
    # 720 (1 - 1e-3 x 25)
    assert liquid_density(fuel, 40) == pytest.approx(702)


def test_oil_density_at_its_two_points() -> None:
    oil = medium("SAE 50 oil")
    assert liquid_density(oil, 15) == 880
    assert liquid_density(oil, 90) == pytest.approx(840, abs=0.1)


@pytest.mark.parametrize(
    ("name", "celsius", "centistokes"),
    [("SAE 50 oil", 40, 215), ("SAE 50 oil", 100, 20), ("MIL-H-5606", 40, 13.8), ("MIL-H-5606", 100, 4.9)],
)
def test_viscosity_passes_through_the_points_of_the_table(
    name: str, celsius: float, centistokes: float
) -> None:
    assert kinematic_viscosity(medium(name), celsius) == pytest.approx(centistokes * 1e-6, rel=1e-9)


def test_hydraulic_fluid_in_the_cold_is_as_thin_as_its_specification_asks() -> None:
    # MIL-PRF-5606H table I: at most 600 cSt at -40 degC. A relation through 40 and 100 degC must not promise more.
    assert kinematic_viscosity(medium("MIL-H-5606"), -40) < 600e-6


@given(st.floats(-18, 149), st.floats(0.1, 1))
def test_oil_thins_as_it_warms(celsius: float, more: float) -> None:
    oil = medium("SAE 50 oil")
    assert kinematic_viscosity(oil, celsius + more) < kinematic_viscosity(oil, celsius)


@given(st.floats(30, 500), st.floats(2.5, 25), st.floats(-10, 60), st.floats(20, 80))
def test_walther_gives_back_its_two_points(cold: float, hot: float, celsius: float, more: float) -> None:
    a, b = walther_constants(cold * 1e-6, celsius, hot * 1e-6, celsius + more)
    assert walther_viscosity(a, b, celsius) == pytest.approx(cold * 1e-6, rel=1e-6)
    assert walther_viscosity(a, b, celsius + more) == pytest.approx(hot * 1e-6, rel=1e-6)


def test_oil_below_its_pour_point_has_no_viscosity() -> None:
    with pytest.raises(ValueError, match="SAE 50 oil at -20 degC is below its pour point of -18 degC"):
        kinematic_viscosity(medium("SAE 50 oil"), -20)


# US Standard Atmosphere 1976, table I: 0, 5000 and 10000 m. Temperature, pressure, density, speed of sound, viscosity.
@pytest.mark.parametrize(
    ("celsius", "pascals", "density", "sound", "viscosity"),
    [
        (15.0, 101325, 1.2250, 340.29, 1.7894e-5),
        (-17.474, 54048, 0.73643, 320.55, 1.6282e-5),
        (-49.898, 26500, 0.41351, 299.53, 1.4577e-5),
    ],
)
def test_air_of_the_standard_atmosphere(
    celsius: float, pascals: float, density: float, sound: float, viscosity: float
) -> None:
    assert air_density(celsius, pascals) == pytest.approx(density, rel=1e-4)
    assert speed_of_sound(celsius) == pytest.approx(sound, rel=1e-4)
    assert air_viscosity(celsius) == pytest.approx(viscosity, rel=1e-4)


def test_a_gas_has_no_liquid_figures() -> None:
    with pytest.raises(ValueError, match="mixture has no liquid density"):
        liquid_density(medium("mixture"), 20)
    with pytest.raises(ValueError, match="use air_viscosity"):
        kinematic_viscosity(medium("air"), 20)


def test_an_unknown_medium_is_told_the_nearest_word() -> None:
    with pytest.raises(ValueError, match="no medium 'avgass'; did you mean 'avgas'"):
        medium("avgass")
    with pytest.raises(ValueError, match="known: Jet A, MIL-H-5606, SAE 50 oil, air, avgas, mixture, water"):
        medium("xyz")


@pytest.mark.parametrize("celsius", [-300.0, 90.0, math.nan, math.inf])
def test_fuel_outside_its_range_is_refused(celsius: float) -> None:
    with pytest.raises(ValueError, match="temperature of avgas"):
        kinematic_viscosity(medium("avgas"), celsius)
    with pytest.raises(ValueError, match="temperature of avgas"):
        liquid_density(medium("avgas"), celsius)


def test_walther_refuses_points_that_do_not_fit() -> None:
    with pytest.raises(ValueError, match="must be above the cold one"):
        walther_constants(200e-6, 100, 20e-6, 40)
    with pytest.raises(ValueError, match="must be thinner"):
        walther_constants(20e-6, 40, 200e-6, 100)
    with pytest.raises(ValueError, match="hot viscosity must be from 2"):
        walther_constants(20e-6, 40, 1e-6, 100)
    with pytest.raises(ValueError, match="viscosity at -120 degC"):
        walther_viscosity(8.5252, 3.2684, -120)
    with pytest.raises(ValueError, match=r"must be above -273\.15 degC"):
        walther_viscosity(8.5252, 3.2684, -273.15)
