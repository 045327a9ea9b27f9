"""Runs every rule on a study, applies the document's deviations, and counts coverage."""

from __future__ import annotations

import pkgutil
from collections.abc import Iterable, Mapping
from functools import cache
from importlib import import_module

from ..analysis.study import Study
from .deviations import apply_deviations
from .verdicts import Ledger, Tally, Verdict
from .vocabulary import REGISTRY, Answer, Rule, items


@cache
def all_rules() -> dict[str, Rule]:
    """Every rule of the package by id, in the order of their modules."""
    package = import_module(__package__ or "installcheck.rules")
    for module in sorted(m.name for m in pkgutil.walk_packages(package.__path__, f"{package.__name__}.")):
        import_module(module)
    return REGISTRY


def judge(study: Study, rules: Iterable[str] | None = None) -> Ledger:
    """Judge a study by every rule, or by those named.

    Raises:
        KeyError: a rule that does not exist.
    """
    known = all_rules()
    chosen = list(known) if rules is None else list(rules)
    ledger = Ledger(study)
    populations: dict[str, int] = {}
    for ident in chosen:
        verdicts, populations[ident] = _asked(known[ident], study)
        for verdict in verdicts:
            verdict.rule = verdict.rule or ident
            verdict.source = verdict.source or known[ident].source
        ledger.verdicts += verdicts
    ledger.verdicts += apply_deviations(study, ledger.verdicts, chosen)
    ledger.coverage = _coverage(ledger.verdicts, populations)
    return ledger


def _asked(one: Rule, study: Study) -> tuple[list[Verdict], int]:
    """The verdicts of a rule, and how many items it looked at."""
    if not one.walks:
        population = study.model.section(one.over) if isinstance(one.over, str) else set(one.over(study))
        return _several(one.judge(study)), len(population)
    verdicts: list[Verdict] = []
    count = 0
    for subject, item in items(one.over, study):
        verdicts += _several(one.judge(study, subject, item))
        count += 1
    return verdicts, count


def _several(answer: Answer) -> list[Verdict]:
    return [] if answer is None else [answer] if isinstance(answer, Verdict) else list(answer)


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
