"""Turn a sheet into columns of items joined by pieces of wire, each piece bridging two neighbouring columns.

A band becomes one column for every step that the signal takes inside it; a barrier, or the bare edge between two
bands, is a column of its own. A run that only passes a column holds a row there, so nothing is drawn across it.
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence

from .captions import Caption
from .items import (
    Column,
    Grid,
    Item,
    Piece,
    Pin,
    Pins,
    Role,
    Run,
    Spacing,
    head_rows,
    item_width,
    make_fitting,
    make_items,
    pin_at,
)
from .kinds import DeviceKind
from .rails import again
from .sheet import Block, Device, Fitting, Joint, Mark, Sheet


def build_grid(sheet: Sheet, spacing: Spacing) -> Grid:
    """Columns, items and pieces of a sheet, in the order of the document, not yet placed."""
    marks: dict[str, list[Mark]] = defaultdict(list)
    for mark in sheet.marks:
        marks[mark.target].append(mark)
    items = list(make_items(sheet, marks, spacing))
    for order, item in enumerate(items):
        item.order = order
    pins: Pins = {(pin.id, ""): (item, pin) for item in items for pin in item.pins}
    items = again(sheet, items, pins)
    columns, place = _columns(sheet, items, pins)
    grid = Grid(sheet, spacing, columns, [[] for _ in columns[1:]], pins)
    fittings = {fitting.id: fitting for fitting in sheet.fittings}
    shells: dict[str, Item] = {}
    for run in sheet.runs:
        _lay(grid, run, place, fittings, shells, marks)
    for fitting in sheet.fittings:
        if fitting.id not in shells:
            _shell(grid, fitting, shells, marks)
    for column in grid.columns:
        for item in column.items:
            item.place_pins()
            item.head = head_rows(item, spacing)
            item.width = item_width(item)
        # Devices and plugs of one column line up at both edges.
        boxes = [i for i in column.items if i.role in (Role.DEVICE, Role.BLOCK, Role.FITTING)]
        widest = max((box.width for box in boxes), default=0.0)
        for item in boxes:
            item.width = widest
    return grid


# Where no signal says which way is on, things stand in this order from the crossing inward.
_DEPTH_ORDER = {
    DeviceKind.SENDER: 1,
    DeviceKind.PROBE: 1,
    DeviceKind.DIAL: 1,
    DeviceKind.OTHER: 1,
    DeviceKind.SWITCH: 2,
    DeviceKind.PROTECTION: 3,
    DeviceKind.SUPPLY: 4,
    DeviceKind.GROUND: 4,
}
_RAILS: dict[DeviceKind | None, int] = {DeviceKind.SUPPLY: 1, DeviceKind.GROUND: 2}
# Things of these kinds line up in one column of their band; what stands at the engine does so as a whole.
_IN_LINE = (frozenset({DeviceKind.DIAL}),)
_IN_LINE_AT_SOURCE = (frozenset({DeviceKind.SENDER, DeviceKind.PROBE, DeviceKind.OTHER}), *_IN_LINE)


def _band_of(item: Item) -> str:
    return item.thing.band if isinstance(item.thing, Device | Block | Joint) else ""


def _columns(sheet: Sheet, items: Sequence[Item], pins: Pins) -> tuple[list[Column], dict[Item, int]]:
    index = {band.id: number for number, band in enumerate(sheet.bands)}
    links: dict[Item, set[Item]] = defaultdict(set)
    toward: tuple[set[Item], set[Item]] = (set(), set())
    loops: set[Item] = set()
    for run in sheet.runs:
        a, b = pin_at(pins, run, run.start)[0], pin_at(pins, run, run.end)[0]
        if a is b:
            loops.add(a)
        elif _band_of(a) == _band_of(b):
            links[a].add(b)
            links[b].add(a)
        else:
            a_is_left = index[_band_of(a)] < index[_band_of(b)]
            toward[a_is_left].add(a)
            toward[not a_is_left].add(b)
    columns: list[Column] = []
    place: dict[Item, int] = {}
    for number, band in enumerate(sheet.bands):
        members = [item for item in items if _band_of(item) == band.id]
        depth = _depths(members, links, toward)
        count = max((depth[item] + 1 + (item in loops) for item in members), default=1)
        for item in members:
            place[item] = len(columns) + depth[item]
        columns += [Column(band=band) for _ in range(count)]
        barriers = [Column(barrier=barrier) for barrier in sheet.barriers if barrier.after == band.id]
        if barriers:
            columns += barriers
        elif number + 1 < len(sheet.bands):
            columns.append(Column())
    for item, column in place.items():
        columns[column].items.append(item)
    return columns, place


def _depths(
    members: Sequence[Item], links: Mapping[Item, set[Item]], toward: tuple[set[Item], set[Item]]
) -> dict[Item, int]:
    """Column of every item of a band, counted from the left: how far the signal has come inside the band."""
    if not members:
        return {}
    left = [item for item in members if item in toward[0]]
    right = [item for item in members if item in toward[1]]
    mirrored = bool(right) and not left
    distance = _distances(members, links, _entries(right if mirrored else left))
    rank = {item: (distance[item], _kind_order(item), item.order) for item in members}
    inward = sorted(members, key=rank.__getitem__)
    depth = dict.fromkeys(members, 0)
    _push(inward, links, rank, depth)
    for kinds in _IN_LINE_AT_SOURCE if mirrored else _IN_LINE:
        row = [item for item in members if isinstance(item.thing, Device) and item.thing.kind in kinds]
        deepest = max((depth[item] for item in row), default=0)
        depth.update(dict.fromkeys(row, deepest))
        _push(inward, links, rank, depth)
    if mirrored:
        last = max(depth.values())
        return {item: last - value for item, value in depth.items()}
    return depth


def _entries(crossing: Sequence[Item]) -> list[Item]:
    """Where the signal enters a band: not by its supplies while there is else, and by its grounds last of all."""
    best = min((_RAILS.get(_kind(item), 0) for item in crossing), default=0)
    return [item for item in crossing if _RAILS.get(_kind(item), 0) == best]


def _kind(item: Item) -> DeviceKind | None:
    return item.thing.kind if isinstance(item.thing, Device) else None


def _kind_order(item: Item) -> int:
    return _DEPTH_ORDER[item.thing.kind] if isinstance(item.thing, Device) else 0


def _push(
    inward: Sequence[Item],
    links: Mapping[Item, set[Item]],
    rank: Mapping[Item, tuple[int, int, int]],
    depth: dict[Item, int],
) -> None:
    for item in inward:
        for other in links.get(item, ()):
            if rank[other] > rank[item]:
                depth[other] = max(depth[other], depth[item] + 1)


def _distances(
    members: Sequence[Item], links: Mapping[Item, set[Item]], seeds: Sequence[Item]
) -> dict[Item, int]:
    """Steps from the seeds; what no seed reaches starts from its supplies, else its senders, else its first item."""
    distance: dict[Item, int] = {}
    frontier = list(seeds)
    while len(distance) < len(members):
        if not frontier:
            rest = [item for item in members if item not in distance]
            supplies = [item for item in rest if _kind(item) is DeviceKind.SUPPLY]
            sources = [item for item in rest if _kind(item) in (DeviceKind.SENDER, DeviceKind.PROBE)]
            frontier = supplies or sources or rest[:1]
        steps = 0
        while frontier:
            for item in frontier:
                distance.setdefault(item, steps)
            reached = {other for item in frontier for other in links.get(item, ()) if other not in distance}
            frontier = sorted(reached, key=lambda item: item.order)
            steps += 1
    return distance


def _shell(
    grid: Grid, fitting: Fitting, shells: dict[str, Item], marks: Mapping[str, Sequence[Mark]]
) -> Item:
    item = make_fitting(fitting, marks.get(fitting.id, ()), grid.spacing)
    item.order = len(shells)
    shells[fitting.id] = item
    next(c for c in grid.columns if c.barrier and c.barrier.id == fitting.barrier).items.append(item)
    return item


def _lay(
    grid: Grid,
    run: Run,
    place: Mapping[Item, int],
    fittings: Mapping[str, Fitting],
    shells: dict[str, Item],
    marks: Mapping[str, Sequence[Mark]],
) -> None:
    here, there = pin_at(grid.pins, run, run.start), pin_at(grid.pins, run, run.end)
    if here[0] is there[0]:
        home = place[here[0]]
        turn = Item(run.id, Role.TURN, run, [Pin(run.id, Caption()), Pin(run.id, Caption())])
        grid.columns[home + 1].items.append(turn)
        _join(grid, run, home, here, (turn, turn.pins[0]))
        _join(grid, run, home, there, (turn, turn.pins[1]))
        return
    if place[here[0]] > place[there[0]]:
        here, there = there, here
    first, last = place[here[0]], place[there[0]]
    crossing = {fittings[name].barrier: fittings[name] for name in run.through}
    previous = here
    for number in range(first + 1, last):
        column = grid.columns[number]
        pin = Pin(run.id, Caption())
        fitting = crossing.get(column.barrier.id) if column.barrier else None
        if fitting:
            item = shells.get(fitting.id) or _shell(grid, fitting, shells, marks)
            item.pins.append(pin)
        else:
            item = Item(run.id, Role.PASS, run, [pin], order=len(column.items))
            column.items.append(item)
        _join(grid, run, number - 1, previous, (item, pin))
        previous = (item, pin)
    _join(grid, run, last - 1, previous, there)


def _join(grid: Grid, run: Run, channel: int, start: tuple[Item, Pin], end: tuple[Item, Pin]) -> None:
    piece = Piece(run, channel, start, end)
    start[1].right.append(piece)
    end[1].left.append(piece)
    grid.pieces[channel].append(piece)
