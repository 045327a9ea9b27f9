"""What a broken line spills: the leak, the time until the oil is gone or the vapour can explode."""

from collections.abc import Sequence

from .flow import Restrictor, Segment, line_flow
from .media import GAS_CONSTANT
from .validity import kelvin, not_negative, positive, within

LITRE = 1e-3
"""One litre [m3]."""

US_QUART = 231 * 0.0254**3 / 4
"""One US liquid quart [m3]: a quarter gallon of 231 cubic inches, NIST Handbook 44, appendix C."""


def line_up_to(line: Sequence[Segment | Restrictor], distance: float) -> tuple[Segment | Restrictor, ...]:
    """The part of a line between the source and a break at `distance` [m] along it.

    A restrictor at the very start belongs to the source's port and stays. One further along counts only if
    the break lies beyond it; at its own place the break is taken on the source side. The fittings of a
    segment that breaks short of its end count for nothing. All this errs toward the larger leak.
    """
    not_negative("distance to the break", distance, "m")
    total = sum(part.length for part in line if isinstance(part, Segment))
    # A break at the far end, its distance written as a sum of lengths, may miss it by a rounding.
    if distance > total * (1 + 1e-9):
        raise ValueError(f"a break at {distance:g} m lies beyond the end of the line at {total:g} m")
    upstream: list[Segment | Restrictor] = []
    passed = 0.0
    entered = False
    for part in line:
        if entered and distance <= passed:
            break
        if isinstance(part, Segment):
            entered = True
            if distance < passed + part.length:
                upstream.append(Segment(part.bore, distance - passed))
                break
            passed += part.length
        upstream.append(part)
    return tuple(upstream)


def burst_leak(
    line: Sequence[Segment | Restrictor],
    distance: float,
    pressure_difference: float,
    density: float,
    kinematic_viscosity: float,
) -> float:
    """Leak [m3/s] of a line broken clean through at `distance` [m] from a source that keeps its pressure.

    pressure_difference [Pa] from the source to the place of the break, density [kg/m3], kinematic_viscosity
    [m2/s]. Only the source side feeds the leak; the gauge side drains what it holds.
    """
    return line_flow(line_up_to(line, distance), pressure_difference, density, kinematic_viscosity)


def litres_per_minute(flow: float) -> float:
    """`flow` [m3/s] in litres per minute [L/min]."""
    return not_negative("flow", flow, "m3/s") / LITRE * 60


def quarts_per_minute(flow: float) -> float:
    """`flow` [m3/s] in US quarts per minute [US qt/min]."""
    return not_negative("flow", flow, "m3/s") / US_QUART * 60


def time_to_lose(quantity: float, flow: float) -> float:
    """Time [s] in which a steady `flow` [m3/s] takes `quantity` [m3]: the pump keeps up the pressure."""
    return not_negative("quantity", quantity, "m3") / positive("flow", flow, "m3/s")


def quantity_spilled(flow: float, time: float, line_inventory: float = 0.0) -> float:
    """Liquid [m3] that leaves in `time` [s] until the cock is shut, and then drains from the line."""
    not_negative("flow", flow, "m3/s")
    not_negative("time", time, "s")
    return flow * time + not_negative("line inventory", line_inventory, "m3")


def vapour_volume(
    liquid: float, density: float, molar_mass: float, temperature: float, pressure: float = 101325.0
) -> float:
    """Volume of vapour [m3] from `liquid` [m3] evaporated to the last drop, as an ideal gas.

    density [kg/m3], molar_mass [kg/mol], temperature [degC], pressure [Pa].
    """
    not_negative("liquid", liquid, "m3")
    moles = liquid * positive("density", density, "kg/m3") / positive("molar mass", molar_mass, "kg/mol")
    return moles * GAS_CONSTANT * kelvin("temperature", temperature) / positive("pressure", pressure, "Pa")


def liquid_to_explosive_limit(
    lower_explosive_limit: float,
    cabin_volume: float,
    density: float,
    molar_mass: float,
    temperature: float,
    pressure: float = 101325.0,
) -> float:
    """Liquid [m3] whose vapour brings a closed, evenly mixed cabin to the lower explosive limit.

    lower_explosive_limit [fraction of volume], cabin_volume [m3], density [kg/m3], molar_mass [kg/mol],
    temperature [degC], pressure [Pa]. Near the leak, and low down where fuel vapour settles, the limit is
    reached far sooner.
    """
    within("lower explosive limit", lower_explosive_limit, 0, 1, "of volume")
    positive("cabin volume", cabin_volume, "m3")
    vapour = positive("lower explosive limit", lower_explosive_limit, "of volume") * cabin_volume
    return vapour / vapour_volume(1.0, density, molar_mass, temperature, pressure)


def time_to_explosive_limit(
    leak: float,
    lower_explosive_limit: float,
    cabin_volume: float,
    density: float,
    molar_mass: float,
    temperature: float,
    pressure: float = 101325.0,
) -> float:
    """Time [s] until a `leak` [m3/s] brings a closed, evenly mixed cabin to the lower explosive limit.

    All of it evaporates and none is blown out: the worst case. Other arguments as for
    `liquid_to_explosive_limit`.
    """
    liquid = liquid_to_explosive_limit(
        lower_explosive_limit, cabin_volume, density, molar_mass, temperature, pressure
    )
    return time_to_lose(liquid, leak)
