"""Which verdict of one judgement is which of another, and what has gone, come or grown worse between them."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Callable, Hashable, Iterable, Iterator, Sequence

from ..dataclass import dataclass
from ..rules.verdicts import Outcome, Verdict

GRAVITY = {Outcome.UNDETERMINED: 1, Outcome.ADVISORY: 2, Outcome.DISCREPANCY: 3}
"""How grave a verdict is; what meets or is accepted is none."""
_FIGURE = re.compile(r"[0-9]+(?:[.][0-9]+)?")
_WORSE = 0.02
"""Share of its limit by which a verdict that stays may grow worse before it counts: the work of another cure shows in the third
digit of a shared circuit."""


@dataclass(frozen=True, slots=True)
class Difference:
    """What lies between two judgements.

    Attributes:
        gone: places, in the list of what was found before, of what is not found any more.
        stays: pairs of such a place and the verdict it has become.
        come: what is found now and was not, is graver now than it was, or could be judged and cannot be.
    """

    gone: frozenset[int]
    stays: tuple[tuple[int, Verdict], ...]
    come: tuple[Verdict, ...]


def faults(verdicts: Iterable[Verdict]) -> list[Verdict]:
    """What is not as it should be: discrepancies, advisories, and what cannot be judged."""
    return [v for v in verdicts if v.outcome in GRAVITY]


def difference(before: Sequence[Verdict], after: Sequence[Verdict]) -> Difference:
    """What lies between two lists of :func:`faults`; a verdict that is in both is as it was. Cost: linear in both."""
    standing, again = set(map(id, before)), set(map(id, after))
    left: dict[tuple[str, str], list[Verdict]] = defaultdict(list)
    for verdict in after:
        if id(verdict) not in standing:
            left[_item(verdict)].append(verdict)
    partner = {index: verdict for index, verdict in enumerate(before) if id(verdict) in again}
    changed: dict[int, Verdict] = {}
    waiting = [index for index in range(len(before)) if index not in partner] if left else []
    for same in _KEYS:
        for index in waiting:
            verdict = before[index]
            candidates = left.get(_item(verdict), [])
            found = next((v for v in candidates if same(v) == same(verdict)), None)
            if found is not None:
                changed[index] = found
                candidates[:] = [v for v in candidates if v is not found]
        waiting = [index for index in waiting if index not in changed]
    come = [v for group in left.values() for v in group]
    come += [now for index, now in changed.items() if _graver(before[index], now)]
    partner.update(changed)
    gone = frozenset(range(len(before))) - partner.keys()
    return Difference(gone, tuple(partner.items()), tuple(come))


def _item(verdict: Verdict) -> tuple[str, str]:
    return verdict.rule, verdict.at[0] if verdict.at else ""


_KEYS: tuple[Callable[[Verdict], Hashable], ...] = (
    lambda v: (v.at, v.path, v.outcome, v.message),
    lambda v: (v.at, v.path, v.outcome),
    lambda v: (v.at[:2], v.path),
    lambda v: (v.path, v.outcome),
    lambda v: v.at,
    lambda v: None,
)
"""What makes two verdicts of a rule on an item the same, the surest first: an edit may move a place or add a company."""


def _graver(before: Verdict, now: Verdict) -> bool:
    if before.outcome is Outcome.UNDETERMINED and now.outcome is Outcome.ADVISORY:
        return False  # it comes to light, and was there
    if now.outcome is not before.outcome:
        return not (before.outcome is Outcome.DISCREPANCY and now.outcome is Outcome.ADVISORY)
    if now.outcome is Outcome.UNDETERMINED:
        return not set(now.missing) <= set(before.missing)
    if before.margin is None or now.margin is None or before.unit != now.unit:
        return False
    return now.margin < before.margin - _WORSE * abs(before.limit or before.margin)


def sort_of(verdict: Verdict) -> tuple[str, str, str]:
    """What a verdict says, whatever things and figures it says it of."""
    masked = []
    for text in (verdict.message, verdict.remedy):
        for ident in sorted({*verdict.at}, key=len, reverse=True):
            text = text.replace(ident, "*")
        masked.append(_FIGURE.sub("#", text))
    return verdict.rule, masked[0], masked[1]


def members(found: Iterable[int], verdicts: Sequence[Verdict]) -> Iterator[Verdict]:
    """The verdicts at some places, in their order."""
    return (verdicts[index] for index in sorted(found))
