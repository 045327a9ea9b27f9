"""Runs every rule on a case, applies the document's deviations, and counts coverage."""

from __future__ import annotations

import pkgutil
from collections.abc import Iterable
from functools import cache
from importlib import import_module

from .case import Case
from .deviations import apply_deviations
from .verdicts import REGISTRY, Ledger, Outcome, Rule, Tally

_ENGINE_MODULES = frozenset(("verdicts", "case", "engine", "error_budget", "leads"))


@cache
def all_rules() -> dict[str, Rule]:
    """Every rule of the package by id, in the order of their modules."""
    package = import_module(__package__ or "installcheck.rules")
    for module in sorted(m.name for m in pkgutil.iter_modules(package.__path__)):
        if module not in _ENGINE_MODULES:
            import_module(f"{package.__name__}.{module}")
    return REGISTRY


def judge(case: Case, rules: Iterable[str] | None = None) -> Ledger:
    """Judge a case by every rule, or by those named.

    Raises:
        KeyError: a rule that does not exist.
    """
    known = all_rules()
    chosen = list(known) if rules is None else list(rules)
    ledger = Ledger()
    for ident in chosen:
        one = known[ident]
        verdicts = list(one.judge(case))
        for verdict in verdicts:
            verdict.rule = verdict.rule or ident
            verdict.source = verdict.source or one.source
        ledger.verdicts += verdicts
    ledger.verdicts += apply_deviations(case, ledger.verdicts, chosen)
    for ident in chosen:
        ledger.coverage[ident] = Tally(items=_population(known[ident], case))
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


def _population(one: Rule, case: Case) -> int:
    if callable(one.over):
        return len(set(one.over(case)))
    return len(case.model.section(one.over))


__all__ = ["Outcome", "all_rules", "judge"]
