"""The network after a fault: protectors that open on a short, alternators that give no more than they can, and the battery
that takes over when the alternator is lost.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import field, replace
from math import inf, isnan

import numpy as np
from numpy.typing import NDArray

from ...dataclass import dataclass
from ...model.comparing import at_most
from ...physics.network_faults import Fault, Faulted, OpenBranch, Short, play_as_it_comes
from ...physics.networks import Solution, solve
from .solved import Circuit

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]

_WAVES = 12
"""Protectors that may open, and alternators that may be overrun, one after another on a single short."""
_DEAD = 0.05
"""V at a wire below which shorting it changes nothing that an indicator shows."""
_WITH_IT = 0.05
"""Share by which the current of a protector may differ from an alternator's and still be its own: loads tapped between."""
_LARGE = 50.0
"""A, short-circuit current that is worth a word when nothing opens: more than any instrument wire carries."""


@dataclass(frozen=True, slots=True)
class Ended:
    """What a fault, by its number among those asked for, ends in.

    Attributes:
        number: which fault.
        voltage: of each node [V].
        opens: the protectors it opens.
        note: a word on what nothing stops.
        faulted: the network as it was last worked out for it.
        amps: what flows on through a short that no protector ends [A].
    """

    number: int
    voltage: FloatArray
    opens: tuple[str, ...]
    note: str
    faulted: Faulted
    amps: float = 0.0

    @property
    def unsupplied(self) -> tuple[int, ...]:
        """Draws that get nothing."""
        return self.faulted.unsupplied


@dataclass
class States:
    """Solved states of one circuit, each with some protectors open and the resting batteries in or out."""

    net: Circuit
    _solved: dict[tuple[frozenset[int], bool], Solution] = field(default_factory=dict)

    def __post_init__(self) -> None:
        net, network = self.net, self.net.solution.network
        model = net.study.model
        numbers, ratings, self.idents, resting = [], [], [], []
        self.outputs: dict[int, float] = {}
        self.unbounded: dict[int, str] = {}
        for edge in net.study.graph.of("supply", "contact"):
            number = net.branch_of.get(edge)
            if number is None:
                continue
            if edge.kind == "supply":
                spec = model.supplies[edge.ident].spec
                if spec.kind in ("alternator", "generator") and spec.rated_current is not None:
                    self.outputs[number] = float(spec.rated_current)
                elif edge.resistance is None:
                    self.unbounded[number] = edge.ident
                if edge.ident in net.resting:
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

    def after(self, faults: list[Fault]) -> Iterator[Ended]:
        """What each fault ends in, as it comes: faults that are worked together follow one another, so few are held."""
        opened: list[frozenset[int]] = [frozenset() for _ in faults]
        overrun: list[frozenset[int]] = [frozenset() for _ in faults]
        going = list(range(len(faults)))
        for wave in range(_WAVES):
            out = {i: opened[i] | overrun[i] for i in going}
            answers, going = self._answers(faults, out, going), []
            first: dict[int, list[int]] = defaultdict(list)
            for i, faulted, v in answers:
                fault, note, amps = faults[i], "", 0.0
                if isinstance(fault, Short):
                    lost = self._overrun(faulted, v, out[i])
                    worst = self._in_series(faulted, v, lost) if lost else self._overloaded(v, out[i])
                    if (worst is not None or lost) and wave < _WAVES - 1:
                        if worst is None:
                            overrun[i] |= lost
                            going.append(i)
                        else:
                            (going if opened[i] else first[worst]).append(i)
                            opened[i], overrun[i] = opened[i] | {worst}, frozenset()
                        continue
                    if worst is not None:
                        opened[i] |= {worst}
                    elif not lost:
                        word = "nothing else" if opened[i] else "nothing"
                        note = self._flowing(faulted, v, overrun[i], word)
                        amps = self._short_current(faulted, overrun[i])
                yield Ended(i, v, self._names(opened[i]), note, faulted, amps)
            for worst, alone in self._with_one_open(first).items():
                v = alone.voltage
                for i in first[worst]:
                    if _dead(v, faults[i]):
                        yield Ended(i, v, self._names(opened[i]), "", alone)
                    else:
                        going.append(i)
            if not going:
                break

    def _names(self, opened: frozenset[int]) -> tuple[str, ...]:
        return tuple(self.idents[int(np.flatnonzero(self.at == n)[0])] for n in sorted(opened))

    def _flowing(self, faulted: Faulted, v: FloatArray, overrun: frozenset[int], word: str) -> str:
        """What flows into a short that no protector ends; empty where it is little."""
        endless = [i for n, i in self.unbounded.items() if self._given(faulted, v, n) > _LARGE]
        if endless:
            return f"{word} opens: all that {' and '.join(endless)} can give flows"
        amps = self._short_current(faulted, overrun)
        return f"{word} opens: about {amps:.0f} A flow" if amps > _LARGE else ""

    def _short_current(self, faulted: Faulted, overrun: frozenset[int]) -> float:
        """Ampere through a short, what alternators give whose voltage collapses included."""
        return abs(_or_none(faulted.fault_current)) + sum(self.outputs[n] for n in overrun)

    def _given(self, faulted: Faulted, v: FloatArray, number: int) -> float:
        """Ampere a supply gives; 0 where its branch is cut off, without end where two ideal voltages meet."""
        if faulted.conflict:
            return inf
        network = self.net.solution.network
        if network.resistance[number] == 0:
            return _or_none(faulted.current[number])
        across = v[network.start[number]] - v[network.end[number]] + network.emf[number]
        return _or_none(across) / float(network.resistance[number])

    def _overrun(self, faulted: Faulted, v: FloatArray, out: frozenset[int]) -> frozenset[int]:
        """Alternators asked for more than their output: their voltage collapses, and protectors see no more of them."""
        asked = {n: self._given(faulted, v, n) for n in self.outputs if n not in out}
        return frozenset(n for n, amps in asked.items() if not at_most(amps, self.outputs[n]))

    def _in_series(self, faulted: Faulted, v: FloatArray, lost: frozenset[int]) -> int | None:
        """A protector that carries all of an alternator that is overrun, and is rated below what that can give."""
        if not len(self.at) or faulted.conflict:
            return None
        amps = np.abs(self._protected(v))
        for n in sorted(lost):
            given = self._given(faulted, v, n)
            alone = np.abs(amps - given) <= _WITH_IT * given
            small = alone & (self.rating < self.outputs[n])
            if small.any():
                return int(self.at[int(np.flatnonzero(small)[0])])
        return None

    def _protected(self, v: FloatArray) -> FloatArray:
        """Ampere through each protector."""
        network = self.net.solution.network
        amps = (v[network.start[self.at]] - v[network.end[self.at]]) / network.resistance[self.at]
        return np.where(np.isnan(amps), 0.0, amps)

    def _answers(
        self, faults: list[Fault], opened: Mapping[int, frozenset[int]], chosen: list[int]
    ) -> Iterator[tuple[int, Faulted, FloatArray]]:
        """The state after each fault; where a resting battery would stand below its own voltage, with it joined in.

        That is looked at first where an alternator is lost: if the batteries then give, they would have stood below.
        """
        lost = [i for i in chosen if len(self.resting) and not opened[i].isdisjoint(self.outputs)]
        left = sorted({*chosen} - {*lost})
        for i, faulted in self._played(faults, opened, lost, batteries=True):
            v = faulted.voltage
            if self._batteries_above(v).any():
                left.append(i)
            else:
                yield i, faulted, v
        call = []
        for i, faulted in self._played(faults, opened, left, batteries=False):
            v = faulted.voltage
            if len(self.resting) and not self._batteries_above(v).all():
                call.append(i)
            else:
                yield i, faulted, v
        for i, faulted in self._played(faults, opened, call, batteries=True):
            yield i, faulted, faulted.voltage

    def _with_one_open(self, protectors: Iterable[int]) -> dict[int, Faulted]:
        """The network with each of some protectors open alone."""
        wanted = list(protectors)
        faults: list[Fault] = [OpenBranch(n) for n in wanted]
        each = list(range(len(faults)))
        answers = self._answers(faults, dict.fromkeys(each, frozenset()), each)
        return {wanted[i]: faulted for i, faulted, _ in answers}

    def _played(
        self, faults: list[Fault], opened: Mapping[int, frozenset[int]], chosen: list[int], *, batteries: bool
    ) -> Iterator[tuple[int, Faulted]]:
        groups: dict[frozenset[int], list[int]] = defaultdict(list)
        for i in chosen:
            groups[opened[i]].append(i)
        for protectors, members in groups.items():
            solution = self.solution(protectors, batteries)
            for n, faulted in play_as_it_comes(solution, [faults[i] for i in members]):
                yield members[n], faulted

    def _batteries_above(self, v: FloatArray) -> BoolArray:
        """Which of the resting batteries have their own voltage across them, or more."""
        network = self.net.solution.network
        across = v[network.end[self.resting]] - v[network.start[self.resting]]
        return np.asarray(across >= network.emf[self.resting] - 1e-6)

    def _overloaded(self, v: FloatArray, opened: frozenset[int]) -> int | None:
        """The protector loaded most above its rating; ``None`` if none is."""
        if not len(self.at):
            return None
        share = np.abs(self._protected(v)) / self.rating
        share[[n in opened for n in self.at.tolist()]] = 0.0
        most = int(share.argmax())
        return int(self.at[most]) if share[most] > 1.0 else None


def _dead(v: FloatArray, fault: Fault) -> bool:
    """Whether a shorted wire has no voltage any more, so that the short does nothing."""
    assert isinstance(fault, Short)
    left = v[fault.first] - v[fault.second]
    return bool(np.isnan(left) or abs(left) < _DEAD)


def _or_none(figure: float) -> float:
    """A figure; 0 where there is none."""
    return 0.0 if isnan(figure) else float(figure)
