"""Judges a document again after an edit, and asks of each rule only what read something that changed."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from contextlib import AbstractContextManager, contextmanager
from typing import Any

from ..analysis.remembered.alike import alike
from ..analysis.remembered.memory import Memory
from ..analysis.remembered.reads import Reading, Token, work
from ..analysis.remembered.study import RememberedStudy
from ..analysis.statements.disputed import left_open
from ..document import Document
from ..document.source import DocPath
from .engine import (
    Told,
    all_rules,
    answered,
    chosen_of,
    covered,
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
        self._gone: list[AbstractContextManager[None]] = []
        self._lingers = False

    @property
    def document(self) -> Document:
        """The document it stands for now."""
        self._settle()
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
        verdicts, populations = self._gathered(rules)
        return Ledger(self._study, verdicts, covered(verdicts, populations))

    def verdicts(self, rules: Iterable[str] | None = None) -> list[Verdict]:
        """As :meth:`judge`, without counting what was covered."""
        return self._gathered(rules)[0]

    def _gathered(self, rules: Iterable[str] | None) -> tuple[list[Verdict], dict[str, int]]:
        self._settle()
        found = gathered(
            self._study, chosen_of(rules), self.document, self._answers.of, self._left_open, self._saying
        )
        if rules is None:
            for one in (self, self._open, self._said):
                if one is not None:
                    one._study.memory.all_asked()
        return found

    def asked(self, rule: Rule) -> list[Verdict]:
        """What one rule tells of all its items, before anything is held back or accepted."""
        self._settle()
        return self._answers.of(rule).verdicts

    def glance(self, rule: str, ident: str) -> list[Verdict]:
        """What one rule tells of the item of an id, before anything is held back or accepted; some of the others may be there.

        Raises:
            KeyError: a rule that does not exist.
        """
        self._settle()
        return self._answers.of_item(all_rules()[rule], ident)

    def move(self, document: Document) -> None:
        """Go over to another document, for good."""
        self._settle()
        self._study.move(document)

    @contextmanager
    def trying(self, document: Document) -> Iterator[None]:
        """Stand for another document within the block, and for the one before after it.

        What was judged of it is only let go of when anything else is asked for: trying it again at once, or going over to
        it, costs nothing.

        Raises:
            RuntimeError: the document was not judged by every rule.
        """
        self.go(document)
        try:
            yield
        except BaseException:
            self.back()
            raise
        self._lingers = True

    def go(self, document: Document) -> None:
        """Stand for another document until :meth:`back`, which may be called after other trials; otherwise as :meth:`trying`."""
        if self._lingers and self._study.plain is document:
            self._lingers = False
            return
        self._settle()
        gone = self._study.trying(document)
        gone.__enter__()
        self._gone.append(gone)

    def back(self) -> None:
        """Stand for the document from which it last went over."""
        self._settle()
        self._gone.pop().__exit__(None, None, None)

    def _settle(self) -> None:
        """Let go of a document that was tried."""
        if self._lingers:
            self._lingers = False
            self._gone.pop().__exit__(None, None, None)

    @property
    def away(self) -> bool:
        """Whether it went over to another document and is not back."""
        self._settle()
        return bool(self._gone)

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
        self._answers.unsettle(self)


class _OfRule:
    """All that one rule told.

    Attributes:
        population: the items it was asked of.
        answers: what it told of each, in their order.
        doubted: those of the answers that are in doubt.
        asked: the answers as one.
    """

    def __init__(self, memory: Memory) -> None:
        self._memory = memory
        self.population: object = None
        self.answers: list[_Answer] = []
        self.doubted: list[_Answer] = []
        self.asked = Asked([], 0)

    def unsettle(self, answer: _Answer) -> None:
        """Something it told is in doubt."""
        if not self.doubted:
            self._memory.on_return(self._settle)
        self.doubted.append(answer)

    def _settle(self) -> None:
        self.doubted = []

    def renew(self, answers: list[_Answer], asked: Asked, population: object = None) -> None:
        """Take what it tells now, until the document tried is left."""
        before = self.answers, self.asked, self.population

        def back() -> None:
            self.answers, self.asked, self.population = before
            self.doubted = []

        self._memory.on_return(back)
        self.answers, self.asked, self.population, self.doubted = answers, asked, population, []


class _Answers:
    """What every rule told of every item of a study."""

    def __init__(self, study: RememberedStudy) -> None:
        self._study, self._memory = study, study.memory
        self._rules: dict[str, _OfRule] = {}

    def of(self, one: Rule, only: Collection[str] = ()) -> Asked:
        """What a rule answers; of the items ``only`` names, where it names any and the rule can be asked of one."""
        if only and one.narrows:
            return Asked([v for ident in only for v in self.of_item(one, ident)], len(only))
        state = self._of(one)
        if not one.walks:
            return self._of_all(one, state)
        if not state.doubted and self._study.sure(("population", one.over), state.population):
            return state.asked
        named = population, fault = self._population(one)
        if state.population is named:
            return self._of_same(one, state, population, fault) if state.doubted else state.asked
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
        state.renew(answers, answered(one, [a.told for a in answers], len(population), fault), named)
        return state.asked

    def _of_same(
        self, one: Rule, state: _OfRule, population: list[tuple[Subject, Any]], fault: Exception | None
    ) -> Asked:
        """What a rule answers of the items it was asked of before: only what is in doubt is asked again."""
        answers, doubted = list(state.answers), set(map(id, state.doubted))
        for place, old in enumerate(state.answers):
            if id(old) in doubted:
                answers[place] = self._renewed(one, state, old, *population[place])
        asked = answered(one, [a.told for a in answers], len(population), fault)
        state.renew(answers, asked, state.population)
        return asked

    def _of(self, one: Rule) -> _OfRule:
        state = self._rules.get(one.id)
        if state is None:
            state = self._rules[one.id] = _OfRule(self._memory)
        return state

    def _population(self, one: Rule) -> tuple[list[tuple[Subject, Any]], Exception | None]:
        found: tuple[list[tuple[Subject, Any]], Exception | None] = self._study.kept(
            ("population", one.over), lambda: population_of(one, self._study)
        )
        return found

    def of_item(self, one: Rule, ident: str) -> list[Verdict]:
        """What a rule answers of an item."""
        state = self._of(one)
        if not one.walks:
            if not one.narrows or (state.answers and self._memory.stands(state.answers[0].reading)):
                return self._of_all(one, state).verdicts
            return answered(one, [told_of_only(one, self._study, ident)], 1, None).verdicts
        named = population, fault = self._population(one)
        if state.population is named and not state.doubted:
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

    def _made(self, state: _OfRule, item: object, told: Told, read: Collection[Token]) -> _Answer:
        answer = _Answer(state, item, told)
        answer.reading = self._memory.reading(answer, read)
        return answer

    def _of_all(self, one: Rule, state: _OfRule) -> Asked:
        if state.answers and not state.doubted:
            return state.asked
        state.doubted = []
        if state.answers and self._memory.stands(state.answers[0].reading):
            return state.asked
        if state.answers:
            self._memory.replaced(state.answers[0].reading)
        with work() as read:
            told, count, fault = told_of_all(one, self._study)
        state.renew([self._made(state, None, told, read)], answered(one, [told], count, fault))
        return state.asked


def _taken(old: list[_Answer] | None, item: object) -> _Answer | None:
    """What was told of an item like this one, taken out of what is left of the old."""
    for i in range(len(old or ()) - 1, -1, -1):
        assert old is not None
        if alike(old[i].item, item):
            return old.pop(i)
    return None
