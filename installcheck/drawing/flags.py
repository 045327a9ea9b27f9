"""Write the flag of every run where it widens the drawing least, and tie pairs and shielded wires together."""

from collections import defaultdict
from itertools import pairwise

from ..dataclass import dataclass
from .captions import SMALL, Caption, change_word, few
from .items import Grid, Piece, Role, Run
from .kinds import WireKind
from .sheet import FluidLine, Mark, Wire
from .text_width import printable, shorten

_ID_TEXT = 70.0  # a longer id is shortened; the list of wires has it in full [pt]
_FLAG_TEXT = 220.0


@dataclass(eq=False, slots=True)
class Flags:
    """Which caption stands on which piece."""

    captions: dict[Piece, tuple[Caption, ...]]
    widths: list[float]
    homes: set[Piece]


def flag_parts(run: Run) -> tuple[str, ...]:
    """What the flag of a run says after its id."""
    if isinstance(run, Wire):
        parts = [run.letters, *run.flag, _of("pr", run.pair, run.id), _of("sh", run.shield, run.id)]
        if run.kind is WireKind.SHIELD:
            parts = ["" if run.id.endswith(" shield") else "shield", *run.flag]
    else:
        parts = [run.medium, *run.flag]
    parts.append(change_word(run.change))
    return tuple(printable(part) for part in parts if part.strip())


def _of(word: str, group: str, run: str) -> str:
    """The pair or shield a wire belongs to; the pair is plain from an id that begins with it, the shield from a word."""
    if not group:
        return ""
    if run.startswith(f"{group} "):
        return "shielded" if word == "sh" else ""
    return f"{word} {group}"


def flag(run: Run, marks: tuple[Mark, ...], lines: int) -> tuple[Caption, ...]:
    """The flag of a run in one or two lines, broken where it comes out narrowest."""
    parts = flag_parts(run)
    name = shorten(printable(run.id), SMALL, _ID_TEXT, bold=True)
    drawn, hidden = few(marks)

    def broken(first: int) -> tuple[Caption, ...]:
        upper = Caption(name, shorten("  ".join(parts[:first]), SMALL, _FLAG_TEXT), drawn, hidden=hidden)
        lower = Caption(plain=shorten("  ".join(parts[first:]), SMALL, _FLAG_TEXT))
        return (upper, lower) if lower.plain else (upper,)

    breaks = range(len(parts) + 1) if lines > 1 else [len(parts)]
    return min((broken(first) for first in breaks), key=_cut_and_width)


def _cut_and_width(lines: tuple[Caption, ...]) -> tuple[int, float]:
    """Lines cut short, and the width of the widest: a wider flag is better than one with dots."""
    return sum(line.plain.endswith("…") for line in lines), max(line.width for line in lines)


def place_flags(grid: Grid) -> Flags:
    """One full flag for every run, in the channel that it widens least; its id again wherever there is room."""
    marks: dict[str, tuple[Mark, ...]] = defaultdict(tuple)
    for mark in grid.sheet.marks:
        marks[mark.target] += (mark,)
    pieces = grid.by_run()
    runs = {run.id: run for run in grid.sheet.runs}
    full = {run.id: flag(run, marks[run.id], grid.spacing.flag_lines) for run in grid.sheet.runs}
    wide = {name: max(line.width for line in lines) for name, lines in full.items()}
    captions: dict[Piece, tuple[Caption, ...]] = {}
    widths = [0.0] * len(grid.pieces)
    homes: set[Piece] = set()
    # Short runs have the least choice of a place, so they choose first.
    for name in sorted(full, key=lambda n: (len(pieces[n]), -wide[n])):
        home = min(
            pieces[name], key=lambda p: (max(widths[p.channel], wide[name]) - widths[p.channel], p.channel)
        )
        captions[home] = full[name]
        homes.add(home)
        widths[home.channel] = max(widths[home.channel], wide[name])
    for name, parts in pieces.items():
        letters = printable(_letters(runs[name]))
        reminder = Caption(bold=full[name][0].bold, plain=letters)
        for piece in parts:
            if piece not in captions and (
                reminder.width <= widths[piece.channel] or _after_crossing(piece, letters)
            ):
                captions[piece] = (reminder,)
                widths[piece.channel] = max(widths[piece.channel], reminder.width)
    return Flags(captions, widths, homes)


def _after_crossing(piece: Piece, letters: str) -> bool:
    """Whether the letters of a thermocouple leg are worth room of their own: on the far side of a fitting."""
    return bool(letters) and piece.start[0].role is Role.FITTING


def _letters(run: Run) -> str:
    return run.letters if isinstance(run, Wire) else ""


def find_ties(grid: Grid, flags: Flags) -> tuple[tuple[Piece, ...], ...]:
    """Groups of wires of one pair or one shield where they run side by side under a flag, or once elsewhere."""
    level: dict[tuple[str, str], list[tuple[Piece, ...]]] = defaultdict(list)
    for pieces in grid.pieces:
        groups: dict[tuple[str, str], list[Piece]] = defaultdict(list)
        for piece in pieces:
            run = piece.run
            if isinstance(run, FluidLine) or run.kind is WireKind.SHIELD:
                continue
            if run.pair:
                groups["pair", run.pair].append(piece)
            if run.shield:
                groups["shield", run.shield].append(piece)
        for key, members in groups.items():
            members.sort(key=lambda p: p.right_y)
            adjacent = all(below.right_y - above.right_y == 2 for above, below in pairwise(members))
            if adjacent and (len(members) > 1 or key[0] == "shield"):
                level[key].append(tuple(members))
    ties: list[tuple[Piece, ...]] = []
    for found in level.values():
        flagged = [tie for tie in found if flags.homes & set(tie)]
        ties += flagged or found[:1]
    return tuple(ties)
