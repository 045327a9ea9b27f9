"""What is wrong in a world: changes of the installation that the solver and the thermocouple walk can play."""

from __future__ import annotations

from typing import Literal, TypeAlias

from ..dataclass import dataclass
from ..graph import Edge


@dataclass(frozen=True, slots=True)
class Cut:
    """An edge carries nothing: a broken wire, a lost ground, an open breaker, a burnt element."""

    edge: Edge


@dataclass(frozen=True, slots=True)
class Adds:
    """An edge has ``ohms`` more in series."""

    edge: Edge
    ohms: float


@dataclass(frozen=True, slots=True)
class Joins:
    """Two nodes touch, through ``ohms``; ``wires`` are those that do, each somewhere between its ends, where it is one."""

    a: str
    b: str
    ohms: float = 0.0
    wires: tuple[Edge | None, Edge | None] = (None, None)


@dataclass(frozen=True, slots=True)
class Reached:
    """Wires end at other terminals than drawn: (edge, its node, the node it really ends at)."""

    moves: tuple[tuple[Edge, str, str], ...]


@dataclass(frozen=True, slots=True)
class Feels:
    """A sender, probe or gauge port feels ``toward + share * (true - toward) + offset`` [SI, degC].

    ``toward`` is left out where that is what surrounds it: the cabin's air for a gauge port, the zone for a probe.
    """

    source: str
    share: float = 1.0
    offset: float = 0.0
    toward: float | None = None


@dataclass(frozen=True, slots=True)
class Holds:
    """What a source feels no longer moves with the truth: a blocked line, a stuck sender."""

    source: str


@dataclass(frozen=True, slots=True)
class FeelsOther:
    """A source feels what belongs to another: exchanged hoses, a probe in the wrong place."""

    source: str
    other: str


@dataclass(frozen=True, slots=True)
class Sends:
    """A sender's output is ``out`` [ohm, V or A] whatever is true."""

    sender: str
    out: float


@dataclass(frozen=True, slots=True)
class OtherCurve:
    """A sender follows the curve of another ``part`` of the library than drawn."""

    sender: str
    part: str


@dataclass(frozen=True, slots=True)
class Drifts:
    """A sender or probe gives what it should give at ``offset`` [SI] from what it feels."""

    source: str
    offset: float


@dataclass(frozen=True, slots=True)
class Couple:
    """A probe makes the emf of another couple than drawn."""

    probe: str
    kind: str


@dataclass(frozen=True, slots=True)
class Metal:
    """A leg of a run is of another metal than drawn."""

    edge: Edge
    metal: str


@dataclass(frozen=True, slots=True)
class Crossed:
    """The two legs of a thermocouple circuit change sides at its ``edge``, on the probe's side of it."""

    edges: tuple[Edge, ...]


@dataclass(frozen=True, slots=True)
class Shows:
    """A gauge points ``offset`` [SI] off, or stands at ``value``, or does not move (``state``)."""

    indication: str
    offset: float = 0.0
    value: float | None = None
    state: str = ""


@dataclass(frozen=True, slots=True)
class Jumps:
    """A pointer jumps about while the engine runs, and what makes it: at rest a joint or noise may do so, a pressure does not.

    ``indication`` is a gauge by its name, whatever its selector stands at, or with the one position it jumps at.
    ``places`` are those a person would name who moves the leads by hand, each with its probability.
    """

    indication: str
    by: Literal["noise", "joint", "pressure"]
    places: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Counts:
    """A counting gauge shows ``times`` what it should: another number of pulses is set in it, or some are missed or picked up."""

    indication: str
    times: float


@dataclass(frozen=True, slots=True)
class OtherScale:
    """A gauge is made for another sender, that of a part of the library, or for another couple, by its letter (``like``)."""

    indication: str
    like: str


@dataclass(frozen=True, slots=True)
class Weak:
    """A supply gives ``volts``; nothing at 0."""

    supply: str
    volts: float


@dataclass(frozen=True, slots=True)
class Truly:
    """Nothing is wrong but the engine: what is true differs by ``offset`` [SI] from what was taken for it."""

    source: str
    offset: float


@dataclass(frozen=True, slots=True)
class When:
    """A change that is there only with a ``load`` switched on, or only with the engine running at other points than the
    ``sound`` ones. ``by`` are terminals of a gauge it comes in by: it is gone where one of them is off or joined to another."""

    change: Cut | Adds | Shows
    load: str = ""
    sound: tuple[str, ...] = ()
    by: tuple[str, ...] = ()


Change: TypeAlias = (
    Cut
    | Adds
    | Joins
    | Reached
    | Feels
    | Holds
    | FeelsOther
    | Sends
    | OtherCurve
    | Drifts
    | Couple
    | Metal
    | Crossed
    | Shows
    | Jumps
    | OtherScale
    | Counts
    | Weak
    | Truly
    | When
)
World: TypeAlias = tuple[Change, ...]
"""Everything that is wrong at once."""
