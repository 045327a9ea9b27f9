"""What stands under the drawing: verdicts, notes, legend, caution and title block."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from ..dataclass import dataclass
from .border import LEFT, inside
from .captions import LINE, MARK_SIZE, SMALL
from .draw import run_strokes, verdict_title
from .ink import THIN, Dash, Ink, Path, Spot, Text, Trace
from .kinds import Change, LineKind, Outcome, WireKind
from .notes import Entry, balance, entries, indent
from .sheet import Sheet
from .symbols import cross, mark_shape, oval, wire_stroke
from .text_width import printable, text_width, wrap
from .title_block import TITLE_HEIGHT, revision_table, title_block

PAD = 4.0
_COLUMN_GAP = 14.0


@dataclass(frozen=True, slots=True)
class _Sample:
    """A legend entry."""

    text: str
    width: float
    draw: Callable[[float, float], tuple[Ink, ...]]


def inner_width(sheet: Sheet) -> float:
    """Width inside the frame [pt]."""
    left, _, right, _ = inside(sheet.paper)
    return right - left


@dataclass(frozen=True, slots=True)
class Foot:
    """What stands under the drawing, with its height."""

    entries: tuple[tuple[Entry, ...], ...]
    legend: tuple[tuple[_Sample, ...], ...]
    caution: tuple[str, ...]
    height: float
    list_height: float


def foot(sheet: Sheet) -> Foot:
    """What stands under the drawing of a sheet."""
    inner = inner_width(sheet) - 2 * PAD
    column = (inner - _COLUMN_GAP) / 2
    told = entries(sheet, column)
    columns = balance(told)
    legend = _flow(_samples(sheet), inner)
    caution = wrap(printable(sheet.caution), SMALL, inner)
    lines = max((sum(len(entry.lines) for entry in column) for column in columns), default=0)
    height = TITLE_HEIGHT + sum(n * LINE + 5 for n in (lines, len(legend), len(caution)) if n)
    return Foot(columns, legend, caution, height, lines * LINE + 5 if lines else 0.0)


def _flow(samples: Sequence[_Sample], width: float) -> tuple[tuple[_Sample, ...], ...]:
    rows: list[list[_Sample]] = []
    used = 0.0
    for sample in samples:
        step = sample.width + text_width(sample.text, SMALL) + 14
        if not rows or used + step > width:
            rows.append([])
            used = 0.0
        rows[-1].append(sample)
        used += step
    return tuple(tuple(row) for row in rows)


def _samples(sheet: Sheet) -> list[_Sample]:
    """Legend entries for what is on this sheet and does not explain itself."""
    kinds = {WireKind.PLAIN if wire.kind is WireKind.PAIR else wire.kind for wire in sheet.wires}
    samples = [_line_sample(kind) for kind in WireKind if kind in kinds]
    if any(wire.pair for wire in sheet.wires):
        samples.append(_tie_sample("two wires of one cable", Dash.SOLID))
    if any(wire.shield for wire in sheet.wires):
        samples.append(_tie_sample("shield around wires", Dash.DASHED))
    for kind in LineKind:
        line = next((line for line in sheet.lines if line.kind is kind), None)
        if line:
            strokes = run_strokes(replace(line, change=Change.NONE))
            samples.append(_trace_sample(kind.value, strokes))
    things = (*sheet.runs, *sheet.devices, *sheet.joints, *sheet.fittings)
    if any(thing.change is Change.REMOVED for thing in things):
        grey = wire_stroke(WireKind.PLAIN, Change.REMOVED)
        samples.append(_trace_sample("removed", (grey,), crossed=True))
    shown = {mark.outcome for mark in sheet.marks}
    return samples + [_mark_sample(outcome) for outcome in Outcome if outcome in shown]


def _line_sample(kind: WireKind) -> _Sample:
    words = {
        WireKind.PLAIN: "wire",
        WireKind.PAIR: "wire",
        WireKind.THERMOCOUPLE: "thermocouple leg, metal and polarity in letters",
        WireKind.SHIELD: "shield",
        WireKind.STRAP: "ground strap",
    }
    return _trace_sample(words[kind], (wire_stroke(kind, Change.NONE),))


def _trace_sample(
    text: str, strokes: tuple[tuple[float, Dash, str], ...], *, crossed: bool = False
) -> _Sample:
    def draw(x: float, base: float) -> tuple[Ink, ...]:
        y = base - 2.5
        trace = Trace("", text, ((x, y), (x + 22, y)), strokes)
        return (trace, cross(x + 11, y, 1.0)) if crossed else (trace,)

    return _Sample(text, 26.0, draw)


def _tie_sample(text: str, dash: Dash) -> _Sample:
    def draw(x: float, base: float) -> tuple[Ink, ...]:
        wires = tuple(Path(((x, base - dy), (x + 16, base - dy))) for dy in (1.0, 4.0))
        return (*wires, oval(x + 8, base - 6, base + 1, 2.8, dash))

    return _Sample(text, 20.0, draw)


def _mark_sample(outcome: Outcome) -> _Sample:
    return _Sample(outcome.value, MARK_SIZE + 3, lambda x, base: tuple(mark_shape(outcome, x, base, 1.0)))


def draw_foot(sheet: Sheet, below: Foot) -> Iterator[Ink]:
    left, top, right, bottom = inside(sheet.paper)
    y = top + PAD if sheet.is_list else bottom - below.height
    if below.entries:
        if not sheet.is_list:
            yield Path(((left, y), (right, y)), THIN)
        yield from _draw_entries(sheet, below, y)
    y = bottom - below.height + below.list_height
    if below.legend:
        yield Path(((left, y), (right, y)), THIN)
        for number, row in enumerate(below.legend):
            x = left + PAD
            base = y + LINE * (number + 1)
            for sample in row:
                yield from sample.draw(x, base)
                yield Text(x + sample.width, base, sample.text, SMALL)
                x += sample.width + text_width(sample.text, SMALL) + 14
        y += len(below.legend) * LINE + 5
    if below.caution:
        yield Path(((left, y), (right, y)), THIN)
        for number, line in enumerate(below.caution):
            yield Text(left + PAD, y + LINE * (number + 1), line, SMALL)
    yield from revision_table(sheet)
    yield from title_block(sheet)


def _draw_entries(sheet: Sheet, below: Foot, top: float) -> Iterator[Ink]:
    inset = indent([entry for column in below.entries for entry in column])
    width = (inner_width(sheet) - 2 * PAD - _COLUMN_GAP) / 2
    for number, column in enumerate(below.entries):
        x = LEFT + PAD + number * (width + _COLUMN_GAP)
        base = top + LINE
        for entry in column:
            height = len(entry.lines) * LINE
            if entry.marks:
                yield from mark_shape(entry.marks[0].outcome, x, base, 1.0)
                yield Text(x + MARK_SIZE + 3, base, entry.label, SMALL, bold=True)
            for mark in entry.marks:
                yield Spot(x, base - 7, width, height, f"verdict-{mark.number}", verdict_title(mark))
            if entry.anchor:
                yield Spot(x, base - 7, width, height, entry.anchor)
            for line in entry.lines:
                if line:
                    yield Text(x + inset, base, line, SMALL)
                base += LINE
