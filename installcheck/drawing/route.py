"""Bring wires across the channel between two columns: at most one bend down or up each, and no two on one line."""

from collections.abc import Sequence

from ..dataclass import dataclass
from .items import Piece


@dataclass(frozen=True, slots=True)
class Jog:
    """A vertical part of a wire: its track, counted from the left, and its two heights [half rows]."""

    track: int
    start: float
    end: float


@dataclass(frozen=True, slots=True)
class _Span:
    piece: int
    start: float
    end: float

    @property
    def low(self) -> float:
        return min(self.start, self.end)

    @property
    def high(self) -> float:
        return max(self.start, self.end)


def route(pieces: Sequence[Piece]) -> tuple[dict[Piece, tuple[Jog, ...]], int]:
    """Vertical parts of every piece that needs one, and the number of tracks used.

    A wire that ends at the height where another begins must bend first; a ring of such wires is opened by
    giving one of them a short second bend beside its end.
    """
    spans = [
        _Span(number, piece.left_y, piece.right_y)
        for number, piece in enumerate(pieces)
        if piece.left_y != piece.right_y
    ]
    straight = {piece.left_y for piece in pieces if piece.left_y == piece.right_y}
    spans = _open_rings(spans, straight)
    tracks: dict[_Span, int] = {}
    for span in _bend_order(spans):
        busy = {tracks[other] for other in tracks if _overlap(span, other)}
        track = 1 + max((tracks[other] for other in tracks if _before(other, span)), default=-1)
        while track in busy:
            track += 1
        tracks[span] = track
    jogs = {
        piece: tuple(
            Jog(tracks[span], span.start, span.end)
            for span in sorted((s for s in tracks if s.piece == number), key=tracks.__getitem__)
        )
        for number, piece in enumerate(pieces)
    }
    return {piece: jog for piece, jog in jogs.items() if jog}, 1 + max(tracks.values(), default=-1)


def _overlap(a: _Span, b: _Span) -> bool:
    return a.low <= b.high and b.low <= a.high


def _meets(first: _Span, second: _Span) -> bool:
    """Whether `first` must bend before `second`, which ends where `first` begins."""
    return first.start == second.end


def _before(first: _Span, second: _Span) -> bool:
    """Whether `first`, placed already, has to stay left of `second`."""
    if _meets(first, second) or (first.piece == second.piece and first.end == second.start):
        return True
    same_way = (first.end > first.start) == (second.end > second.start)
    return same_way and _overlap(first, second)


def _bend_order(spans: Sequence[_Span]) -> list[_Span]:
    """Outer bends of a bundle last, so that it stays nested, but never against `_meets`."""
    nested = sorted(spans, key=lambda s: (s.end < s.start, -s.start if s.end > s.start else s.start, s.piece))
    ordered: list[_Span] = []
    waiting = list(nested)
    while waiting:
        ready = next(s for s in waiting if not any(o is not s and _must_precede(o, s) for o in waiting))
        waiting.remove(ready)
        ordered.append(ready)
    return ordered


def _must_precede(first: _Span, second: _Span) -> bool:
    if first.piece == second.piece:
        return first.end == second.start
    return _meets(first, second)


def _open_rings(spans: list[_Span], straight: set[int]) -> list[_Span]:
    """Split spans until no ring of 'must bend first' remains."""
    spans = list(spans)
    while (ring := _ring_member(spans)) is not None:
        spans.remove(ring)
        taken = {s.end for s in spans} | {s.start for s in spans} | set(straight)
        side = 1.0 if ring.end < ring.start else -1.0
        beside = ring.end + side
        while beside in taken:
            beside -= side / 4
        spans += [_Span(ring.piece, ring.start, beside), _Span(ring.piece, beside, ring.end)]
    return spans


def _ring_member(spans: Sequence[_Span]) -> _Span | None:
    """The shortest span of a ring, or None when the spans can be ordered."""
    waiting = list(spans)
    while waiting:
        blocked = [s for s in waiting if any(o is not s and _must_precede(o, s) for o in waiting)]
        if len(blocked) == len(waiting):
            walk = [waiting[0]]
            while walk[-1] not in walk[:-1]:
                walk.append(next(o for o in waiting if o is not walk[-1] and _must_precede(o, walk[-1])))
            ring = walk[walk.index(walk[-1]) + 1 :]
            return min(ring, key=lambda s: (s.high - s.low, s.piece))
        waiting = blocked
    return None
