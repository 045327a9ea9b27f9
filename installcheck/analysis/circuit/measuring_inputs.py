"""The measuring circuit of one input of an indicator, laid branch by branch as the instrument has it.

An electronic resistance input feeds its sender through a pull-up from its own excitation; ratio meter and series meter
stand in series with the sender from the supply terminal; a bridge is laid arm by arm; a voltage input loads the signal with
its own resistance; a current loop is a current. An input's return is joined to the indicator's ground inside it, unless
the document says that the input is isolated.
"""

from __future__ import annotations

from dataclasses import field
from functools import lru_cache
from typing import Literal, TypeAlias

from ...dataclass import dataclass
from ...graph.build import return_terminal
from ...model.devices import Curve, Indicator, InputSpec
from ...model.quantities import QuantityError, parse
from ...physics.bulbs import Bridge
from ...physics.network_parts import SMALLEST_RESISTANCE
from .. import missing
from ..missing import Missing
from ..sender_curves import output
from ..study import Study
from ..true_value import Truth
from .assembly import Assembly, wired

INNER, PULL_UP, BRIDGE = missing.INDICATOR_INNER, missing.INDICATOR_PULL_UP, missing.INDICATOR_BRIDGE
SCALE_VOLTAGE = missing.SYSTEM_VOLTAGE
INDICATOR_SUPPLY, INDICATOR_GROUND = missing.INDICATOR_SUPPLY, missing.INDICATOR_GROUND
CURVE, REACH, SENDER_SUPPLY = missing.SENDER_CURVE, missing.SENDER_CURVE_REACH, missing.SENDER_SUPPLY

_ASSUMED_SERIES = 100.0
"""ohm, stands in for an inner resistance not given; what depends on it is named as missing."""
_ASSUMED_EXCITATION, _ASSUMED_PULL_UP = 5.0, 1000.0
"""V and ohm, stand in likewise."""
_ASSUMED_SUPPLY = 14.0
"""V, likewise: the system of most light aircraft."""


How: TypeAlias = Literal["resistance", "divider", "bridge", "voltage", "current"]


@dataclass(frozen=True, slots=True)
class Meter:
    """Where an input looks at the network, by node numbers.

    Attributes:
        how: what it takes from the voltages: a resistance by the current through ``series``, one by the voltage at the
            foot of a pull-up of ``series``, a bridge's detector current through ``series``, a voltage, or a current
            through ``series``.
        feed, high, low: supply of the sensing circuit, signal, and the input's own return.
        other: the far side of a bridge's detector; ``high`` otherwise.
        series: ohm between feed and signal, of the detector, or of the loop resistor.
        scale: V the scale is drawn for; ``None`` where the reading follows the supply voltage out.
        allowance: ohm of lead the calibration allows for.
        bridge: the bridge as its scale was drawn.
        power: supply and ground terminal, to tell a dead indicator; ``None`` without supply terminals.
        assumed: data that bear on what other currents and the supply voltage do to the reading.
        needed: data without which there is no reading.
    """

    how: How
    feed: int
    high: int
    low: int
    other: int
    series: float = 0.0
    scale: float | None = None
    allowance: float = 0.0
    bridge: Bridge | None = None
    power: tuple[int, int] | None = None
    assumed: tuple[Missing, ...] = ()
    needed: tuple[Missing, ...] = ()


@dataclass(frozen=True, slots=True)
class LaidInput:
    """The circuit of one input, alike at every operating point.

    Attributes:
        key: indicator and input.
        branches: from where to where, ohm and V.
        outlets: terminals that feed transducers, each with the number of its branch among these.
        ends: feed, high, low and other of its meter, by name; ``power`` likewise.
        meter: that meter, its numbers still to come.
    """

    key: tuple[str, str]
    branches: tuple[tuple[str, str, float, float], ...]
    outlets: tuple[tuple[str, int], ...]
    ends: tuple[str, ...]
    power: tuple[str, str] | None
    meter: Meter

    def lay(self, assembly: Assembly, made: Measuring) -> None:
        """Lay it, and note where its meter looks."""
        first = len(assembly.branches)
        for a, b, ohm, volts in self.branches:
            assembly.branch(a, b, fixed=ohm, emf=volts)
        made.outlets.update((node, first + n) for node, n in self.outlets)
        nodes = assembly.nodes
        feed, high, low, other = [nodes.setdefault(end, len(nodes)) for end in self.ends]
        power = self.power and (assembly.node(self.power[0]), assembly.node(self.power[1]))
        of = self.meter
        made.meters[self.key] = Meter(
            of.how,
            feed,
            high,
            low,
            other,
            of.series,
            of.scale,
            of.allowance,
            of.bridge,
            power,
            of.assumed,
            of.needed,
        )


@dataclass(slots=True)
class Inputs:
    """The circuits of all inputs read from a sender while they are found.

    ``tied`` are nodes taken to be at ground because the document does not wire them; ``loose`` nodes of circuits that
    may float, which are given a potential through a resistance too large to matter. ``seen`` are the voltage and ground
    terminals already laid.
    """

    tied: list[str] = field(default_factory=list)
    loose: list[str] = field(default_factory=list)
    seen: set[str] = field(default_factory=set)


@dataclass(frozen=True, slots=True)
class Sensed:
    """A sender as laid: its true value, its output there, its curve, and what the document lacks of it."""

    truth: Truth | None
    output: float | None
    curve: Curve | None
    missing: tuple[Missing, ...] = ()


@dataclass(slots=True)
class Follower:
    """A transducer whose output follows its supply: branch, supply nodes, output at the nominal supply, that supply."""

    branch: int
    plus: int
    minus: int
    output: float
    nominal: float


@dataclass(slots=True)
class Measuring:
    """All measuring circuits of an installation at one point; ``outlets`` as in :class:`LaidInput`, by number of branch."""

    tied: tuple[str, ...]
    loose: tuple[str, ...]

    meters: dict[tuple[str, str], Meter] = field(default_factory=dict)
    senders: dict[str, Sensed] = field(default_factory=dict)
    followers: list[Follower] = field(default_factory=list)
    outlets: dict[str, int] = field(default_factory=dict)


@lru_cache(maxsize=4096)
def volts_of(name: str) -> float | None:
    """The voltage a terminal is named for: '5 V' as 5."""
    try:
        return float(parse(name, "voltage"))
    except QuantityError:
        return None


class InputCircuit:
    """One input of an indicator while its circuit is found."""

    def __init__(
        self, study: Study, made: Inputs, ident: str, indicator: Indicator, name: str, spec: InputSpec
    ) -> None:
        self.study, self.made, self.ident, self.indicator = study, made, ident, indicator
        self.name, self.spec = name, spec
        self.names = list(spec.terminals or ())
        self.assumed: list[Missing] = []
        self.needed: list[Missing] = []
        self.branches: list[tuple[str, str, float, float]] = []
        self.outlets: list[tuple[str, int]] = []
        supply = indicator.spec.supply_terminals
        self.power = f"{ident}.{supply[0]}" if supply else None
        self.ground = f"{ident}.{supply[1]}" if supply else None

    def at(self, terminal: str) -> str:
        return f"{self.ident}.{terminal}"

    def inner(self, what: str) -> str:
        return f"{self.ident}:{self.name}:{what}"

    def branch(self, a: str, b: str, *, fixed: float, emf: float = 0.0) -> None:
        self.branches.append((a, b, fixed, emf))

    def wired(self, node: str) -> bool:
        return wired(self.study, node)

    def found(self) -> LaidInput:
        self._outlets()
        principle = self.spec.principle
        if principle == "bridge":
            return self._bridge()
        if principle == "voltage":
            return self._voltage()
        if principle == "current loop":
            return self._loop()
        return self._series()

    def _outlets(self) -> None:
        """Terminals named for a voltage feed transducers with it; those named for ground are the indicator's ground."""
        ground = self.ground
        if ground is not None and not self.wired(ground):
            self.assumed.append(INDICATOR_GROUND)
            if ground not in self.made.tied:
                self.made.tied.append(ground)
        base = ground or self.inner("ground")
        for terminal in dict.fromkeys((*self.names, *(self.indicator.spec.terminals or ()))):
            node = self.at(terminal)
            if node in self.made.seen or not self.wired(node):
                continue
            self.made.seen.add(node)
            volts = volts_of(terminal)
            if volts:
                self.outlets.append((node, len(self.branches)))
                self.branch(base, node, fixed=SMALLEST_RESISTANCE, emf=volts)
            elif "ground" in terminal and ground is not None and node != ground:
                self.branch(node, ground, fixed=SMALLEST_RESISTANCE)

    def low(self, given: str | None) -> str:
        """The node the input measures against: its own return joined to the indicator's ground, or the ground alone."""
        if given is None:
            back = return_terminal(self.indicator)
            node = self.at(back) if back is not None else self.inner("ground")
            if back is None:
                self.assumed.append(INDICATOR_GROUND)
                self.made.tied.append(node)
            return node
        node = self.at(given)
        if self.ground is not None and node != self.ground:
            if self.spec.input_grounding == "isolated":
                self.made.loose.append(node)
            elif "ground" not in given:
                self.branch(node, self.ground, fixed=SMALLEST_RESISTANCE)
        elif self.ground is None:
            self.made.loose.append(node)
        return node

    def feed(self, low: str, own: float | None) -> tuple[str, float | None]:
        """The node the sensing circuit is fed from, and the voltage the scale is drawn for; ``own`` is its excitation."""
        if own is not None:
            node = self.inner("feed")
            self.branch(low, node, fixed=SMALLEST_RESISTANCE, emf=own)
            return node, None
        system = self.study.model.aircraft.system_voltage
        nominal = float(system) if system is not None else None
        ratiometric = self.spec.ratiometric or self.spec.principle == "ratio meter"
        if nominal is None and not ratiometric:
            self.assumed.append(SCALE_VOLTAGE)
        scale = None if ratiometric else nominal
        if self.power is not None and self.wired(self.power):
            return self.power, scale
        self.assumed.append(INDICATOR_SUPPLY)
        node = self.power or self.inner("feed")
        self.branch(low, node, fixed=SMALLEST_RESISTANCE, emf=nominal or _ASSUMED_SUPPLY)
        return node, scale

    def meter(
        self,
        how: How,
        feed: str,
        high: str,
        low: str,
        other: str | None = None,
        *,
        series: float = 0.0,
        scale: float | None = None,
        allowance: float = 0.0,
        bridge: Bridge | None = None,
    ) -> LaidInput:
        power = None
        if self.power is not None and self.ground is not None and self.wired(self.power):
            power = (self.power, self.ground)
        assumed, needed = tuple(dict.fromkeys(self.assumed)), tuple(self.needed)
        return LaidInput(
            (self.ident, self.name),
            tuple(self.branches),
            tuple(self.outlets),
            (feed, high, low, other or high),
            power,
            Meter(how, -1, -1, -1, -1, series, scale, allowance, bridge, None, assumed, needed),
        )

    def _series(self) -> LaidInput:
        spec = self.spec
        low = self.low(self.names[1] if len(self.names) > 1 else None)
        own = float(spec.excitation) if spec.excitation is not None else None
        series = spec.pull_up if spec.principle == "electronic resistance" else spec.inner_resistance
        if series is None and spec.principle == "electronic resistance":
            self.assumed.append(PULL_UP)
            own = own if own is not None else _ASSUMED_EXCITATION
        elif series is None:
            self.assumed.append(INNER)
        ohm = float(series) if series else (_ASSUMED_PULL_UP if own is not None else _ASSUMED_SERIES)
        feed, scale = self.feed(low, own)
        high = self.at(self.names[0])
        self.branch(feed, high, fixed=ohm)
        allowance = float(spec.lead_allowance or 0.0)
        how: How = "divider" if spec.principle == "electronic resistance" else "resistance"
        return self.meter(how, feed, high, low, series=ohm, scale=scale, allowance=allowance)

    def _bridge(self) -> LaidInput:
        spec = self.spec
        balance = None
        if spec.bridge_balance is not None and spec.curve is not None:
            try:
                balance = output(spec.curve, float(spec.bridge_balance))
            except ValueError:
                balance = None
        three = len(self.names) > 2
        low = self.low(self.names[2] if three else self.names[1] if len(self.names) > 1 else None)
        own = float(spec.excitation) if spec.excitation is not None else None
        feed, scale = self.feed(low, own)
        high, far = self.at(self.names[0]), self.inner("comparison")
        if spec.bridge_arm is None or spec.detector_resistance is None or balance is None:
            self.needed.append(BRIDGE)
            return self.meter("bridge", feed, high, low)
        arm, detector = float(spec.bridge_arm), float(spec.detector_resistance)
        self.branch(feed, high, fixed=arm)
        self.branch(feed, far, fixed=arm)
        self.branch(far, self.at(self.names[1]) if three else low, fixed=balance)
        self.branch(high, far, fixed=detector)
        drawn = Bridge(arm, arm, balance, detector, scale or own or _ASSUMED_SUPPLY)
        return self.meter(
            "bridge",
            feed,
            high,
            low,
            far,
            series=detector,
            scale=scale,
            bridge=drawn,
            allowance=float(spec.lead_allowance or 0.0),
        )

    def _voltage(self) -> LaidInput:
        signal = self.names[1] if len(self.names) > 2 else self.names[0]
        given = self.names[2] if len(self.names) > 2 else self.names[1] if len(self.names) > 1 else None
        low, high = self.low(given), self.at(signal)
        if self.spec.inner_resistance:
            self.branch(high, low, fixed=float(self.spec.inner_resistance))
        if self.spec.pull_up is not None:
            own = float(self.spec.excitation) if self.spec.excitation is not None else None
            feed, _ = self.feed(low, own)
            self.branch(feed, high, fixed=float(self.spec.pull_up))
        return self.meter("voltage", high, high, low)

    def _loop(self) -> LaidInput:
        ohm = float(self.spec.inner_resistance or 0.0) or _ASSUMED_SERIES
        if len(self.names) < 2:
            low, high = self.low(None), self.at(self.names[0])
            self.branch(high, low, fixed=ohm)
            return self.meter("current", high, high, low, series=ohm)
        low = self.low(None)
        feed, _ = self.feed(low, float(self.spec.excitation) if self.spec.excitation is not None else None)
        self.branch(feed, self.at(self.names[0]), fixed=SMALLEST_RESISTANCE)
        high = self.at(self.names[1])
        self.branch(high, low, fixed=ohm)
        return self.meter("current", feed, high, low, series=ohm)
