"""What draws a steady current, on so little voltage that it cannot any more: from there on it takes less, as a resistor does.

Without that a gauge behind a joint of many ohms would have no working point, be left out of the network, and seem to have its
whole voltage.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import field, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from ..analysis.circuit.solved import Circuit
from ..analysis.circuit.states import States
from ..dataclass import dataclass
from ..physics.network_faults import ChangeResistance, Fault, OpenBranch
from ..physics.network_parts import Branch, Network
from ..physics.networks import Solution, solve, solve_with_resistors

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.intp]
SURELY_ALIVE = 0.7
"""Share of its usual voltage above which a device works where its part states no lowest."""
_ROUNDS = 4


@dataclass(frozen=True, slots=True)
class After:
    """What a fault ends in.

    Attributes:
        voltage: of each node [V].
        firm: the same without what gauges and loads that are off at one end let through themselves.
        amps: what flows on through a short that no protector ends [A].
    """

    voltage: FloatArray
    firm: FloatArray
    amps: float


@dataclass
class Draws:
    """The steady draws of gauges and loads in a circuit."""

    net: Circuit
    _made: dict[frozenset[int], States] = field(default_factory=dict)

    @cached_property
    def _needs(self) -> dict[int, tuple[float, float]]:
        """V each draw needs, and ohm it is below that, by its number; those that are not alive as drawn are left out.

        A gauge is a resistor that takes its current at the least it needs, a load one that takes it at the usual voltage, as
        lamps and radios do.
        """
        model, v = self.net.study.model, self.net.solution.voltage
        network = self.net.solution.network
        found: dict[int, tuple[float, float]] = {}
        for number, edge in enumerate(self.net.draw_edge):
            if edge is None or edge.section not in ("indicators", "loads"):
                continue
            usual = float(v[network.draw_start[number]] - v[network.draw_end[number]])
            amps = float(self.net.solution.draw_current[number])
            if not usual > 1.0 or amps <= 0:
                continue
            gauge = model.indicators[edge.ident].spec if edge.section == "indicators" else None
            least = least_of(gauge.supply_voltage if gauge is not None else None, usual)
            found[number] = least, (least if gauge is not None else usual) / amps
        return found

    def after(self, faults: Sequence[Fault]) -> list[After]:
        """What each fault ends in.

        Cost: a factorisation for each set of draws that get too little.
        """
        held: list[frozenset[int]] = [frozenset()] * len(faults)
        found: list[After] = [After(np.zeros(0), np.zeros(0), 0.0)] * len(faults)
        going = list(range(len(faults)))
        for _ in range(_ROUNDS):
            groups: dict[frozenset[int], list[int]] = defaultdict(list)
            for i in going:
                groups[held[i]].append(i)
            going = []
            for some, members in groups.items():
                for end in self._states(some).after([faults[i] for i in members]):
                    i = members[end.number]
                    found[i] = After(end.voltage, found[i].firm if some else end.voltage, end.amps)
                    if isinstance(faults[i], (ChangeResistance, OpenBranch)):
                        more = self._short(end.voltage, end.unsupplied, some)
                        if more:
                            held[i] = some | more
                            going.append(i)
            if not going:
                break
        return found

    def _states(self, held: frozenset[int]) -> States:
        if held not in self._made:
            solution = self.net.solution
            net = replace(self.net, solution=self._resistive(solution, held)) if held else self.net
            self._made[held] = States(net)
        return self._made[held]

    def _short(self, v: FloatArray, unsupplied: Sequence[int], held: frozenset[int]) -> frozenset[int]:
        """Draws that something feeds, and that have less than they need; one that is off at one end takes that to the other."""
        numbers, start, end, least = self._arrays
        across = v[start] - v[end]
        few = across < least
        if unsupplied:
            off = set(unsupplied)
            few |= np.array([n in off for n in numbers.tolist()], dtype=bool)
        few &= across > 0
        few |= np.isnan(v[start]) ^ np.isnan(v[end])
        return frozenset(numbers[few].tolist()) - held

    @cached_property
    def _arrays(self) -> tuple[IntArray, IntArray, IntArray, FloatArray]:
        network, numbers = self.net.solution.network, np.array(list(self._needs), dtype=np.intp)
        least = np.array([least for least, _ in self._needs.values()], dtype=np.float64)
        return numbers, network.draw_start[numbers], network.draw_end[numbers], least

    def _resistive(self, solution: Solution, held: Iterable[int]) -> Solution:
        """The network with draws in the form of resistors, solved."""
        network, some = solution.network, list(held)
        value = network.draw_value.copy()
        value[some] = 0.0
        ends = ((int(network.draw_start[n]), int(network.draw_end[n])) for n in some)
        resistors = [Branch(*pair, self._needs[n][1]) for n, pair in zip(some, ends, strict=True)]
        return solve_with_resistors(solution, resistors, value)

    def settled(self, network: Network) -> tuple[Solution, FloatArray]:
        """A network solved, each draw that gets too little in it in the form of a resistor; and the voltages without those."""
        solution = solve(network)
        firm = solution.voltage
        held: frozenset[int] = frozenset()
        for _ in range(_ROUNDS):
            more = self._short(solution.voltage, solution.unsupplied, held)
            if not more:
                break
            held |= more
            solution = self._resistive(solution, more)
        return solution, firm


def least_of(stated: object, usual: float) -> float:
    """V below which a device does not do what it should: as its part states, else a share of what it usually has."""
    lowest = getattr(stated, "lowest", None)
    if lowest is not None and lowest.kind == "voltage":
        return min(float(lowest), 0.98 * usual)
    return SURELY_ALIVE * usual
