"""The search for what cures one verdict: one change, else several that belong together."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias

from ..dataclass import dataclass
from ..model.edits import Edit, Key, Put
from ..rules.verdicts import Verdict
from .candidates import candidates
from .trial import Bench, Effect

Failed: TypeAlias = "set[tuple[str, tuple[Key, ...]]]"
"""What did not put right what a verdict says: its message, and what was done."""
_DEPTH = 3
"""Changes made together at most."""
_REBUILT = 3
"""New things in one edit from which on it rebuilds an indication, where others mend it."""
_FOLLOWED = 16
"""Changes tried for what has come with another."""
_BRANCHES = 2
"""Half-way states followed up at each depth."""


@dataclass(slots=True)
class Allowance:
    """How much may still be tried, so that a check never takes minutes.

    Attributes:
        glances: changes judged by one rule.
        trials: changes judged by every rule.
    """

    glances: int
    trials: int

    @property
    def left(self) -> bool:
        """Whether anything may still be tried."""
        return self.glances > 0 and self.trials > 0


@dataclass(slots=True)
class Found:
    """What was found for one verdict.

    Attributes:
        effect: the first change that puts it right with nothing new coming; ``None`` if none does.
        nearly: changes that put it right, but with something new.
    """

    effect: Effect | None
    nearly: list[Edit]

    def nearly_right(self, bench: Bench) -> list[Effect]:
        """What comes of those."""
        return [effect for edit in self.nearly if (effect := bench.effect((edit,))) is not None]


def one_change(
    bench: Bench, verdict: Verdict, allowance: Allowance, failed: Failed, *, rebuilding: bool
) -> Found:
    """The simplest single change that puts a verdict right with nothing new coming.

    ``failed`` remembers what did not put right what a verdict says, in so many words: it is not tried again in a later state.
    """
    nearly: list[Edit] = []
    for edit in candidates(bench.study, verdict, _shared(bench, verdict)):
        if not allowance.left:
            break
        tried = (verdict.message, edit.key)
        if tried in failed or (_rebuilds(edit) and not rebuilding):
            continue
        allowance.glances -= 1
        if not bench.cures(verdict, (edit,), wholly=True):
            failed.add(tried)
            continue
        allowance.trials -= 1
        effect = None
        if not bench.harms((edit,)):
            effect = bench.effect((edit,))
            if effect is None:
                continue
        if effect is not None and effect.harmless:
            return Found(effect, nearly)
        nearly.append(edit)
    return Found(None, nearly)


def _shared(bench: Bench, verdict: Verdict) -> set[str]:
    """Ids that all verdicts of a rule name that found more than one discrepancy."""
    alike = [v for v in bench.faults if v.rule == verdict.rule and v.outcome is verdict.outcome]
    return set.intersection(*(set(v.at) for v in alike)) if len(alike) > 1 else set()


def _rebuilds(edit: Edit) -> bool:
    return sum(isinstance(c, Put) and len(c.path) == 2 for c in edit.changes) >= _REBUILT


def followed_up(
    bench: Bench, nearly: Sequence[Effect], allowance: Allowance, depth: int = 2
) -> Effect | None:
    """The first of some half-way states that another change, or two, make whole: what has come is cured in its turn."""
    further: list[Effect] = []
    for state in sorted(nearly, key=lambda e: len(e.against.come))[:_BRANCHES]:
        came = state.against.come[0]
        there = bench.after(state)
        for edit in candidates(there.study, came)[:_FOLLOWED]:
            if not allowance.left:
                return None
            if _undoes(edit, state.edits):
                continue
            allowance.glances -= 1
            if not there.cures(came, (edit,)):
                continue
            allowance.trials -= 1
            effect = bench.effect((*state.edits, edit))
            if effect is None or not state.against.gone <= effect.against.gone:
                continue
            if effect.harmless:
                return effect
            if len(effect.against.come) < len(state.against.come):
                further.append(effect)
    return followed_up(bench, further, allowance, depth + 1) if further and depth < _DEPTH else None


def _undoes(edit: Edit, before: Sequence[Edit]) -> bool:
    """Whether a change touches what an earlier one has put right."""
    done = {path for one in before for change in one.changes for path in [change.path]}
    return any(change.path in done for change in edit.changes)
