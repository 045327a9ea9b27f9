"""What could be wrong in order of how well it explains all that was seen, with the size that does, and what is excluded."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from math import exp, inf, log

from ..dataclass import dataclass
from .doubts import Frame, frame_of
from .hypotheses import Hypothesis, Member
from .likelihood import Fit, fits
from .looks import Observation
from .predict import Predictor
from .weights import Weights

_ROUNDS, _BETWEEN = 3, 5
"""Rounds in which a size is sought between the sizes beside the best, and how many are tried on each side."""
_STEEP = 0.5
"""Difference in the logarithm of the likelihood of two sizes side by side that makes what lies between worth a look."""
_TOGETHER = 1 / 3
"""Share of the leading hypothesis' probability with which another cannot be told from it yet."""
_POOR = 0.3
"""Probability among all, below which what stands explains what was seen badly."""
_LARGEST = 300.0
"""Logarithm of the largest share that is worked out, of what is excluded."""
_TAIL = 0.05
"""Probability left out at each end of the range told of a size."""


@dataclass(frozen=True, slots=True)
class Ranked:
    """One hypothesis as it stands.

    Attributes:
        hypothesis: what it is, with the sizes tried.
        share: probability among all that were thought of.
        likelihood: logarithm, of all that was seen.
        best: the size that explains best.
        lowest, highest: what its size lies between, in nine of ten; ``None`` where it has none.
        against: number of the observation that excludes it; -1 where none does.
        posterior: share of each member.
    """

    hypothesis: Hypothesis
    share: float
    likelihood: float
    best: Member
    lowest: float | None
    highest: float | None
    against: int
    posterior: tuple[float, ...]

    @property
    def excluded(self) -> bool:
        """Whether something that was seen contradicts it in every size."""
        return self.against >= 0


@dataclass(frozen=True, slots=True)
class Ranking:
    """All hypotheses, the likeliest first, those excluded last.

    Attributes:
        all: shares are of what stands; of all, where nothing does.
        held: probability of what stands among all, what was seen that excludes taken for a possible mistake.
        evidence: logarithm of the weight of what stands, to set two rankings against each other.
    """

    all: tuple[Ranked, ...]
    held: float = 1.0
    evidence: float = -inf

    @property
    def poor(self) -> bool:
        """Whether mistaken observations are likelier than anything that stands."""
        return self.held < _POOR

    @property
    def standing(self) -> tuple[Ranked, ...]:
        """Those nothing excludes."""
        return tuple(r for r in self.all if not r.excluded)

    @property
    def excluded(self) -> tuple[Ranked, ...]:
        """Those something does."""
        return tuple(r for r in self.all if r.excluded)

    @property
    def leading(self) -> tuple[Ranked, ...]:
        """The likeliest, and those that cannot be told from it yet."""
        standing = self.standing
        return tuple(r for r in standing if r.share >= _TOGETHER * standing[0].share) if standing else ()


def rank(
    predictor: Predictor,
    hypotheses: Sequence[Hypothesis],
    seen: Sequence[Observation],
    weights: Weights,
    altered: Sequence[str] = (),
) -> Ranking:
    """Every hypothesis by its weight and by how likely it makes what was seen."""
    frames = [frame_of(predictor.study, o.at, o.look, weights) for o in seen]
    judge = _Judge(predictor, seen, frames, weights)
    tried = judge.all(hypotheses)
    for _ in range(_ROUNDS):
        tried = judge.refined(tried)
    made = [_ranked(h, found, weights, altered) for h, found in tried]
    standing = [s for r, s in made if not r.excluded] or [s for _, s in made]
    most = max(standing, default=0.0)
    total = sum(exp(s - most) for s in standing) or 1.0
    among = max((s for _, s in made), default=0.0)
    whole = sum(exp(s - among) for _, s in made) or 1.0
    ranked = [replace(r, share=exp(min(s - most, _LARGEST)) / total) for r, s in made]
    held = sum(exp(s - among) for s in standing) / whole
    return Ranking(tuple(sorted(ranked, key=lambda r: (r.excluded, -r.share))), held, most + log(total))


def joined(one: Ranking, other: Ranking) -> tuple[Ranking, float]:
    """Two rankings as one, and the share of what stands in the second."""
    if not other.standing:
        return one, 0.0
    share = 1.0 / (1.0 + exp(min(one.evidence - other.evidence, _LARGEST))) if one.standing else 1.0
    both = [
        replace(r, share=min(r.share * part, exp(_LARGEST)))
        for ranking, part in ((one, 1 - share), (other, share))
        for r in ranking.all
    ]
    evidence = max(one.evidence, other.evidence)
    return Ranking(tuple(sorted(both, key=lambda r: (r.excluded, -r.share))), one.held, evidence), share


class _Judge:
    def __init__(
        self, predictor: Predictor, seen: Sequence[Observation], frames: Sequence[Frame], weights: Weights
    ) -> None:
        self.predictor, self.seen, self.frames, self.weights = predictor, seen, frames, weights

    def all(self, hypotheses: Sequence[Hypothesis]) -> list[tuple[Hypothesis, list[Fit]]]:
        """The fit of every member of every hypothesis."""
        members = [m for h in hypotheses for m in h.members]
        found = iter(self._fits(members))
        return [(h, [next(found) for _ in h.members]) for h in hypotheses]

    def _fits(self, members: Sequence[Member]) -> list[Fit]:
        if not self.seen:
            return [Fit(0.0, 0.0, -1)] * len(members)
        worlds = [m.world for m in members]
        expected = [self.predictor.expect(o.at, o.look, worlds) for o in self.seen]
        return fits(self.seen, self.frames, expected, self.weights)

    def refined(self, tried: list[tuple[Hypothesis, list[Fit]]]) -> list[tuple[Hypothesis, list[Fit]]]:
        """The same with more sizes about the best of each."""
        wanted: list[tuple[int, list[Member]]] = []
        for n, (h, found) in enumerate(tried):
            if h.make is None or len(h.members) < 2 or not self.seen:
                continue
            best = max(range(len(found)), key=lambda i: found[i].raw)
            if not _straddles(found, best):
                continue
            sizes = [m.size for m in h.members if m.size is not None]
            extra = [
                s
                for i in (best - 1, best)
                if 0 <= i < len(sizes) - 1
                for s in _between(h, sizes[i], sizes[i + 1])
            ]
            if extra:
                wanted.append((n, [Member(h.make(s), s) for s in extra]))
        found_all = iter(self._fits([m for _, members in wanted for m in members]))
        made = list(tried)
        for n, members in wanted:
            h, old = tried[n]
            both = [*zip(h.members, old, strict=True), *((m, next(found_all)) for m in members)]
            both.sort(key=lambda pair: pair[0].size or 0.0)
            made[n] = (replace(h, members=tuple(m for m, _ in both)), [f for _, f in both])
        return made


def _straddles(found: Sequence[Fit], best: int) -> bool:
    """Whether the fit may be better between the sizes tried."""
    near = [found[i].raw for i in (best - 1, best + 1) if 0 <= i < len(found)]
    return any(abs(n - found[best].raw) > _STEEP for n in near)


def _between(h: Hypothesis, low: float, high: float) -> list[float]:
    if h.kind_of_size == "resistance" and low > 0:
        step = (high / low) ** (1 / (_BETWEEN + 1))
        return [low * step**k for k in range(1, _BETWEEN + 1)] if step > 1.002 else []
    step = (high - low) / (_BETWEEN + 1)
    return [low + step * k for k in range(1, _BETWEEN + 1)]


def _widths(h: Hypothesis) -> list[float]:
    """The share of all sizes each member stands for: even in the logarithm of a resistance, even in anything else."""
    sizes = [m.size for m in h.members]
    if len(sizes) < 2 or any(s is None for s in sizes):
        return [1.0 / len(sizes)] * len(sizes)
    at = [log(s) if h.kind_of_size == "resistance" and s else float(s or 0.0) for s in sizes]
    edges = [at[0], *((a + b) / 2 for a, b in pairwise(at)), at[-1]]
    whole = (edges[-1] - edges[0]) or 1.0
    return [(b - a) / whole for a, b in pairwise(edges)]


def _ranked(
    h: Hypothesis, found: Sequence[Fit], weights: Weights, altered: Sequence[str]
) -> tuple[Ranked, float]:
    widths = _widths(h)
    most = max(f.log for f in found)
    each = [w * exp(f.log - most) for w, f in zip(widths, found, strict=True)]
    inside = sum(each) or 1e-300
    posterior = tuple(e / inside for e in each)
    best = max(range(len(found)), key=lambda i: found[i].raw)
    prior = weights.kinds[h.kind] * h.weight
    if any(word.startswith((f"{a} ", f"{a}.")) or word == a for word in h.at for a in altered):
        prior *= weights.altered
    against = found[best].against if all(f.against >= 0 for f in found) else -1
    low, high = _range(h, posterior)
    likelihood = most + log(inside)
    return (
        Ranked(h, 0.0, likelihood, h.members[best], low, high, against, posterior),
        likelihood + log(prior),
    )


def _range(h: Hypothesis, posterior: Sequence[float]) -> tuple[float | None, float | None]:
    if len(h.members) < 2 or h.members[0].size is None:
        return None, None
    order = sorted(range(len(posterior)), key=lambda i: h.members[i].size or 0.0)
    low = high = h.members[order[0]].size
    passed = 0.0
    for i in order:
        if passed < _TAIL:
            low = h.members[i].size
        if passed < 1 - _TAIL:
            high = h.members[i].size
        passed += posterior[i]
    return low, high
