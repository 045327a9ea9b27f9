"""Verdicts that say the same of different things, told once for all of them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby

from ..causes.found import Cause
from ..causes.pairing import sort_of
from ..rules.verdicts import Verdict

_NAMED = 8
"""Things named at most where many are alike."""


def alike(causes: Iterable[Cause]) -> list[list[Cause]]:
    """Causes in their order, those that follow one another without a cure and say the same of other things in one group."""
    keyed = (
        (sort_of(one.verdicts[0]) if not one.edits else (index,), one) for index, one in enumerate(causes)
    )
    return [[one for _, one in group] for _, group in groupby(keyed, key=lambda pair: pair[0])]


def gathered(verdicts: Iterable[Verdict]) -> list[list[Verdict]]:
    """Verdicts in the order of the first of each group, those that say the same of other things in one group."""
    groups: dict[object, list[Verdict]] = {}
    for verdict in verdicts:
        groups.setdefault(sort_of(verdict), []).append(verdict)
    return list(groups.values())


def few(names: Sequence[str]) -> str:
    """Names, the first of them where they are many: ``W2, W3 and 40 more``."""
    told = list(dict.fromkeys(names))
    more = len(told) - _NAMED
    return ", ".join(told[:_NAMED]) + (f" and {more} more" if more > 0 else "")
