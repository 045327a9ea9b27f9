"""What a direct-current network is made of, as plain arrays: branches, draws and reference nodes."""

from collections.abc import Iterable
from enum import IntEnum
from typing import NamedTuple, Self

import numpy as np

from ..dataclass import dataclass
from .network_topology import BoolArray, FloatArray, IntArray

SMALLEST_RESISTANCE = 1e-6
"""Smallest resistance told from an ideal connection [ohm]; the best bonding jumper is a hundred times more."""

LARGEST_RESISTANCE = 1e9
"""Largest resistance told from an open circuit [ohm]; the usual insulation test asks for less."""


def in_bounds(ohms: float) -> float:
    """A resistance as a branch may have it: neither too small nor too large to be told from none and from an open one [ohm]."""
    return min(max(ohms, SMALLEST_RESISTANCE), LARGEST_RESISTANCE)


class DrawKind(IntEnum):
    """How a draw takes its current: a source always, a load only while the voltage across it is positive."""

    CURRENT_SOURCE = 0
    CURRENT_LOAD = 1
    POWER_LOAD = 2


CURRENT_SOURCE, CURRENT_LOAD, POWER_LOAD = map(int, DrawKind)
"""The same as plain numbers, which are found and compared sooner where that is done for every pass of a solution."""


class Branch(NamedTuple):
    """A conductor, contact or source from node `start` to node `end`.

    `resistance` [ohm] 0 is an ideal connection; `emf` [V] drives current from `start` to `end`, so a battery runs
    from its negative to its positive terminal.
    """

    start: int
    end: int
    resistance: float
    emf: float = 0.0


class Draw(NamedTuple):
    """A current source [A], constant-current load [A] or constant-power load [W], carried from `start` to `end`."""

    start: int
    end: int
    value: float
    kind: DrawKind = DrawKind.CURRENT_LOAD


@dataclass(frozen=True, slots=True)
class Network:
    """A direct-current network of nodes 0 to `node_count` - 1; nodes in `references` are at 0 V.

    Branches: `start`, `end`, `resistance` [ohm], `emf` [V], `is_open`. Draws: `draw_start`, `draw_end`,
    `draw_value` [A or W], `draw_kind`. See `Branch` and `Draw` for the signs.
    """

    node_count: int
    references: tuple[int, ...]
    start: IntArray
    end: IntArray
    resistance: FloatArray
    emf: FloatArray
    is_open: BoolArray
    draw_start: IntArray
    draw_end: IntArray
    draw_value: FloatArray
    draw_kind: IntArray

    def __post_init__(self) -> None:
        if self.node_count < 1:
            raise ValueError(f"a network has at least one node, not {self.node_count}")
        self._refuse_shapes()
        for node in self.references:
            if not 0 <= node < self.node_count:
                raise ValueError(f"reference node {node} is not one of the {self.node_count} nodes")
        self._refuse("branch", "starts at no node of the network", self._outside(self.start))
        self._refuse("branch", "ends at no node of the network", self._outside(self.end))
        self._refuse("draw", "starts at no node of the network", self._outside(self.draw_start))
        self._refuse("draw", "ends at no node of the network", self._outside(self.draw_end))
        self._refuse(
            "draw", "must be of a known kind", (self.draw_kind < 0) | (self.draw_kind >= len(DrawKind))
        )
        self._refuse_resistances()
        self._refuse("branch", "must have a finite emf in V", ~np.isfinite(self.emf))
        self._refuse_draws()

    def _refuse_shapes(self) -> None:
        branch = (self.start, self.end, self.resistance, self.emf, self.is_open)
        draw = (self.draw_start, self.draw_end, self.draw_value, self.draw_kind)
        for what, arrays in (("branch", branch), ("draw", draw)):
            if len({array.shape for array in arrays}) != 1 or arrays[0].ndim != 1:
                raise ValueError(f"the {what} arrays of a network must be flat and of one length")

    def _refuse_resistances(self) -> None:
        r = self.resistance
        self._refuse(
            "branch",
            f"must have a resistance of 0, or {SMALLEST_RESISTANCE:g} to {LARGEST_RESISTANCE:g} ohm",
            ~((r == 0) | ((r >= SMALLEST_RESISTANCE) & (r <= LARGEST_RESISTANCE))),
        )

    def _refuse_draws(self) -> None:
        self._refuse("draw", "must take a finite current or power", ~np.isfinite(self.draw_value))
        load = self.draw_kind != CURRENT_SOURCE
        self._refuse("draw", "is a load and must take 0 or more", load & (self.draw_value < 0))

    def with_figures(
        self,
        *,
        resistance: FloatArray | None = None,
        emf: FloatArray | None = None,
        is_open: BoolArray | None = None,
        draw_value: FloatArray | None = None,
    ) -> Self:
        """The network with other figures of the same branches and draws; of all of it, only those are checked.

        Raises:
            ValueError: as of a network that is made of them.
        """
        given = {"resistance": resistance, "emf": emf, "is_open": is_open, "draw_value": draw_value}
        made = object.__new__(type(self))
        for name in self.__slots__:
            array = given.get(name)
            object.__setattr__(made, name, getattr(self, name) if array is None else array)
        made._refuse_shapes()
        if resistance is not None:
            made._refuse_resistances()
        if emf is not None:
            made._refuse("branch", "must have a finite emf in V", ~np.isfinite(emf))
        if draw_value is not None:
            made._refuse_draws()
        return made

    def _outside(self, nodes: IntArray) -> BoolArray:
        return (nodes < 0) | (nodes >= self.node_count)

    @staticmethod
    def _refuse(what: str, why: str, wrong: BoolArray) -> None:
        if wrong.any():
            raise ValueError(f"{what} {int(np.argmax(wrong))} {why}")

    @classmethod
    def of(
        cls,
        node_count: int,
        branches: Iterable[Branch],
        draws: Iterable[Draw] = (),
        references: Iterable[int] = (0,),
    ) -> Self:
        """Build a network from lists of branches and draws."""
        rows, taken = list(branches), list(draws)
        return cls(
            node_count,
            tuple(references),
            np.array([b.start for b in rows], dtype=np.intp),
            np.array([b.end for b in rows], dtype=np.intp),
            np.array([b.resistance for b in rows], dtype=np.float64),
            np.array([b.emf for b in rows], dtype=np.float64),
            np.zeros(len(rows), dtype=bool),
            np.array([d.start for d in taken], dtype=np.intp),
            np.array([d.end for d in taken], dtype=np.intp),
            np.array([d.value for d in taken], dtype=np.float64),
            np.array([d.kind for d in taken], dtype=np.intp),
        )

    def with_open(self, branches: Iterable[int]) -> Self:
        """The network with `branches` open: pulled plugs, open breakers and switches, broken wires."""
        is_open = self.is_open.copy()
        is_open[list(branches)] = True
        return self.with_figures(is_open=is_open)

    def with_resistance(self, resistance: FloatArray) -> Self:
        """The network with other branch resistances [ohm], such as those of its conductors when hot."""
        return self.with_figures(resistance=np.asarray(resistance, dtype=np.float64))

    def with_branch(self, branch: Branch) -> Self:
        """The network with one more branch, the last."""
        return self.with_branches([branch])

    def with_branches(self, branches: Iterable[Branch]) -> Self:
        """The network with more branches, the last in the order given."""
        more = self.of(self.node_count, branches, references=self.references)
        made = object.__new__(type(self))
        for name in self.__slots__:
            joined = name in ("start", "end", "resistance", "emf", "is_open")
            array = (
                np.concatenate((getattr(self, name), getattr(more, name))) if joined else getattr(self, name)
            )
            object.__setattr__(made, name, array)
        return made
