"""Turn a sheet into columns of items joined by pieces of wire, each piece bridging two neighbouring columns.

A band becomes one column for every step that the signal takes inside it; a barrier, or the bare edge between two
bands, is a column of its own. A run that only passes a column holds a row there, so nothing is drawn across it.
Heights are counted in half rows, so that every wire end lies on a common raster and can be met by a straight line.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from enum import Enum
from math import ceil

from installcheck.outputs.sheet import (
    Band,
    Barrier,
    Block,
    Change,
    Device,
    DeviceKind,
    Fitting,
    FluidLine,
    Joint,
    Mark,
    Sheet,
    Wire,
)
from installcheck.outputs.text_width import printable, text_width, wrap

SMALL = 7.0  # smallest text on the sheet [pt], the least that is read at arm's length on a bench
NAME = 8.0  # names of devices, bands and barriers [pt]
LINE = 8.5  # distance of the text lines in a heading [pt]
MARK_SIZE = 7.0  # height of a verdict mark [pt]

Run = Wire | FluidLine


class Role(Enum):
    """What an item of a column stands for."""

    DEVICE = "device"
    JOINT = "joint"
    BLOCK = "block"
    FITTING = "fitting"
    PASS = "pass"
    TURN = "turn"


@dataclass(frozen=True, slots=True)
class Spacing:
    """How close things stand: half the distance of neighbouring wires, and where texts are broken [pt]."""

    half_row: float
    flag_lines: int
    device: float
    fitting: float
    joint: float


LOW = Spacing(5.5, 1, 92.0, 62.0, 58.0)  # many rows, long flags
NARROW = Spacing(9.75, 2, 56.0, 46.0, 46.0)  # flags in two lines above the wire


@dataclass(frozen=True, slots=True)
class Caption:
    """A line of text followed by verdict marks; the bold part comes first."""

    bold: str = ""
    plain: str = ""
    marks: tuple[Mark, ...] = ()
    size: float = SMALL

    @property
    def width(self) -> float:
        """Width [pt]."""
        width = text_width(self.bold, self.size, bold=True) + text_width(self.plain, self.size)
        if self.bold and self.plain:
            width += self.size * 0.45
        return width + sum(mark_width(mark) for mark in self.marks)


def mark_width(mark: Mark) -> float:
    """Width of a verdict mark with its number and the space before it [pt]."""
    return 3.0 + MARK_SIZE + 1.5 + text_width(str(mark.number), SMALL, bold=True)


@dataclass(eq=False, slots=True)
class Pin:
    """A place in an item where runs end, with the rows it takes there."""

    id: str
    caption: Caption
    row: int = 0
    left: list["Piece"] = field(default_factory=list)
    right: list["Piece"] = field(default_factory=list)

    @property
    def rows(self) -> int:
        """Rows taken."""
        return max(len(self.left), len(self.right), 1)


@dataclass(eq=False, slots=True)
class Item:
    """Something that stands in a column."""

    id: str
    role: Role
    thing: Device | Joint | Block | Fitting | Run
    pins: list[Pin]
    heading: tuple[Caption, ...] = ()
    head: int = 0  # height of the heading [half rows]
    width: float = 0.0
    order: int = 0
    y: int = 0
    rows: list[int] = field(default_factory=list)  # heights of the rows below the heading [half rows]

    @property
    def height(self) -> int:
        """Height [half rows]."""
        return self.head + (self.rows[-1] + 2 if self.rows else 0)

    @property
    def gap(self) -> int:
        """Clear height kept above and below [half rows]."""
        return 0 if self.role in (Role.PASS, Role.JOINT) else 1

    @property
    def stretches(self) -> bool:
        """Whether its rows may stand apart so that wires run straight: fittings, plugs, bus bars, ground points."""
        if isinstance(self.thing, Device):
            return self.thing.kind in (DeviceKind.SUPPLY, DeviceKind.GROUND)
        return self.role in (Role.FITTING, Role.BLOCK)

    def row_y(self, row: int) -> int:
        """Height of the wire in a row [half rows]."""
        return self.y + self.head + self.rows[row] + 1

    def place_pins(self) -> None:
        """Give every pin its row: in order down the edge that its runs leave from."""
        left = right = row = 0
        mostly_left = self._mostly_left()
        for pin in self.pins:
            if self.role is not Role.DEVICE:
                pin.row, row = row, row + pin.rows
                continue
            on_left, on_right = bool(pin.left), bool(pin.right)
            if not on_left and not on_right:
                on_left, on_right = mostly_left, not mostly_left
            pin.row = max(left if on_left else 0, right if on_right else 0)
            left = pin.row + pin.rows if on_left else left
            right = pin.row + pin.rows if on_right else right
        count = max((pin.row + pin.rows for pin in self.pins), default=0)
        if len(self.rows) != count:
            self.rows = list(range(0, 2 * count, 2))

    def faces_left(self, pin: Pin) -> bool:
        """Whether the label of a pin stands at the left edge."""
        return bool(pin.left) or (not pin.right and self._mostly_left())

    def _mostly_left(self) -> bool:
        return sum(bool(pin.left) for pin in self.pins) >= sum(bool(pin.right) for pin in self.pins)


@dataclass(eq=False, slots=True)
class Piece:
    """The part of a run between two neighbouring columns."""

    run: Run
    channel: int
    start: tuple[Item, Pin]
    end: tuple[Item, Pin]

    @property
    def left_y(self) -> int:
        """Height at the left end [half rows]."""
        item, pin = self.start
        return item.row_y(pin.row + pin.right.index(self))

    @property
    def right_y(self) -> int:
        """Height at the right end [half rows]."""
        item, pin = self.end
        return item.row_y(pin.row + pin.left.index(self))


@dataclass(eq=False, slots=True)
class Column:
    """A column of a band, a barrier, or the bare edge between two bands (neither)."""

    band: Band | None = None
    barrier: Barrier | None = None
    items: list[Item] = field(default_factory=list)

    @property
    def height(self) -> int:
        """Least height that holds the items [half rows]."""
        return sum(item.height for item in self.items) + sum(
            max(a.gap, b.gap) for a, b in zip(self.items, self.items[1:], strict=False)
        )


@dataclass(eq=False, slots=True)
class Grid:
    """All columns of a sheet and the pieces of wire between them."""

    sheet: Sheet
    spacing: Spacing
    columns: list[Column]
    pieces: list[list[Piece]]
    pins: dict[str, tuple[Item, Pin]]


def build_grid(sheet: Sheet, spacing: Spacing) -> Grid:
    """Columns, items and pieces of a sheet, in the order of the document, not yet placed."""
    marks: dict[str, list[Mark]] = defaultdict(list)
    for mark in sheet.marks:
        marks[mark.target].append(mark)
    items = list(_items(sheet, marks, spacing))
    for order, item in enumerate(items):
        item.order = order
    pins = {pin.id: (item, pin) for item in items for pin in item.pins}
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
            item.head = _head(item, spacing)
            item.width = _width(item)
        # Devices and plugs of one column line up at both edges.
        boxes = [i for i in column.items if i.role in (Role.DEVICE, Role.BLOCK, Role.FITTING)]
        for item in boxes:
            item.width = max(box.width for box in boxes)
    return grid


def change_word(change: Change) -> str:
    """The word printed with a thing that the alteration adds or takes away."""
    return {Change.NONE: "", Change.NEW: "NEW", Change.REMOVED: "REMOVED"}[change]


def _heading(
    lines: Iterable[str], change: Change, marks: Sequence[Mark], width: float, *, size: float = SMALL
) -> tuple[Caption, ...]:
    name, *rest = [printable(line) for line in lines] or [""]
    captions = [Caption(bold=line, size=size) for line in wrap(name, size, width, bold=True)] or [Caption()]
    for line in (*rest, change_word(change)):
        captions += [Caption(plain=part) for part in wrap(line, SMALL, width)]
    queue = list(marks)
    lines_with_marks = []
    for caption in captions:
        taken: list[Mark] = []
        while queue and Caption(caption.bold, caption.plain, (*taken, queue[0]), caption.size).width <= width:
            taken.append(queue.pop(0))
        lines_with_marks.append(Caption(caption.bold, caption.plain, tuple(taken), caption.size))
    while queue:
        taken = [queue.pop(0)]
        while queue and Caption(marks=(*taken, queue[0])).width <= width:
            taken.append(queue.pop(0))
        lines_with_marks.append(Caption(marks=tuple(taken)))
    return tuple(lines_with_marks)


def _items(sheet: Sheet, marks: Mapping[str, Sequence[Mark]], spacing: Spacing) -> Iterator[Item]:
    for device in sheet.devices:
        pins = [
            Pin(t.id, Caption(plain=printable(t.label), marks=tuple(marks.get(t.id, ()))))
            for t in device.terminals
        ]
        heading = _heading(device.lines, device.change, marks.get(device.id, ()), spacing.device, size=NAME)
        yield Item(device.id, Role.DEVICE, device, pins, heading)
    for block in sheet.blocks:
        pins = [
            Pin(
                joint.id,
                Caption(
                    plain=printable(f"{joint.label} {change_word(joint.change)}"),
                    marks=tuple(marks.get(joint.id, ())),
                ),
            )
            for joint in sheet.joints
            if joint.block == block.id
        ]
        heading = _heading((block.label,), Change.NONE, marks.get(block.id, ()), spacing.device)
        yield Item(block.id, Role.BLOCK, block, pins, heading)
    for joint in sheet.joints:
        if not joint.block:
            heading = _heading((joint.label,), joint.change, marks.get(joint.id, ()), spacing.joint)
            yield Item(joint.id, Role.JOINT, joint, [Pin(joint.id, Caption())], heading)


def _head(item: Item, spacing: Spacing) -> int:
    """Height of the heading; the name of a joint, or of the first pin of a plug, also uses half its row."""
    height = len(item.heading) * LINE
    if item.role is Role.JOINT:
        height += 1.0 - spacing.half_row
    elif item.role is Role.BLOCK:
        height += max(0.0, LINE + 1.5 - spacing.half_row)
    return max(0, ceil(height / spacing.half_row))


def _width(item: Item) -> float:
    heading = max((caption.width for caption in item.heading), default=0.0)
    if item.role is Role.DEVICE:
        symbol = 20.0
        left = max((p.caption.width for p in item.pins if item.faces_left(p)), default=0.0)
        right = max((p.caption.width for p in item.pins if not item.faces_left(p)), default=0.0)
        return max(heading + symbol, left + right + 18.0, 44.0)
    if item.role in (Role.BLOCK, Role.JOINT, Role.FITTING):
        pins = max((pin.caption.width for pin in item.pins), default=0.0)
        return max(heading + 6.0, 2 * pins + 14.0, 20.0)
    return 0.0


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
_IN_LINE = (frozenset({DeviceKind.SENDER, DeviceKind.PROBE}), frozenset({DeviceKind.DIAL}))


def _band_of(item: Item) -> str:
    return item.thing.band if isinstance(item.thing, Device | Block | Joint) else ""


def _columns(
    sheet: Sheet, items: Sequence[Item], pins: Mapping[str, tuple[Item, Pin]]
) -> tuple[list[Column], dict[Item, int]]:
    index = {band.id: number for number, band in enumerate(sheet.bands)}
    links: dict[Item, set[Item]] = defaultdict(set)
    toward: tuple[set[Item], set[Item]] = (set(), set())
    loops: set[Item] = set()
    for run in sheet.runs:
        a, b = pins[run.start][0], pins[run.end][0]
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
    distance = _distances(members, links, right if mirrored else left)
    rank = {item: (distance[item], _kind_order(item), item.order) for item in members}
    inward = sorted(members, key=rank.__getitem__)
    depth = dict.fromkeys(members, 0)
    _push(inward, links, rank, depth)
    for kinds in _IN_LINE:
        row = [item for item in members if isinstance(item.thing, Device) and item.thing.kind in kinds]
        deepest = max((depth[item] for item in row), default=0)
        depth.update(dict.fromkeys(row, deepest))
        _push(inward, links, rank, depth)
    if mirrored:
        last = max(depth.values())
        return {item: last - value for item, value in depth.items()}
    return depth


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
    """Steps from the seeds; a group that no seed reaches starts from its own most outward item."""
    distance: dict[Item, int] = {}
    frontier = list(seeds)
    rest = sorted(members, key=lambda item: (_kind_order(item), item.order))
    while len(distance) < len(members):
        if not frontier:
            frontier = [next(item for item in rest if item not in distance)]
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
    heading = _heading((fitting.label,), fitting.change, marks.get(fitting.id, ()), grid.spacing.fitting)
    item = Item(fitting.id, Role.FITTING, fitting, [], heading, order=len(shells))
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
    here, there = grid.pins[run.start], grid.pins[run.end]
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
