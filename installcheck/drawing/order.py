"""Order the items of every column and give them heights: few crossings first, then straight wires."""

from collections.abc import Callable, Sequence
from statistics import fmean

from .items import Column, Grid, Item, Piece, Pin, Role

_SWEEPS = 10
_STRAIGHTENING = 12


def arrange(grid: Grid, room: int) -> int:
    """Place all items within `room` half rows where they fit; the height used is returned [half rows]."""
    height = max((column.height for column in grid.columns), default=0)
    height = max(height, min(room, height + height // 4 + 2))
    for column in grid.columns:
        _stack(column, [[float(height)] for _ in _cells(column)], height)
    best_cost, best = _cost(grid), _snapshot(grid)
    for sweep in range(_SWEEPS):
        rightward = sweep % 2 == 0
        for column in grid.columns if rightward else reversed(grid.columns):
            _reorder(column, rightward, height)
        cost = _cost(grid)
        if cost < best_cost:
            best_cost, best = cost, _snapshot(grid)
        elif sweep > 3 and cost == best_cost:
            break
    _restore(grid, best)
    best_cost = _cost(grid)
    before: list[tuple[int, ...]] = []
    for sweep in range(_STRAIGHTENING):
        if sweep % 4 == 0:
            heights = [(item.y, *item.rows) for column in grid.columns for item in column.items]
            if heights == before:
                break  # four sweeps changed nothing, and no more would
            before = heights
        # One side alone carries a shift through a whole chain; both sides together settle what is left.
        rightward, both = sweep % 2 == 0, sweep % 4 > 1
        for column in grid.columns if rightward else reversed(grid.columns):
            pulls = [
                _pulls(item, rows, left=both or rightward, right=both or not rightward)
                for item, rows in _cells(column)
            ]
            _stack(column, pulls, height, median=True)
        cost = _cost(grid)
        if cost < best_cost:
            best_cost, best = cost, _snapshot(grid)
    _restore(grid, best)
    _close_up(grid)
    return max((item.y + item.height for column in grid.columns for item in column.items), default=0)


def _close_up(grid: Grid) -> None:
    top = min((item.y for column in grid.columns for item in column.items), default=0)
    for column in grid.columns:
        for item in column.items:
            item.y -= top


def _reorder(column: Column, rightward: bool, height: int) -> None:
    targets: dict[Item, float] = {}
    for item in column.items:
        near = _pulls(item, range(len(item.rows)), left=rightward, right=not rightward)
        targets[item] = fmean(near) if near else float(item.y)
    column.items.sort(key=lambda item: (targets[item] + item.height / 2, item.order))
    pulls = [_pulls(item, rows, left=rightward, right=not rightward) for item, rows in _cells(column)]
    _stack(column, pulls, height)
    for item in column.items:
        _sort_pins(item, rightward)


def _cells(column: Column) -> list[tuple[Item, range]]:
    """What is placed as one: whole items, or single rows of those that stretch."""
    cells: list[tuple[Item, range]] = []
    for item in column.items:
        if item.stretches and item.rows:
            cells += [(item, range(row, row + 1)) for row in range(len(item.rows))]
        else:
            cells.append((item, range(len(item.rows))))
    return cells


def _sort_pins(item: Item, rightward: bool) -> None:
    """Let wires of one pin, and the cores inside one fitting, leave in the order in which they are met."""
    for pin in item.pins:
        for pieces, far in ((pin.left, _far_left), (pin.right, _far_right)):
            if len(pieces) > 1:
                heights = {piece: far(piece) for piece in pieces}
                pieces.sort(key=heights.__getitem__)
    if item.role is Role.FITTING:
        met = {pin: _far_left(pin.left[0]) if rightward else _far_right(pin.right[0]) for pin in item.pins}
        item.pins.sort(key=met.__getitem__)
        item.place_pins()


def _far_left(piece: Piece) -> int:
    return piece.left_y


def _far_right(piece: Piece) -> int:
    return piece.right_y


def _pulls(item: Item, rows: range, *, left: bool = True, right: bool = True) -> list[float]:
    """Where the top of a cell would put its rows level with each neighbour; long straight runs pull harder."""
    top = item.y + (item.head + item.rows[rows[0]] if rows and rows[0] else 0)
    pulls: list[float] = []
    for pin in item.pins:
        for row in range(pin.rows):
            if pin.row + row not in rows:
                continue
            if left and row < len(pin.left):
                piece = pin.left[row]
                pulls += [float(top + piece.left_y - piece.right_y)] * _weight(piece)
            if right and row < len(pin.right):
                piece = pin.right[row]
                pulls += [float(top + piece.right_y - piece.left_y)] * _weight(piece)
    return pulls


def _weight(piece: Piece) -> int:
    return 1 + (piece.start[0].role is Role.PASS) + (piece.end[0].role is Role.PASS)


def _median(values: Sequence[float]) -> float:
    ordered = sorted(values)
    return ordered[(len(ordered) - 1) // 2]


def _stack(column: Column, pulls: Sequence[Sequence[float]], height: int, *, median: bool = False) -> None:
    """Place the cells near their pulls, in order and clear of each other (isotonic regression)."""
    cells = _cells(column)
    if not cells:
        return
    base: list[int] = []
    tops: list[int] = []
    end, last = 0, None
    for item, rows in cells:
        first = not rows or rows[0] == 0
        if last is not None and first:
            end += max(last.gap, item.gap)
        base.append(end)
        tops.append(item.y + (0 if first else item.head + item.rows[rows[0]]))
        end += item.height if len(rows) == len(item.rows) else 2 + (item.head if first else 0)
        last = item
    slack = max(height - end, 0)
    middle: Callable[[Sequence[float]], float] = _median if median else fmean
    blocks: list[tuple[list[float], int]] = []
    values: list[float] = []
    for pull, top, start in zip(pulls, tops, base, strict=True):
        block, count = [target - start for target in pull or (top,)], 1
        value = middle(block)
        while values and values[-1] >= value:
            earlier, more = blocks.pop()
            block, count = earlier + block, count + more
            values.pop()
            value = middle(block)
        blocks.append((block, count))
        values.append(value)
    offsets = [
        round(min(max(value, 0), slack))
        for (_, count), value in zip(blocks, values, strict=True)
        for _ in range(count)
    ]
    for (item, rows), start, offset in zip(cells, base, offsets, strict=True):
        if not rows or rows[0] == 0:
            item.y = start + offset
        if len(rows) == 1 and item.stretches:
            item.rows[rows[0]] = 0 if rows[0] == 0 else start + offset - item.y - item.head


def _cost(grid: Grid) -> int:
    """Crossings weigh most, then bends, then the length of the vertical parts."""
    cost = 0
    for pieces in grid.pieces:
        ends = sorted((piece.left_y, piece.right_y) for piece in pieces)
        for index, (left, right) in enumerate(ends):
            cost += abs(left - right) + 6 * (left != right)
            cost += 12 * sum(other < right for _, other in ends[index + 1 :])
    return cost


_Snapshot = list[list[tuple[Item, int, list[int], list[tuple[Pin, int, list[Piece], list[Piece]]]]]]


def _snapshot(grid: Grid) -> _Snapshot:
    return [
        [
            (
                item,
                item.y,
                list(item.rows),
                [(pin, pin.row, list(pin.left), list(pin.right)) for pin in item.pins],
            )
            for item in column.items
        ]
        for column in grid.columns
    ]


def _restore(grid: Grid, snapshot: _Snapshot) -> None:
    for column, items in zip(grid.columns, snapshot, strict=True):
        column.items = [item for item, _, _, _ in items]
        for item, y, rows, pins in items:
            item.y, item.rows = y, list(rows)
            item.pins = [pin for pin, _, _, _ in pins]
            for pin, row, left, right in pins:
                pin.row, pin.left, pin.right = row, left, right
