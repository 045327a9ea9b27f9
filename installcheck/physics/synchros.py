"""Three-wire synchros and tachometer generators: what the pointer does when leads are exchanged or lost.

Angles count counterclockwise, in degrees. Leads are named S1, S2, S3. A connection lists the receiver terminal to which
the transmitter's S1, S2 and S3 go, in that order; ("S1", "S2", "S3") is right.
"""

from enum import Enum
from math import atan2, cos, degrees, radians, sin

from ..dataclass import dataclass
from .validity import finite, not_negative, positive

LEADS = ("S1", "S2", "S3")

Connection = tuple[str, str, str]

AXES = {"S1": 240.0, "S2": 0.0, "S3": 120.0}
"""Axis of each stator winding [deg]: NEETS module 15, with S2 the electrical zero axis."""


class Sense(Enum):
    """Which way a receiver turns for a transmitter turned counterclockwise."""

    COUNTERCLOCKWISE = "counterclockwise"
    CLOCKWISE = "clockwise"


@dataclass(frozen=True, slots=True)
class SynchroLaw:
    """A receiver's reading: `zero` [deg] with the transmitter at zero, and its `sense`.

    An error after a swap changes with the angle, so no constant offset describes it.
    """

    zero: float
    sense: Sense

    def reading(self, transmitter: float) -> float:
        """Receiver angle [deg, 0 to 360] for a `transmitter` angle [deg]."""
        turned = transmitter if self.sense is Sense.COUNTERCLOCKWISE else -transmitter
        return (self.zero + turned) % 360


@dataclass(frozen=True, slots=True)
class OpenLead:
    """A receiver with one stator lead open: it reads t or `mirror` - t [deg] and turns back at `turning_points` [deg]."""

    mirror: float
    turning_points: tuple[float, float]


def synchro_reading(transmitter: float, connection: Connection, rotor_reversed: bool = False) -> float:
    """Receiver angle [deg, 0 to 360] for a `transmitter` angle [deg], from the vector sum of the three line voltages.

    >>> round(synchro_reading(90.0, ("S3", "S2", "S1")))
    270
    """
    finite("transmitter angle", transmitter, "deg")
    _refuse(connection)
    east = north = 0.0
    for lead, terminal in zip(LEADS, connection, strict=True):
        voltage = cos(radians(transmitter - AXES[lead]))
        east += voltage * cos(radians(AXES[terminal]))
        north += voltage * sin(radians(AXES[terminal]))
    return (degrees(atan2(north, east)) + 180 * rotor_reversed) % 360


def synchro_law(connection: Connection, rotor_reversed: bool = False) -> SynchroLaw:
    """How a receiver so connected follows its transmitter: NEETS module 15 tables 1-6 and 1-7.

    >>> law = synchro_law(("S2", "S1", "S3"))
    >>> law.zero, law.sense.value
    (240.0, 'clockwise')
    """
    zero = round(synchro_reading(0.0, connection, rotor_reversed), 6) % 360
    reversed_order = _swaps(connection) % 2 == 1
    return SynchroLaw(zero, Sense.CLOCKWISE if reversed_order else Sense.COUNTERCLOCKWISE)


def open_lead(lead: str) -> OpenLead:
    """What a receiver does with one stator `lead` open.

    The pair left makes a field along one axis, square to the winding that is lost, so that angles that mirror one
    another in that axis look the same. NEETS module 15 table 1-5, recalled.

    >>> open_lead("S2")
    OpenLead(mirror=180.0, turning_points=(90.0, 270.0))
    """
    if lead not in AXES:
        raise ValueError(f"a synchro has stator leads S1, S2 and S3, not {lead!r}")
    axis = (AXES[lead] + 90) % 180
    return OpenLead(2 * axis % 360, (axis, axis + 180))


def lead_imbalance_error(extra: float, leg: float) -> float:
    """Largest error [deg] from one lead with `extra` resistance [ohm], for small shares of the `leg` impedance [ohm].

    A third of the share, in radians: first-order result for a resistive load, for extra up to a tenth of the leg.

    >>> round(lead_imbalance_error(1.0, 100.0), 2)
    0.19
    """
    share = not_negative("extra lead resistance", extra, "ohm") / positive("leg impedance", leg, "ohm")
    if share > 0.1:
        raise ValueError(f"the bound holds for extra resistance up to a tenth of the leg, not {share:.0%}")
    return degrees(share / 3)


class TachometerEffect(Enum):
    """What a synchronous-motor tachometer shows."""

    TRUE = "reads true"
    REVERSED = "motor turns backwards: the pointer is driven against its low stop"
    NO_ROTATING_FIELD = "no rotating field: the motor may not start, or runs rough and low if already turning"


def tachometer_effect(connection: Connection, open_leads: int = 0) -> TachometerEffect:
    """Effect of exchanged or open leads between a three-wire tachometer generator and its indicator.

    Moving all three leads on by one keeps the phase order and changes nothing.

    >>> tachometer_effect(("S2", "S3", "S1")).value, tachometer_effect(("S2", "S1", "S3")).name
    ('reads true', 'REVERSED')
    """
    _refuse(connection)
    if not 0 <= open_leads <= 3:
        raise ValueError(f"a three-wire run has 0 to 3 open leads, not {open_leads}")
    if open_leads:
        return TachometerEffect.NO_ROTATING_FIELD
    return TachometerEffect.REVERSED if _swaps(connection) % 2 else TachometerEffect.TRUE


def generator_frequency(rpm: float, poles: int) -> float:
    """Frequency [Hz] of a generator of `poles` at a shaft speed [rpm]: poles x rpm / 120. It does not depend on voltage.

    >>> generator_frequency(4200.0, 2)
    70.0
    """
    return _poles(poles) * not_negative("shaft speed", rpm, "rpm") / 120


def synchronous_speed(frequency: float, poles: int) -> float:
    """Speed [rpm] of a synchronous motor of `poles` at a `frequency` [Hz]: 120 f / poles.

    >>> synchronous_speed(70.0, 4)
    2100.0
    """
    return 120 * not_negative("frequency", frequency, "Hz") / _poles(poles)


def indicated_speed(
    engine: float, drive_ratio: float, poles: int, expected_ratio: float, expected_poles: int
) -> float:
    """Engine speed [rpm] an indicator shows at true speed `engine` [rpm].

    drive_ratio: generator turns per engine turn as fitted [-]; poles: of the generator fitted. expected_ratio,
    expected_poles: those for which the indicator is scaled.

    >>> indicated_speed(2400.0, 1.0, 2, 0.5, 2)
    4800.0
    """
    frequency = generator_frequency(engine * positive("drive ratio", drive_ratio, "(no unit)"), poles)
    return synchronous_speed(frequency, expected_poles) / positive(
        "expected drive ratio", expected_ratio, "(no unit)"
    )


def _poles(poles: int) -> int:
    if poles < 2 or poles % 2:
        raise ValueError(f"poles come in pairs, 2 or more, not {poles}")
    return poles


def _refuse(connection: Connection) -> None:
    if sorted(connection) != list(LEADS):
        raise ValueError(f"a connection names S1, S2 and S3 once each, not {', '.join(connection)}")


def _swaps(connection: Connection) -> int:
    """How many exchanges of two leads put the connection right."""
    _refuse(connection)
    astray = sum(lead != terminal for lead, terminal in zip(LEADS, connection, strict=True))
    return max(0, astray - 1)
