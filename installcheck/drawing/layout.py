"""Give every column, track and flag its place along the sheet."""

from collections import defaultdict
from collections.abc import Mapping
from functools import cached_property
from itertools import pairwise

from ..dataclass import dataclass
from .captions import LINE, NAME, SMALL, Caption
from .columns import build_grid
from .flags import find_ties, place_flags
from .items import Column, Grid, Piece, Role, Spacing
from .order import arrange
from .route import Jog, route
from .sheet import Mark, Sheet
from .text_width import longest_word, printable, wrap

TRACK = 4.5  # distance of neighbouring vertical parts [pt]
_LEAD = 4.0  # straight part before the first track and after the flag [pt]
_TIE = 9.0  # room for the loop around a pair, or the crosses on a removed wire [pt]
_EDGE = 4.0  # left and right of the outermost columns [pt]
_BARRIER_TEXT = 62.0


@dataclass(frozen=True, slots=True)
class Channel:
    """Parts of a channel between two columns, from left to right [pt]."""

    lead: float
    tracks: int
    flag: float
    ties: bool
    tail: float

    @property
    def width(self) -> float:
        """Width [pt]."""
        bends = self.tracks * TRACK + 2 if self.tracks else 0.0
        return self.lead + bends + self.flag + (_TIE if self.ties else 0.0) + self.tail


@dataclass(frozen=True, slots=True)
class Place:
    """Where the parts of a channel begin [pt]."""

    tracks: float
    flag: float
    tie: float


@dataclass(frozen=True)
class Layout:
    """A sheet with all its places; x and y count in points from the top left corner of the drawing."""

    grid: Grid
    channels: tuple[Channel, ...]
    jogs: Mapping[Piece, tuple[Jog, ...]]
    flags: Mapping[Piece, tuple[Caption, ...]]
    ties: tuple[tuple[Piece, ...], ...]
    widths: tuple[float, ...]
    titles: Mapping[int, tuple[Caption, ...]]
    rows: int
    spread: float = 0.0
    drop: float = 0.0

    @property
    def sheet(self) -> Sheet:
        """The sheet."""
        return self.grid.sheet

    @cached_property
    def head(self) -> float:
        """Height of the band titles [pt]."""
        return max(len(title) for title in self.titles.values()) * LINE + 7

    @property
    def width(self) -> float:
        """Width [pt]."""
        return (
            sum(self.widths)
            + sum(c.width for c in self.channels)
            + self.spread * len(self.channels)
            + 2 * _EDGE
        )

    @property
    def height(self) -> float:
        """Height [pt]."""
        return self.head + (self.rows + 2) * self.grid.spacing.half_row

    @cached_property
    def lefts(self) -> tuple[float, ...]:
        """Left edge of every column [pt]."""
        lefts = [_EDGE]
        for width, channel in zip(self.widths, self.channels, strict=False):
            lefts.append(lefts[-1] + width + channel.width + self.spread)
        return tuple(lefts)

    @cached_property
    def places(self) -> tuple[Place, ...]:
        """Where the parts of every channel begin [pt]."""
        places = []
        for left, width, channel, following in zip(
            self.lefts, self.widths, self.channels, self.lefts[1:], strict=False
        ):
            tie = following - channel.tail - (_TIE if channel.ties else 0.0)
            places.append(Place(left + width + channel.lead, tie - channel.flag, tie))
        return tuple(places)

    def middle(self, column: int) -> float:
        """Middle of a column [pt]."""
        return self.lefts[column] + self.widths[column] / 2

    def y(self, half_rows: float) -> float:
        """Height on the drawing of a height on the raster [pt]."""
        return self.head + self.drop + (half_rows + 1) * self.grid.spacing.half_row


class Draft:
    """A sheet in columns at one spacing, not yet arranged: how small it can get is known before the costly part."""

    def __init__(self, sheet: Sheet, spacing: Spacing) -> None:
        self.grid = build_grid(sheet, spacing)
        self.titles = _titles(sheet, self.grid)
        self.flags = place_flags(self.grid)

    @cached_property
    def least_size(self) -> tuple[float, float]:
        """Width and height below which the sheet cannot be drawn [pt]."""
        grid = self.grid
        leads = sum(_lead(a) + _lead(b) for a, b in pairwise(grid.columns))
        width = sum(_widths(grid, self.titles)) + sum(self.flags.widths) + leads + 2 * _EDGE
        rows = max(column.height for column in grid.columns) + 2
        return width, 2 * LINE + rows * grid.spacing.half_row

    def lay_out(self, room: float) -> Layout:
        """Lay the sheet out, using up to `room` points of height where that helps; nothing is scaled."""
        grid, titles, flags = self.grid, self.titles, self.flags
        head = max(len(title) for title in titles.values()) * LINE + 7
        rows = arrange(grid, int((room - head) / grid.spacing.half_row) - 2)
        ties = find_ties(grid, flags)
        tied = {piece.channel for tie in ties for piece in tie}
        tied |= {p.channel for p in flags.captions if p.run.change == "removed"}
        jogs: dict[Piece, tuple[Jog, ...]] = {}
        channels = []
        for number, pieces in enumerate(grid.pieces):
            bends, tracks = route(pieces)
            jogs.update(bends)
            lead, tail = (_lead(grid.columns[n]) for n in (number, number + 1))
            channels.append(Channel(lead, tracks, flags.widths[number], number in tied, tail))
        widths = _widths(grid, titles)
        _fit_band_titles(grid, titles, widths, channels)
        return Layout(grid, tuple(channels), jogs, flags.captions, ties, tuple(widths), titles, rows)


def _widths(grid: Grid, titles: Mapping[int, tuple[Caption, ...]]) -> list[float]:
    widths = [max((item.width for item in column.items), default=0.0) for column in grid.columns]
    for number, title in titles.items():
        if grid.columns[number].barrier:
            widths[number] = max(widths[number], 14.0, *(caption.width for caption in title))
    return widths


def _lead(column: Column) -> float:
    """Length of straight wire at a column: little where nothing stands [pt]."""
    return _LEAD if any(item.role is not Role.PASS for item in column.items) else 1.5


def band_span(layout: Layout, band: str) -> tuple[float, float]:
    """Left and right edge of a band: the middle of the barrier or bare edge on either side [pt]."""
    columns = layout.grid.columns
    numbers = [n for n, column in enumerate(columns) if column.band and column.band.id == band]
    left = layout.middle(numbers[0] - 1) if numbers[0] else 0.0
    right = layout.middle(numbers[-1] + 1) if numbers[-1] + 1 < len(columns) else layout.width
    return left, right


def clear_span(layout: Layout, band: str) -> tuple[float, float]:
    """Room for the title of a band, clear of the titles of its barriers [pt]."""
    columns = layout.grid.columns
    numbers = [n for n, column in enumerate(columns) if column.band and column.band.id == band]
    first, last = numbers[0], numbers[-1]
    left = layout.lefts[first - 1] + layout.widths[first - 1] + 2 if first else 2.0
    right = layout.lefts[last + 1] - 2 if last + 1 < len(columns) else layout.width - 2
    return left, right


def _titles(sheet: Sheet, grid: Grid) -> dict[int, tuple[Caption, ...]]:
    """Title of every barrier, and of every band at the first of its columns."""
    marks: dict[str, tuple[Mark, ...]] = defaultdict(tuple)
    for mark in sheet.marks:
        marks[mark.target] += (mark,)
    titles: dict[int, tuple[Caption, ...]] = {}
    titled: set[str] = set()
    for number, column in enumerate(grid.columns):
        if column.barrier:
            label = printable(column.barrier.label)
            width = max(_BARRIER_TEXT, longest_word(label, NAME, bold=True))
            words = wrap(label, NAME, width, bold=True)
            titles[number] = _with_marks(
                [Caption(bold=w, size=NAME) for w in words], marks[column.barrier.id], width
            )
        elif column.band and column.band.id not in titled:
            titled.add(column.band.id)
            label = printable(column.band.label)
            members = [n for n, c in enumerate(grid.columns) if c.band is column.band]
            width = max(
                sum(max((i.width for i in grid.columns[n].items), default=12) for n in members) + 30, 60
            )
            width = max(width, longest_word(label, NAME, bold=True))
            lines = [Caption(bold=w, size=NAME) for w in wrap(label, NAME, width, bold=True)]
            lines += [Caption(plain=w) for w in wrap(printable(column.band.note), SMALL, width)]
            titles[number] = _with_marks(lines, marks[column.band.id], width)
    return titles


def _with_marks(lines: list[Caption], marks: tuple[Mark, ...], width: float) -> tuple[Caption, ...]:
    row: tuple[Mark, ...] = ()
    for mark in marks:
        if row and Caption(marks=(*row, mark)).width > width:
            lines.append(Caption(marks=row))
            row = ()
        row += (mark,)
    return (*lines, Caption(marks=row)) if row else tuple(lines)


def _fit_band_titles(
    grid: Grid, titles: Mapping[int, tuple[Caption, ...]], widths: list[float], channels: list[Channel]
) -> None:
    """Widen the first column of a band that is narrower than its title."""
    for number, title in titles.items():
        band = grid.columns[number].band
        if band is None:
            continue
        last = max(n for n, column in enumerate(grid.columns) if column.band is band)
        inner = sum(widths[number : last + 1])
        inner += sum(c.width for c in channels[max(number - 1, 0) : last + 1])
        widths[number] += max(0.0, max(caption.width for caption in title) + 6 - inner)
