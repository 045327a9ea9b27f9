"""The search for what cures one verdict: one change, else several that belong together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import TypeAlias

from ..dataclass import dataclass
from ..model.edits import Edit, Key, Put
from ..rules.engine import all_rules
from ..rules.verdicts import Outcome, Verdict
from .candidates import candidates
from .moves import sizes
from .trial import Bench, Effect

Failed: TypeAlias = "dict[tuple[str, tuple[Key, ...]], Failure]"
"""What did not put right what a verdict says, by its message and what was done."""
_DEPTH = 3
"""Changes made together at most."""
_REBUILT = 3
"""New things in one edit from which on it rebuilds an indication, where others mend it."""
_FOLLOWED = 32
"""Changes tried for what has come with another."""
_NEARLY = 4
"""Changes that bring something new of which all that comes is looked at."""
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
        verdict: what was to be put right.
        effect: the first change that puts it right with nothing new coming; ``None`` if none does.
        nearly: changes that put it right, but with something new.
        halfway: changes after which the rule finds the same thing wrong for another reason.
    """

    verdict: Verdict
    effect: Effect | None
    nearly: list[Edit]
    halfway: list[Edit]

    def bearable(self, bench: Bench) -> Effect | None:
        """The first change that puts it right and brings no more than can be borne."""
        borne = (edit for edit in self.nearly if bench.could_be_borne(edit))
        return next((effect for effect in self._effects(bench, borne) if effect.bearable), None)

    def _effects(self, bench: Bench, edits: Iterable[Edit]) -> Iterator[Effect]:
        place = self._place(bench)
        for edit in edits:
            effect = bench.effect((edit,))
            if effect is not None and place in effect.against.gone:
                yield effect

    def _place(self, bench: Bench) -> int:
        return next(i for i, verdict in enumerate(bench.faults) if verdict is self.verdict)

    def halfway_states(self, bench: Bench) -> list[Halfway]:
        """The states from which further changes are worth a trial, with what is to be put right in each."""
        states = [_with_the_first(effect) for effect in self._effects(bench, self.nearly[:_NEARLY])]
        states.sort(key=lambda state: len(state.effect.against.come))
        place = self._place(bench)
        for edit in self.halfway:
            effect = bench.effect((edit,))
            left = dict(effect.against.stays).get(place) if effect is not None else None
            if effect is not None and left is not None:
                states.append(Halfway(effect, left))
        return states


@dataclass(frozen=True, slots=True)
class Failure:
    """A change that did not put a verdict right.

    Attributes:
        otherwise: whether the rule then gives another reason.
        there: where it was tried.
    """

    otherwise: bool
    there: Bench


@dataclass(frozen=True, slots=True)
class Halfway:
    """Changes made, and what is still wrong, or has come, that is looked at next."""

    effect: Effect
    left: Verdict


def _with_the_first(effect: Effect) -> Halfway:
    """A state with the first of what has come; where that waits for two statements to agree, with that they do not."""
    come = effect.against.come[0]
    disputes = (v for v in effect.verdicts if v.outcome is Outcome.DISCREPANCY and v.message in come.message)
    return Halfway(effect, next(disputes, come) if come.outcome is Outcome.UNDETERMINED else come)


def one_change(
    bench: Bench, verdict: Verdict, allowance: Allowance, failed: Failed, *, rebuilding: bool
) -> Found:
    """The simplest single change that puts a verdict right with nothing new coming.

    ``failed`` remembers what did not put right what a verdict says, in so many words: it is not tried again in a later state.
    """
    nearly: list[Edit] = []
    halfway: list[Edit] = []
    found = candidates(bench.study, verdict, _shared(bench, verdict))
    for edit in _of_use(bench, verdict, found, allowance, failed):
        if not allowance.left:
            break
        tried = (verdict.message, edit.key)
        if tried in failed:
            halfway += [edit] if failed[tried].otherwise else []
            continue
        if _rebuilds(edit) and not rebuilding:
            continue
        allowance.glances -= 1
        if not bench.cures(verdict, (edit,), wholly=True):
            failed[tried] = Failure(bench.gives_another_reason(verdict, edit), bench)
            halfway += [edit] if failed[tried].otherwise else []
            continue
        allowance.trials -= 1
        effect = None
        if not bench.harms((edit,)):
            effect = bench.effect((edit,))
            if effect is None:
                continue
        if effect is not None and effect.harmless:
            return Found(verdict, effect, nearly, halfway)
        nearly.append(edit)
    return Found(verdict, None, nearly, halfway)


def _of_use(
    bench: Bench, verdict: Verdict, edits: Sequence[Edit], allowance: Allowance, failed: Failed
) -> Iterator[Edit]:
    """Changes but for thicker wires where all of them together, the thickest of each, do not put a verdict right."""
    whole = sizes.thickest(bench.study, edits) if _of_resistance(verdict) else None
    for edit in edits:
        if whole is not None and sizes.thickens(bench.study, edit):
            tried = (verdict.message, whole.key)
            if tried not in failed and bench.with_made((whole,)) is not None:
                allowance.glances -= 1
                if not bench.cures(verdict, (whole,)):
                    failed[tried] = Failure(False, bench)
            if tried in failed:
                continue
            whole = None
        yield edit


def _of_resistance(verdict: Verdict) -> bool:
    """Whether a thicker wire could only put a verdict right by its lesser resistance: it is about a reading."""
    return all_rules()[verdict.rule].subject == "indications"


def _shared(bench: Bench, verdict: Verdict) -> set[str]:
    """Ids that all verdicts of a rule name that found more than one discrepancy."""
    alike = [v for v in bench.faults if v.rule == verdict.rule and v.outcome is verdict.outcome]
    return set.intersection(*(set(v.at) for v in alike)) if len(alike) > 1 else set()


def _rebuilds(edit: Edit) -> bool:
    return sum(isinstance(c, Put) and len(c.path) == 2 for c in edit.changes) >= _REBUILT


def followed_up(
    bench: Bench, halfway: Sequence[Halfway], allowance: Allowance, depth: int = 2
) -> Effect | None:
    """The first of some half-way states that another change, or two, make whole: what is left is cured in its turn.

    Where one rule finds all that is left, there may be more of them: each change leaves less.
    """
    further: list[Halfway] = []
    for state in halfway[:_BRANCHES]:
        before = state.effect
        if bench.holds_back and state.left.outcome is Outcome.UNDETERMINED:
            continue  # only who says what is unknown can have it judged
        there = bench.after(before)
        for edit in _of_use(
            there, state.left, candidates(there.study, state.left)[:_FOLLOWED], allowance, {}
        ):
            if not allowance.left:
                return None
            if _undoes(edit, before.edits):
                continue
            allowance.glances -= 1
            if not there.cures(state.left, (edit,)):
                continue
            allowance.trials -= 1
            effect = bench.effect((*before.edits, edit))
            if effect is None or not before.against.gone <= effect.against.gone:
                continue
            if effect.harmless:
                return effect
            if len(effect.against.come) < len(before.against.come):
                further.append(_with_the_first(effect))
    further.sort(key=lambda state: len(state.effect.against.come))
    deeper = [h for h in further if depth < _DEPTH or len({v.rule for v in h.effect.against.come}) == 1]
    return followed_up(bench, deeper, allowance, depth + 1) if deeper else None


def _undoes(edit: Edit, before: Sequence[Edit]) -> bool:
    """Whether a change puts something else where an earlier one has put it right."""
    done = {change.path: change for one in before for change in one.changes}
    return any(done.get(change.path, change) != change for change in edit.changes)
