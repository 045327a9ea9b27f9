"""The search for the lightest set: bigger until nothing is faulted that a size can cure, then smaller until all are bound."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from ..analysis.power.wire_sizes import WireSize
from ..rules.verdicts import Verdict
from .candidates import IN_SERIES, WORSE_WHEN_THICKER, Candidates, Fault
from .choices import Choice, weight_of

_MOST_TURNS = 400
_BY_RESISTANCE = 2 / 3
"""Power of resistance by which a wire's current for one rise of temperature falls: AC 43.13-1B table 11-9 from 22 AWG to 0."""


class Search:
    """A search among the candidates; it remembers what no size cures."""

    def __init__(self, among: Candidates) -> None:
        self.among = among
        self.given_up: set[Fault] = set()

    def grow(self, choice: Choice) -> Choice:
        """Make runs and ratings bigger until no fault is left that a size can cure."""
        faults = self.among.faults(self.among.judged(choice))
        if any(v.rule in IN_SERIES for v in faults.values()):
            most = self.among.faults(self.among.judged(self.among.most()))
            self.given_up |= {key for key, v in most.items() if v.rule in IN_SERIES}
        for _ in range(_MOST_TURNS):
            bigger: dict[str, WireSize | float] = {}
            for key, verdict in faults.items():
                if key in self.given_up:
                    continue
                step = self._step(choice, verdict)
                if step is None:
                    self.given_up.add(key)
                    continue
                ident, wanted = step
                bigger[ident] = max(wanted, bigger.get(ident, wanted), key=self._rank(ident))
            if not bigger:
                return choice
            for ident, wanted in bigger.items():
                choice = choice.with_one(ident, wanted)
            faults = self.among.faults(self.among.judged(choice))
        return choice

    def _rank(self, ident: str) -> Callable[[WireSize | float], int]:
        return self._steps(ident).index

    def _steps(self, ident: str) -> Sequence[WireSize | float]:
        return self.among.sizes[ident] if ident in self.among.sizes else self.among.ratings[ident]

    def _step(self, choice: Choice, verdict: Verdict) -> tuple[str, WireSize | float] | None:
        """The run or protector to make bigger for one fault, and how big: the one that wins most ohms for its weight."""
        protector = self.among.protector(verdict)
        if protector is not None:
            larger = [r for r in self.among.ratings[protector] if r > choice.ratings[protector]]
            if larger:
                wanted = max(verdict.value or 0.0, verdict.limit or 0.0)
                return protector, next((r for r in larger if r >= wanted), larger[-1])
        if verdict.rule in WORSE_WHEN_THICKER:
            return None
        can = [(i, n) for i in self.among.runs(verdict) if (n := self.among.thicker(choice, i)) is not None]
        if not can:
            return None
        best, size = max(can, key=lambda c: (self._gain(choice.runs[c[0]], c[1]), self._length(c[0])))
        if verdict.rule not in IN_SERIES and verdict.value is not None and verdict.limit:
            size = self._enough(best, choice.runs[best], verdict.value / verdict.limit)
        return best, size

    def _enough(self, ident: str, now: WireSize, share: float) -> WireSize:
        """The first thicker size that carries about ``share`` times the current, the thickest if none does."""
        thicker = self.among.sizes[ident][self.among.sizes[ident].index(now) + 1 :]
        return next(
            (s for s in thicker if (now.resistance / s.resistance) ** _BY_RESISTANCE >= share), thicker[-1]
        )

    def _length(self, ident: str) -> float:
        return weight_of(self.among.study, ident, self.among.sizes[ident][0])

    @staticmethod
    def _gain(now: WireSize, then: WireSize) -> float:
        return (now.resistance - then.resistance) / max(then.weight - now.weight, 1e-9)

    def shrink(self, choice: Choice) -> tuple[Choice, dict[str, tuple[str, ...]]]:
        """Make runs thinner and ratings smaller until each is bound; gives the rules that bind each."""
        bound: dict[str, tuple[str, ...]] = {}
        for group in (list(choice.ratings), list(choice.runs)):
            choice = self._together(choice, group, bound)
        faults = set(self.among.faults(self.among.judged(choice)))
        going = True
        while going:
            going = False
            order = sorted(choice.runs, key=lambda i: -weight_of(self.among.study, i, choice.runs[i]))
            for ident in [*order, *choice.ratings]:
                if ident in bound or (trial := self.among.smaller(choice, ident)) is None:
                    continue
                new = set(self.among.faults(self.among.judged(trial)))
                if new <= faults:
                    choice, faults, going = trial, new, True
                else:
                    bound[ident] = tuple(sorted({rule for rule, _ in new - faults}))
            if going:  # what bound a run on its whole way may bind it no more
                bound = {i: rules for i, rules in bound.items() if not IN_SERIES.issuperset(rules)}
        return choice, bound

    def _together(self, choice: Choice, group: Iterable[str], bound: dict[str, tuple[str, ...]]) -> Choice:
        """Make all of a group smaller at once, without those that a rule about them alone binds, as long as it goes."""
        faults = set(self.among.faults(self.among.judged(choice)))
        while True:
            trial = choice
            tried: set[str] = set()
            for ident in group:
                smaller = self.among.smaller(trial, ident) if ident not in bound else None
                if smaller is not None:
                    trial = smaller
                    tried.add(ident)
            if not tried:
                return choice
            found = self.among.faults(self.among.judged(trial))
            blamed: dict[str, set[str]] = {}
            for key in found.keys() - faults:
                about = self._alone(found[key])
                if about in tried:
                    blamed.setdefault(about, set()).add(found[key].rule)
            if found.keys() <= faults:
                choice, faults = trial, set(found)
            elif blamed:
                bound.update({ident: tuple(sorted(rules)) for ident, rules in blamed.items()})
            else:
                return choice

    def _alone(self, verdict: Verdict) -> str:
        """The one run or protector a verdict is about; empty if it is about several, or a whole way."""
        protector = self.among.protector(verdict)
        if protector is not None:
            return protector
        runs = self.among.runs(verdict) if verdict.rule not in IN_SERIES else []
        return runs[0] if len(runs) == 1 else ""
