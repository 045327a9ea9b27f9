"""The fluids that sensing lines carry: density, viscosity, and what makes them burn."""

from functools import cache
from math import log10, sqrt

from ..dataclass import dataclass
from .tables import optional_number, read_table, unknown
from .validity import kelvin, positive, within

GAS_CONSTANT = 8.314462618
"""Molar gas constant [J/(mol K)]: CODATA 2018, exact."""

AIR_MOLAR_MASS = 0.0289644
"""Mean molar mass of dry air [kg/mol]: US Standard Atmosphere 1976, table 1."""

AIR_HEAT_RATIO = 1.4
"""Ratio of specific heats of air [-]: US Standard Atmosphere 1976, section 1.3.10."""

CENTISTOKE = 1e-6
"""One centistoke [m2/s]."""


@dataclass(frozen=True, slots=True)
class Medium:
    """A fluid of the table `media.csv`; None where the table gives no figure.

    density [kg/m3] at density_temperature [degC]; expansion [1/K] of volume; viscosities kinematic [m2/s]
    at their temperatures [degC]; flash_point [degC]; lower_explosive_limit [fraction of volume]; molar_mass
    [kg/mol] of the vapour or gas; bulk_modulus [Pa]; pour_point [degC]; lowest and highest temperature of
    the figures [degC].
    """

    name: str
    is_liquid: bool
    flammable: bool
    density: float | None
    density_temperature: float | None
    expansion: float | None
    viscosity: float | None
    viscosity_temperature: float | None
    hot_viscosity: float | None
    hot_viscosity_temperature: float | None
    flash_point: float | None
    lower_explosive_limit: float | None
    molar_mass: float | None
    bulk_modulus: float | None
    pour_point: float | None
    lowest: float
    highest: float


def _scaled(text: str, factor: float) -> float | None:
    number = optional_number(text)
    return None if number is None else number * factor


@cache
def media() -> dict[str, Medium]:
    """Every medium of the table, by its name."""
    return {
        row["medium"]: Medium(
            name=row["medium"],
            is_liquid=row["state"] == "liquid",
            flammable=row["flammable"] == "yes",
            density=optional_number(row["density_kgm3"]),
            density_temperature=optional_number(row["density_at_C"]),
            expansion=optional_number(row["expansion_per_K"]),
            viscosity=_scaled(row["viscosity_cSt"], CENTISTOKE),
            viscosity_temperature=optional_number(row["viscosity_at_C"]),
            hot_viscosity=_scaled(row["hot_viscosity_cSt"], CENTISTOKE),
            hot_viscosity_temperature=optional_number(row["hot_viscosity_at_C"]),
            flash_point=optional_number(row["flash_point_C"]),
            lower_explosive_limit=_scaled(row["lel_percent"], 0.01),
            molar_mass=_scaled(row["molar_mass_gmol"], 0.001),
            bulk_modulus=optional_number(row["bulk_modulus_Pa"]),
            pour_point=optional_number(row["pour_point_C"]),
            lowest=float(row["lowest_C"]),
            highest=float(row["highest_C"]),
        )
        for row in read_table("media")
    }


def medium(name: str) -> Medium:
    """The medium called `name`.

    >>> medium("avgas").lower_explosive_limit
    0.013000000000000001
    """
    try:
        return media()[name]
    except KeyError:
        raise unknown("medium", name, media()) from None


def liquid_density(fluid: Medium, temperature: float) -> float:
    """Density [kg/m3] of a liquid at `temperature` [degC], linear from the table's figure.

    >>> round(liquid_density(medium("SAE 50 oil"), 90))
    840
    """
    if fluid.density is None or fluid.density_temperature is None or fluid.expansion is None:
        raise ValueError(f"{fluid.name} has no liquid density in the table; for a gas give its pressure")
    within(f"temperature of {fluid.name}", temperature, fluid.lowest, fluid.highest, "degC")
    return fluid.density * (1 - fluid.expansion * (temperature - fluid.density_temperature))


def kinematic_viscosity(fluid: Medium, temperature: float) -> float:
    """Kinematic viscosity [m2/s] of a liquid at `temperature` [degC].

    Walther's relation where the table has two figures; the one figure where it has one. Below the pour
    point an oil does not flow and a viscosity would mean nothing, so none is given.

    >>> round(kinematic_viscosity(medium("SAE 50 oil"), 90) / CENTISTOKE, 1)
    26.7
    """
    if fluid.viscosity is None or fluid.viscosity_temperature is None:
        raise ValueError(f"{fluid.name} has no liquid viscosity in the table; for air use air_viscosity")
    within(f"temperature of {fluid.name}", temperature, fluid.lowest, fluid.highest, "degC")
    if fluid.pour_point is not None and temperature < fluid.pour_point:
        raise ValueError(
            f"{fluid.name} at {temperature:g} degC is below its pour point of {fluid.pour_point:g} degC: "
            "it does not flow, so it has no viscosity to compute with"
        )
    if fluid.hot_viscosity is None or fluid.hot_viscosity_temperature is None:
        return fluid.viscosity
    a, b = walther_constants(
        fluid.viscosity, fluid.viscosity_temperature, fluid.hot_viscosity, fluid.hot_viscosity_temperature
    )
    return walther_viscosity(a, b, temperature)


def walther_constants(
    cold: float, cold_temperature: float, hot: float, hot_temperature: float
) -> tuple[float, float]:
    """Constants A [-] and B [-] of log10(log10(cSt + 0.7)) = A - B log10(K), from two kinematic viscosities.

    cold [m2/s] at cold_temperature [degC], hot [m2/s] at hot_temperature [degC]. ASTM D341, the form
    without its further terms, which are for less than 2 cSt.

    >>> [round(x, 4) for x in walther_constants(215e-6, 40, 20e-6, 100)]
    [8.5252, 3.2684]
    """
    if not hot_temperature > cold_temperature:
        raise ValueError(
            f"the hot point ({hot_temperature:g} degC) must be above the cold one ({cold_temperature:g})"
        )
    if not hot < cold:
        raise ValueError(f"a hot liquid ({hot:g} m2/s) must be thinner than the cold one ({cold:g} m2/s)")
    within("hot viscosity", hot / CENTISTOKE, 2, 2e7, "cSt")
    within("cold viscosity", cold / CENTISTOKE, 2, 2e7, "cSt")
    cold_log = log10(kelvin("cold temperature", cold_temperature))
    hot_log = log10(kelvin("hot temperature", hot_temperature))
    cold_double = log10(log10(cold / CENTISTOKE + 0.7))
    hot_double = log10(log10(hot / CENTISTOKE + 0.7))
    b = (cold_double - hot_double) / (hot_log - cold_log)
    return cold_double + b * cold_log, b


def walther_viscosity(a: float, b: float, temperature: float) -> float:
    """Kinematic viscosity [m2/s] at `temperature` [degC] by Walther's relation of constants a, b [-].

    Below the pour point the result is an order of magnitude only. ASTM D341, valid from 2 to 2e7 cSt.
    """
    positive("Walther constant A", a, "(no unit)")
    positive("Walther constant B", b, "(no unit)")
    exponent = a - b * log10(kelvin("temperature", temperature))
    # Past this the double power overflows, and is far beyond 2e7 cSt anyway.
    centistokes = 10 ** (10**exponent) - 0.7 if exponent < 1 else 1e10
    return within(f"viscosity at {temperature:g} degC", centistokes, 2, 2e7, "cSt") * CENTISTOKE


def air_viscosity(temperature: float) -> float:
    """Dynamic viscosity [Pa s] of air at `temperature` [degC], by US Standard Atmosphere 1976, eq. 51.

    >>> round(air_viscosity(15) * 1e5, 4)
    1.7894
    """
    t = kelvin("air temperature", within("air temperature", temperature, -80, 400, "degC"))
    return 1.458e-6 * t * sqrt(t) / (t + 110.4)


def air_density(temperature: float, pressure: float) -> float:
    """Density [kg/m3] of dry air at `temperature` [degC] and absolute `pressure` [Pa]: ideal gas.

    >>> round(air_density(15, 101325), 4)
    1.225
    """
    t = kelvin("air temperature", within("air temperature", temperature, -80, 400, "degC"))
    # Beyond ten atmospheres the ideal gas is off by more than a percent in the cold.
    within("air pressure", pressure, 0, 1.01325e6, "Pa")
    return pressure * AIR_MOLAR_MASS / (GAS_CONSTANT * t)


def speed_of_sound(temperature: float) -> float:
    """Speed of sound [m/s] in air at `temperature` [degC]: US Standard Atmosphere 1976, eq. 50.

    >>> round(speed_of_sound(15), 1)
    340.3
    """
    t = kelvin("air temperature", within("air temperature", temperature, -80, 400, "degC"))
    return sqrt(AIR_HEAT_RATIO * GAS_CONSTANT * t / AIR_MOLAR_MASS)
