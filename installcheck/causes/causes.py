"""Causes: the sets of changes that put a document right, each with the verdicts that vanish with it."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from itertools import islice

from ..analysis.study import Study
from ..dataclass import dataclass
from ..model.edits import Edit, Swap
from ..rules.rejudging import Judged
from ..rules.verdicts import Ledger, Outcome, Verdict
from .candidates import involved, simplicity, things_of
from .danger import badness
from .found import Cause, Causes, nothing_to_find
from .moves.ends import exchanged
from .moves.joints import dirty
from .pairing import difference, faults, sort_of
from .search import Allowance, Failed, Found, followed_up, one_change
from .trial import Bench, Effect

GLANCES, TRIALS = 400, 60
"""Changes tried at most, by one rule and by all."""
_EXCHANGES, _OTHERS = 30, 2
"""Exchanges that are tried for one as good as another, and told at most."""
_FEW = 3
"""Things a verdict names at most, for one change to be looked for before those found already are tried together."""
_ROUNDS = 8
"""How often what is left is looked at again with all that was found done."""


def find_causes(ledger: Ledger) -> Causes:
    """The causes of a judged document's discrepancies, with a cure of each that was tried.

    Each discrepancy is given the simplest change that takes it away and does no harm; of these, the fewest that explain all
    are kept, made together and judged; what is still wrong then is looked at anew. In the end each verdict belongs to the
    changes without which it comes back.
    """
    if not any(v.outcome is Outcome.DISCREPANCY for v in ledger.verdicts):
        return nothing_to_find(ledger)
    return _Finder(ledger).find()


@dataclass(slots=True)
class _Chosen:
    """A change kept.

    Attributes:
        edits: what it is.
        gone: the verdicts of the first judgement that go with it.
        later: whether others were made before it.
        brings: advisories that come with it.
    """

    edits: tuple[Edit, ...]
    gone: frozenset[int]
    later: bool
    brings: tuple[Verdict, ...] = ()


class _Finder:
    def __init__(self, ledger: Ledger) -> None:
        self.ledger = ledger
        desk = Judged(ledger.document)
        self.first = Bench(desk, ledger.document, desk.verdicts())
        self.allowance = Allowance(GLANCES, TRIALS)
        self.chosen: list[_Chosen] = []
        self.failed: Failed = {}
        self.anew = False
        """Whether what failed is tried again, for other things are put right by now."""
        self.borne: set[tuple[str, tuple[str, ...], Outcome]] = set()
        """Advisories, and questions about new things, that come with a change for which there is no better one."""
        self._with_advice: list[Effect] = []

    def find(self) -> Causes:
        bench = self.first
        rebuilding = False
        for _ in range(_ROUNDS):
            more = self._round(bench, rebuilding=rebuilding)
            if not more and rebuilding:
                more = self._with_advice
                self._with_advice = []
                self.borne |= {_advice(v) for effect in more for v in effect.against.come}
            if not self._add(bench, more, later=bench is not self.first):
                if rebuilding and (self.anew or not self.chosen):
                    break
                if rebuilding:
                    self.anew = True
                    self.failed = {tried: one for tried, one in self.failed.items() if one.there is bench}
                rebuilding = True
                continue
            whole = self._effect(self.chosen)
            assert whole is not None
            bench = self.first.after(whole)
        self._prune()
        return self._report()

    def _round(self, bench: Bench, *, rebuilding: bool) -> list[Effect]:
        """The fewest changes that explain what can be explained in one state of the document.

        ``rebuilding``: whether changes that rebuild a whole indication are tried, which is done once the small ones are made.
        """
        pool: list[Effect] = []
        left: list[Found] = []
        grave = self._to_cure(bench)
        for index in sorted(grave, key=lambda i: involved(bench.study, bench.faults[i])):
            if any(index in effect.against.gone for effect in pool) or self._jointly(bench, index, pool):
                continue
            found = one_change(bench, bench.faults[index], self.allowance, self.failed, rebuilding=rebuilding)
            if found.effect is not None:
                pool.append(found.effect)
            else:
                left.append(found)
        pool += self._further(bench, left, pool)
        bearable = [e for e in (found.bearable(bench) for found in left) if e is not None]
        most = max((len(e.against.gone.intersection(grave)) for e in pool), default=1)
        if pool and (best := [e for e in bearable if len(e.against.gone.intersection(grave)) > most]):
            pool += best[:1]
            self.borne |= {_advice(v) for v in best[0].against.come}
        if pool:
            return _cover(grave, pool)
        if not rebuilding:
            return []
        followed = (followed_up(bench, found.halfway_states(bench), self.allowance) for found in left)
        more = [effect for effect in followed if effect is not None][:1]
        if not more:
            self._with_advice = bearable[:1]
        return more

    def _further(self, bench: Bench, left: Sequence[Found], pool: Sequence[Effect]) -> list[Effect]:
        """What takes away, in several changes, verdicts that no single one does, of things that the pool changes as well.

        That may be all that is wrong with them, where a change of the pool mends what follows from it.
        """
        touched = {t for effect in pool for edit in effect.edits for t in edit.touches}
        more = (
            followed_up(bench, found.halfway_states(bench), self.allowance)
            for found in left
            if any(touched.intersection(edit.touches) for edit in (*found.nearly, *found.halfway))
        )
        return [effect for effect in more if effect is not None]

    def _jointly(self, bench: Bench, index: int, pool: Sequence[Effect]) -> bool:
        """Whether several of the changes found so far take a verdict away together."""
        verdict = bench.faults[index]
        if len(pool) < 2 or not (verdict.path[:1] == ("indicators",) or len(verdict.at) > _FEW):
            return False
        self.allowance.glances -= 1
        return bench.cures(verdict, [e for effect in pool for e in effect.edits])

    def _to_cure(self, bench: Bench) -> list[int]:
        """Discrepancies of a state, and what was one at first and is an advisory now."""
        grave = {i for i, v in enumerate(bench.faults) if v.outcome is Outcome.DISCREPANCY}
        eased = {
            id(now)
            for place, now in difference(self.first.faults, bench.faults).stays
            if self.first.faults[place].outcome is Outcome.DISCREPANCY
            and now.outcome is not Outcome.UNDETERMINED
        }
        return sorted(grave | {i for i, v in enumerate(bench.faults) if id(v) in eased})

    def _add(self, bench: Bench, more: Sequence[Effect], *, later: bool) -> bool:
        """Keep changes that were found in one state of the document, but for those that harm what is kept, and go there."""
        done = len(self.chosen)
        before = difference(self.first.faults, bench.faults).gone
        for effect in more:
            gone = difference(self.first.faults, faults(effect.verdicts)).gone
            self.borne |= {_advice(v) for v in effect.waiting}
            self.chosen.append(_Chosen(effect.edits, gone - before, later, effect.against.come))
        if len(more) == 1:
            self._gone_to(self.chosen)
        elif more and not self._holds(self.chosen):
            kept = self.chosen[:done]
            for one in self.chosen[done:]:
                if self._holds([*kept, one]):
                    kept.append(one)
            self.chosen = kept
        return len(self.chosen) > done

    def _holds(self, chosen: Sequence[_Chosen]) -> bool:
        effect = self._gone_to(chosen)
        if effect is None:
            return False
        if not self._harmless(effect):
            self.first.desk.back()
            return False
        return True

    def _harmless(self, effect: Effect) -> bool:
        """Whether nothing new has come but advice that is borne."""
        return all(_advice(v) in self.borne for v in effect.against.come)

    def _gone_to(self, chosen: Iterable[_Chosen]) -> Effect | None:
        return self.first.gone_to(e for one in chosen for e in one.edits)

    def _effect(self, chosen: Iterable[_Chosen]) -> Effect | None:
        return self.first.effect([e for one in chosen for e in one.edits])

    def _prune(self) -> None:
        """Leave out what a later change makes needless."""
        for one in list(self.chosen):
            touched = {t for e in one.edits for t in e.touches}
            others = [c for c in self.chosen if c is not one]
            overlapping = [c for c in others if c.later and touched & {t for e in c.edits for t in e.touches}]
            if not overlapping:
                continue
            now, without = self._effect(self.chosen), self._effect(others)
            if (
                now is not None
                and without is not None
                and self._harmless(without)
                and now.against.gone <= without.against.gone
            ):
                self.chosen = others
                overlapping[-1].gone |= one.gone

    def _report(self) -> Causes:
        before = faults(self.ledger.verdicts)  # as in the first bench, but these are what the ledger holds
        whole = self._effect(self.chosen)
        assert whole is not None
        total = whole.against.gone
        eased = {
            place: now
            for place, now in whole.against.stays
            if before[place].outcome is Outcome.DISCREPANCY and now.outcome is not Outcome.DISCREPANCY
        }
        needs = {place: self._needs(place) for place in total} | {p: self._near(p) for p in eased}
        self._back()
        found = Causes(self.ledger, whole.document, whole.verdicts, whole=self.allowance.left)
        needed = [k for k in range(len(self.chosen)) if any(k in by for by in needs.values())]
        after = {k: [n for n in self._first(k) if n in needed] for k in needed}
        self._back()
        left = [i for i in range(len(before)) if i not in needs]
        without = [i for i in left if before[i].outcome is Outcome.DISCREPANCY]
        number = {k: n for n, k in enumerate(self._in_order(needs, after, without), 1)}
        for k in number:
            if k < 0:
                found.causes.append(Cause((), (before[~k],)))
                continue
            explains = [i for i, by in needs.items() if by == [k]]
            shares = [i for i, by in needs.items() if k in by and len(by) > 1]
            found.causes.append(
                Cause(
                    self.chosen[k].edits,
                    _worst_first(self.first.study, [before[i] for i in sorted(explains)]),
                    tuple(
                        (before[i], tuple(number[n] for n in needs[i] if n != k and n in number))
                        for i in sorted(shares)
                    ),
                    tuple(sorted(number[n] for n in after[k])),
                    self.chosen[k].brings,
                    self._instead(k),
                    tuple(
                        now
                        for place, now in eased.items()
                        if now.outcome is Outcome.UNDETERMINED and needs[place] == [k]
                    ),
                )
            )
        found.advisories = tuple(before[i] for i in left if before[i].outcome is Outcome.ADVISORY)
        return found

    def _back(self) -> None:
        """Let the desk stand for the document as it is."""
        while self.first.desk.away:
            self.first.desk.back()

    def _instead(self, k: int) -> tuple[Edit, ...]:
        """What does as well as a change: an exchange at the other side of a plug, a joint cleaned in place of a new return."""
        one = self.chosen[k]
        if one.later or len(one.edits) != 1 or one.edits[0].must_measure:
            return ()
        gone = [self.first.faults[place] for place in sorted(one.gone)]
        worst = next((v for v in gone if v.outcome is Outcome.DISCREPANCY), gone[0])
        found: list[Edit] = []
        for edit in self._as_good(one.edits[0], {ident for verdict in gone for ident in verdict.at}):
            if any({*edit.key} == {*e.key} for e in (one.edits[0], *found)):
                continue
            if not self.first.cures(worst, (edit,), wholly=True) or self.first.harms((edit,)):
                continue
            effect = self.first.effect((edit,))
            if effect is not None and effect.harmless and one.gone <= effect.against.gone:
                found.append(edit)
        return tuple(found[:_OTHERS])

    def _as_good(self, edit: Edit, named: Collection[str]) -> Iterator[Edit]:
        """Changes of the same sort to the things named, and joints of theirs that are far from clean."""
        study = self.first.study
        if all(isinstance(change, Swap) for change in edit.changes):
            ends = (e for i in sorted(named) if i in study.model.wire_runs for e in exchanged(study, i))
            yield from islice((e for e in ends if {i for _, i in e.touches} <= {*named}), _EXCHANGES)
        else:
            for section, ident in edit.touches:
                if section in ("senders", "probes") and ident in named:
                    yield from dirty(study, section, ident)

    def _in_order(
        self, needs: dict[int, list[int]], after: dict[int, list[int]], left: Sequence[int]
    ) -> list[int]:
        """Causes, the worst first: by what they endanger, then the furthest beyond the limit, then in the order of the document.

        None comes before one that must be cured first. Verdicts ``left`` without a cure stand among them, each as ``~place``;
        those that say the same together.
        """
        before = self.first.faults
        ranks: dict[int, tuple[float, ...]] = {}
        for k in after:
            mine = [i for i, by in needs.items() if k in by and before[i].outcome is Outcome.DISCREPANCY]
            ranks[k] = (*badness([before[i] for i in mine]), min(mine, default=0))
        sorts = {i: sort_of(before[i]) for i in left}
        for i in left:
            first = next(n for n in left if sorts[n] == sorts[i])
            ranks[~i] = (*badness([before[first]]), first, i)
        order: list[int] = []
        waiting = sorted(ranks, key=lambda k: ranks[k])
        while waiting:
            ready = next((k for k in waiting if not {*after.get(k, ())} & {*waiting}), waiting[0])
            waiting.remove(ready)
            order.append(ready)
        return order

    def _needs(self, place: int) -> list[int]:
        """Which of the chosen changes a verdict needs: the one that takes it away alone, else all without which it comes back."""
        single = [k for k, one in enumerate(self.chosen) if place in one.gone]
        if single and not self.chosen[single[0]].later:
            return single[:1]
        verdict = self.first.faults[place]
        found = []
        near = things_of(self.first.study, verdict)
        for k in range(len(self.chosen)):
            if k not in single and not near & {ident for _, ident in self._touched(k)}:
                continue
            others = [e for n, one in enumerate(self.chosen) if n != k for e in one.edits]
            if k in single or (
                self.first.with_made(others) is not None and not self.first.cures(verdict, others)
            ):
                found.append(k)
        return found

    def _near(self, place: int) -> list[int]:
        """The chosen change that touches what a verdict turns on: it is no discrepancy any more, but it stays."""
        near = things_of(self.first.study, self.first.faults[place])
        touching = [k for k in range(len(self.chosen)) if near & {i for _, i in self._touched(k)}]
        return (touching or [0])[:1]

    def _first(self, k: int) -> list[int]:
        """The chosen changes without which another would do harm or cannot be made."""
        if not self.chosen[k].later:
            return []
        first: set[int] = set()
        while True:
            effect = self._gone_to([self.chosen[n] for n in [*sorted(first), k]])
            if effect is not None and self._harmless(effect):
                return sorted(first)
            near = {ident for _, ident in self._touched(k)}
            if effect is not None:
                near = {ident for verdict in effect.against.come for ident in verdict.at}
            more = {n for n in range(k) if near & {ident for _, ident in self._touched(n)}} - first
            if not more:
                return sorted(first or set(range(k)))
            first |= more

    def _touched(self, k: int) -> set[tuple[str, str]]:
        return {touched for edit in self.chosen[k].edits for touched in edit.touches}


def _advice(verdict: Verdict) -> tuple[str, tuple[str, ...], Outcome]:
    return verdict.rule, verdict.at, verdict.outcome


def _worst_first(study: Study, verdicts: Iterable[Verdict]) -> tuple[Verdict, ...]:
    """Discrepancies first, of them those that turn on the fewest things: they say best what is wrong."""
    return tuple(sorted(verdicts, key=lambda v: (v.outcome is not Outcome.DISCREPANCY, involved(study, v))))


def _cover(grave: Sequence[int], pool: Sequence[Effect]) -> list[Effect]:
    """The fewest changes that explain all that any explains: each time the one that explains most, of equals the simplest."""
    left = {i for effect in pool for i in effect.against.gone if i in grave}
    chosen: list[Effect] = []
    while left:
        best = min(pool, key=lambda e: (-len(left & e.against.gone), _cost(e.edits)))
        left -= best.against.gone
        chosen.append(best)
    return chosen


def _cost(edits: Sequence[Edit]) -> tuple[int, ...]:
    costs = [simplicity(edit) for edit in edits]
    return max(c[0] for c in costs), sum(c[1] for c in costs)
