"""What one drawing sheet shows, in trade words, before anything has a place on paper.

A sheet knows nothing of the document it came from; whoever builds it has already turned every value into the words
to print. Ids tie the parts together and need only be unique on the sheet.
"""

from dataclasses import field, fields, replace

from ..dataclass import dataclass
from .kinds import Change, DeviceKind, JointKind, LineKind, Outcome, Paper, WireKind


@dataclass(frozen=True, slots=True)
class Band:
    """A zone, drawn as a band; bands stand left to right in the order of the sheet."""

    id: str
    label: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Barrier:
    """A heavy double stroke to the right of the band `after`, or further right if several follow one band."""

    id: str
    label: str
    after: str


@dataclass(frozen=True, slots=True)
class Fitting:
    """A crossing through a barrier: grommet, bulkhead union, connector shell."""

    id: str
    label: str
    barrier: str
    change: Change = Change.NONE


@dataclass(frozen=True, slots=True)
class Terminal:
    """A terminal or fluid port of a device."""

    id: str
    label: str


@dataclass(frozen=True, slots=True)
class Device:
    """A plain outline with its terminals; the first line of text is its name.

    `elsewhere` lists other sheets on which the same device is drawn, with its other terminals. `group` says with which
    of its like it stands where one sheet does not hold all, from the wider word to the narrower.
    """

    id: str
    kind: DeviceKind
    band: str
    lines: tuple[str, ...]
    terminals: tuple[Terminal, ...]
    change: Change = Change.NONE
    elsewhere: tuple[int, ...] = ()
    group: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Block:
    """A plug-and-receptacle or terminal block that holds joints, drawn as one outline around them."""

    id: str
    label: str
    band: str
    elsewhere: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Joint:
    """A splice, stud, plug pin or tee; `block` names the plug or terminal block that it is part of."""

    id: str
    kind: JointKind
    band: str
    label: str
    block: str = ""
    change: Change = Change.NONE
    elsewhere: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Wire:
    """One conductor from a terminal or joint to another, through barrier fittings in any order.

    `flag` is the text beside the id, part by part: gauge, colour or metal, length. `letters` is the short mark
    repeated along the wire, such as K+ for a thermocouple leg. `crosses` names barriers it passes without a
    fitting drawn. Wires of one `pair` or one `shield` are tied together where they run side by side. `circuit` keeps
    wires together when a sheet is split.
    """

    id: str
    start: str
    end: str
    kind: WireKind = WireKind.PLAIN
    flag: tuple[str, ...] = ()
    through: tuple[str, ...] = ()
    letters: str = ""
    pair: str = ""
    shield: str = ""
    circuit: str = ""
    change: Change = Change.NONE
    crosses: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class FluidLine:
    """A tube, hose or capillary from a port to another; `flag` holds size, metal, length; `crosses` as of a :class:`Wire`."""

    id: str
    start: str
    end: str
    medium: str
    kind: LineKind = LineKind.TUBE
    flag: tuple[str, ...] = ()
    through: tuple[str, ...] = ()
    circuit: str = ""
    change: Change = Change.NONE
    crosses: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Mark:
    """A numbered finding at its place; `target` is the id of anything on the sheet, or '' for the whole sheet.

    One finding may stand at several places, each a mark of the same number and text. `listed_on` is the number of another sheet that has the text, when this one has no room for it.
    """

    number: int
    outcome: Outcome
    text: str
    target: str = ""
    listed_on: int = 0

    @property
    def key(self) -> tuple[int, str]:
        """What tells it from every other mark of a sheet."""
        return self.number, self.target


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet: its title block, and what is drawn on it.

    `revisions` are rows of the revision table: its letter, what it is, its date.
    """

    installation: str
    subject: str
    bands: tuple[Band, ...]
    caution: str = ""
    revision: str = ""
    date: str = ""
    drawing: str = ""
    creator: str = ""
    revisions: tuple[tuple[str, str, str], ...] = ()
    number: int = 1
    count: int = 1
    paper: Paper = Paper.A4
    barriers: tuple[Barrier, ...] = ()
    fittings: tuple[Fitting, ...] = ()
    devices: tuple[Device, ...] = ()
    blocks: tuple[Block, ...] = ()
    joints: tuple[Joint, ...] = ()
    wires: tuple[Wire, ...] = ()
    lines: tuple[FluidLine, ...] = ()
    marks: tuple[Mark, ...] = ()
    notes: tuple[str, ...] = ()
    kept: object = field(default=None, init=False, compare=False, repr=False)
    """Its setting on paper, once that is made; a changed copy of the sheet begins without."""

    def __post_init__(self) -> None:
        _require_sound(self)

    @property
    def runs(self) -> tuple[Wire | FluidLine, ...]:
        """Wires and fluid lines in one sequence."""
        return (*self.wires, *self.lines)

    @property
    def placed(self) -> tuple[Device | Block | Joint, ...]:
        """All that stands in a zone band."""
        return (*self.devices, *self.blocks, *self.joints)

    @property
    def zone_ids(self) -> frozenset[str]:
        """Ids of bands and barriers."""
        return frozenset([band.id for band in self.bands] + [barrier.id for barrier in self.barriers])

    @property
    def is_list(self) -> bool:
        """Whether the sheet holds only verdicts and notes for which other sheets had no room."""
        return not self.devices and not self.joints and not self.fittings and bool(self.marks or self.notes)

    def titled(self, number: int, count: int) -> "Sheet":
        """The same sheet as sheet `number` of `count`, which changes nothing of its layout."""
        titled = replace(self, number=number, count=count)
        object.__setattr__(titled, "kept", self.kept)
        return titled


def _require_sound(sheet: Sheet) -> None:
    bands = {band.id for band in sheet.bands}
    ends = {terminal.id for device in sheet.devices for terminal in device.terminals}
    ends |= {joint.id for joint in sheet.joints}
    blocks = {block.id: block.band for block in sheet.blocks}
    barriers = {barrier.id for barrier in sheet.barriers}
    fittings = {fitting.id for fitting in sheet.fittings}
    if not bands:
        raise ValueError("a sheet needs at least one zone band")
    seen: set[str] = set()
    for one in fields(sheet):
        values = getattr(sheet, one.name)
        for value in values if isinstance(values, tuple) else ():
            _once(getattr(value, "id", None), seen)
            for terminal in getattr(value, "terminals", ()):
                _once(terminal.id, seen)
    for thing in sheet.placed:
        _known(thing.band, bands, f"zone band of {thing.id}")
    for barrier in sheet.barriers:
        _known(barrier.after, bands, f"zone band before barrier {barrier.id}")
    for fitting in sheet.fittings:
        _known(fitting.barrier, barriers, f"barrier of fitting {fitting.id}")
    for joint in sheet.joints:
        if joint.block:
            _known(joint.block, set(blocks), f"block of joint {joint.id}")
            if blocks[joint.block] != joint.band:
                raise ValueError(f"joint {joint.id} and its block {joint.block} are in different zone bands")
    for run in sheet.runs:
        for end in (run.start, run.end):
            _known(end, ends, f"end of {run.id}")
        for through in run.through:
            _known(through, fittings, f"barrier fitting of {run.id}")
        for crossed in run.crosses:
            _known(crossed, barriers, f"barrier crossed by {run.id}")


def _once(thing_id: str | None, seen: set[str]) -> None:
    if thing_id is None:
        return
    if thing_id in seen:
        raise ValueError(f"{thing_id!r} is on the sheet twice")
    seen.add(thing_id)


def _known(name: str, known: set[str], role: str) -> None:
    if name not in known:
        raise ValueError(f"{role}: {name!r} is not on the sheet")
