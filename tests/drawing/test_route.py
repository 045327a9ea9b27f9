"""Wires in a channel: whatever the order of their ends, no two lie on each other."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations
from typing import cast

from hypothesis import given
from hypothesis import strategies as st

from installcheck.drawing.items import Piece
from installcheck.drawing.route import Jog, route

RIGHT = 10_000


@dataclass(frozen=True)
class End:
    """A piece with its two heights only."""

    left_y: int
    right_y: int


@dataclass(frozen=True)
class Line:
    wire: int
    level: bool
    at: float
    low: float
    high: float


def lines(wire: int, end: End, jogs: tuple[Jog, ...]) -> Iterator[Line]:
    x, y = -1.0, float(end.left_y)
    for jog in jogs:
        assert jog.start == y, "the vertical parts of a wire join"
        assert jog.track >= x, "a wire does not turn back"
        yield Line(wire, True, y, x, jog.track)
        yield Line(wire, False, jog.track, min(jog.start, jog.end), max(jog.start, jog.end))
        x, y = float(jog.track), jog.end
    assert y == end.right_y, "the wire arrives at its end"
    yield Line(wire, True, y, x, RIGHT)


def routed(ends: list[End]) -> tuple[list[Line], int]:
    jogs, tracks = route(cast("list[Piece]", ends))
    by_end = cast("dict[End, tuple[Jog, ...]]", jogs)
    return [line for wire, end in enumerate(ends) for line in lines(wire, end, by_end.get(end, ()))], tracks


@given(st.lists(st.integers(0, 14), min_size=1, max_size=12, unique=True), st.data())
def test_no_two_wires_lie_on_each_other(lefts: list[int], data: st.DataObject) -> None:
    rights = data.draw(st.lists(st.integers(0, 14), min_size=len(lefts), max_size=len(lefts), unique=True))
    found, tracks = routed([End(a, b) for a, b in zip(lefts, rights, strict=True)])
    assert all(line.at < tracks for line in found if not line.level)
    for a, b in combinations(found, 2):
        if a.wire != b.wire and a.level == b.level and a.at == b.at:
            assert a.high <= b.low or b.high <= a.low, (a, b)


def test_level_wires_need_no_track() -> None:
    assert route(cast("list[Piece]", [End(1, 1), End(3, 3)])) == ({}, 0)


def test_a_bundle_that_shifts_stays_nested() -> None:
    """Three wires that all go down by two rows: the lowest bends first, and none crosses another."""
    ends = [End(0, 4), End(2, 6), End(4, 8)]
    jogs, _ = route(cast("list[Piece]", ends))
    tracks = [jogs[cast("Piece", end)][0].track for end in ends]
    assert tracks == [2, 1, 0]


def test_a_swapped_pair_is_drawn_with_one_extra_bend() -> None:
    jogs, _ = route(cast("list[Piece]", [End(0, 2), End(2, 0)]))
    assert sorted(len(jog) for jog in jogs.values()) == [1, 2]
