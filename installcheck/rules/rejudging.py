"""Judges a document again after an edit, and asks of each rule only what read something that changed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from typing import Any

from ..analysis.remembered.alike import alike
from ..analysis.remembered.memory import Memory
from ..analysis.remembered.reads import Reading, work
from ..analysis.remembered.study import RememberedStudy
from ..analysis.statements.disputed import left_open
from ..document import Document
from ..document.source import DocPath
from .engine import (
    Told,
    all_rules,
    answered,
    chosen_of,
    gathered,
    population_of,
    told_of,
    told_of_all,
    told_of_only,
)
from .holding import Asked, Asking
from .verdicts import Ledger, Verdict
from .vocabulary import Rule, Subject


class Judged:
    """A document that is edited and judged again: the same verdicts as from nothing, in the time of what changed.

    It stands for one document at a time. A ledger keeps its verdicts and its document, but its ``study`` stands for the
    document as it is now; use it from one thread.

    >>> judged = Judged(document)                        # doctest: +SKIP
    >>> before = judged.judge()                          # doctest: +SKIP
    >>> with judged.trying(edited(document, edit)):      # doctest: +SKIP
    ...     some = judged.judge(["voltage-drop"])
    ...     after = judged.judge()
    >>> judged.move(edited(document, edit))              # doctest: +SKIP
    >>> after = judged.judge()                           # doctest: +SKIP
    """

    def __init__(self, document: Document) -> None:
        self._study = RememberedStudy(document)
        self._answers = _Answers(self._study)
        self._open: Judged | None = None
        self._said: Judged | None = None

    @property
    def document(self) -> Document:
        """The document it stands for now."""
        return self._study.plain

    @property
    def study(self) -> RememberedStudy:
        """Its study."""
        return self._study

    def judge(self, rules: Iterable[str] | None = None) -> Ledger:
        """Judge the document it stands for by every rule, or by those named.

        Raises:
            KeyError: a rule that does not exist.
        """
        ledger = gathered(
            self._study, chosen_of(rules), self.document, self._answers.of, self._left_open, self._saying
        )
        if rules is None:
            for one in (self, self._open, self._said):
                if one is not None:
                    one._study.memory.forget_unasked()
        return ledger

    def glance(self, rule: str, ident: str) -> list[Verdict]:
        """What one rule tells of the item of an id, before anything is held back or accepted; some of the others may be there.

        Raises:
            KeyError: a rule that does not exist.
        """
        return self._answers.of_item(all_rules()[rule], ident)

    def move(self, document: Document) -> None:
        """Go over to another document, for good."""
        self._study.move(document)

    @contextmanager
    def trying(self, document: Document) -> Iterator[None]:
        """Stand for another document within the block, and for the one before after it.

        Raises:
            RuntimeError: within another trial, or while the document was not judged by every rule.
        """
        with self._study.trying(document):
            yield

    def _saying(self, document: Document) -> Asking:
        """Asks of the same document with all that is unknown said."""
        if self._said is None:
            self._said = Judged(document)
        else:
            self._said.move(document)
        return self._said._answers.of

    def _left_open(self) -> Asking:
        """Asks of the same document with all that is disputed left open."""
        document = left_open(self._study)
        if self._open is None:
            self._open = Judged(document)
        else:
            self._open.move(document)
        return self._open._answers.of


class _Answer:
    """What a rule told of one item, with what it read."""

    token = None
    reading: Reading

    def __init__(self, answers: _OfRule, item: object, told: Told) -> None:
        self.item, self.told, self._answers = item, told, answers

    def in_doubt(self) -> None:
        """The rule has something to be asked again."""
        self._answers.unsettle()


class _OfRule:
    """All that one rule told.

    Attributes:
        settled: whether none of it is in doubt.
    """

    def __init__(self, memory: Memory) -> None:
        self._memory = memory
        self.settled = False
        self.population: object = None
        self.answers: list[_Answer] = []
        self.asked = Asked([], 0)

    def unsettle(self) -> None:
        """Something it told is in doubt."""
        if self.settled:
            self.settled = False
            self._memory.on_return(self.settle)

    def settle(self) -> None:
        """Nothing it told is in doubt."""
        self.settled = True

    def keep(self) -> None:
        """Let it come back as it is when the document tried is left."""
        answers, population, asked, settled = self.answers, self.population, self.asked, self.settled

        def back() -> None:
            self.answers, self.population, self.asked, self.settled = answers, population, asked, settled

        self._memory.on_return(back)


class _Answers:
    """What every rule told of every item of a study."""

    def __init__(self, study: RememberedStudy) -> None:
        self._study, self._memory = study, study.memory
        self._rules: dict[str, _OfRule] = {}

    def of(self, one: Rule) -> Asked:
        """What a rule answers."""
        state = self._rules.setdefault(one.id, _OfRule(self._memory))
        if not one.walks:
            return self._of_all(one, state)
        population, fault = self._study.kept(("population", one.id), lambda: population_of(one, self._study))
        if state.settled and state.population is population:
            return state.asked
        state.keep()
        before: dict[tuple[tuple[str, ...], DocPath], list[_Answer]] = {}
        for answer in reversed(state.answers):
            before.setdefault((answer.told.at, answer.told.path), []).append(answer)
        answers = []
        for subject, item in population:
            old = _taken(before.get((subject.at, subject.path)), item)
            answers.append(self._renewed(one, state, old, subject, item))
        for gone in before.values():
            for answer in gone:
                self._memory.replaced(answer.reading)
        state.answers, state.population, state.settled = answers, population, True
        state.asked = answered(one, [a.told for a in answers], len(population), fault)
        return state.asked

    def of_item(self, one: Rule, ident: str) -> list[Verdict]:
        """What a rule answers of an item."""
        state = self._rules.setdefault(one.id, _OfRule(self._memory))
        if not one.walks:
            if not one.narrows or (state.answers and self._memory.stands(state.answers[0].reading)):
                return self._of_all(one, state).verdicts
            return answered(one, [told_of_only(one, self._study, ident)], 1, None).verdicts
        population, fault = self._study.kept(("population", one.id), lambda: population_of(one, self._study))
        if state.settled and state.population is population:
            return state.asked.verdicts
        before: dict[tuple[tuple[str, ...], DocPath], list[_Answer]] = {}
        for answer in reversed(state.answers):
            if answer.told.at[:1] == (ident,) or any(v.at[:1] == (ident,) for v in answer.told.verdicts):
                before.setdefault((answer.told.at, answer.told.path), []).append(answer)
        told = []
        for subject, item in population:
            if subject.ident != ident and (subject.at, subject.path) not in before:
                continue
            old = _taken(before.get((subject.at, subject.path)), item)
            stands = old is not None and self._memory.stands(old.reading)
            told.append(old.told if old is not None and stands else told_of(one, self._study, subject, item))
        return answered(one, told, len(told), fault).verdicts

    def _renewed(
        self, one: Rule, state: _OfRule, old: _Answer | None, subject: Subject, item: Any
    ) -> _Answer:
        if old is not None:
            if self._memory.stands(old.reading):
                return old
            self._memory.replaced(old.reading)
        with work() as read:
            told = told_of(one, self._study, subject, item)
        return self._made(state, item, told, read)

    def _made(self, state: _OfRule, item: object, told: Told, read: Iterable[Any]) -> _Answer:
        answer = _Answer(state, item, told)
        answer.reading = made = Reading(answer, read, self._memory.round)
        self._memory.on_return(lambda: setattr(made, "dead", True))
        return answer

    def _of_all(self, one: Rule, state: _OfRule) -> Asked:
        if state.answers and self._memory.stands(state.answers[0].reading):
            state.settled = True
            return state.asked
        state.keep()
        if state.answers:
            self._memory.replaced(state.answers[0].reading)
        with work() as read:
            told, count, fault = told_of_all(one, self._study)
        state.answers, state.settled = [self._made(state, None, told, read)], True
        state.asked = answered(one, [told], count, fault)
        return state.asked


def _taken(old: list[_Answer] | None, item: object) -> _Answer | None:
    """What was told of an item like this one, taken out of what is left of the old."""
    for i in range(len(old or ()) - 1, -1, -1):
        assert old is not None
        if alike(old[i].item, item):
            return old.pop(i)
    return None
