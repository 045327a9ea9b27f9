"""The words a rule is written in: how it is registered, what it is asked of, and the answers it can give.

A rule looks at one item at a time. The engine walks the items ``over`` names, in the aircraft as it is after the change
(what is removed is never met), and asks ``judge(study, subject, item)``; the rule answers with a verdict, several, or
``None`` where the item does not concern it. A rule whose shape is its own is a generator of ``(study)`` alone.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from math import isfinite
from typing import Any, Protocol, TypeAlias, TypeVar

from ..analysis.missing import Missing, without
from ..analysis.study import Study
from ..dataclass import dataclass
from ..document.source import DocPath, Key
from ..model.comparing import room_above, room_below
from .verdicts import Cure, Outcome, Verdict

T = TypeVar("T")
Answer: TypeAlias = "Verdict | Iterable[Verdict] | None"
Remedy: TypeAlias = "str | Callable[[], str]"
"""A way out in words, or what works it out; it is only asked for where the rule is broken."""


class Item(Protocol):
    """What a rule can be asked of: something with an id and a place in the document."""

    @property
    def ident(self) -> str: ...
    @property
    def path(self) -> DocPath: ...


Judge: TypeAlias = Callable[..., Answer]
Population: TypeAlias = "str | Callable[[Study], Iterable[Item | str]]"


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule with what stands behind it.

    Attributes:
        id: trade words joined by hyphens.
        title: what it asks, in one line.
        why: why it matters, in a sentence or two.
        source: document and paragraph it rests on.
        formula: how the value is computed, in words and symbols.
        example: a worked number.
        over: the section whose items it looks at, or a function that names them.
        judge: the function.
        walks: whether the engine walks the items and asks the rule of each.
        narrows: whether one that walks by itself can be asked of one item: ``(study, only)``, its id.
        at_worst: words that it takes at their worst where they are left open, so that what it says holds whatever they are.
    """

    id: str
    title: str
    why: str
    source: str
    formula: str
    example: str
    over: Population
    judge: Judge
    walks: bool
    narrows: bool = False
    at_worst: tuple[str, ...] = ()

    @property
    def subject(self) -> str:
        """The folder it stands in."""
        return self.judge.__module__.split(".")[-2]


REGISTRY: dict[str, Rule] = {}


def rule(
    ident: str,
    *,
    title: str,
    why: str,
    source: str,
    formula: str,
    example: str,
    over: Population,
    at_worst: tuple[str, ...] = (),
) -> Callable[[Judge], Judge]:
    """Register the decorated function as a rule: ``(study, subject, item)`` for one item, or a generator of ``(study)``.

    Raises:
        ValueError: another module has a rule of that id.
    """

    def register(judge: Judge) -> Judge:
        if ident in REGISTRY and REGISTRY[ident].judge.__module__ != judge.__module__:
            raise ValueError(f"two rules are called '{ident}'")
        given = judge.__code__.co_argcount
        REGISTRY[ident] = Rule(
            ident, title, why, source, formula, example, over, judge, given == 3, given == 2, at_worst
        )
        return judge

    return register


def items(over: Population, study: Study) -> Iterator[tuple[Subject, Any]]:
    """Each item of a population with the subject that stands for it.

    Raises:
        TypeError: the population names ids only; a rule over it walks by itself.
    """
    if isinstance(over, str):
        for ident, thing in study.model.section(over).items():
            yield Subject(study, (ident,), (over, ident)), thing
        return
    for item in over(study):
        if isinstance(item, str):
            raise TypeError(f"'{item}' is an id without a place")
        yield Subject(study, (item.ident,), item.path), item


@dataclass(frozen=True, slots=True)
class Subject:
    """One item as a rule is asked of it, and the answers the rule can give.

    Attributes:
        study: the study it belongs to.
        at: ids of what a verdict concerns, the item judged first.
        path: where the document tells of it.
    """

    study: Study
    at: tuple[str, ...]
    path: DocPath

    @property
    def ident(self) -> str:
        """Id of the item judged."""
        return self.at[0]

    def field(self, *words: Key) -> Subject:
        """The same item, its verdict placed at a field of it: ``subject.field("bend_radius")``."""
        return Subject(self.study, self.at, (*self.path, *words))

    def along(self, *idents: str) -> Subject:
        """The same item, its verdict concerning other things as well."""
        return Subject(self.study, tuple(dict.fromkeys((*self.at, *idents))), self.path)

    def placed(self, *path: Key) -> Subject:
        """The same item, its verdict placed elsewhere in the document."""
        return Subject(self.study, self.at, path)

    def meets(self, message: str, *, source: str = "") -> Verdict:
        """The rule is kept; there is no figure to it."""
        return Verdict(Outcome.MEETS, self.at, self.path, message, source=source)

    def discrepancy(
        self, message: str, *, remedy: Remedy = "", cure: Cure = None, source: str = ""
    ) -> Verdict:
        """A regulation, a standard, the part's own limit or plain physics is broken; there is no figure to it."""
        said = _said(remedy)
        return Verdict(
            Outcome.DISCREPANCY, self.at, self.path, message, remedy=said, source=source, cure=cure
        )

    def advisory(self, message: str, *, remedy: Remedy = "", cure: Cure = None, source: str = "") -> Verdict:
        """Good practice, or what a weak source says, is not kept; there is no figure to it."""
        said = _said(remedy)
        return Verdict(Outcome.ADVISORY, self.at, self.path, message, remedy=said, source=source, cure=cure)

    def lacks(self, *missing: Missing, because: str = "") -> Verdict:
        """The document does not say enough; ``missing`` names what to add, ``because`` replaces the usual sentence.

        Raises:
            ValueError: nothing is named.
        """
        if not missing:
            raise ValueError(f"{self.ident}: nothing is missing")
        needs = tuple(dict.fromkeys(missing))
        message = because or f"{self.ident}: cannot be judged {without(needs)}"
        return Verdict(Outcome.UNDETERMINED, self.at, self.path, message, missing=needs)

    def at_most(
        self,
        value: float,
        limit: float,
        unit: str,
        message: str,
        *,
        broken: str = "",
        remedy: Remedy = "",
        cure: Cure = None,
        practice: bool = False,
        source: str = "",
    ) -> Verdict:
        """Whether a value is no more than a limit, both in ``unit``.

        Args:
            message: the sentence with the numbers.
            broken: the sentence where the limit is broken, if another.
            remedy: a way out, asked for where the limit is broken.
            cure: the way out as changes of the document, likeliest first.
            practice: whether the limit is good practice or of a weak source: broken, it is an advisory.
            source: where the limit is from, if not the rule's own source.

        Raises:
            ValueError: a figure is not finite.
        """
        return self._compared(
            value, limit, room_below(value, limit), unit, message, broken, remedy, cure, practice, source
        )

    def at_least(
        self,
        value: float,
        limit: float,
        unit: str,
        message: str,
        *,
        broken: str = "",
        remedy: Remedy = "",
        cure: Cure = None,
        practice: bool = False,
        source: str = "",
    ) -> Verdict:
        """Whether a value is no less than a limit; otherwise as :meth:`at_most`."""
        return self._compared(
            value, limit, room_above(value, limit), unit, message, broken, remedy, cure, practice, source
        )

    def between(
        self,
        value: float,
        lowest: float,
        highest: float,
        unit: str,
        message: str,
        *,
        broken: str = "",
        remedy: Remedy = "",
        cure: Cure = None,
        practice: bool = False,
        source: str = "",
    ) -> Verdict:
        """Whether a value lies from ``lowest`` to ``highest``; its limit is the nearer of the two, else as :meth:`at_most`."""
        judge, limit = (
            (self.at_most, highest) if highest - value <= value - lowest else (self.at_least, lowest)
        )
        return judge(
            value,
            limit,
            unit,
            message,
            broken=broken,
            remedy=remedy,
            cure=cure,
            practice=practice,
            source=source,
        )

    def _compared(
        self,
        value: float,
        limit: float,
        margin: float,
        unit: str,
        message: str,
        broken: str,
        remedy: Remedy,
        cure: Cure,
        practice: bool,
        source: str,
    ) -> Verdict:
        if not (isfinite(value) and isfinite(limit)):
            raise ValueError(f"{self.ident}: {value} against {limit} {unit} cannot be compared")
        kept = margin >= 0
        outcome = Outcome.MEETS if kept else Outcome.ADVISORY if practice else Outcome.DISCREPANCY
        return Verdict(
            outcome,
            self.at,
            self.path,
            message if kept else broken or message,
            value,
            limit,
            margin,
            unit,
            "" if kept else _said(remedy),
            source=source,
            cure=None if kept else cure,
        )


_WORST_FIRST = (Outcome.DISCREPANCY, Outcome.UNDETERMINED, Outcome.ADVISORY, Outcome.MEETS)


def worst_over(points: Iterable[T], judge: Callable[[T], Verdict | None]) -> Verdict | None:
    """The worst verdict over some points, asked of each; ``None`` if none is concerned.

    A discrepancy at one point is certain, whatever another does not say; of equals the least margin counts, for its
    limit, and what several points lack is asked for in one verdict.
    """
    found = [v for v in map(judge, points) if v is not None]
    if not found:
        return None
    worst = min(found, key=lambda v: (_WORST_FIRST.index(v.outcome), _share(v)))
    if worst.outcome is Outcome.UNDETERMINED:
        lacking = [v for v in found if v.outcome is Outcome.UNDETERMINED]
        worst.missing = tuple(dict.fromkeys(m for v in lacking for m in v.missing))
    return worst


def _share(verdict: Verdict) -> float:
    if verdict.margin is None:
        return 0.0
    return verdict.margin / abs(verdict.limit) if verdict.limit else verdict.margin


def _said(remedy: Remedy) -> str:
    return remedy if isinstance(remedy, str) else remedy()
