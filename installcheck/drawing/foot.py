"""What stands under the drawing: verdicts, notes, legend, caution and title block."""

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from .border import LEFT, MM, inside
from .draw import run_strokes, verdict_title
from .ink import THIN, Dash, Ink, Path, Spot, Text, Trace
from .items import LINE, MARK_SIZE, SMALL, spans
from .sheet import Change, LineKind, Mark, Outcome, Sheet, WireKind
from .symbols import cross, mark_shape, oval, wire_stroke
from .text_width import printable, text_width, wrap

PAD = 4.0
_TITLE = 14 * MM  # height of the title block: two rows of 7 mm
_BLOCK = 180 * MM  # its width: ISO 7200, 5
_COLUMN_GAP = 14.0
_REVISIONS = 3  # rows of the revision table
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
    left, _, right, _ = inside(sheet.paper)
    return right - left


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
    first: dict[int, Mark] = {}
    for mark in marks:
        if not mark.listed_on:
            first.setdefault(mark.number, mark)
    for mark in first.values():
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
    yield from _revision_table(sheet)
    yield from _title_block(sheet)


def _draw_entries(sheet: Sheet, below: Foot, top: float) -> Iterator[Ink]:
    indent = _indent([entry for column in below.entries for entry in column])
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
                    yield Text(x + indent, base, line, SMALL)
                base += LINE


def _revision_table(sheet: Sheet) -> Iterator[Ink]:
    """What each revision is, beside the title block; as many of the last ones as have room."""
    left, _, right, bottom = inside(sheet.paper)
    top, end = bottom - _TITLE, right - _BLOCK
    yield Path(((left, top), (end, top)), THIN)
    columns = ((0.0, 0.14), (0.14, 0.6), (0.74, 0.26))
    rows = [("Rev.", "Change", "Date"), *sheet.revisions[-_REVISIONS:]]
    for number, row in enumerate(rows):
        base = top + 7.4 + number * (_TITLE / (_REVISIONS + 1))
        if number:
            yield Path(((left, base - 7.4), (end, base - 7.4)), THIN)
        for (at, share), words in zip(columns, row, strict=True):
            x = left + (end - left) * at
            if at and not number:
                yield Path(((x, top), (x, bottom)), THIN)
            yield Text(x + 3, base, cut_to(printable(words), (end - left) * share - 6, SMALL), SMALL)


def _title_block(sheet: Sheet) -> Iterator[Ink]:
    """Title block in the lower right corner with the fields of ISO 7200; who checks it signs by hand."""
    _, _, right, bottom = inside(sheet.paper)
    left, top = right - _BLOCK, bottom - _TITLE
    middle = top + _TITLE / 2
    yield Path(((left, bottom), (left, top), (right, top)), 1.4)
    yield Path(((left, middle), (right, middle)), THIN)
    upper = (
        ("Shown", sheet.subject, 0.62),
        ("Document type", "wiring and line diagram", 0.22),
        ("Drawing number", sheet.drawing, 0.16),
    )
    lower = (
        ("Title", sheet.installation, 0.4),
        ("Drawn by", sheet.creator, 0.14),
        ("Checked by", "", 0.14),
        ("Rev.", sheet.revision, 0.08),
        ("Date of issue", sheet.date, 0.13),
        ("Sheet", f"{sheet.number} of {sheet.count}", 0.11),
    )
    for row_top, cells in ((top, upper), (middle, lower)):
        x = left
        for number, (label, value, share) in enumerate(cells):
            width = _BLOCK * share
            if number:
                yield Path(((x, row_top), (x, row_top + _TITLE / 2)), THIN)
            yield Text(x + 3, row_top + 6.6, label, SMALL)
            size = 9.0 if text_width(printable(value), 9.0, bold=True) <= width - 6 else 7.0
            words = cut_to(printable(value), width - 6, size, bold=True)
            yield Text(x + 3, row_top + 16.4, words, size, bold=True)
            x += width


def cut_to(words: str, width: float, size: float, *, bold: bool = False) -> str:
    """A text that is no wider than ``width``, cut with dots; it stands in full in the title of the page."""
    if text_width(words, size, bold=bold) <= width:
        return words
    while words and text_width(words + "…", size, bold=bold) > width:
        words = words[:-1]
    return words.rstrip() + "…"
