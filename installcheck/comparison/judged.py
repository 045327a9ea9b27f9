"""Verdicts that are new, gone, better or worse."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from ..document.source import DocPath
from ..rules.verdicts import Outcome, Verdict
from .differences import SAME
from .names import Names

Trend = Literal["new", "worse", "better", "gone"]
TRENDS: tuple[Trend, ...] = ("new", "worse", "better", "gone")
_RANK = {
    Outcome.MEETS: 0,
    Outcome.ACCEPTED: 1,
    Outcome.ADVISORY: 2,
    Outcome.UNDETERMINED: 3,
    Outcome.DISCREPANCY: 4,
}
"""From good to bad. What can no longer be judged is worse than an advisory: it may hide a discrepancy."""


@dataclass(frozen=True, slots=True)
class VerdictChange:
    """One rule on one item in two documents.

    Attributes:
        trend: ``new`` if the old document has no such verdict, ``gone`` if the new one has none.
        old, new: the two verdicts.
    """

    trend: Trend
    old: Verdict | None
    new: Verdict | None

    @property
    def either(self) -> Verdict:
        """The new verdict, or the old one if it is gone."""
        found = self.new or self.old
        assert found is not None
        return found

    @property
    def matters(self) -> bool:
        """Whether a person must look: anything but what meets and goes on, comes or goes meeting."""
        return any(v is not None and v.outcome is not Outcome.MEETS for v in (self.old, self.new))

    @property
    def alarming(self) -> bool:
        """Whether it is a discrepancy the old document did not have, or one that is worse."""
        return (
            self.trend in ("new", "worse")
            and self.new is not None
            and self.new.outcome is Outcome.DISCREPANCY
        )


def verdict_changes(old: list[Verdict], new: list[Verdict], names: Names) -> list[VerdictChange]:
    """Every verdict that changed, the alarming first. Verdicts meet by rule and items, then by what they look at."""
    before: dict[tuple[str, tuple[str, ...]], list[Verdict]] = defaultdict(list)
    after: dict[tuple[str, tuple[str, ...]], list[Verdict]] = defaultdict(list)
    for verdict in old:
        before[verdict.rule, tuple(names.end(ident) for ident in verdict.at)].append(verdict)
    for verdict in new:
        after[verdict.rule, verdict.at].append(verdict)
    found = [
        change
        for key in dict.fromkeys((*after, *before))
        for change in _paired(before.get(key, []), after.get(key, []), names)
    ]
    return sorted(found, key=lambda c: (not c.alarming, TRENDS.index(c.trend), -_RANK[c.either.outcome]))


def _paired(old: list[Verdict], new: list[Verdict], names: Names) -> Iterator[VerdictChange]:
    rest = list(new)
    lonely = []
    for verdict in old:
        path = _renamed(verdict.path, names)
        match = next((n for n in rest if n.path == path and n.unit == verdict.unit), None)
        if match is None:
            lonely.append(verdict)
        else:
            rest.remove(match)
            yield from _change(verdict, match)
    for verdict in lonely:
        if rest:
            yield from _change(verdict, rest.pop(0))
        else:
            yield VerdictChange("gone", verdict, None)
    for verdict in rest:
        yield VerdictChange("new", None, verdict)


def _renamed(path: DocPath, names: Names) -> DocPath:
    if len(path) < 2:
        return path
    return (path[0], names.of(str(path[0]), str(path[1])), *path[2:])


def _change(old: Verdict, new: Verdict) -> Iterator[VerdictChange]:
    trend = _trend(old, new)
    if trend is not None:
        yield VerdictChange(trend, old, new)


def _trend(old: Verdict, new: Verdict) -> Trend | None:
    if old.outcome is not new.outcome:
        return "worse" if _RANK[new.outcome] > _RANK[old.outcome] else "better"
    if old.margin is None or new.margin is None or old.unit != new.unit:
        return None
    size = max(abs(v) for v in (old.margin, new.margin, old.limit or 0.0, new.limit or 0.0))
    if abs(new.margin - old.margin) <= SAME * size:
        return None
    return "better" if new.margin > old.margin else "worse"
