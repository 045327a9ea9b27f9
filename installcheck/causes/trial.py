"""Changes tried on a copy of the document, and what comes of them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import cache
from typing import TypeAlias

from ..analysis.missing import Missing
from ..analysis.statements.unsaid import unsaid
from ..analysis.study import Study
from ..dataclass import dataclass
from ..document import Document
from ..document.edited import edited
from ..document.places import DocumentError
from ..model.edits import Drop, Edit, Key, Put
from ..rules.engine import all_rules
from ..rules.rejudging import Judged
from ..rules.verdicts import Outcome, Verdict
from ..rules.vocabulary import Rule
from .allowed import allowed, indications_read, keeps_what_is_needed
from .pairing import Difference, difference, faults, sort_of

_Key: TypeAlias = tuple[Key, ...]
_FIGURES = ("resistance", "gauge", "length")
"""Words that take no fact away when another figure is written for them."""


@dataclass(frozen=True, slots=True)
class Effect:
    """What comes of some changes.

    Attributes:
        edits: what was done, in this order.
        document: the document with it done.
        verdicts: all that was judged in that.
        against: what has gone, stays and has come, by place in the faults of the bench.
        waiting: what was wrong, and cannot be judged now for want of what the document did not say before.
    """

    edits: tuple[Edit, ...]
    document: Document
    verdicts: tuple[Verdict, ...]
    against: Difference
    waiting: tuple[Verdict, ...] = ()

    @property
    def harmless(self) -> bool:
        """Whether nothing new has come."""
        return not self.against.come

    @property
    def bearable(self) -> bool:
        """Whether nothing new has come but good advice, and questions about what is new itself."""
        return _is_bearable(self.edits, self.against.come)


class Bench:
    """A judged document on which changes are tried.

    Attributes:
        desk: what judges again; several benches may share one.
        document: the document as it is.
        study: its study, for what is looked up to find changes.
        faults: what is not as it should be in it, discrepancies, advisories and what cannot be judged.
        holds_back: whether the document says that something is unknown, and so keeps what rests on it from being judged.
        trials: how many changes were judged by every rule.
        glances: how many were judged by one rule only.
    """

    def __init__(self, desk: Judged, document: Document, verdicts: Iterable[Verdict]) -> None:
        self.desk = desk
        self.document = document
        self.study = Study(document)
        self.faults: list[Verdict] = faults(verdicts)
        self.trials = self.glances = 0
        self._read = indications_read(self.study)
        self._done: tuple[Edit, ...] = ()
        """What was made before, in a bench that is :meth:`after` another."""
        self._documents: dict[_Key, Document | None] = {}
        self._effects: dict[_Key, Effect | None] = {}
        self._harming: dict[_Key, tuple[Verdict, ...]] = {}
        """What some changes were found to bring first."""
        self._other_reasons: set[tuple[int, _Key]] = set()
        self._found_harm: dict[str, Rule] = {}
        self._told: dict[str, list[Verdict]] = {}
        self._harmless: dict[str, list[Verdict]] = {}
        """What rules told last that brought nothing new: most tell the same again, for nothing they read is another."""
        # What the engine accepts depends on all verdicts: then harm is not seen by one rule alone.
        self._one_rule_tells = not document.installation.deviations
        # Neither is what it holds back for words that are unknown: of those items, one rule alone says nothing.
        self._words = unsaid(document)
        self.holds_back = bool(self._words)
        self._open = {_item(v) for v in self.faults if v.outcome is Outcome.UNDETERMINED}

    def after(self, effect: Effect) -> Bench:
        """The bench of the document in which some changes are made."""
        there = Bench(self.desk, effect.document, effect.verdicts)
        there._done, there._documents = (*self._done, *effect.edits), self._documents
        return there

    def with_made(self, edits: Iterable[Edit]) -> Document | None:
        """The document with some changes made; ``None`` if they cannot or may not be made."""
        document: Document | None = self.document
        key = _key(self._done)
        for edit in edits:
            key += edit.key
            if document is not None and key not in self._documents:
                self._documents[key] = _with_one_more(document, edit)
            document = self._documents.get(key)
        return document

    def cures(self, verdict: Verdict, edits: Iterable[Edit], *, wholly: bool = False) -> bool:
        """Whether a verdict is gone with some changes, by the one rule that gave it: a glance before a trial.

        ``wholly``: if it seems to be, the changes are judged by every rule at once, for :meth:`effect`; until one finds harm
        (:meth:`harms`), or they may not be made, whatever then becomes of the verdict.
        """
        made = tuple(edits)
        document = self.with_made(made)
        if document is None:
            return False
        self.glances += 1
        replaced = any(isinstance(c, Drop) and c.path == verdict.path[:2] for e in made for c in e.changes)
        known = self._effects.get(key := _key(made))
        if known is not None:
            return self._is_cured(verdict, document, known.verdicts, replaced=replaced)
        if wholly:
            self._told = self._told or self._as_told()
        with self.desk.trying(document):
            if verdict.at and not document.installation.deviations:
                # What is held back only grows more: if it is not cured here, it is not cured then.
                found: Sequence[Verdict] = self.desk.glance(verdict.rule, verdict.at[0])
                if not self._is_cured(verdict, document, found, replaced=replaced):
                    if _another_reason(verdict, found):
                        self._other_reasons.add((id(verdict), key))
                    return False
            if wholly and key not in self._effects and key not in self._harming:
                self._try(key, made, document)
                if key in self._harming:
                    return True
            if key in self._effects and self._effects[key] is None:
                return True
            effect = self._effects.get(key)
            found = self.desk.verdicts([verdict.rule]) if effect is None else effect.verdicts
        return self._is_cured(verdict, document, found, replaced=replaced)

    def _is_cured(
        self, verdict: Verdict, document: Document, found: Sequence[Verdict], *, replaced: bool
    ) -> bool:
        """Whether what a verdict found is gone, and not merely out of sight: its thing can be judged, or is replaced on purpose."""
        before = [v for v in self.faults if v.rule == verdict.rule]
        now = [v for v in found if v.rule == verdict.rule]
        here = [v for v in now if v.at[:1] == verdict.at[:1]]
        open_before = {(v.at, v.path) for v in before if v.outcome is Outcome.UNDETERMINED}
        if any(
            v.failed or (v.outcome is Outcome.UNDETERMINED and (v.at, v.path) not in open_before)
            for v in here
        ):
            return False
        index = next(i for i, v in enumerate(before) if v is verdict)
        return index in difference(before, faults(now)).gone and (
            bool(here) or replaced or _is_there(document, verdict)
        )

    def gives_another_reason(self, verdict: Verdict, edit: Edit) -> bool:
        """Whether, as :meth:`cures` found, the reason a verdict gives is gone with a change, and another stands in its place."""
        return (id(verdict), _key((edit,))) in self._other_reasons

    def effect(self, edits: Iterable[Edit]) -> Effect | None:
        """What comes of some changes, by every rule; ``None`` if they cannot or may not be made."""
        made = tuple(edits)
        key = _key(made)
        if key not in self._effects:
            self._effects[key] = self._effect(made)
        return self._effects[key]

    def _effect(self, edits: tuple[Edit, ...]) -> Effect | None:
        document = self.with_made(edits)
        if document is None:
            return None
        with self.desk.trying(document):
            return self._judged(edits, document) if self._keeps_what_is_needed() else None

    def gone_to(self, edits: Iterable[Edit]) -> Effect | None:
        """As :meth:`effect`, with the desk gone over to the document in which the changes are made, if they can be made."""
        made = tuple(edits)
        document = self.with_made(made)
        if document is None:
            return None
        self.desk.go(document)
        judged = self._judged(made, document)
        effect = self._effects.setdefault(_key(made), judged if self._keeps_what_is_needed() else None)
        if effect is None:
            self.desk.back()
        return effect

    def harms(self, edits: Iterable[Edit]) -> bool:
        """Whether some changes were found to bring something new, before all of it was looked for."""
        return _key(edits) in self._harming

    def could_be_borne(self, edit: Edit) -> bool:
        """Whether what a change was found to bring first can be borne (:attr:`Effect.bearable`)."""
        return _is_bearable((edit,), self._harming.get(_key((edit,)), ()))

    def _try(self, key: _Key, edits: tuple[Edit, ...], document: Document) -> None:
        """Judge changes whose document is tried now, by the rules that look nearest first, until one finds harm."""
        if not self._keeps_what_is_needed():
            self._effects[key] = None
        elif self._one_rule_tells and (harm := self._first_harm(edits, document)):
            self._harming[key] = harm
        else:
            self._effects[key] = self._judged(edits, document)

    def _keeps_what_is_needed(self) -> bool:
        return keeps_what_is_needed(self.study.model, self._read, self.desk.study)

    def _first_harm(self, edits: tuple[Edit, ...], document: Document) -> tuple[Verdict, ...]:
        """The harm that a rule finds; those that found it before are asked first, for changes are tried beside their like."""
        first = self._found_harm
        for rule in (*reversed(first.values()), *(r for r in nearest_first() if r.id not in first)):
            if harm := self._harm_by(rule, edits, document):
                first.pop(rule.id, None)
                first[rule.id] = rule
                return harm
        return ()

    def _harm_by(self, rule: Rule, edits: tuple[Edit, ...], document: Document) -> tuple[Verdict, ...]:
        told = self.desk.asked(rule)
        if self._harmless.get(rule.id) is told:
            return ()
        before = self._told.get(rule.id, [])
        found = difference(before, faults(told))
        if not found.come:
            self._harmless[rule.id] = told
            return ()
        waiting = self._waiting(edits, document, before, found)
        return tuple(
            v for v in found.come if v not in waiting and not (self.holds_back and _item(v) in self._open)
        )

    def _as_told(self) -> dict[str, list[Verdict]]:
        """The faults of the document as it is by rule, before anything is held back for what is unknown."""
        told: dict[str, list[Verdict]] = {}
        if not self.holds_back:
            for verdict in self.faults:
                told.setdefault(verdict.rule, []).append(verdict)
            return told
        with self.desk.trying(self.document):
            return {rule.id: faults(self.desk.asked(rule)) for rule in nearest_first()}

    def _judged(self, edits: tuple[Edit, ...], document: Document) -> Effect:
        """What comes of changes whose document is tried now."""
        self.trials += 1
        verdicts = tuple(self.desk.verdicts())
        found = difference(self.faults, faults(verdicts))
        waiting = self._waiting(edits, document, self.faults, found)
        come = tuple(v for v in found.come if v not in waiting) if waiting else found.come
        return Effect(edits, document, verdicts, replace(found, come=come), waiting)

    def _waiting(
        self, edits: Iterable[Edit], document: Document, before: Sequence[Verdict], found: Difference
    ) -> tuple[Verdict, ...]:
        """What was wrong, and waits now for what the document did not say before: that is no harm of the changes."""
        open_now = [
            v
            for place, v in found.stays
            if before[place].outcome is Outcome.DISCREPANCY
            and v.outcome is Outcome.UNDETERMINED
            and v.missing
        ]
        changes = [change for edit in edits for change in edit.changes]
        if not open_now or all(isinstance(c, Put) and c.path[-1] in _FIGURES for c in changes):
            return tuple(open_now)
        words: set[tuple[str, str]] = set()
        if {w.path for w in unsaid(document)} <= {w.path for w in self._words}:
            words.update((w.section, w.field) for w in self._words)
        return tuple(
            v
            for v in open_now
            if all(isinstance(m, Missing) and (m.section, m.field) in words for m in v.missing)
        )


def _is_bearable(edits: Iterable[Edit], come: Iterable[Verdict]) -> bool:
    new = {c.path[1] for e in edits for c in e.changes if isinstance(c, Put) and len(c.path) == 2}
    return all(
        v.outcome is Outcome.ADVISORY or (v.outcome is Outcome.UNDETERMINED and v.at[:1] and v.at[0] in new)
        for v in come
    )


def _item(verdict: Verdict) -> tuple[str, tuple[str, ...]]:
    return verdict.rule, verdict.at[:1]


def _another_reason(verdict: Verdict, found: Iterable[Verdict]) -> bool:
    """Whether what is found now of the thing of a discrepancy is as grave, and something else, not a lesser figure of it."""
    is_reading = verdict.value is not None and all_rules()[verdict.rule].subject == "indications"
    if is_reading or verdict.outcome is not Outcome.DISCREPANCY:
        return False
    now = [v for v in found if v.rule == verdict.rule and v.at[:1] == verdict.at[:1]]
    return (
        bool(now)
        and all(v.outcome is Outcome.DISCREPANCY for v in now)
        and sort_of(verdict) not in map(sort_of, now)
    )


def _with_one_more(document: Document, edit: Edit) -> Document | None:
    try:
        return edited(document, edit) if allowed(edit) else None
    except (DocumentError, KeyError, IndexError, TypeError):
        return None


def nearest_first() -> tuple[Rule, ...]:
    """Every rule, those first that look at single things: they find harm soonest, and at the least cost."""
    rules = all_rules()
    return tuple(rules[ident] for ident in _nearest_first())


@cache
def _nearest_first() -> tuple[str, ...]:
    def width(rule: Rule) -> tuple[bool, bool]:
        return not rule.walks, rule.subject in ("indications", "power")

    return tuple(rule.id for rule in sorted(all_rules().values(), key=width))


def _key(edits: Iterable[Edit]) -> _Key:
    """What some edits do together."""
    return tuple(key for edit in edits for key in edit.key)


def _is_there(document: Document, verdict: Verdict) -> bool:
    """Whether the thing a verdict is about is still in the document."""
    path = verdict.path
    if len(path) > 1 and isinstance(path[1], str):
        return path[1] in document.installation.section(str(path[0]))
    return True
