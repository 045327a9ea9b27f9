"""Runs every rule on a study, applies the document's deviations, and counts coverage."""

from __future__ import annotations

import pkgutil
from collections.abc import Iterable
from functools import cache
from importlib import import_module

from ..analysis.study import Study
from .deviations import apply_deviations
from .verdicts import REGISTRY, Ledger, Rule, Tally


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
    ledger = Ledger()
    for ident in chosen:
        one = known[ident]
        verdicts = list(one.judge(study))
        for verdict in verdicts:
            verdict.rule = verdict.rule or ident
            verdict.source = verdict.source or one.source
        ledger.verdicts += verdicts
    ledger.verdicts += apply_deviations(study, ledger.verdicts, chosen)
    for ident in chosen:
        ledger.coverage[ident] = Tally(items=_population(known[ident], study))
    touched: dict[str, set[str]] = {}
    for verdict in ledger.verdicts:
        tally = ledger.coverage.get(verdict.rule)
        if tally is None:
            continue
        name = verdict.outcome.value
        setattr(tally, name, getattr(tally, name) + 1)
        touched.setdefault(verdict.rule, set()).add(verdict.at[0] if verdict.at else "")
    for ident, tally in ledger.coverage.items():
        tally.items = max(tally.items, len(touched.get(ident, ())))
        tally.not_concerned = tally.items - len(touched.get(ident, ()))
    return ledger


def _population(one: Rule, study: Study) -> int:
    if callable(one.over):
        return len(set(one.over(study)))
    return len(study.model.section(one.over))
