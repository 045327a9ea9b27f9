"""Play single faults through a solved network without factoring it again.

Opening, shorting or changing one branch is a rank-one change of the matrix: the faulted potentials follow from the
factor at hand (Sherman and Morrison, Ann. Math. Stat. 21 (1950) 124). A branch whose loss cuts a part off is found by
the shape of the network, not by a vanishing number, so a part held on by megohms is never mistaken for a floating one.
Many faults of a large network are each worked out in their region, as long as no load elsewhere loses or gains its voltage.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from typing import NamedTuple

import numpy as np

from .network_faulted import (
    Afresh,
    ChangeResistance,
    DeadSource,
    Fault,
    Faulted,
    Joined,
    OpenBranch,
    Settling,
    Short,
)
from .network_parts import LARGEST_RESISTANCE, SMALLEST_RESISTANCE, Network
from .network_regions import REGION
from .network_settling import Changes, Settled, settle
from .network_state import settle_alone
from .network_system import Equations, block_width, responses
from .network_topology import SAME_POTENTIAL, BoolArray, FloatArray, IntArray
from .networks import Solution

__all__ = [
    "ChangeResistance",
    "DeadSource",
    "Fault",
    "Faulted",
    "OpenBranch",
    "Short",
    "play_as_it_comes",
    "play_fault",
    "play_faults",
]

_MANY = 32
"""Faults from which dividing a network in regions pays (measured)."""
_LARGE = 3 * REGION
"""Rows of a network from which it does."""


def play_fault(solution: Solution, fault: Fault) -> Faulted:
    """The network of `solution` with one fault.

    >>> from .networks import Branch, solve
    >>> good = solve(Network.of(2, [Branch(0, 1, 1.0, 12.0), Branch(1, 0, 5.0)]))
    >>> play_fault(good, Short(1, 0)).fault_current
    12.0
    """
    return next(play_faults(solution, [fault]))


def play_faults(solution: Solution, faults: Iterable[Fault]) -> Iterator[Faulted]:
    """Yield the network of `solution` with each fault in turn, in the order given.

    Faults are worked in blocks, each for the price of a few multiplications; the few that change which nodes are one
    (an ideal branch opened, two parts joined) or that bring the supply to its limit are solved afresh.
    """
    found: dict[int, Faulted] = {}
    turn = 0
    for i, faulted in play_as_it_comes(solution, faults):
        found[i] = faulted
        while turn in found:
            yield found.pop(turn)
            turn += 1


def play_as_it_comes(solution: Solution, faults: Iterable[Fault]) -> Iterator[tuple[int, Faulted]]:
    """Yield the number of each fault and the network with it, those worked together one after another: so few are held."""
    given = list(faults)
    for fault in given:
        _refuse(solution.network, fault)
    divided = len(given) >= _MANY and solution.system.count >= _LARGE and solution.regions.worth
    everywhere: list[_Place] = []
    in_region: dict[int, list[_Place]] = defaultdict(list)
    for i, fault in enumerate(given):
        column = _column(solution, fault)
        if column is None:
            yield i, Joined.of(solution, fault) or Afresh.of(solution, fault)
            continue
        apart = column.p != column.q or column.branch < 0
        number = solution.regions.number(column.p, column.q) if divided and apart else None
        (everywhere if number is None else in_region[number]).append(_Place(i, fault, column))
    for number, places in in_region.items():
        width = block_width(solution.regions.of(number).count)
        for at in range(0, len(places), width):
            some = places[at : at + width]
            for place, faulted in zip(some, _in_region(solution, number, some), strict=True):
                if faulted is None:
                    everywhere.append(place)
                else:
                    yield place.turn, faulted
    width = block_width(solution.system.count)
    for at in range(0, len(everywhere), width):
        places = everywhere[at : at + width]
        for place, faulted in zip(places, _everywhere(solution, places), strict=True):
            yield place.turn, faulted


def _refuse(network: Network, fault: Fault) -> None:
    nodes = (fault.first, fault.second) if isinstance(fault, Short) else ()
    branches = () if isinstance(fault, Short) else (fault.branch,)
    if not all(0 <= node < network.node_count for node in nodes):
        raise ValueError(f"{fault} names a node outside the network of {network.node_count} nodes")
    if not all(0 <= branch < len(network.start) for branch in branches):
        raise ValueError(f"{fault} names a branch outside the network of {len(network.start)} branches")
    if isinstance(fault, (Short, ChangeResistance)) and not (
        fault.resistance == 0 or SMALLEST_RESISTANCE <= fault.resistance <= LARGEST_RESISTANCE
    ):
        limits = f"{SMALLEST_RESISTANCE:g} to {LARGEST_RESISTANCE:g} ohm"
        raise ValueError(f"{fault} must have a resistance of 0, or {limits}")


class _Column(NamedTuple):
    """What one fault does to the equations; see `Changes`. `cut` is the range of `enter` numbers cut off."""

    branch: int
    p: int
    q: int
    old: float
    new: float
    emf: float
    hard: bool = False
    cut: tuple[int, int] | None = None

    def moved(self, rows: IntArray, branches: IntArray) -> "_Column":
        """The column in equations that have only some of the `branches`, and other numbers for `rows`."""
        branch = int(np.searchsorted(branches, self.branch)) if self.branch >= 0 else -1
        return self._replace(branch=branch, p=int(rows[self.p]), q=int(rows[self.q]))


_NOTHING = _Column(-1, -1, -1, 0.0, 0.0, 0.0)
"""The column of a fault that changes nothing; row -1 is the last, the reference."""


class _Place(NamedTuple):
    """A fault with its turn among those given, and its column."""

    turn: int
    fault: Fault
    column: _Column


def _column(solution: Solution, fault: Fault) -> _Column | None:
    """The column of a fault, or None if it must be solved afresh."""
    system, network = solution.system, solution.network
    if system.conflict.any():
        return None
    if isinstance(fault, Short):
        return _short_column(solution, fault)
    k = fault.branch
    p, q, g, e = int(system.p[k]), int(system.q[k]), float(system.conductance[k]), float(system.emf[k])
    if network.is_open[k] and not isinstance(fault, ChangeResistance):
        return _NOTHING
    if network.is_open[k] or system.ideal[k]:
        return None
    if isinstance(fault, DeadSource):
        return _Column(k, p, q, g, g, e - float(network.emf[k]))
    if isinstance(fault, ChangeResistance):
        if fault.resistance > 0:
            return _Column(k, p, q, g, 1 / fault.resistance, e)
        one_group = system.group[network.start[k]] == system.group[network.end[k]]
        return None if one_group else _Column(k, p, q, g, g, e, True)
    cut = system.bridges.cut_off(k)
    return _Column(k, p, q, g, g if cut else 0.0, e, cut=cut)


def _short_column(solution: Solution, fault: Short) -> _Column | None:
    system = solution.system
    a, b = fault.first, fault.second
    if system.island[a] != system.island[b]:
        return None
    emf = float(system.offset[a] - system.offset[b])
    p, q = int(system.row[a]), int(system.row[b])
    if fault.resistance > 0:
        return _Column(-1, p, q, 0.0, 1 / fault.resistance, emf)
    if system.group[a] != system.group[b]:
        return _Column(-1, p, q, 0.0, 0.0, emf, True)
    return None if abs(emf) > SAME_POTENTIAL else _NOTHING


def _everywhere(solution: Solution, places: list[_Place]) -> Iterator[Faulted]:
    """Settle the whole network for each fault."""
    columns = [place.column for place in places]
    changes = _changes(solution.system, columns, _draws_on(solution, columns))
    if len(columns) == 1:
        settled = settle_alone(solution.system, changes.draws_on[:, 0], changes)
    else:
        settled = settle(solution.system, changes)
    for j, (_, fault, column) in enumerate(places):
        if settled.done[j]:
            settling = Settling(settled.potential[:, j], settled.supplied[:, j])
            yield _faulted(solution, fault, column, settled, j, lambda settling=settling: settling)  # type: ignore[misc]
        else:
            yield Afresh.of(solution, fault)


def _in_region(solution: Solution, number: int, places: list[_Place]) -> Iterator[Faulted | None]:
    """Settle a region for each fault; `None` for one that reaches further."""
    system, regions = solution.system, solution.regions
    region = regions.of(number)
    draws_on = _draws_on(solution, [place.column for place in places])
    columns = [place.column.moved(region.here, region.branches) for place in places]
    held = np.ones((len(region.draw_p) - len(region.draws), len(places)), dtype=bool)
    changes = _changes(region, columns, np.concatenate((draws_on[region.draws], held)))
    near = np.asarray(draws_on[region.elsewhere].all(axis=0))
    settled = settle(region, changes, lambda x, some: near[some] & regions.holds(region, x))
    for j, (place, column) in enumerate(zip(places, columns, strict=True)):
        if not settled.done[j]:
            yield None
            continue
        x, supplied = settled.potential[:, j].copy(), settled.supplied[: len(region.draws), j].copy()

        def settling(x: FloatArray = x, supplied: BoolArray = supplied) -> Settling:
            drawing = system.joined.copy()
            drawing[region.draws] = supplied
            return Settling(regions.whole(region, x), drawing)

        yield _faulted(solution, place.fault, column, settled, j, settling)


def _faulted(
    solution: Solution,
    fault: Fault,
    column: _Column,
    settled: Settled,
    j: int,
    settling: Callable[[], Settling],
) -> Faulted:
    x = settled.potential[:, j]
    if isinstance(fault, OpenBranch):
        current = 0.0
    elif column.hard:
        current = float(settled.hard_current[j])
    else:
        current = column.new * float(x[column.p] - x[column.q] + column.emf)
    return Faulted(fault, False, current, solution, settling, column.cut)


def _draws_on(solution: Solution, columns: list[_Column]) -> BoolArray:
    """Which draws of the whole network still have a circuit, one column a fault."""
    system, network = solution.system, solution.network
    on = np.ones((len(network.draw_value), len(columns)), dtype=bool)
    for j, column in enumerate(columns):
        if column.cut:
            below = system.bridges.within(column.cut)[system.group]
            on[:, j] = below[network.draw_start] == below[network.draw_end]
    return on


def _changes(system: Equations, columns: list[_Column], draws_on: BoolArray) -> Changes:
    """The columns as arrays."""
    branch, p, q = (np.array([c[i] for c in columns], dtype=np.intp) for i in (0, 1, 2))
    old, new, emf = (np.array([c[i] for c in columns], dtype=np.float64) for i in (3, 4, 5))
    response = responses(system, p, q)
    seen = response[p, np.arange(len(columns))] - response[q, np.arange(len(columns))]
    hard = np.array([c.hard for c in columns], dtype=bool)
    return Changes(branch, p, q, old, new, emf, hard, response, seen, draws_on)
