"""What stands under the drawing: verdicts, notes, legend, caution and title block."""

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from .draw import run_strokes, verdict_title
from .ink import THIN, Dash, Ink, Path, Spot, Text, Trace
from .items import LINE, MARK_SIZE, SMALL, spans
from .sheet import Change, LineKind, Mark, Outcome, Paper, Sheet, WireKind
from .symbols import cross, mark_shape, oval, wire_stroke
from .text_width import printable, text_width, wrap

PAPERS = {Paper.A4: (841.89, 595.28), Paper.LETTER: (792.0, 612.0)}  # landscape [pt]
PAPER_SIZES = {Paper.A4: ("297mm", "210mm"), Paper.LETTER: ("11in", "8.5in")}
MARGIN = 20.0  # more than the edge that common printers leave white [pt]
PAD = 4.0
_TITLE = 30.0  # height of the title block [pt]
_COLUMN_GAP = 14.0
_NAMES = 8  # things named in one verdict


@dataclass(frozen=True, slots=True)
class _Entry:
    """A verdict, several alike, or a note, broken into lines."""

    marks: tuple[Mark, ...]
    lines: tuple[str, ...]
    anchor: str = ""

    @property
    def label(self) -> str:
        """The numbers of its verdicts."""
        return spans(mark.number for mark in self.marks)


@dataclass(frozen=True, slots=True)
class _Sample:
    """A legend entry."""

    text: str
    width: float
    draw: Callable[[float, float], tuple[Ink, ...]]


@dataclass(frozen=True, slots=True)
class Foot:
    """What stands under the drawing, with its height."""

    entries: tuple[tuple[_Entry, ...], ...]
    legend: tuple[tuple[_Sample, ...], ...]
    caution: tuple[str, ...]
    height: float
    list_height: float


def inner_width(sheet: Sheet) -> float:
    """Width inside the frame [pt]."""
    return PAPERS[sheet.paper][0] - 2 * MARGIN


def foot(sheet: Sheet) -> Foot:
    """What stands under the drawing of a sheet."""
    inner = inner_width(sheet) - 2 * PAD
    column = (inner - _COLUMN_GAP) / 2
    entries = _entries(sheet, column)
    columns = _balance(entries)
    legend = _flow(_samples(sheet), inner)
    caution = wrap(printable(sheet.caution), SMALL, inner)
    lines = max((sum(len(entry.lines) for entry in column) for column in columns), default=0)
    height = _TITLE + sum(n * LINE + 5 for n in (lines, len(legend), len(caution)) if n)
    return Foot(columns, legend, caution, height, lines * LINE + 5 if lines else 0.0)


def _entries(sheet: Sheet, width: float) -> list[_Entry]:
    told = [_Entry(marks, (text,)) for marks, text in _alike(sheet.marks)]
    indent = _indent(told)
    entries = [
        replace(
            entry, lines=wrap(f"{entry.marks[0].outcome}: {printable(entry.lines[0])}", SMALL, width - indent)
        )
        for entry in told
    ]
    away = sorted({mark.listed_on for mark in sheet.marks} - {0})
    if away:
        said = (f"{spans(m.number for m in sheet.marks if m.listed_on == n)} on sheet {n}" for n in away)
        lines = wrap(f"verdicts {', '.join(said)}", SMALL, width - indent)
        # At least three lines, so that the drawing keeps its room when the sheet numbers become known.
        entries.append(_Entry((), (*lines, *("",) * (3 - len(lines))), "verdicts-elsewhere"))
    entries += [
        _Entry((), wrap(printable(note), SMALL, width - indent)) for note in sheet.notes if note.strip()
    ]
    return entries


def _alike(marks: Sequence[Mark]) -> Iterator[tuple[tuple[Mark, ...], str]]:
    """Verdicts that say the same of several things, told once with the names of all."""
    groups: dict[tuple[Outcome, str, str], list[tuple[Mark, str]]] = {}
    for mark in marks:
        if not mark.listed_on:
            before, name, after = _named(mark)
            groups.setdefault((mark.outcome, before, after), []).append((mark, name))
    for (_, before, after), members in groups.items():
        for start in range(0, len(members), _NAMES):
            some = members[start : start + _NAMES]
            names = ", ".join(dict.fromkeys(name for _, name in some))
            yield tuple(mark for mark, _ in some), f"{before}{names}{after}"


def _named(mark: Mark) -> tuple[str, str, str]:
    """The text of a verdict around the name of the thing it stands at."""
    name = mark.target.removeprefix("device ")
    found = re.search(rf"(?<![\w.]){re.escape(name)}(?![\w.])", mark.text) if name else None
    if found is None:
        return mark.text, "", ""
    return mark.text[: found.start()], name, mark.text[found.end() :]


def _indent(entries: Sequence[_Entry]) -> float:
    widest = max((text_width(entry.label, SMALL, bold=True) for entry in entries), default=0.0)
    return MARK_SIZE + 3 + widest + 4


def _balance(entries: Sequence[_Entry]) -> tuple[tuple[_Entry, ...], ...]:
    """Two columns of about one height, read down the first and then down the second."""
    total = sum(len(entry.lines) for entry in entries)
    first: list[_Entry] = []
    filled = 0
    for entry in entries:
        if filled + len(entry.lines) / 2 > total / 2 and first:
            break
        first.append(entry)
        filled += len(entry.lines)
    return tuple(part for part in (tuple(first), tuple(entries[len(first) :])) if part)


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


def draw_foot(sheet: Sheet, below: Foot, paper: tuple[float, float]) -> Iterator[Ink]:
    left, right = MARGIN, paper[0] - MARGIN
    y = MARGIN + PAD if sheet.is_list else paper[1] - MARGIN - below.height
    if below.entries:
        if not sheet.is_list:
            yield Path(((left, y), (right, y)), THIN)
        yield from _draw_entries(sheet, below, y)
    y = paper[1] - MARGIN - below.height + below.list_height
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
    yield from _title_block(sheet, paper)


def _draw_entries(sheet: Sheet, below: Foot, top: float) -> Iterator[Ink]:
    indent = _indent([entry for column in below.entries for entry in column])
    width = (inner_width(sheet) - 2 * PAD - _COLUMN_GAP) / 2
    for number, column in enumerate(below.entries):
        x = MARGIN + PAD + number * (width + _COLUMN_GAP)
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
                    yield Text(x + indent, base, line, SMALL)
                base += LINE


def _title_block(sheet: Sheet, paper: tuple[float, float]) -> Iterator[Ink]:
    left, right, bottom = MARGIN, paper[0] - MARGIN, paper[1] - MARGIN
    top = bottom - _TITLE
    yield Path(((left, top), (right, top)), 1.4)
    cells = (
        ("Installation", sheet.installation, 0.36),
        ("Drawing", sheet.subject, 0.34),
        ("Revision", sheet.revision, 0.1),
        ("Date", sheet.date, 0.1),
        ("Sheet", f"{sheet.number} of {sheet.count}", 0.1),
    )
    x = left
    for number, (label, value, share) in enumerate(cells):
        width = (right - left) * share
        if number:
            yield Path(((x, top), (x, bottom)), THIN)
        yield Text(x + 4, top + 8, label, SMALL)
        for line, words in enumerate(_cell_lines(printable(value), width - 8)):
            yield Text(
                x + 4, top + 18 + line * 9, words, 8.0 if line or _long(value, width) else 10.0, bold=True
            )
        x += width


def _long(value: str, width: float) -> bool:
    return text_width(printable(value), 10.0, bold=True) > width - 8


def _cell_lines(value: str, width: float) -> tuple[str, ...]:
    """At most two lines; more is cut with dots, and stands in full in the title of the page."""
    if text_width(value, 10.0, bold=True) <= width:
        return (value,) if value else ()
    first, *rest = wrap(value, 8.0, width, bold=True)
    if not rest:
        return (first,)
    second = rest[0]
    if len(rest) > 1:
        while text_width(second + "…", 8.0, bold=True) > width:
            second = second[:-1]
        second += "…"
    return (first, second)
