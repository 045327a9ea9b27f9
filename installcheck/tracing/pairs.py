"""Two faults at once: of those that explain what was seen of one indication, each with one that explains what was seen of another."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import combinations

from .channels import Channel
from .hypotheses import Hypothesis, Member
from .looks import Observation
from .ranking import Ranked, Ranking
from .weights import Weights

_OF_EACH = 14
"""Hypotheses of the best and of those that explain one observation best that are tried in pairs."""
_APART = 6
"""Hypotheses of each indication that are tried with those of another."""
_SIZED = 0.1
"""Share of a size's range that lies about the one that explains, as it is taken alone in a pair: judgement of this tool."""

Rank = Callable[[Sequence[Hypothesis], Sequence[Observation]], Ranking]


def of_two_indications(
    rank: Rank, whole: Ranking, told_of: dict[Channel, list[Observation]], weights: Weights
) -> list[Hypothesis]:
    """Pairs of one that explains all that was told of one indication with one that does of another, no single one all of it."""
    both = {r.hypothesis.key for r in whole.standing}
    every = [r.hypothesis for r in whole.all]
    apart = [
        [r for r in rank(every, own).standing if r.hypothesis.key not in both][:_APART]
        for own in told_of.values()
    ]
    found: dict[str, Hypothesis] = {}
    for some, others in combinations(apart, 2):
        for a in some:
            for b in others:
                if a.hypothesis.key != b.hypothesis.key:
                    made = _together(a, b, [(a.best, b.best)], weights)
                    found.setdefault(made.key, made)
    return list(found.values())


def of_all(rank: Rank, whole: Ranking, seen: Sequence[Observation], weights: Weights) -> list[Hypothesis]:
    """Pairs of those that fit best as a whole, and those that fit what these leave unexplained."""
    best = sorted(whole.all, key=lambda r: -r.likelihood)[:_OF_EACH]
    for one in seen:
        best += rank([r.hypothesis for r in whole.all], [one]).standing[: _OF_EACH // 2]
    chosen = list({r.hypothesis.key: r for r in best}.values())
    return [
        _together(a, b, [(m, n) for m in _few(a) for n in _few(b)], weights)
        for a, b in combinations(chosen, 2)
    ]


def _together(a: Ranked, b: Ranked, members: Sequence[tuple[Member, Member]], weights: Weights) -> Hypothesis:
    one, other = a.hypothesis, b.hypothesis
    weight = 1.0
    for h in (one, other):
        weight *= weights.kinds[h.kind] * (_SIZED if len(members) == 1 and len(h.members) > 1 else 1.0)
    return Hypothesis(
        "two at once",
        (*one.at, *other.at),
        f"{one.text}; and {other.text}",
        tuple(Member((*m.world, *n.world)) for m, n in members),
        path=one.path,
        weight=weight,
        kinds=(one.kind, other.kind),
    )


def _few(ranked: Ranked) -> Iterator[Member]:
    """The size that fits best, and some others."""
    members = ranked.hypothesis.members
    if len(members) <= 4:
        return iter(members)
    step = max(1, len(members) // 4)
    return iter(dict.fromkeys([ranked.best, *members[::step]]))
