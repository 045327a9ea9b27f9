"""The network after a fault: protectors that open on a short, and the battery that takes over when the alternator is lost."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from ..analysis.circuit.solved import Circuit
from ..physics.network_faults import (
    Fault,
    Faulted,
    OpenBranch,
    Short,
    play_faults,
)
from ..physics.networks import Solution, solve

FloatArray = NDArray[np.float64]

_WAVES = 6
"""Protectors that may open one after another on a single short."""
_DEAD = 0.05
"""V at a wire below which shorting it changes nothing that an indicator shows."""
_LARGE = 50.0
"""A, short-circuit current that is worth a word when nothing opens: more than any instrument wire carries."""


@dataclass
class States:
    """Solved states of one circuit, each with some protectors open and the resting batteries in or out."""

    net: Circuit
    _solved: dict[tuple[frozenset[int], bool], Solution] = field(default_factory=dict)

    def __post_init__(self) -> None:
        net, network = self.net, self.net.solution.network
        model = net.study.model
        numbers, ratings, self.idents, resting = [], [], [], []
        for edge in net.study.graph.edges:
            number = net.branch_of.get(edge)
            if number is None:
                continue
            if edge.kind == "supply" and edge.ident in net.resting:
                resting.append(number)
            elif edge.kind == "contact" and edge.section == "supplies":
                rating = model.supplies[edge.ident].spec.rating
                if rating is not None and not network.is_open[number]:
                    self.idents.append(edge.ident)
                    numbers.append(number)
                    ratings.append(float(rating))
        self.at, self.rating = np.array(numbers, dtype=np.intp), np.array(ratings, dtype=np.float64)
        self.resting = np.array(resting, dtype=np.intp)
        self._solved[frozenset(), False] = net.solution

    def solution(self, opened: frozenset[int], batteries: bool) -> Solution:
        """The state with some branches open, and the resting batteries joined in or not."""
        key = (opened, batteries and len(self.resting) > 0)
        if key not in self._solved:
            network = self.net.solution.network.with_open(opened)
            if key[1]:
                is_open = network.is_open.copy()
                is_open[self.resting] = False
                network = replace(network, is_open=is_open)
            self._solved[key] = solve(network)
        return self._solved[key]

    def after(self, faults: list[Fault]) -> tuple[list[FloatArray], list[tuple[str, ...]], list[str]]:
        """For each fault the node voltages it ends in, the protectors it opens, and a word on what nothing stops."""
        opened: list[frozenset[int]] = [frozenset() for _ in faults]
        notes = [""] * len(faults)
        voltages: list[FloatArray] = [np.zeros(0)] * len(faults)
        going = list(range(len(faults)))
        for _ in range(_WAVES):
            answers, going = self._answers(faults, opened, going), []
            for i, faulted in answers:
                voltages[i] = faulted.voltage
                fault = faults[i]
                if not isinstance(fault, Short):
                    continue
                worst = self._overloaded(faulted, opened[i])
                if worst is not None:
                    opened[i] |= {worst}
                    if not self._cleared(fault, opened[i], voltages, i):
                        going.append(i)
                elif abs(faulted.fault_current) > _LARGE:
                    word = "nothing else" if opened[i] else "nothing"
                    notes[i] = f"{word} opens: about {abs(faulted.fault_current):.0f} A flow"
            if not going:
                break
        names = [tuple(self.idents[int(np.flatnonzero(self.at == n)[0])] for n in sorted(o)) for o in opened]
        return voltages, names, notes

    def _answers(
        self, faults: list[Fault], opened: list[frozenset[int]], chosen: list[int]
    ) -> list[tuple[int, Faulted]]:
        """The state after each fault; where a resting battery would stand below its own voltage, with it joined in."""
        found, call = [], []
        for i, faulted in self._played(faults, opened, chosen, batteries=False):
            if self._battery_wanted(faulted):
                call.append(i)
            else:
                found.append((i, faulted))
        return found + self._played(faults, opened, call, batteries=True)

    def _cleared(self, fault: Short, opened: frozenset[int], voltages: list[FloatArray], at: int) -> bool:
        """Whether the one protector that opened leaves the shorted wire dead, so that the short does nothing more."""
        if len(opened) != 1:
            return False
        alone = self._with_one_open.get(next(iter(opened)))
        if alone is None:
            return False
        left = alone[fault.first] - alone[fault.second]
        if not (np.isnan(left) or abs(left) < _DEAD):
            return False
        voltages[at] = alone
        return True

    @cached_property
    def _with_one_open(self) -> dict[int, FloatArray]:
        """Node voltages with each protector open alone."""
        faults: list[Fault] = [OpenBranch(n) for n in self.at.tolist()]
        nothing: list[frozenset[int]] = [frozenset() for _ in faults]
        answers = self._answers(faults, nothing, list(range(len(faults))))
        return {int(self.at[i]): f.voltage for i, f in answers}

    def _played(
        self, faults: list[Fault], opened: list[frozenset[int]], chosen: list[int], *, batteries: bool
    ) -> list[tuple[int, Faulted]]:
        groups: dict[frozenset[int], list[int]] = defaultdict(list)
        for i in chosen:
            groups[opened[i]].append(i)
        return [
            (i, faulted)
            for protectors, members in groups.items()
            for i, faulted in zip(
                members,
                play_faults(self.solution(protectors, batteries), [faults[i] for i in members]),
                strict=True,
            )
        ]

    def _battery_wanted(self, faulted: Faulted) -> bool:
        if not len(self.resting):
            return False
        network, v = self.net.solution.network, faulted.voltage
        across = v[network.end[self.resting]] - v[network.start[self.resting]]
        return not bool((across >= network.emf[self.resting] - 1e-6).all())

    def _overloaded(self, faulted: Faulted, opened: frozenset[int]) -> int | None:
        """The protector loaded most above its rating; ``None`` if none is."""
        if not len(self.at):
            return None
        network, v = self.net.solution.network, faulted.voltage
        amperes = np.abs(v[network.start[self.at]] - v[network.end[self.at]]) / network.resistance[self.at]
        share = np.nan_to_num(amperes) / self.rating
        share[np.isin(self.at, list(opened))] = 0.0
        most = int(share.argmax())
        return int(self.at[most]) if share[most] > 1.0 else None
