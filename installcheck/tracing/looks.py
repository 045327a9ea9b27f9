"""What a person looks at, in which state of the aircraft, and what is seen: one form for observations and for tests."""

from __future__ import annotations

from dataclasses import field
from typing import Literal, TypeAlias

from ..dataclass import dataclass
from ..document.source import DocPath

STOPPED = "engine stopped"
"""The state in which everything is at the temperature of the day, nothing is under pressure, and the master may be on."""


@dataclass(frozen=True, slots=True)
class Setup:
    """The state of the aircraft for a look.

    Attributes:
        point: operating point by name, 'engine stopped', or empty for the usual one.
        loads: loads that are switched otherwise than the point says: (id, on).
        lifted: terminals whose wires are taken off, or of the thing that is disconnected.
        joined: terminals joined for the test: (one, other, ohms).
        replaced: senders a resistor stands in for: (sender, ohms).
        swapped: two probes, senders or inputs that are exchanged for the test; the second may be a sound spare ('').
        known: true values known at the time: (source or indication, SI).
        bathed: probes and senders taken out and held, still joined, in a bath: (source, degC).
    """

    point: str = ""
    loads: tuple[tuple[str, bool], ...] = ()
    lifted: tuple[str, ...] = ()
    joined: tuple[tuple[str, str, float], ...] = ()
    replaced: tuple[tuple[str, float], ...] = ()
    swapped: tuple[str, str] | None = None
    known: tuple[tuple[str, float], ...] = ()
    bathed: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Show:
    """What an indication shows; ``name`` as :attr:`Indication.name`, with the position of its selector."""

    name: str
    position: str | None = None

    def __str__(self) -> str:
        return f"{self.name} at {self.position}" if self.position else self.name


@dataclass(frozen=True, slots=True)
class Volts:
    """Voltage from one node to another, power on."""

    a: str
    b: str

    def __str__(self) -> str:
        return f"{self.a} to {self.b}"


@dataclass(frozen=True, slots=True)
class Ohms:
    """Resistance between two nodes, power off, the gauges lifted."""

    a: str
    b: str

    def __str__(self) -> str:
        return f"{self.a} to {self.b}"


@dataclass(frozen=True, slots=True)
class TrueValue:
    """What a test instrument shows: at a tap or beside a probe what is true, ``at_port`` what arrives where it is read."""

    source: str
    at_port: bool = False

    def __str__(self) -> str:
        return self.source


@dataclass(frozen=True, slots=True)
class Holding:
    """Whether a line and its gauge hold a pressure or suction put on at the tap's end."""

    name: str

    def __str__(self) -> str:
        return self.name


@dataclass(frozen=True, slots=True)
class Answers:
    """Which indication moves when one probe or sender is warmed by hand or hot air."""

    source: str
    name: str

    def __str__(self) -> str:
        return self.name


@dataclass(frozen=True, slots=True)
class Shaken:
    """Whether a pointer jumps as its leads and joints are moved by hand."""

    name: str

    def __str__(self) -> str:
        return self.name


@dataclass(frozen=True, slots=True)
class Marked:
    """Whether the marks of a thing are those of the drawing: the part number of a part or lead, the wires at a plug."""

    thing: str

    def __str__(self) -> str:
        return self.thing


@dataclass(frozen=True, slots=True)
class Followed:
    """Where the supply of a gauge is lost, followed by a voltmeter from its bus to the gauge, and from the gauge to ground."""

    indicator: str

    def __str__(self) -> str:
        return f"supply of {self.indicator}"


@dataclass(frozen=True, slots=True)
class Rung:
    """Where a lead of an indication no longer rings through, from joint to joint, its gauge and its sender off."""

    name: str

    def __str__(self) -> str:
        return f"leads of {self.name}"


@dataclass(frozen=True, slots=True)
class Insulated:
    """Which wire of an indication or of its supply reads to ground, to a bus or to a wire beside it, each lifted at both ends in turn."""

    name: str

    def __str__(self) -> str:
        return f"insulation of {self.name}"


@dataclass(frozen=True, slots=True)
class Compared:
    """Which parts and wires of an indication, from its gauge to its sender, are not marked as drawn."""

    name: str

    def __str__(self) -> str:
        return f"markings of {self.name}"


Look: TypeAlias = (
    Show
    | Volts
    | Ohms
    | TrueValue
    | Holding
    | Answers
    | Shaken
    | Marked
    | Compared
    | Followed
    | Rung
    | Insulated
)

Word: TypeAlias = Literal[
    "right", "wrong", "high", "low", "off scale high", "off scale low", "dead", "frozen", "erratic",
    "open", "holds", "falls", "moves", "still", "lost", "starved", "closed", "floats", "relaid",
]  # fmt: skip
"""What is seen where that is no number. 'open': the meter shows no end. 'holds', 'falls': a pressure put on a line.
'moves', 'still': whether a pointer answers. 'starved', 'closed', 'floats' and 'relaid' are expected, never told: a gauge on too
little supply, ohms that are not known but that they end, volts of what nothing firm holds, a probe that may have been laid otherwise."""
WORDS: tuple[Word, ...] = (
    "right", "wrong", "high", "low", "off scale high", "off scale low", "dead", "frozen", "erratic",
    "open", "holds", "falls", "moves", "still",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Result:
    """What was seen: a value in SI with the unit it was told in, or a word; ``at`` names the place that gave it, where one did.

    A value with the word 'high' or 'low' is one that was told by how far it is off.
    """

    value: float | None = None
    word: Word | None = None
    unit: str = ""
    kind: str = ""
    text: str = ""
    at: str = ""


@dataclass(frozen=True, slots=True)
class Observation:
    """One look with its result, and where it is written.

    Attributes:
        at: state of the aircraft.
        look: what was looked at.
        result: what was seen.
        said: the words it was told in.
        path: its place in the document; empty for one told on the command line.
    """

    at: Setup
    look: Look
    result: Result
    said: str
    path: DocPath = field(default=())
