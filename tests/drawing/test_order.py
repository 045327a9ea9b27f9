"""Places in the columns: nothing on anything else, and straight wires where that is possible."""

from collections.abc import Callable
from itertools import pairwise

import pytest

from installcheck.drawing.columns import build_grid
from installcheck.drawing.items import LOW, NARROW, Role, Spacing
from installcheck.drawing.order import arrange
from installcheck.drawing.sheet import Sheet


@pytest.mark.parametrize("spacing", [LOW, NARROW])
@pytest.mark.parametrize("seed", range(20))
def test_items_of_a_column_stand_clear(
    tangled_sheet: Callable[[int], Sheet], seed: int, spacing: Spacing
) -> None:
    grid = build_grid(tangled_sheet(seed), spacing)
    height = arrange(grid, 60)
    for column in grid.columns:
        for above, below in pairwise(column.items):
            assert above.y + above.height + max(above.gap, below.gap) <= below.y
        for item in column.items:
            assert item.y >= 0
            assert item.y + item.height <= height
            assert all(after - before >= 2 for before, after in pairwise(item.rows))


def test_pins_of_a_plug_keep_their_order(fictional_sheet: Callable[[int], Sheet]) -> None:
    grid = build_grid(fictional_sheet(60), NARROW)
    arrange(grid, 60)
    (plug,) = [item for column in grid.columns for item in column.items if item.role is Role.BLOCK]
    assert [pin.caption.plain for pin in plug.pins] == [str(n) for n in range(1, len(plug.pins) + 1)]
    assert [pin.row for pin in plug.pins] == sorted(pin.row for pin in plug.pins)


def test_one_indication_runs_straight(fictional_sheet: Callable[[int], Sheet]) -> None:
    """Bulb, grommet, plug and dial in one line: the two legs need no bend."""
    grid = build_grid(fictional_sheet(4), NARROW)
    arrange(grid, 60)
    assert all(piece.left_y == piece.right_y for channel in grid.pieces for piece in channel)
