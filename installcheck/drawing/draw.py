"""Draw a laid-out sheet: bands and barriers, devices with their terminals, joints, runs with their flags."""

from collections.abc import Iterator
from itertools import pairwise

from .captions import LINE, SMALL, Caption
from .flags import flag_parts
from .ink import GREY, HEAVY, THIN, Dash, Disc, Ink, Path, Point, Spot, Text, Trace, rectangle
from .ink import LINE as STROKE
from .items import Item, Piece, Pin, Role, Run
from .kinds import Change, JointKind, LineKind
from .layout import TRACK, Layout, band_span, clear_span
from .sheet import Block, Device, Fitting, FluidLine, Joint, Mark, Wire
from .symbols import TERMINAL, cross, joint, joint_reach, mark, outline, oval, symbol, wire_stroke
from .text_width import printable, text_width

_OVER = 2.6  # from a wire up to the baseline of the text on it [pt]
_BAR_GAP = 2.2  # from the middle of a barrier to each of its two strokes [pt]


class Pencil:
    """Draws one layout at a place and scale on the page."""

    def __init__(self, layout: Layout, x: float, y: float, scale: float, bottom: float) -> None:
        self.layout = layout
        self.left = x
        self.top = y
        self.s = scale
        self.bottom = bottom
        self.joints = {joint.id: joint for joint in layout.sheet.joints}

    def draw(self) -> Iterator[Ink]:
        """All ink of the drawing, the lowest layer first."""
        yield from self._zones()
        for number, column in enumerate(self.layout.grid.columns):
            for item in column.items:
                yield from self._item(item, number)
        yield from self._flags()
        yield from self._ties()
        yield from self._traces()

    def x(self, x: float) -> float:
        """Place on the page of a place on the layout."""
        return self.left + x * self.s

    def y(self, half_rows: float) -> float:
        """Place on the page of a height on the raster."""
        return self.top + self.layout.y(half_rows) * self.s

    def caption(self, caption: Caption, x: float, base: float, anchor: str = "start") -> Iterator[Ink]:
        """A caption with its marks, by its left end, middle or right end."""
        x -= {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor] * caption.width * self.s
        size = caption.size * self.s
        for text, bold in ((caption.bold, True), (caption.plain, False)):
            if text:
                if not bold and caption.bold:
                    x += size * 0.45
                yield Text(x, base, text, size, bold)
                x += text_width(text, size, bold=bold)
        for verdict in caption.marks:
            yield from mark(verdict, x, base, self.s, _verdict_link(verdict), verdict_title(verdict))
            x += Caption(marks=(verdict,)).width * self.s
        if caption.hidden:
            yield Text(x + 3 * self.s, base, f"+{caption.hidden}", SMALL * self.s, bold=True)

    def _zones(self) -> Iterator[Ink]:
        layout, s = self.layout, self.s
        top = self.top
        rule = self.top + (layout.head - 3) * s
        yield rectangle(self.left, top, layout.width * s, self.bottom - top, stroke=THIN, fill="", color=GREY)
        yield Path(((self.left, rule), (self.left + layout.width * s, rule)), THIN, color=GREY)
        for number, column in enumerate(layout.grid.columns):
            middle = self.x(layout.middle(number))
            if column.band is None and column.barrier is None:
                yield Path(((middle, top), (middle, self.bottom)), THIN, Dash.DASHED, color=GREY)
            elif column.barrier:
                yield from self._barrier(number, middle, rule)
        for number, title in layout.titles.items():
            column = layout.grid.columns[number]
            if column.band:
                left, right = clear_span(layout, column.band.id)
                middle = self.x((left + right) / 2)
                a, b = band_span(layout, column.band.id)
                yield Spot(
                    self.x(a), top, (b - a) * s, rule - top, f"zone-{column.band.id}", column.band.label
                )
            else:
                middle = self.x(layout.middle(number))
            for line, caption in enumerate(title):
                yield from self.caption(caption, middle, top + (8.5 + line * LINE) * s, "middle")

    def _barrier(self, number: int, middle: float, rule: float) -> Iterator[Ink]:
        column = self.layout.grid.columns[number]
        gaps = [(self.y(i.y), self.y(i.y + i.height)) for i in column.items if i.role is Role.PASS]
        edges = [rule, *(edge for gap in sorted(gaps) for edge in gap), self.bottom]
        for start, stop in zip(edges[::2], edges[1::2], strict=True):
            if stop > start:
                for side in (-_BAR_GAP, _BAR_GAP):
                    x = middle + side * self.s
                    yield Path(((x, start), (x, stop)), HEAVY)

    def _item(self, item: Item, column: int) -> Iterator[Ink]:
        match item.thing:
            case Device() as device:
                yield from self._device(item, device, column)
            case Fitting() as fitting:
                x, y, width, height = self.box(item, column)
                dash = Dash.DASHED if fitting.change is Change.REMOVED else Dash.SOLID
                yield rectangle(x, y, width, height, stroke=1.4, dash=dash)
                yield from self._heading(item, x + width / 2, y, "middle")
                yield Spot(x, y, width, height, f"at-{fitting.id}", fitting.label)
            case Block() as block:
                x, y, width, height = self.box(item, column)
                yield rectangle(x, y, width, height, stroke=THIN)
                yield from self._heading(item, x + width / 2, y, "middle")
                yield Spot(x, y, width, height, f"at-{block.id}", block.label)
                for pin in item.pins:
                    yield from self._contact(item, pin, column)
            case Joint() as single:
                x, y, width, height = self.box(item, column)
                first = self.row(item, item.pins[0], 0) - 4.1 * self.s
                above = first - (8.0 + (len(item.heading) - 1) * LINE) * self.s
                yield from self._heading(item, x + width / 2, above, "middle")
                yield from self._contact(item, item.pins[0], column)
                yield Spot(x, y, width, height, f"at-{single.id}", single.label)
            case _:
                return

    def box(self, item: Item, column: int) -> tuple[float, float, float, float]:
        """Left, top, width and height of an item on the page."""
        x = self.x(self.layout.middle(column) - item.width / 2)
        y = self.y(item.y)
        return x, y, item.width * self.s, item.height * self.layout.grid.spacing.half_row * self.s

    def _heading(self, item: Item, x: float, top: float, anchor: str) -> Iterator[Ink]:
        for line, caption in enumerate(item.heading):
            yield from self.caption(caption, x, top + (8.0 + line * LINE) * self.s, anchor)

    def _device(self, item: Item, device: Device, column: int) -> Iterator[Ink]:
        s = self.s
        x, y, width, height = self.box(item, column)
        yield outline(device.kind, x, y, width, height, s, device.change)
        yield from symbol(device.kind, x + 2.5 * s, y + 2 * s, s * 0.85)
        yield from self._heading(item, x + 15 * s, y, "start")
        yield Spot(x, y, width, height, f"at-{device.id}", " ".join(device.lines))
        for pin in item.pins:
            on_left = item.faces_left(pin)
            base = self.row(item, pin, 0)
            inset = 5.0 * s
            edge = x if on_left else x + width
            label = edge + inset if on_left else edge - inset
            yield from self.caption(pin.caption, label, base + 2.5 * s, "start" if on_left else "end")
            if pin.left and pin.right:
                reach = label + pin.caption.width * s + 2
                yield Path(((reach, base), (x + width, base)), THIN)
            edges = [x] * bool(pin.left) + [x + width] * bool(pin.right) or [edge]
            for at in edges:
                count = len(pin.left if at == x else pin.right) or 1
                rows = [self.row(item, pin, row) for row in range(count)]
                if count > 1:
                    yield Path(((at, rows[0]), (at, rows[-1])), HEAVY)
                for row in rows:
                    yield Disc(at, row, TERMINAL * s)

    def row(self, item: Item, pin: Pin, row: int) -> float:
        """Height on the page of a row of a pin."""
        return self.y(item.row_y(pin.row + row))

    def _contact(self, item: Item, pin: Pin, column: int) -> Iterator[Ink]:
        s = self.s
        thing = self.joints[pin.id]
        middle = self.x(self.layout.middle(column))
        rows = [self.row(item, pin, row) for row in range(pin.rows)]
        if len(rows) > 1:
            yield Path(((middle, rows[0]), (middle, rows[-1])), 1.4)
        for row in rows[1:] if thing.kind is not JointKind.STUD else ():
            yield Disc(middle, row, 1.5 * s, STROKE, "black")
        stacked = rows if thing.kind is JointKind.STUD else rows[:1]
        for row in stacked:
            yield from joint(thing.kind, middle, row, s, thing.change)
        yield from self.caption(pin.caption, middle - 5 * s, rows[0] - _OVER * s, "end")

    def _flags(self) -> Iterator[Ink]:
        for piece, lines in self.layout.flags.items():
            x = self.x(self.layout.places[piece.channel].flag)
            base = self.y(piece.right_y) - (_OVER + 0.8 * isinstance(piece.run, FluidLine)) * self.s
            for line, caption in enumerate(reversed(lines)):
                yield from self.caption(caption, x, base - line * LINE * self.s)

    def _ties(self) -> Iterator[Ink]:
        s = self.s
        for pieces in self.layout.ties:
            x = self.x(self.layout.places[pieces[0].channel].tie + 4.5)
            ys = [self.y(piece.right_y) for piece in pieces]
            dash = Dash.DASHED if isinstance(pieces[0].run, Wire) and pieces[0].run.shield else Dash.SOLID
            yield oval(x, ys[0] - 3 * s, ys[-1] + 3 * s, 2.8 * s, dash)

    def _traces(self) -> Iterator[Ink]:
        runs = self.layout.grid.by_run()
        ordered: tuple[Run, ...] = (*self.layout.sheet.lines, *self.layout.sheet.wires)
        for run in ordered:
            yield Trace(f"run-{run.id}", _title(run), self.course(runs[run.id]), run_strokes(run))
            if run.change is Change.REMOVED:
                for piece in runs[run.id]:
                    if piece not in self.layout.flags:
                        continue
                    x = self.x(self.layout.places[piece.channel].tie + 4.5)
                    yield cross(x, self.y(piece.right_y), self.s)

    def course(self, pieces: list[Piece]) -> tuple[Point, ...]:
        """The polyline of a run, or of some of its pieces in sequence."""
        pieces = sorted(pieces, key=lambda p: p.channel)
        courses = [self._across(piece) for piece in pieces]
        if len(pieces) == 2 and pieces[0].channel == pieces[1].channel:
            courses[1].reverse()
        points = [point for course in courses for point in course]
        kept = points[:1]
        for point, following in pairwise((*points[1:], points[-1])):
            level = kept[-1][1] == point[1] == following[1]
            plumb = kept[-1][0] == point[0] == following[0]
            if (
                point != kept[-1]
                and not (level and following != point)
                and not (plumb and following != point)
            ):
                kept.append(point)
        return tuple(kept)

    def _across(self, piece: Piece) -> list[Point]:
        x = self._end(piece.start[0], piece.start[1], piece.channel, 1.0)
        y = self.y(piece.left_y)
        points = [(x, y)]
        place = self.layout.places[piece.channel]
        for jog in self.layout.jogs.get(piece, ()):
            x = self.x(place.tracks + jog.track * TRACK)
            points += [(x, self.y(jog.start)), (x, self.y(jog.end))]
        x = self._end(piece.end[0], piece.end[1], piece.channel + 1, -1.0)
        return [*points, (x, self.y(piece.right_y))]

    def _end(self, item: Item, pin: Pin, column: int, side: float) -> float:
        """Where a piece ends at an item: its edge, the contact of a joint, or the middle that it passes through."""
        middle = self.layout.middle(column)
        if item.role is Role.DEVICE:
            return self.x(middle + side * (item.width / 2 + TERMINAL))
        if item.role in (Role.JOINT, Role.BLOCK) and pin.rows == 1:
            return self.x(middle) + side * joint_reach(self.joints[pin.id].kind, self.s)
        return self.x(middle)


def _verdict_link(verdict: Mark) -> str:
    return "#verdicts-elsewhere" if verdict.listed_on else f"#verdict-{verdict.number}"


def verdict_title(verdict: Mark) -> str:
    """What is shown when the pointer rests on a mark."""
    return f"{verdict.number} {verdict.outcome}: {verdict.text}"


def _title(run: Run) -> str:
    return printable(f"{run.id}  {'  '.join(flag_parts(run))}: {run.start} to {run.end}")


def run_strokes(run: Run) -> tuple[tuple[float, Dash, str], ...]:
    if isinstance(run, Wire):
        return (wire_stroke(run.kind, run.change),)
    edge = GREY if run.change is Change.REMOVED else "black"
    solid = Dash.SOLID
    match run.kind:
        case LineKind.TUBE:
            return ((3.8, solid, edge), (2.2, solid, "white"))
        case LineKind.HOSE:
            return ((4.4, solid, edge), (2.8, solid, "white"), (0.8, Dash.DASHED, edge))
        case LineKind.CAPILLARY:
            return ((2.6, solid, edge), (1.2, solid, "white"))
