"""Verdicts that are new, gone, better or worse."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator
from typing import Literal, TypeAlias

from ..dataclass import dataclass
from ..document.source import DocPath
from ..model.comparing import SAME
from ..rules.verdicts import Outcome, Verdict
from .matching import Names

_At: TypeAlias = "tuple[str, ...]"
_Named: TypeAlias = "tuple[Verdict, _At]"
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
    """Every verdict that changed, the alarming first.

    Two verdicts of a rule meet if they are of the same items; else if the item judged first is the same. Of several, those
    that look at the same place meet first.
    """
    renamed = [(v, tuple(names.end(ident) for ident in v.at)) for v in old]
    found: list[VerdictChange] = []
    rest_old, rest_new = _meet(renamed, [(v, v.at) for v in new], names, found, lambda at: at)
    rest_old, rest_new = _meet(rest_old, rest_new, names, found, lambda at: at[:1])
    found += [VerdictChange("new", None, verdict) for verdict, _ in rest_new]
    found += [VerdictChange("gone", verdict, None) for verdict, _ in rest_old]
    return sorted(found, key=lambda c: (not c.alarming, TRENDS.index(c.trend), -_RANK[c.either.outcome]))


def _meet(
    old: list[_Named], new: list[_Named], names: Names, found: list[VerdictChange], key: Callable[[_At], _At]
) -> tuple[list[_Named], list[_Named]]:
    """Pair verdicts with the same rule and key; what changed goes to ``found``, what has no partner is returned."""
    waiting: dict[tuple[str, _At], list[_Named]] = defaultdict(list)
    for named in new:
        waiting[named[0].rule, key(named[1])].append(named)
    alone: list[_Named] = []
    for same_place in (True, False):
        todo, alone = (old if same_place else alone), []
        for named in todo:
            verdict, at = named
            others = waiting[verdict.rule, key(at)]
            path = _renamed(verdict.path, names)
            match = next(
                (
                    i
                    for i, (other, _) in enumerate(others)
                    if not same_place or (other.path == path and other.unit == verdict.unit)
                ),
                None,
            )
            if match is None:
                alone.append(named)
            else:
                found.extend(_change(verdict, others.pop(match)[0]))
    return alone, [named for group in waiting.values() for named in group]


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
