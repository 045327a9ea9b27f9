"""What may be sized in a document, and what the rules say of a set of sizes."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeAlias

from ..analysis.missing import without
from ..analysis.power.wire_sizes import WireSize
from ..analysis.study import Study
from ..document import Document
from ..rules.engine import judge
from ..rules.verdicts import Outcome, Verdict
from .choices import Choice, applied, free_runs, ratings_for, sizes_for

SIZED_BY = (
    "voltage-drop",
    "feeder-drop",
    "lead-resistance-budget",
    "indication-within-budget",
    "wire-ampacity",
    "parallel-wires",
    "wire-gauge",
    "wire-protected",
    "return-protected",
    "protector-above-load",
    "terminal-fits",
    "joint-takes-wire",
    "conductor-plating",
    "bundle-size",
    "wire-bend",
)
"""Rules whose verdict turns on a gauge or a rating."""
IN_SERIES = frozenset(("voltage-drop", "feeder-drop", "lead-resistance-budget", "indication-within-budget"))
"""Rules that a thicker wire anywhere on the way helps to keep."""
WORSE_WHEN_THICKER = frozenset(("terminal-fits", "joint-takes-wire", "bundle-size", "wire-bend"))
_FIT_ALONE = frozenset(("terminal-fits", "joint-takes-wire", "bundle-size", "wire-bend", "conductor-plating"))
"""Rules that ask whether a gauge fits what is beside it. Where one of the others cannot be judged, no gauge is proposed."""


Fault: TypeAlias = tuple[str, str]
"""A rule and the item it faults."""


class RuleFailedError(Exception):
    """A rule that judges sizes itself failed; the message names it."""


class Candidates:
    """The runs and protectors of a document that may be sized.

    Attributes:
        sizes: the gauges of each run, thinnest first; ``ratings`` those of each protector in A, smallest first.
        left: runs that are not sized, and why.
    """

    def __init__(self, document: Document) -> None:
        self.document = document
        self.study = Study(document)
        reasons = dict(free_runs(self.study))
        self.left = tuple((i, why) for i, why in reasons.items() if why)
        self.sizes = {i: sizes_for(self.study, i) for i, why in reasons.items() if not why}
        self.ratings = {
            i: ratings_for(s)
            for i, s in self.study.model.supplies.items()
            if ratings_for(s) and s.status not in ("removed", "existing")
        }
        self._known: dict[tuple[object, ...], list[Verdict]] = {}

    def least(self) -> Choice:
        return Choice({i: s[0] for i, s in self.sizes.items()}, {i: r[0] for i, r in self.ratings.items()})

    def most(self) -> Choice:
        return Choice({i: s[-1] for i, s in self.sizes.items()}, {i: r[-1] for i, r in self.ratings.items()})

    def judged(self, choice: Choice) -> list[Verdict]:
        """What the rules find in the document with a set.

        Raises:
            RuleFailedError: a rule itself failed: nothing can be said of a size it was to judge.
        """
        key = (*((i, s.gauge) for i, s in choice.runs.items()), *choice.ratings.items())
        if key not in self._known:
            ledger = judge(Study(applied(self.document, choice)), SIZED_BY)
            for verdict in ledger.verdicts:
                if verdict.failed:
                    raise RuleFailedError(verdict.message)
            self._known[key] = ledger.verdicts
        return self._known[key]

    def faults(self, verdicts: Iterable[Verdict]) -> dict[Fault, Verdict]:
        """Discrepancies and advisories that concern what is sized, by rule and item."""
        return {
            (v.rule, v.at[0] if v.at else ""): v
            for v in verdicts
            if v.outcome in (Outcome.DISCREPANCY, Outcome.ADVISORY) and (self.runs(v) or self.protector(v))
        }

    def runs(self, verdict: Verdict) -> list[str]:
        if verdict.path[:1] == ("wire_runs",) and verdict.rule not in IN_SERIES:
            named = str(verdict.path[1])
            return [named] if named in self.sizes else []
        found = [i for i in verdict.at if i in self.sizes]
        if not found and verdict.rule == "indication-within-budget":
            found = self.legs(set(verdict.at))
        return found

    def legs(self, names: set[str]) -> list[str]:
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

    def protector(self, verdict: Verdict) -> str | None:
        named = str(verdict.path[1]) if verdict.path[:1] == ("supplies",) and len(verdict.path) > 1 else ""
        return named if named in self.ratings else None

    def leave_unheated(self) -> None:
        """Leave the wires whose heat no rule judges, as those of a starter; a signal's current heats none."""
        judged = {v.at[0] for v in self.judged(self.least()) if v.rule == "wire-ampacity" and v.at}
        signals = set(self.legs({i.indicator for i in self.study.indications}))
        for ident in [i for i in self.sizes if i not in judged | signals]:
            del self.sizes[ident]
            self.left += (
                (ident, "no rule judges the heat of its current: choose it by the papers of what it feeds"),
            )

    def leave_unjudged(self, verdicts: Iterable[Verdict]) -> bool:
        """Leave as it is what cannot be judged whole: what is not known must not make a wire thinner."""
        why: dict[str, dict[str, None]] = {}
        for verdict in verdicts:
            if verdict.outcome is not Outcome.UNDETERMINED or verdict.rule in _FIT_ALONE:
                continue
            named = self.protector(verdict)
            for ident in [*self.runs(verdict), *([named] if named is not None else [])]:
                why.setdefault(ident, {}).update(dict.fromkeys(verdict.missing))
        for ident, data in why.items():
            self.sizes.pop(ident, None)
            self.ratings.pop(ident, None)
            self.left += ((ident, f"cannot be judged {without(data)}"),)
        return bool(why)

    def thicker(self, choice: Choice, ident: str) -> WireSize | None:
        sizes = self.sizes[ident]
        at = sizes.index(choice.runs[ident])
        return sizes[at + 1] if at + 1 < len(sizes) else None

    def smaller(self, choice: Choice, ident: str) -> Choice | None:
        if ident in choice.runs:
            at = self.sizes[ident].index(choice.runs[ident])
            return choice.with_one(ident, self.sizes[ident][at - 1]) if at else None
        smaller = [r for r in self.ratings[ident] if r < choice.ratings[ident]]
        return choice.with_one(ident, smaller[-1]) if smaller else None
