"""Taking back what rests on a word the document says is unknown: every 'meets', and a discrepancy that it could cure."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import replace
from math import isclose
from typing import Protocol, TypeAlias

from ..analysis import missing
from ..analysis.shown import listed
from ..analysis.statements.unsaid import Unsaid, saying, stood_in, unsaid
from ..dataclass import dataclass
from ..document import Document
from ..document.source import DocPath
from ..model.comparing import at_least
from ..model.edits import Put
from .verdicts import Outcome, Verdict
from .vocabulary import Rule

_PRINTED = 1e-3
"""Share by which a figure of three digits can move and be printed the same."""
_TRIED = 200
"""Further judgements, of the rules concerned, that tell unknown words apart; the last half of them tells fields apart only."""
_NAMED = 4
"""Unknown words named in one sentence."""
Item: TypeAlias = tuple[str, str, DocPath]
"""Rule, id and place of a verdict."""


@dataclass(slots=True)
class Asked:
    """What one rule answers.

    Attributes:
        verdicts: on its items; the last says so if the rule failed.
        items: how many it looked at.
    """

    verdicts: list[Verdict]
    items: int


class Asking(Protocol):
    """Asks rules of one study."""

    def __call__(self, rule: Rule, only: Collection[str] = (), /) -> Asked:
        """What a rule answers; of the items ``only`` names, and perhaps of others, where it names any."""


def hold_unknown(
    document: Document, verdicts: list[Verdict], chosen: Iterable[Rule], asked: Callable[[Document], Asking]
) -> None:
    """Take back every 'meets' that rests on a word the document says is unknown, and tell what else it could break.

    A verdict rests on one if, with something said in its place, it does not come out or says something else. A discrepancy is
    taken back only if something said in its place leaves all that the rule says of the item met: else the failure is certain.
    That costs a further judgement for each thing a word could be, of such a document only.

    Args:
        asked: gives what a rule answers of a document that says what this one does not know.
    """
    words = unsaid(document)
    if not words:
        return
    rules = {rule.id: rule for rule in chosen}
    items, could_break = _by_item(verdicts), dict[Item, Verdict]()
    resting: dict[Item, Sequence[Unsaid]] = {}
    curable: set[tuple[str, str]] = set()
    bearing = _Bearing(document, words, rules, asked)
    for puts, said in stood_in(document, words):
        asking = asked(said)
        moved: dict[Item, Sequence[Verdict]] = {}
        others = _by_item(v for rule in rules.values() for v in asking(rule).verdicts)
        cured = _met_throughout(others) - curable
        curable |= cured
        for item, told in items.items():
            if item in resting:
                continue
            at_worst = rules[item[0]].at_worst if item[0] in rules else ()
            open_words = [w for w in words if w.path[-1] not in at_worst]
            if any(v.outcome is Outcome.MEETS for v in told):
                if not _borne_out(told, others.get(item, ()), exactly=bool(open_words)):
                    resting[item] = open_words or words
                    moved[item] = told
            elif item[:2] in cured and any(v.outcome is Outcome.DISCREPANCY for v in told):
                resting[item], moved[item] = words, told
        for item in others.keys() - items.keys() - could_break.keys():
            broken = next((v for v in others[item] if v.outcome is Outcome.DISCREPANCY), None)
            if broken is not None:
                could_break[item] = broken
                resting[item], moved[item] = words, ()
        for item, found in bearing.of(moved, sorted(puts, key=_of_one_field)).items():
            resting[item] = [w for w in resting[item] if w in found] or found
    named = _asked_for(verdicts)
    for i, verdict in enumerate(verdicts):
        item = _item(verdict)
        if (item in resting and verdict.outcome is Outcome.MEETS) or (
            item[:2] in curable and verdict.outcome is Outcome.DISCREPANCY
        ):
            verdicts[i] = _left_open(verdict, resting.get(item, words), named)
    told_of = {_item(v)[:2] for v in verdicts if v.outcome is not Outcome.MEETS}
    for item, verdict in sorted(could_break.items(), key=lambda one: [str(step) for step in one[0]]):
        if item[:2] not in told_of:
            told_of.add(item[:2])
            verdicts.append(_left_open(verdict, resting[item], named))


def _asked_for(verdicts: Iterable[Verdict]) -> dict[tuple[str, str, str], missing.Missing]:
    """What is asked for already, by section, word and the things it is asked of."""
    found: dict[tuple[str, str, str], missing.Missing] = {}
    for verdict in verdicts:
        for datum in verdict.missing if verdict.outcome is Outcome.UNDETERMINED else ():
            if isinstance(datum, missing.Missing) and datum.field:
                for ident in verdict.at:
                    found.setdefault((datum.section, datum.field, ident), datum)
    return found


@dataclass(slots=True)
class _Bearing:
    """Which of the unknown words bear on what is said of an item: found by saying half of them, and half of that.

    Where neither half moves it, what bears is in both: each is halved with the other said. It ends at its allowance; what is
    not told apart by then is told together.
    """

    document: Document
    words: Sequence[Unsaid]
    rules: Mapping[str, Rule]
    asking: Callable[[Document], Asking]
    allowance: int = _TRIED

    def of(
        self, moved: Mapping[Item, Sequence[Verdict]], puts: Sequence[Put], beside: Sequence[Put] = ()
    ) -> dict[Item, list[Unsaid]]:
        """The words that move items, by what was said in their place; all of ``beside`` is said as well."""
        if not moved:
            return {}
        paths = {put.path for put in puts}
        words = [w for w in self.words if w.path in paths]
        half = _halfway(puts)
        if len(puts) == 1 or self.allowance <= (0 if half is not None else _TRIED // 2):
            return {item: [*words] for item in moved}
        found: dict[Item, list[Unsaid]] = {}
        half = half or len(puts) // 2
        halves = puts[:half], puts[half:]
        for part in halves:
            for item, words in self.of(self._moved(moved, (*part, *beside)), part, beside).items():
                found.setdefault(item, []).extend(words)
        if by_both := {item: told for item, told in moved.items() if item not in found}:
            for part, other in (halves, halves[::-1]):
                for item, words in self.of(by_both, part, (*beside, *other)).items():
                    found.setdefault(item, []).extend(words)
        return found

    def _moved(
        self, items: Mapping[Item, Sequence[Verdict]], puts: Sequence[Put]
    ) -> dict[Item, Sequence[Verdict]]:
        """Those of some items of which something else is said with some words said."""
        self.allowance -= 1
        asking = self.asking(saying(self.document, puts)[0])
        idents: dict[str, dict[str, None]] = {}
        for rule, ident, _ in items:
            idents.setdefault(rule, {})[ident] = None
        others = _by_item(v for rule, only in idents.items() for v in asking(self.rules[rule], only).verdicts)
        return {i: told for i, told in items.items() if not _borne_out(told, others.get(i, ()), exactly=True)}


def _of_one_field(put: Put) -> tuple[str, str]:
    """Words of one field beside each other: what bears on one item bears on its like."""
    return str(put.path[0]), str(put.path[-1])


def _halfway(puts: Sequence[Put]) -> int | None:
    """Where one field ends and another begins, nearest to the middle; ``None`` where all are of one field."""
    ends = [i for i in range(1, len(puts)) if _of_one_field(puts[i - 1]) != _of_one_field(puts[i])]
    return min(ends, key=lambda i: abs(i - len(puts) / 2), default=None)


def _item(verdict: Verdict) -> Item:
    return verdict.rule, verdict.at[0] if verdict.at else "", verdict.path


def _by_item(verdicts: Iterable[Verdict]) -> dict[Item, list[Verdict]]:
    """Verdicts by what they are on."""
    found: dict[Item, list[Verdict]] = {}
    for v in verdicts:
        found.setdefault(_item(v), []).append(v)
    return found


def _met_throughout(others: Mapping[Item, Iterable[Verdict]]) -> set[tuple[str, str]]:
    """Rules and ids of which every verdict meets."""
    kept: dict[tuple[str, str], bool] = {}
    for item, verdicts in others.items():
        meets = all(v.outcome is Outcome.MEETS for v in verdicts)
        kept[item[:2]] = kept.get(item[:2], True) and meets
    return {one for one, meets in kept.items() if meets}


def _borne_out(verdicts: Sequence[Verdict], others: Sequence[Verdict], *, exactly: bool) -> bool:
    """Whether what is judged with unknown words said leaves what is said of an item as it stands.

    ``exactly``: to the last figure that is printed; else with no less margin.
    """
    fits = _same if exactly else _no_worse
    return all(any(fits(v, o) for o in others) for v in verdicts if v.outcome is Outcome.MEETS) and all(
        any(fits(v, o) for v in verdicts) for o in others
    )


def _same(verdict: Verdict, other: Verdict) -> bool:
    return (
        verdict.outcome is other.outcome
        and verdict.message == other.message
        and (verdict.value is None) == (other.value is None)
        and isclose(verdict.value or 0.0, other.value or 0.0, rel_tol=_PRINTED, abs_tol=_PRINTED**2)
    )


def _no_worse(verdict: Verdict, other: Verdict) -> bool:
    if verdict.margin is None or other.margin is None:
        return _same(verdict, other)
    return other.outcome is verdict.outcome and at_least(other.margin, verdict.margin)


def _left_open(
    verdict: Verdict, words: Sequence[Unsaid], named: Mapping[tuple[str, str, str], missing.Missing]
) -> Verdict:
    """The verdict, taken back; a word that is asked for already is asked for in the same words."""
    beside = [w for w in words if w.ident in verdict.at] or [*words]
    told = listed([f"'{w.field}' of {w.ident}" for w in beside[:_NAMED]])
    others = f" and {len(beside) - _NAMED} other words" if len(beside) > _NAMED else ""
    are = "are" if len(beside) > 1 else "is"
    return replace(
        verdict,
        outcome=Outcome.UNDETERMINED,
        message=f"{verdict.at[0] if verdict.at else 'it'}: cannot be judged while {told}{others} {are} unknown",
        value=None,
        limit=None,
        margin=None,
        unit="",
        remedy="",
        cure=None,
        missing=tuple(
            dict.fromkeys(
                named.get((w.section, w.field, w.ident)) or missing.said_unknown(w.section, w.field)
                for w in beside
            )
        ),
    )
