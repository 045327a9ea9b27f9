"""Gauge and protection chosen: the lightest set that the rules do not fault, with what binds each wire.

Every run starts at the thinnest gauge its terminals take and every protector at the smallest rating. The rules are judged;
each fault makes the run bigger that wins most for its weight, until nothing that a size can cure is left. Then every run is
tried one gauge thinner: what faults the trial is what binds the run, and where nothing does, the thinner gauge is taken. So
no single run of the set can be thinner. What no size cures is told, not proposed; a wire that the document does not say
enough of is left as it is.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from ..analysis.power.wire_sizes import WireSize, sizes_of
from ..analysis.study import Study
from ..document import Document
from ..model.quantities import Gauge
from ..rules.engine import all_rules, judge
from ..rules.verdicts import Outcome, Verdict
from .choices import (
    Choice,
    applied,
    free_runs,
    ratings_for,
    sizes_for,
    weight_of,
)

SIZED_BY = (
    "voltage-drop",
    "feeder-drop",
    "lead-resistance-budget",
    "indication-within-budget",
    "wire-ampacity",
    "parallel-wires",
    "wire-gauge",
    "wire-protected",
    "protector-above-load",
    "terminal-fits",
    "joint-takes-wire",
    "conductor-plating",
    "bundle-size",
    "wire-bend",
)
"""Rules whose verdict turns on a gauge or a rating."""
_IN_SERIES = frozenset(("voltage-drop", "feeder-drop", "lead-resistance-budget", "indication-within-budget"))
"""Rules that a thicker wire anywhere on the way helps to keep."""
_WORSE_WHEN_THICKER = frozenset(("terminal-fits", "joint-takes-wire", "bundle-size", "wire-bend"))
_MOST_TURNS = 400
_FIT_ALONE = frozenset(("terminal-fits", "joint-takes-wire", "bundle-size", "wire-bend", "conductor-plating"))
"""Rules that ask whether a gauge fits what is beside it. Where one of the others cannot be judged, no gauge is proposed."""


@dataclass(frozen=True, slots=True)
class SizedRun:
    """A run as sized. ``binding`` names the rules that fault it one gauge thinner; empty at the thinnest there is."""

    run: str
    was: Gauge | None
    gauge: Gauge
    weight: float
    binding: tuple[str, ...]
    unjudged: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SizedProtector:
    """A protector as sized, ratings in A. ``binding`` names the rules that fault the next smaller rating."""

    protector: str
    was: float | None
    rating: float
    binding: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Sizing:
    """The set chosen.

    Attributes:
        runs, protectors: what is proposed.
        left: runs this tool does not choose, and why.
        unmet: faults no size cures; what they concern is proposed at the size that does the others no harm.
        weight, weight_before: of all sized runs in kg; before is ``None`` where a gauge was not given.
        document: the document with the set applied.
    """

    runs: tuple[SizedRun, ...]
    protectors: tuple[SizedProtector, ...]
    left: tuple[tuple[str, str], ...]
    unmet: tuple[Verdict, ...]
    weight: float
    weight_before: float | None
    document: Document


def size(document: Document) -> Sizing:
    """Choose gauge and protection for a document. Cost: one judgement of the sizing rules per step and per run."""
    return _Sizer(document).run()


class _Sizer:
    def __init__(self, document: Document) -> None:
        self.document = document
        self.study = Study(document)
        self.rules = [r for r in SIZED_BY if r in all_rules()]
        reasons = dict(free_runs(self.study))
        self.left = tuple((i, why) for i, why in reasons.items() if why)
        self.sizes = {i: sizes_for(self.study, i) for i, why in reasons.items() if not why}
        self.ratings = {
            i: ratings_for(s)
            for i, s in self.study.model.supplies.items()
            if ratings_for(s) and s.status not in ("removed", "existing")
        }
        self.given_up: set[tuple[str, str]] = set()

    def _leave_unheated(self) -> None:
        """Leave the wires whose heat no rule judges, as those of a starter; a signal's current heats none."""
        if "wire-ampacity" not in self.rules:
            return
        judged = {v.at[0] for v in self.judged(self._least()) if v.rule == "wire-ampacity" and v.at}
        signals = set(self._legs({i.indicator for i in self.study.indications}))
        for ident in [i for i in self.sizes if i not in judged | signals]:
            del self.sizes[ident]
            self.left += (
                (ident, "no rule judges the heat of its current: choose it by the papers of what it feeds"),
            )

    def _leave_unjudged(self, verdicts: Iterable[Verdict]) -> bool:
        """Leave as it is what cannot be judged whole: what is not known must not make a wire thinner."""
        why: dict[str, dict[str, None]] = {}
        for verdict in verdicts:
            if verdict.outcome is not Outcome.UNDETERMINED or verdict.rule in _FIT_ALONE:
                continue
            named = self._protector(verdict)
            for ident in [*self._runs(verdict), *([named] if named is not None else [])]:
                why.setdefault(ident, {}).update(dict.fromkeys(verdict.missing))
        for ident, data in why.items():
            self.sizes.pop(ident, None)
            self.ratings.pop(ident, None)
            self.left += ((ident, f"cannot be judged without the {', '.join(data)}"),)
        return bool(why)

    def _least(self) -> Choice:
        return Choice({i: s[0] for i, s in self.sizes.items()}, {i: r[0] for i, r in self.ratings.items()})

    def judged(self, choice: Choice) -> list[Verdict]:
        """What the rules find in the document with a set."""
        return judge(Study(applied(self.document, choice)), self.rules).verdicts

    def faults(self, verdicts: Iterable[Verdict]) -> dict[tuple[str, str], Verdict]:
        """Discrepancies and advisories that concern what is sized, by rule and item."""
        return {
            (v.rule, v.at[0] if v.at else ""): v
            for v in verdicts
            if v.outcome in (Outcome.DISCREPANCY, Outcome.ADVISORY) and (self._runs(v) or self._protector(v))
        }

    def _runs(self, verdict: Verdict) -> list[str]:
        if verdict.path[:1] == ("wire_runs",) and verdict.rule not in _IN_SERIES:
            named = str(verdict.path[1])
            return [named] if named in self.sizes else []
        found = [i for i in verdict.at if i in self.sizes]
        if not found and verdict.rule == "indication-within-budget":
            found = self._legs(set(verdict.at))
        return found

    def _legs(self, names: set[str]) -> list[str]:
        return list(
            dict.fromkeys(
                step.edge.ident
                for indication in self.study.indications
                if indication.indicator in names
                for leg in indication.legs
                for step in leg.steps
                if step.edge.ident in self.sizes
            )
        )

    def _protector(self, verdict: Verdict) -> str | None:
        named = str(verdict.path[1]) if verdict.path[:1] == ("supplies",) and len(verdict.path) > 1 else ""
        return named if named in self.ratings else None

    def run(self) -> Sizing:
        self._leave_unheated()
        while self._leave_unjudged(self.judged(self._least())):
            pass
        while True:
            choice, bound = self._shrink(self._grow(self._least()))
            verdicts = self.judged(choice)
            if not self._leave_unjudged(verdicts):
                break
        unjudged: dict[str, list[str]] = {}
        for verdict in verdicts:
            if verdict.outcome is Outcome.UNDETERMINED:
                for ident in self._runs(verdict):
                    unjudged.setdefault(ident, []).append(verdict.rule)
        return self._report(choice, bound, unjudged, tuple(self.faults(verdicts).values()))

    def _grow(self, choice: Choice) -> Choice:
        """Make runs and ratings bigger until no fault is left that a size can cure."""
        for _ in range(_MOST_TURNS):
            steps = []
            for key, verdict in self.faults(self.judged(choice)).items():
                if key in self.given_up:
                    continue
                step = self._step(choice, verdict)
                if step is None:
                    self.given_up.add(key)
                else:
                    steps.append(step)
            if not steps:
                return choice
            for ident, is_run in dict.fromkeys(steps):
                if is_run:
                    choice = choice.with_run(ident, self._next(choice, ident) or choice.runs[ident])
                else:
                    rating = next(r for r in self.ratings[ident] if r > choice.ratings[ident])
                    choice = choice.with_rating(ident, rating)
        return choice

    def _step(self, choice: Choice, verdict: Verdict) -> tuple[str, bool] | None:
        """The run or protector to make bigger for one fault: the one that wins most ohms for its weight."""
        protector = self._protector(verdict)
        if protector is not None and any(r > choice.ratings[protector] for r in self.ratings[protector]):
            return protector, False
        if verdict.rule in _WORSE_WHEN_THICKER:
            return None
        can = [(i, n) for i in self._runs(verdict) if (n := self._next(choice, i)) is not None]
        if not can:
            return None
        best = max(can, key=lambda c: (self._gain(choice.runs[c[0]], c[1]), self._length(c[0])))
        return best[0], True

    def _length(self, ident: str) -> float:
        return weight_of(self.study, ident, self.sizes[ident][0])

    @staticmethod
    def _gain(now: WireSize, then: WireSize) -> float:
        return (now.resistance - then.resistance) / max(then.weight - now.weight, 1e-9)

    def _next(self, choice: Choice, ident: str) -> WireSize | None:
        sizes = self.sizes[ident]
        at = sizes.index(choice.runs[ident])
        return sizes[at + 1] if at + 1 < len(sizes) else None

    def _shrink(self, choice: Choice) -> tuple[Choice, dict[str, tuple[str, ...]]]:
        """Try every run one gauge thinner and every protector one rating smaller, until each is bound."""
        faults = set(self.faults(self.judged(choice)))
        bound: dict[str, tuple[str, ...]] = {}
        going = True
        while going:
            going = False
            order = sorted(choice.runs, key=lambda i: -weight_of(self.study, i, choice.runs[i]))
            for ident in [*order, *choice.ratings]:
                trial = self._smaller(choice, ident)
                if trial is None:
                    bound.pop(ident, None)
                    continue
                new = set(self.faults(self.judged(trial)))
                if new <= faults:
                    choice, faults, going = trial, new, True
                else:
                    bound[ident] = tuple(sorted({rule for rule, _ in new - faults}))
        return choice, bound

    def _smaller(self, choice: Choice, ident: str) -> Choice | None:
        if ident in choice.runs:
            at = self.sizes[ident].index(choice.runs[ident])
            return choice.with_run(ident, self.sizes[ident][at - 1]) if at else None
        smaller = [r for r in self.ratings[ident] if r < choice.ratings[ident]]
        return choice.with_rating(ident, smaller[-1]) if smaller else None

    def _report(
        self,
        choice: Choice,
        bound: dict[str, tuple[str, ...]],
        unjudged: dict[str, list[str]],
        unmet: tuple[Verdict, ...],
    ) -> Sizing:
        model = self.study.model
        runs = tuple(
            SizedRun(
                i, model.wire_runs[i].gauge, s.gauge, weight_of(self.study, i, s), bound.get(i, ()),
                tuple(dict.fromkeys(unjudged.get(i, ()))),
            )
            for i, s in choice.runs.items()
        )  # fmt: skip
        protectors = tuple(
            SizedProtector(i, _amperes(model.supplies[i].spec.rating), r, bound.get(i, ()))
            for i, r in choice.ratings.items()
        )
        before: float | None = 0.0
        for ident, sizes in self.sizes.items():
            was = next(
                (s for s in _all_sizes(self.study, ident, sizes) if s.gauge == model.wire_runs[ident].gauge),
                None,
            )
            before = None if before is None or was is None else before + weight_of(self.study, ident, was)
        weight = sum(r.weight for r in runs)
        return Sizing(runs, protectors, self.left, unmet, weight, before, applied(self.document, choice))


def _all_sizes(study: Study, ident: str, fitting: list[WireSize]) -> list[WireSize]:
    return [*fitting, *sizes_of(study, study.model.wire_runs[ident])]


def _amperes(rating: float | None) -> float | None:
    return None if rating is None else float(rating)
