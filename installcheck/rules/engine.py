"""Runs every rule on a study, applies the document's deviations, and counts coverage."""

from __future__ import annotations

import pkgutil
from collections.abc import Callable, Iterable, Mapping
from functools import cache, partial
from importlib import import_module

from ..analysis import missing
from ..analysis.statements.disputed import disputes, undisputed
from ..analysis.study import Study
from ..document.source import DocPath
from .deviations import RULE as DEVIATIONS
from .deviations import apply_deviations
from .verdicts import Ledger, Outcome, Tally, Verdict
from .vocabulary import REGISTRY, Answer, Rule, items

_TWICE_TOLD = "route-agrees"
"""The rule that answers for it if what is told twice cannot be compared."""


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
    known = all_rules()
    chosen = list(known) if rules is None else list(rules)
    ledger = Ledger(study)
    populations: dict[str, int] = {}
    for ident in chosen:
        asked = _Asked(known[ident])
        asked.ask(study)
        populations[ident] = asked.items
        for verdict in asked.verdicts:
            verdict.rule = verdict.rule or ident
            verdict.source = verdict.source or known[ident].source
        ledger.verdicts += asked.verdicts
    try:
        _hold_back(study, ledger.verdicts, [known[ident] for ident in chosen])
    except Exception as fault:
        ledger.verdicts.append(failure(known[_TWICE_TOLD], fault, (), ()))
    try:
        ledger.verdicts += apply_deviations(study, ledger.verdicts, chosen)
    except Exception as fault:
        ledger.verdicts.append(failure(known[DEVIATIONS], fault, (), ("deviations",)))
    ledger.coverage = _coverage(ledger.verdicts, populations)
    return ledger


def ask(study: Study, ident: str) -> list[Verdict]:
    """What one rule says of a study, before deviations and disputes are looked at.

    Raises:
        KeyError: a rule that does not exist.
    """
    one = all_rules()[ident]
    asked = _Asked(one)
    asked.ask(study)
    for verdict in asked.verdicts:
        verdict.rule = verdict.rule or ident
        verdict.source = verdict.source or one.source
    return asked.verdicts


def _hold_back(study: Study, verdicts: Iterable[Verdict], chosen: Iterable[Rule]) -> None:
    """Take back every 'meets' that rests on one of two statements that disagree.

    It rests on them if it does not come out when they are left open. That costs a second judgement, of such a document
    only.
    """
    disputed = disputes(study)
    if not disputed:
        return
    without = undisputed(study)
    kept: set[tuple[str, tuple[str, ...], DocPath]] = set()
    for rule in chosen:
        again = _Asked(rule)
        again.ask(without)
        kept.update((rule.id, v.at, v.path) for v in again.verdicts if v.outcome is Outcome.MEETS)
    for verdict in verdicts:
        if verdict.outcome is not Outcome.MEETS or (verdict.rule, verdict.at, verdict.path) in kept:
            continue
        beside = [pair for pair in disputed if {pair.ident, *pair.beside} & {*verdict.at}] or disputed
        told = "; ".join(pair.message for pair in beside)
        verdict.outcome = Outcome.UNDETERMINED
        verdict.message = f"{verdict.at[0]}: cannot be judged while two statements disagree: {told}"
        verdict.at = tuple(dict.fromkeys((*verdict.at, *(pair.ident for pair in beside))))
        verdict.value = verdict.limit = verdict.margin = None
        verdict.unit, verdict.missing = "", (missing.DISPUTED,)


class _Asked:
    """What one rule answers.

    Attributes:
        verdicts: on its items; the last says so if the rule failed.
        items: how many it looked at.
    """

    def __init__(self, one: Rule) -> None:
        self.rule = one
        self.verdicts: list[Verdict] = []
        self.items = 0
        self._failed: Verdict | None = None

    def ask(self, study: Study) -> None:
        """Ask the rule of each of its items, or of all at once."""
        one = self.rule
        try:
            if one.walks:
                for subject, item in items(one.over, study):
                    self.items += 1
                    self._take(partial(one.judge, study, subject, item), subject.at, subject.path)
            else:
                over = one.over
                self._take(partial(one.judge, study))
                self.items = len(study.model.section(over) if isinstance(over, str) else set(over(study)))
        except Exception as fault:
            self._fail(fault)
        if self._failed is not None:
            self.verdicts.append(self._failed)

    def _take(self, answer: Callable[[], Answer], at: tuple[str, ...] = (), path: DocPath = ()) -> None:
        try:
            told = answer()
            if isinstance(told, Verdict):
                self.verdicts.append(told)
            elif told is not None:
                for verdict in told:
                    self.verdicts.append(verdict)
        except Exception as fault:
            self._fail(fault, at, path)

    def _fail(self, fault: Exception, at: tuple[str, ...] = (), path: DocPath = ()) -> None:
        if self._failed is None:
            self._failed = failure(self.rule, fault, at, path)
        else:
            self._failed.at = tuple(dict.fromkeys((*self._failed.at, *at)))


def failure(one: Rule, fault: Exception, at: tuple[str, ...], path: DocPath) -> Verdict:
    """The verdict on a rule that itself failed."""
    told = f"{type(fault).__name__}: {fault}" if str(fault) else type(fault).__name__
    message = (
        f"the rule '{one.id}' itself failed ({told}): what it would find is not known; please report it together with "
        "the document"
    )
    return Verdict(Outcome.UNDETERMINED, at, path, message, source=one.source, rule=one.id, failed=True)


def _coverage(verdicts: Iterable[Verdict], populations: Mapping[str, int]) -> dict[str, Tally]:
    coverage = {ident: Tally(items=count) for ident, count in populations.items()}
    touched: dict[str, set[str]] = {ident: set() for ident in populations}
    for verdict in verdicts:
        tally = coverage.get(verdict.rule)
        if tally is not None:
            name = verdict.outcome.value
            setattr(tally, name, getattr(tally, name) + 1)
            touched[verdict.rule].add(verdict.at[0] if verdict.at else "")
    for ident, tally in coverage.items():
        tally.items = max(tally.items, len(touched[ident]))
        tally.not_concerned = tally.items - len(touched[ident])
    return coverage
