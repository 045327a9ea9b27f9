"""Flow of a liquid through restrictors and the segments of a sensing line, one after another.

Every choice errs toward the larger flow: bores are smooth, losses at a change of bore are left out, and in
the critical zone between laminar and turbulent flow the smaller friction is taken.
"""

from collections.abc import Sequence
from math import inf, pi, sqrt

from ..dataclass import dataclass
from .friction import HIGHEST_REYNOLDS, bore_area, friction_factor_unguarded, laminar_resistance
from .validity import not_negative, positive, within

SHARP_EDGE = 0.61
"""Discharge coefficient [-] of a thin sharp-edged hole at high Reynolds number: White, section 6.12."""

SHORT_TUBE = 0.80
"""Discharge coefficient [-] of a drilled hole longer than two bores, recalled: the safe side."""

INLET_LOSS = 0.5
"""Velocity heads [-] lost at a square-edged inlet: White, Fluid Mechanics, section 6.9."""

EXIT_LOSS = 1.0
"""Velocity heads [-] that the jet carries off at the broken end."""


@dataclass(frozen=True, slots=True)
class Segment:
    """A length of one bore: bore [m], length [m], minor_loss [velocity heads] of its elbows and fittings."""

    bore: float
    length: float
    minor_loss: float = 0.0

    def __post_init__(self) -> None:
        positive("bore of a line", self.bore, "m")
        not_negative("length of a line", self.length, "m")
        not_negative("minor loss of a line", self.minor_loss, "velocity heads")


@dataclass(frozen=True, slots=True)
class Restrictor:
    """A drilled hole in the line: bore [m], discharge_coefficient [-], by default the one that leaks most."""

    bore: float
    discharge_coefficient: float = SHORT_TUBE

    def __post_init__(self) -> None:
        positive("bore of a restrictor", self.bore, "m")
        positive("discharge coefficient", self.discharge_coefficient, "(no unit)")
        within("discharge coefficient", self.discharge_coefficient, 0, 1, "(no unit)")


def area_ratio(restrictor_bore: float, line_bore: float) -> float:
    """Area of a restrictor over that of its line [-], from their bores [m]."""
    return bore_area(restrictor_bore) / bore_area(line_bore)


def orifice_flow(
    bore: float, pressure_drop: float, density: float, discharge_coefficient: float = SHORT_TUBE
) -> float:
    """Flow [m3/s] through a hole that is small beside its line: Q = Cd A sqrt(2 dp / rho).

    bore [m], pressure_drop [Pa], density [kg/m3], discharge_coefficient [-]. With oil, below Reynolds number
    1000, the flow may differ by 20 percent. Source: White, Fluid Mechanics, section 6.12.

    >>> fuel = orifice_flow(0.040 * 0.0254, 25 * 6894.757, 720, SHARP_EDGE)
    >>> round(fuel * 60e3, 3)  # L/min
    0.649
    """
    not_negative("pressure drop", pressure_drop, "Pa")
    positive("density", density, "kg/m3")
    hole = Restrictor(bore, discharge_coefficient)
    return hole.discharge_coefficient * bore_area(bore) * sqrt(2 * pressure_drop / density)


def pressure_drop(
    line: Sequence[Segment | Restrictor],
    flow: float,
    density: float,
    kinematic_viscosity: float,
    inlet_loss: float = INLET_LOSS,
    exit_loss: float = EXIT_LOSS,
) -> float:
    """Pressure [Pa] that drives `flow` [m3/s] through a line, its parts in order from the source.

    density [kg/m3], kinematic_viscosity [m2/s]; inlet_loss in velocity heads [-] of the first segment,
    exit_loss in those of the last. A restrictor costs (rho/2) (Q / (Cd A))^2. The pressure its jet wins
    back in the line behind it is not counted: that understates a leak by 3 percent where the hole has a
    quarter of the line's bore, and by more where it has over a half, where it is hardly a restrictor.
    """
    not_negative("flow", flow, "m3/s")
    _check(line, density, kinematic_viscosity, inlet_loss, exit_loss)
    if flow == 0:
        return 0.0
    return _pressure_drop(line, flow, density, kinematic_viscosity, inlet_loss, exit_loss)


def _check(
    line: Sequence[Segment | Restrictor],
    density: float,
    viscosity: float,
    inlet_loss: float,
    exit_loss: float,
) -> None:
    if not line:
        raise ValueError("a line needs at least one segment or restrictor")
    positive("density", density, "kg/m3")
    positive("kinematic viscosity", viscosity, "m2/s")
    not_negative("inlet loss", inlet_loss, "velocity heads")
    not_negative("exit loss", exit_loss, "velocity heads")


def _pressure_drop(
    line: Sequence[Segment | Restrictor],
    flow: float,
    density: float,
    viscosity: float,
    inlet_loss: float,
    exit_loss: float,
) -> float:
    drop = 0.0
    segment_head = None
    for part in line:
        head = density / 2 * (flow / (pi / 4 * part.bore**2)) ** 2
        if isinstance(part, Restrictor):
            drop += head / part.discharge_coefficient**2
            continue
        if segment_head is None:
            drop += inlet_loss * head
        friction = friction_factor_unguarded(4 * flow / (pi * part.bore * viscosity))
        drop += (friction * part.length / part.bore + part.minor_loss) * head
        segment_head = head
    return drop if segment_head is None else drop + exit_loss * segment_head


def line_flow(
    line: Sequence[Segment | Restrictor],
    pressure_difference: float,
    density: float,
    kinematic_viscosity: float,
    inlet_loss: float = INLET_LOSS,
    exit_loss: float = EXIT_LOSS,
) -> float:
    """Flow [m3/s] that `pressure_difference` [Pa] drives through a line, its parts in order from the source.

    density [kg/m3], kinematic_viscosity [m2/s], inlet_loss and exit_loss [velocity heads]. For liquids, and
    for gas while the pressure difference is a few percent of the pressure. The pressure drop grows with the
    flow without exception, so halving a bracket around the flow cannot miss it.
    """
    not_negative("pressure difference", pressure_difference, "Pa")
    _check(line, density, kinematic_viscosity, inlet_loss, exit_loss)
    if pressure_difference == 0:
        return 0.0

    def drop(flow: float) -> float:
        return _pressure_drop(line, flow, density, kinematic_viscosity, inlet_loss, exit_loss)

    low, high = 0.0, _most_flow(line, pressure_difference, density, kinematic_viscosity)
    if drop(high) < pressure_difference * (1 - 1e-9):
        raise ValueError(
            "the line is too short and wide for pipe friction: its Reynolds number would exceed 1e8"
        )
    while high - low > 1e-12 * high:
        middle = (low + high) / 2
        if drop(middle) < pressure_difference:
            low = middle
        else:
            high = middle
    return high


def _most_flow(
    line: Sequence[Segment | Restrictor], pressure_difference: float, density: float, viscosity: float
) -> float:
    """Flow [m3/s] the line cannot exceed: the least that a part alone would pass, or the friction chart's end.

    No friction of ours is below the laminar law, so a segment alone passes at most its laminar flow.
    """
    most = inf
    for part in line:
        if isinstance(part, Restrictor):
            most = min(
                most, orifice_flow(part.bore, pressure_difference, density, part.discharge_coefficient)
            )
            continue
        most = min(most, HIGHEST_REYNOLDS * pi * part.bore * viscosity / 4)
        # A length next to nothing may have a resistance of zero, and sets no bound.
        resistance = laminar_resistance(part.bore, part.length, density * viscosity)
        if resistance > 0:
            most = min(most, pressure_difference / resistance)
    return most
