"""Runs every rule on a study, applies the document's deviations, and counts coverage."""

from __future__ import annotations

import pkgutil
from collections import Counter
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import replace
from functools import cache
from importlib import import_module
from typing import Any, TypeAlias

from ..analysis import missing
from ..analysis.statements.disputed import disputes, undisputed
from ..analysis.study import Study
from ..dataclass import dataclass
from ..document import Document
from ..document.source import DocPath
from ..document.yaml_text import uncollected
from .deviations import RULE as DEVIATIONS
from .deviations import apply_deviations
from .holding import Asked, Asking, hold_unknown
from .verdicts import Ledger, Outcome, Tally, Verdict
from .vocabulary import REGISTRY, Population, Rule, Subject, items

Named: TypeAlias = "tuple[list[tuple[Subject, Any]], Exception | None]"
"""The items of a population with the subject that stands for each, and how naming them failed."""

_UNKNOWN = "circuit-solvable"
"""The rule that answers for it if what is unknown cannot be said."""
_TWICE_TOLD = "route-agrees"
"""The rule that answers for it if what is told twice cannot be compared."""
_TOLD_OF_DISPUTED = 3
"""Pairs of statements that one verdict names; each has a verdict of its own."""


@cache
def all_rules() -> dict[str, Rule]:
    """Every rule of the package by id, in the order of their modules."""
    package = import_module(__package__ or "installcheck.rules")
    for module in sorted(m.name for m in pkgutil.walk_packages(package.__path__, f"{package.__name__}.")):
        import_module(module)
    return REGISTRY


def judge(study: Study, rules: Iterable[str] | None = None) -> Ledger:
    """Judge a study by every rule, or by those named.

    A rule that itself fails yields one verdict that says so, beside what it found until then; it hides no other.

    Raises:
        KeyError: a rule that does not exist.
    """
    chosen = chosen_of(rules)
    verdicts, populations = gathered(
        study,
        chosen,
        study.document,
        _asking(study),
        lambda: _asking(undisputed(study)),
        lambda document: _asking(Study(document)),
    )
    return Ledger(study, verdicts, covered(verdicts, populations))


def chosen_of(rules: Iterable[str] | None) -> list[Rule]:
    """The rules named, or all.

    Raises:
        KeyError: a rule that does not exist.
    """
    known = all_rules()
    return list(known.values()) if rules is None else [known[ident] for ident in rules]


def _asking(study: Study) -> Asking:
    populations: dict[Population, Named] = {}

    def asking(one: Rule, only: Collection[str] = ()) -> Asked:
        if only and one.narrows:
            return answered(one, [told_of_only(one, study, ident) for ident in only], len(only), None)
        return asked_of(one, study, populations)

    return asking


def gathered(
    study: Study,
    chosen: Sequence[Rule],
    document: Document,
    asking: Asking,
    undisputed: Callable[[], Asking],
    saying: Callable[[Document], Asking],
) -> tuple[list[Verdict], dict[str, int]]:
    """What some rules answer, all in all, and how many items each looked at.

    Args:
        document: the document as it was read.
        asking: what a rule answers.
        saying: gives what a rule answers of a document that says what this one does not know.
        undisputed: gives what a rule answers once all that is disputed is left open; asked for where something is.
    """
    verdicts: list[Verdict] = []
    populations: dict[str, int] = {}
    with uncollected():
        for one in chosen:
            asked = asking(one)
            populations[one.id] = asked.items
            verdicts += asked.verdicts
    known = all_rules()
    try:
        _hold_back(study, verdicts, chosen, undisputed)
    except Exception as fault:
        verdicts.append(failure(known[_TWICE_TOLD], fault, (), ()))
    try:
        hold_unknown(document, verdicts, chosen, saying)
    except Exception as fault:
        verdicts.append(failure(known[_UNKNOWN], fault, (), ()))
    try:
        verdicts += apply_deviations(study, verdicts, populations)
    except Exception as fault:
        verdicts.append(failure(known[DEVIATIONS], fault, (), ("deviations",)))
    return verdicts, populations


def ask(study: Study, ident: str) -> list[Verdict]:
    """What one rule says of a study, before deviations and disputes are looked at.

    Raises:
        KeyError: a rule that does not exist.
    """
    return asked_of(all_rules()[ident], study).verdicts


def _hold_back(
    study: Study, verdicts: list[Verdict], chosen: Iterable[Rule], undisputed: Callable[[], Asking]
) -> None:
    """Take back every 'meets' that rests on one of two statements that disagree.

    It rests on them if it does not come out when they are left open. That costs a second judgement, of such a document
    only.
    """
    disputed = disputes(study)
    if not disputed:
        return
    without = undisputed()
    kept: set[tuple[str, tuple[str, ...], DocPath]] = set()
    met = {v.rule for v in verdicts if v.outcome is Outcome.MEETS}
    for rule in chosen:
        if rule.id not in met:
            continue
        kept.update((rule.id, v.at, v.path) for v in without(rule).verdicts if v.outcome is Outcome.MEETS)
    for i, verdict in enumerate(verdicts):
        if verdict.outcome is not Outcome.MEETS or (verdict.rule, verdict.at, verdict.path) in kept:
            continue
        beside = [pair for pair in disputed if {pair.ident, *pair.beside} & {*verdict.at}] or disputed
        told = "; ".join(pair.message for pair in beside[:_TOLD_OF_DISPUTED])
        if (more := len(beside) - _TOLD_OF_DISPUTED) > 0:
            told += f"; and {more} more of the kind"
        verdicts[i] = replace(
            verdict,
            outcome=Outcome.UNDETERMINED,
            message=f"{verdict.at[0]}: cannot be judged while two statements disagree: {told}",
            at=tuple(dict.fromkeys((*verdict.at, *(pair.ident for pair in beside)))),
            value=None,
            limit=None,
            margin=None,
            unit="",
            missing=(missing.DISPUTED,),
        )


@dataclass(frozen=True, slots=True)
class Told:
    """What a rule tells of one item, or of all at once.

    Attributes:
        verdicts: what it yields, until it fails if it does.
        fault: how it failed.
        at, path: the item.
    """

    verdicts: tuple[Verdict, ...]
    fault: Exception | None = None
    at: tuple[str, ...] = ()
    path: DocPath = ()


_NOTHING = Told(())
"""What a rule tells of most items."""


def asked_of(one: Rule, study: Study, populations: dict[Population, Named] | None = None) -> Asked:
    """Ask a rule of each of its items, or of all at once; ``populations`` keeps the items for rules over the same."""
    if not one.walks:
        return asked_of_all(one, *told_of_all(one, study))
    kept = {} if populations is None else populations
    if one.over not in kept:
        kept[one.over] = population_of(one, study)
    population, fault = kept[one.over]
    told = (told_of(one, study, subject, item) for subject, item in population)
    return answered(one, told, len(population), fault)


def population_of(one: Rule, study: Study) -> Named:
    """The items of a rule that is asked of each, and how naming them failed."""
    found: list[tuple[Subject, Any]] = []
    try:
        found.extend(items(one.over, study))
    except Exception as fault:
        return found, fault
    return found, None


def told_of(one: Rule, study: Study, subject: Subject, item: object) -> Told:
    """What a rule tells of one item."""
    verdicts, fault = _told(one, study, subject, item)
    return Told(verdicts, fault, subject.at, subject.path) if verdicts or fault is not None else _NOTHING


def told_of_only(one: Rule, study: Study, ident: str) -> Told:
    """What a rule that walks by itself, and narrows, tells of the item of an id."""
    return Told(*_told(one, study, ident), (ident,))


def told_of_all(one: Rule, study: Study) -> tuple[Told, int, Exception | None]:
    """What a rule that walks by itself tells, how many items it has, and how counting them failed."""
    told = Told(*_told(one, study))
    over = one.over
    try:
        return told, len(study.model.section(over) if isinstance(over, str) else set(over(study))), None
    except Exception as fault:
        return told, 0, fault


def asked_of_all(one: Rule, told: Told, count: int, fault: Exception | None) -> Asked:
    """What a rule that walks by itself comes to."""
    return answered(one, [told], count, fault)


def answered(one: Rule, told: Iterable[Told], count: int, fault: Exception | None) -> Asked:
    """What a rule tells of its items as one; where it failed, at whatever items, one verdict says so at the end."""
    asked = Asked([], count)
    failed: Verdict | None = None
    for each in told:
        asked.verdicts += each.verdicts
        if each.fault is None:
            continue
        if failed is None:
            failed = failure(one, each.fault, each.at, each.path)
        else:
            failed.at = tuple(dict.fromkeys((*failed.at, *each.at)))
    if failed is None and fault is not None:
        failed = failure(one, fault, (), ())
    if failed is not None:
        asked.verdicts.append(failed)
    return asked


def _told(one: Rule, *asked: object) -> tuple[tuple[Verdict, ...], Exception | None]:
    """The verdicts of an answer, until it fails if it does, as of the rule."""
    found: list[Verdict] = []
    fault: Exception | None = None
    try:
        told = one.judge(*asked)
        if told is None:
            return (), None
        if isinstance(told, Verdict):
            found.append(told)
        else:
            found.extend(told)
    except Exception as bad:
        fault = bad
    for verdict in found:
        verdict.rule = verdict.rule or one.id
        verdict.source = verdict.source or one.source
    return tuple(found), fault


def failure(one: Rule, fault: Exception, at: tuple[str, ...], path: DocPath) -> Verdict:
    """The verdict on a rule that itself failed."""
    told = f"{type(fault).__name__}: {fault}" if str(fault) else type(fault).__name__
    message = (
        f"the rule '{one.id}' itself failed ({told}): what it would find is not known; please report it together with "
        "the document"
    )
    return Verdict(Outcome.UNDETERMINED, at, path, message, source=one.source, rule=one.id, failed=True)


def covered(verdicts: Sequence[Verdict], populations: Mapping[str, int]) -> dict[str, Tally]:
    """Of how many items each rule said what, by rule."""
    coverage = {ident: Tally(items=count) for ident, count in populations.items()}
    by_rule: dict[str, list[Verdict]] = {}
    for verdict in verdicts:
        by_rule.setdefault(verdict.rule, []).append(verdict)
    for ident, tally in coverage.items():
        told = by_rule.get(ident, [])
        for outcome, count in Counter(v.outcome for v in told).items():
            setattr(tally, outcome.value, count)
        touched = len({v.at[:1] for v in told})
        tally.items = max(tally.items, touched)
        tally.not_concerned = tally.items - touched
    return coverage
