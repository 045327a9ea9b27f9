"""What stands in the columns of a sheet: items with their pins and headings, and the pieces of wire between them.

Heights are counted in half rows, so that every wire end lies on a common raster and can be met by a straight line.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import field
from enum import Enum
from itertools import pairwise
from math import ceil

from ..dataclass import dataclass
from .captions import LINE, NAME, SMALL, Caption, change_word, elsewhere_lines, few, heading
from .kinds import Change, DeviceKind, JointKind
from .sheet import Band, Barrier, Block, Device, Fitting, FluidLine, Joint, Mark, Sheet, Wire
from .text_width import printable, shorten

_PIN_TEXT = 60.0  # a longer terminal name is shortened [pt]

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
    again: bool = False  # a device drawn again beside another circuit that it serves

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


Pins = dict[tuple[str, str], tuple[Item, Pin]]
"""Where the runs of a terminal end: by its id, and by the circuit for which its device is drawn again."""


def pin_at(pins: Pins, run: Run, end: str) -> tuple[Item, Pin]:
    """The item and the pin at an end of a run."""
    return pins.get((end, run.circuit)) or pins[end, ""]


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
            max(a.gap, b.gap) for a, b in pairwise(self.items)
        )


@dataclass(eq=False, slots=True)
class Grid:
    """All columns of a sheet and the pieces of wire between them."""

    sheet: Sheet
    spacing: Spacing
    columns: list[Column]
    pieces: list[list[Piece]]
    pins: Pins

    def by_run(self) -> dict[str, list[Piece]]:
        """Pieces of every run, from left to right."""
        pieces: dict[str, list[Piece]] = defaultdict(list)
        for channel in self.pieces:
            for piece in channel:
                pieces[piece.run.id].append(piece)
        return pieces


def renumber(item: Item, thing: Device | Block | Joint) -> None:
    """Let an item stand for a thing that differs only in where else it is drawn."""
    item.thing = thing
    if thing.elsewhere:
        lines = elsewhere_lines(thing.elsewhere, _lead(thing))
        item.heading = (*item.heading[: -len(lines)], *(Caption(plain=line) for line in lines))


def _lead(thing: Device | Block | Joint) -> str:
    return "to" if isinstance(thing, Joint) and thing.kind is JointKind.OFF_SHEET else "also"


def _pin(pin_id: str, label: str, marks: Sequence[Mark]) -> Pin:
    drawn, hidden = few(marks)
    return Pin(pin_id, Caption(plain=shorten(printable(label), SMALL, _PIN_TEXT), marks=drawn, hidden=hidden))


def make_items(sheet: Sheet, marks: Mapping[str, Sequence[Mark]], spacing: Spacing) -> Iterator[Item]:
    """Devices, plugs and terminal blocks, and single joints of a sheet."""
    for device in sheet.devices:
        pins = [_pin(t.id, t.label, marks.get(t.id, ())) for t in device.terminals]
        where = elsewhere_lines(device.elsewhere)
        title = heading(device.lines, device.change, where, marks.get(device.id, ()), spacing.device, NAME)
        yield Item(device.id, Role.DEVICE, device, pins, title)
    for block in sheet.blocks:
        pins = [
            _pin(joint.id, f"{joint.label} {change_word(joint.change)}", marks.get(joint.id, ()))
            for joint in sheet.joints
            if joint.block == block.id
        ]
        where = elsewhere_lines(block.elsewhere)
        title = heading((block.label,), Change.NONE, where, marks.get(block.id, ()), spacing.device)
        yield Item(block.id, Role.BLOCK, block, pins, title)
    for joint in sheet.joints:
        if not joint.block:
            where = elsewhere_lines(joint.elsewhere, _lead(joint))
            title = heading((joint.label,), joint.change, where, marks.get(joint.id, ()), spacing.joint)
            yield Item(joint.id, Role.JOINT, joint, [Pin(joint.id, Caption())], title)


def make_fitting(fitting: Fitting, marks: Sequence[Mark], spacing: Spacing) -> Item:
    """A barrier fitting, still without the runs through it."""
    title = heading((fitting.label,), fitting.change, (), marks, spacing.fitting)
    return Item(fitting.id, Role.FITTING, fitting, [], title)


def head_rows(item: Item, spacing: Spacing) -> int:
    """Height of the heading; the name of a joint, or of the first pin of a plug, also uses half its row."""
    height = len(item.heading) * LINE
    if item.role is Role.JOINT:
        height += 1.0 - spacing.half_row
    elif item.role is Role.BLOCK:
        height += max(0.0, LINE + 1.5 - spacing.half_row)
    return max(0, ceil(height / spacing.half_row))


def item_width(item: Item) -> float:
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
