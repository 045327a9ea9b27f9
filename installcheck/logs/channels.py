"""Which temperature channels of a log can be believed: dead, stuck, jumping and unconnected ones are told
from live ones.

A head that is connected warms and cools with its neighbours; an input with no probe drifts by itself, often
through values a head could have. So channels are judged by how they move from minute to minute, not by
where they stand.
"""

from collections.abc import Callable, Mapping

import numpy as np
from numpy.typing import NDArray

from ..dataclass import dataclass
from .numbers import Floats, median, medians
from .text import LogNote

Indices = NDArray[np.intp]

PLAUSIBLE = (-60.0, 400.0)
"""Head temperatures [degC] that can be: below the coldest air, or above what an aluminium alloy head
survives, is a fault of the channel. Our choice."""
FASTEST = 2.0
"""Fastest believable change of a head temperature [degC/s]; several times what an idle descent does to one.
Our choice."""
SPIKE = 12.0
"""Least jump [degC] away from the samples beside it that counts as a spike. Our choice."""
STUCK_FOR = 300.0
"""Time [s] at one value, while the other heads move by `MOVED`, after which a channel counts as stuck. Our
choice."""
MOVED = 10.0
"""Movement of the other heads [degC] that a live head must follow. Our choice."""
TOGETHER, APART = 0.6, 0.4
"""Correlation of changes [-] above which two heads move together, and below which one does not move with the
rest."""
BLOCK = 60.0
"""Length of the blocks [s] whose means are compared: long against noise, short against slow drift."""


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A channel that is not used: its `column`, its `cylinder` where it names one, and the `reason`."""

    column: str
    cylinder: int | None
    reason: str


@dataclass(frozen=True, slots=True)
class Judged:
    """The channels that stay, cleaned, those left out, and notes. `proven` tells that those that stay were
    seen to move together; without movement in the log nothing shows that a channel is connected."""

    channels: Mapping[int, Floats]
    left_out: tuple[LeftOut, ...]
    notes: tuple[LogNote, ...]
    proven: bool


def judge(
    channels: Mapping[int, Floats],
    columns: Mapping[int, str],
    time: Floats,
    starts: Indices,
    interval: float,
    lines: Indices,
    show: Callable[[float], str],
) -> Judged:
    """Clean head-temperature `channels` [degC] by cylinder and leave out those that cannot be believed.

    `columns` are their column names, `lines` the line number of each row, `show` writes a temperature in
    the log's unit.
    """
    left_out: list[LeftOut] = []
    notes: list[LogNote] = []
    alive: dict[int, Floats] = {}

    def leave_out(cylinder: int, reason: str) -> None:
        left_out.append(LeftOut(columns[cylinder], cylinder, reason))

    for cylinder, raw in channels.items():
        known = np.isfinite(raw)
        absurd = known & ((raw < PLAUSIBLE[0]) | (raw > PLAUSIBLE[1]))
        if not known.any():
            leave_out(cylinder, "it holds no values")
        elif absurd.sum() > 0.5 * known.sum():
            leave_out(
                cylinder, f"most of its values are no head temperature, such as {show(float(raw[absurd][0]))}"
            )
        elif known.sum() < 0.02 * len(raw):
            leave_out(cylinder, f"it holds values in {int(known.sum()):,} of {len(raw):,} rows only")
        else:
            values = np.where(absurd, np.nan, raw)
            if absurd.any():
                notes.append(
                    _note(
                        f"{int(absurd.sum()):,} values that are no head temperature left out",
                        absurd,
                        lines,
                        columns[cylinder],
                    )
                )
            spikes = _spikes(values, interval)
            if spikes.sum() > 0.05 * known.sum():
                leave_out(
                    cylinder,
                    f"it jumps: {int(spikes.sum()):,} of its values stand apart from those beside them",
                )
                continue
            if spikes.any():
                notes.append(
                    _note(f"{int(spikes.sum()):,} spikes left out", spikes, lines, columns[cylinder])
                )
            alive[cylinder] = np.where(spikes, np.nan, values)

    for cylinder in list(alive):
        others = [values for number, values in alive.items() if number != cylinder]
        if np.nanmin(alive[cylinder]) == np.nanmax(alive[cylinder]) and (
            not others or max(map(_span, others)) > MOVED
        ):
            value = float(np.nanmin(alive.pop(cylinder)))
            leave_out(cylinder, f"it is stuck at {show(value)} all along")
    for cylinder, values in list(alive.items()):
        others = [other for number, other in alive.items() if number != cylinder]
        stuck = _stuck(values, others, time)
        if stuck.any():
            alive[cylinder] = np.where(stuck, np.nan, values)
            notes.append(
                _note(
                    f"{int(stuck.sum()):,} rows at one value while the other heads move left out",
                    stuck,
                    lines,
                    columns[cylinder],
                )
            )

    proven, apart, note = _connected(alive, time, starts, interval)
    for cylinder, reason in apart.items():
        del alive[cylinder]
        leave_out(cylinder, reason)
    if note is not None:
        notes.append(note)
    # What was mended in a channel that is not used is of no interest.
    gone = {one.column for one in left_out}
    notes = [one for one in notes if one.column not in gone]
    return Judged(alive, tuple(left_out), tuple(notes), proven)


def _note(text: str, where: NDArray[np.bool_], lines: Indices, column: str) -> LogNote:
    return LogNote(text, int(lines[int(np.argmax(where))]), column)


def _span(values: Floats) -> float:
    low, high = np.nanpercentile(values, [2, 98])
    return float(high - low)


def _spikes(values: Floats, interval: float) -> NDArray[np.bool_]:
    """Where a value stands apart, the same way, from the values before and after it (up to two rows wide)."""
    limit = SPIKE + FASTEST * interval
    spikes = np.zeros(len(values), dtype=bool)
    at = np.flatnonzero(np.isfinite(values))
    v = values[at]
    if not (np.abs(np.diff(v)) > limit).any():
        return spikes
    for width in (1, 2):
        if len(v) > width + 1:
            before, after = v[: -width - 1], v[width + 1 :]
            for k in range(width):
                middle = v[1 + k : len(v) - width + k]
                low, high = np.minimum(before, after), np.maximum(before, after)
                apart = (middle < low - limit) | (middle > high + limit)
                spikes[at[1 + k : len(v) - width + k][apart]] = True
    return spikes


def _stuck(values: Floats, others: list[Floats], time: Floats) -> NDArray[np.bool_]:
    """Rows in which `values` stands still for `STUCK_FOR` while the middle of the `others` moves by
    `MOVED`."""
    stuck = np.zeros(len(values), dtype=bool)
    at = np.flatnonzero(np.isfinite(values))
    if not others or len(at) < 3:
        return stuck
    change = np.flatnonzero(np.diff(values[at]) != 0)
    first, last = np.append(0, change + 1), np.append(change, len(at) - 1)
    long = time[at[last]] - time[at[first]] >= STUCK_FOR
    for a, b in zip(at[first[long]], at[last[long]], strict=True):
        moves = [_span(part) for other in others if np.isfinite(part := other[a : b + 1]).any()]
        if moves and median(moves) > MOVED:
            stuck[a : b + 1] = True
    return stuck


def _connected(
    channels: Mapping[int, Floats], time: Floats, starts: Indices, interval: float
) -> tuple[bool, dict[int, str], LogNote | None]:
    """Whether the channels were seen to move together, those that do not (with the reason), and what could
    not be told."""
    if len(channels) < 2:
        return (
            False,
            {},
            LogNote("with one channel nothing shows whether it is connected") if channels else None,
        )
    block, least = _blocks(time, starts, interval)
    changes = {cylinder: _block_changes(values, block, least) for cylinder, values in channels.items()}
    counts = {cylinder: np.isfinite(change).sum() for cylinder, change in changes.items()}
    if max(counts.values()) < 8:
        return False, {}, LogNote("the log is too short to show which channels are connected")
    sizes = {cylinder: _rms(change) for cylinder, change in changes.items()}
    cylinders = list(channels)
    pairs = {(i, j): _correlation(changes[i], changes[j]) for i in cylinders for j in cylinders if i < j}
    group = _largest_group(cylinders, pairs)
    if len(group) < 2:
        middle = median(list(sizes.values()))
        # Nothing moves: heads in steady flight. One that wanders far more than the rest has no probe.
        if middle < 1.0:
            spans = {cylinder: _span(values) for cylinder, values in channels.items()}
            usual = median(list(spans.values()))
            apart = {
                cylinder: f"it wanders by {span * 1.8:.0f} degF while the other heads stand still: not connected"
                for cylinder, span in spans.items()
                if span > max(MOVED, 4 * usual)
            }
            return (
                False,
                apart,
                LogNote("the heads hardly move in this log, so nothing proves which channels are connected"),
            )
        reason = "no two channels move together, so it cannot be told which are connected"
        return False, dict.fromkeys(cylinders, reason), None
    common = _middle([changes[cylinder] for cylinder in group])
    apart = {}
    for cylinder in cylinders:
        if cylinder not in group:
            likeness = _correlation(changes[cylinder], common)
            if likeness < APART:
                apart[cylinder] = (
                    f"its changes do not follow the other heads (correlation {likeness:.2f}, where connected heads show "
                    f"{min(pairs[a, b] for a in group for b in group if a < b):.2f} or more): not connected, or the wrong signal"
                )
    return True, apart, None


def _blocks(time: Floats, starts: Indices, interval: float) -> tuple[Indices, float]:
    """The block each row falls in, and how many rows a block must know to have a mean."""
    length = max(BLOCK, 5 * interval)
    if time[-1] < 12 * length:
        length = max(time[-1] / 12, 2 * interval)
    piece = np.zeros(len(time), dtype=np.intp)
    piece[starts[1:]] = 1
    piece = np.cumsum(piece)
    # Blocks count on from piece to piece, with one left empty between them.
    within = ((time - time[starts][piece]) // length).astype(np.intp)
    ends = np.append(starts[1:], len(time)) - 1
    offset = np.concatenate(([0], np.cumsum(within[ends] + 2)[:-1]))
    return within + offset[piece], max(1.0, 0.3 * length / max(interval, 1e-9))


def _block_changes(values: Floats, block: Indices, least: float) -> Floats:
    """Changes from one block mean to the next, NaN across a break or a block with few samples."""
    known = np.isfinite(values)
    count = np.bincount(block[known], minlength=block[-1] + 1)
    total = np.bincount(block[known], weights=values[known], minlength=block[-1] + 1)
    means = np.where(count >= least, total / np.maximum(count, 1), np.nan)
    changes: Floats = np.diff(means)
    return changes


def _rms(values: Floats) -> float:
    known = values[np.isfinite(values)]
    return float(np.sqrt((known**2).mean())) if len(known) else 0.0


def _correlation(a: Floats, b: Floats) -> float:
    """Correlation of two series where both are known, about zero (a change has no level); 0 where too little
    is known."""
    both = np.isfinite(a) & np.isfinite(b)
    if both.sum() < 8:
        return 0.0
    x, y = a[both], b[both]
    size = float(np.sqrt((x @ x) * (y @ y)))
    return float(x @ y) / size if size > 0 else 0.0


def _middle(series: list[Floats]) -> Floats:
    stack = np.stack(series)
    known = np.isfinite(stack).any(axis=0)
    middle = np.full(stack.shape[1], np.nan)
    middle[known] = medians(stack[:, known])
    return middle


def _largest_group(cylinders: list[int], pairs: Mapping[tuple[int, int], float]) -> list[int]:
    """The largest set of channels linked by moving together; of equal ones, the one that moves together
    most."""
    left, groups = list(cylinders), []
    while left:
        group, edge = [left.pop(0)], 0
        while edge < len(group):
            one = group[edge]
            edge += 1
            for other in list(left):
                if pairs[min(one, other), max(one, other)] >= TOGETHER:
                    left.remove(other)
                    group.append(other)
        groups.append(sorted(group))

    def weight(group: list[int]) -> tuple[int, float]:
        inner = [pairs[a, b] for a in group for b in group if a < b]
        return len(group), sum(inner) / len(inner) if inner else 0.0

    return max(groups, key=weight)
