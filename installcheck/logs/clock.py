"""The time of each row of a recorder log, made to run forward, whatever the clock of the recorder did."""

import re
from collections.abc import Sequence
from datetime import date
from itertools import islice
from math import nan

import numpy as np
from numpy.typing import NDArray

from ..dataclass import dataclass
from .cells import Cells
from .columns import QUANTITIES
from .numbers import Floats, column_numbers, median
from .text import LogNote

Indices = NDArray[np.intp]
DAY = 86400.0
GAP = 60.0
"""A pause of the recorder [s] longer than this, and than ten samples, ends an unbroken piece."""

_CLOCK = re.compile(
    r"(?:(?P<date>[0-9A-Za-z]+[-/. ][0-9A-Za-z]+[-/. ][0-9]+)[T ]+)?"
    r"(?P<a>[0-9]{1,3}):(?P<b>[0-9]{1,2})(?::(?P<c>[0-9]{1,2}))?(?P<part>[.,][0-9]{1,9})?"
    r"\s*(?P<half>[AaPp])?\.?(?:[Mm]\.?)?\s*(?:Z|UTC|[-+][0-9]{2}:?[0-9]{2})?"
)
_MONTH_NAMES = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_MONTHS = {name: i + 1 for i, name in enumerate(_MONTH_NAMES)}


class UnreadableTimeError(ValueError):
    """A column that holds no usable time; the message says why."""


@dataclass(frozen=True, slots=True)
class Clock:
    """The rows that stay (`kept`), their `time` [s] from the first, the first row of each unbroken piece
    (`starts`), the usual `interval` [s] between rows, and what was done (`notes`)."""

    kept: Indices
    time: Floats
    starts: Indices
    interval: float
    notes: tuple[LogNote, ...]


def row_seconds(
    times: Cells, dates: Cells | None, unit: str, date_format: str, decimal: str
) -> tuple[Floats, bool, list[LogNote]]:
    """The time of each row [s] as its text says, NaN where it says none; whether a date counts in it; and
    notes.

    Raises: UnreadableTimeError: less than half of the rows hold a time, or a number has a unit that is not
    stated or known.
    """
    plain = _plain_seconds(times.texts)
    if plain is None:
        counts = times.counts()
        filled = int(counts @ np.array([bool(text.strip()) for text in times.texts]))
        colons = int(counts @ np.array([":" in text for text in times.texts]))
        if filled * 2 < len(times):
            raise UnreadableTimeError("less than half of its rows hold a time")
        if colons * 2 < filled:
            return _numeric_seconds(times, unit, decimal), False, []
    notes: list[LogNote] = []
    minutes_first = unit == "mm:ss" or _is_minutes_and_seconds(times)
    days = _Days(date_format)
    if plain is not None:
        seconds = plain[times.codes]
    else:
        read = [_clock_seconds(text, minutes_first) for text in times.texts]
        seconds = np.array([second for second, _ in read], dtype=np.float64)[times.codes]
        if any(day for _, day in read):
            dates = Cells([day for _, day in read], times.codes)
    if np.isfinite(seconds).sum() * 2 < len(times):
        raise UnreadableTimeError("less than half of its rows hold a time")
    if dates is None:
        return seconds, False, notes
    ordinals, note = days.read(dates)
    if note is not None:
        notes.append(note)
    if ordinals is None:
        return seconds, False, notes
    return seconds + ordinals * DAY, True, notes


def _numeric_seconds(times: Cells, unit: str, decimal: str) -> Floats:
    values, numbers = column_numbers(times, decimal)
    if np.isfinite(values).sum() * 2 < len(values):
        raise UnreadableTimeError("less than half of its rows hold a time")
    word = unit or next(iter(numbers.units), "")
    if word in QUANTITIES["time"]:
        return values * QUANTITIES["time"][word][0]
    steps = np.diff(values[np.isfinite(values)])
    steps = steps[steps > 0]
    if not len(steps):
        raise UnreadableTimeError("its numbers never rise")
    step = median(steps)
    if not 0.05 <= step <= 120:
        raise UnreadableTimeError(
            f"its numbers rise by {step:g} a row, which are not likely seconds; state its unit"
        )
    return values


def _is_minutes_and_seconds(times: Cells) -> bool:
    """Whether 'a:b' texts are minutes and seconds: a fraction or a first part past 23 says so, or seconds
    that run on."""
    texts = list(islice((text for text in times if text.strip()), 2000))
    two = [text for text in texts if text.count(":") == 1]
    if len(two) * 2 < len(texts):
        return False
    return any(
        re.search(r":[0-9]{1,2}[.,][0-9]", text) or int(re.sub(r"\D", "", text.split(":")[0])[:4] or 0) > 23
        for text in two
    )


def _plain_seconds(texts: Sequence[str]) -> Floats | None:
    """The seconds of texts that are all 'hh:mm:ss' and nothing else, as most recorders write; ``None`` if one is not."""
    if not texts or ":" not in texts[0]:
        return None
    stripped = [text.strip(' \t"') for text in texts]
    joined = "".join(stripped)
    if not joined.isascii() or set(map(len, stripped)) != {8}:
        return None
    digits = np.frombuffer(joined.encode("ascii"), dtype=np.uint8).reshape(-1, 8).astype(np.int64) - ord("0")
    colons = digits[:, [2, 5]] == ord(":") - ord("0")
    figures = digits[:, [0, 1, 3, 4, 6, 7]]
    if not colons.all() or (figures < 0).any() or (figures > 9).any() or (figures[:, [2, 4]] > 5).any():
        return None
    return np.asarray(figures @ np.array([36000, 3600, 600, 60, 10, 1]), dtype=np.float64)


def _clock_seconds(text: str, minutes_first: bool) -> tuple[float, str]:
    match = _CLOCK.fullmatch(text.strip(' \t"')) if len(text) < 60 else None
    if match is None:
        return nan, ""
    a, b, c = int(match["a"]), int(match["b"]), int(match["c"] or 0)
    part = float(match["part"].replace(",", ".")) if match["part"] else 0.0
    if b > 59 or c > 59:
        return nan, ""
    if match["c"] is None and minutes_first:
        return a * 60 + b + part, match["date"] or ""
    if match["half"]:
        if not 1 <= a <= 12:
            return nan, ""
        a = a % 12 + (12 if match["half"] in "Pp" else 0)
    return a * 3600 + b * 60 + c + part, match["date"] or ""


class _Days:
    """Reads the dates of a log, whose order of day, month and year is told by the dates before the stated
    format."""

    def __init__(self, stated: str) -> None:
        letters = re.sub(r"[^dmy]", "", stated.casefold())
        order = "".join(dict.fromkeys(letters))
        self.stated = order if sorted(order) == ["d", "m", "y"] else ""

    def read(self, dates: Cells) -> tuple[Floats | None, LogNote | None]:
        texts = [text.strip(' \t"') for text in dates.texts]
        distinct = list(dict.fromkeys(texts))
        found: dict[str, dict[str, int]] = {}
        for order in dict.fromkeys((self.stated, "ymd", "mdy", "dmy", "ydm")):
            if order:
                days = {text: day for text in distinct if (day := _ordinal(text, order)) is not None}
                if days:
                    found[order] = days
        if not found:
            return None, LogNote("the dates cannot be read; the clock alone gives the time")
        most = max(len(days) for days in found.values())
        fit = {order: days for order, days in found.items() if len(days) == most}
        # Where more than one order reads all dates, the stated one counts, else the one that makes the log
        # shortest.
        best = (
            self.stated
            if self.stated in fit
            else min(fit, key=lambda order: max(fit[order].values()) - min(fit[order].values()))
        )
        note = None
        if self.stated and best != self.stated:
            names = {"d": "day", "m": "month", "y": "year"}
            told, is_so = (" ".join(names[letter] for letter in order) for order in (self.stated, best))
            note = LogNote(
                f"the units line says the dates are {told}; they only make sense as {is_so} and are read so"
            )
        days = fit[best]
        return np.array([days.get(text, nan) for text in texts], dtype=np.float64)[dates.codes], note


def _ordinal(text: str, order: str) -> int | None:
    if re.fullmatch(r"[0-9]{8}", text):
        parts = [text[:4], text[4:6], text[6:]] if order.startswith("y") else [text[:2], text[2:4], text[4:]]
    else:
        parts = re.split(r"[-/. ]+", text) if len(text) <= 20 else []
    if len(parts) != 3:
        return None
    values: dict[str, int] = {}
    for letter, part in zip(order, parts, strict=True):
        if part[:3].casefold() in _MONTHS and letter == "m":
            values[letter] = _MONTHS[part[:3].casefold()]
        elif re.fullmatch(r"[0-9]{1,4}", part) and (letter == "y") >= (len(part) > 2):
            values[letter] = int(part)
        else:
            return None
    year = values["y"] + 2000 if values["y"] < 100 else values["y"]
    try:
        return date(year, values["m"], values["d"]).toordinal()
    except ValueError:
        return None


def straighten(seconds: Floats, dated: bool, lines: Indices, restarts: Sequence[int] = ()) -> Clock:
    """Times that only rise: rows without a time, with the same or an odd one left out, steps of the clock
    closed up.

    `seconds` is as the rows say; `dated` tells that midnight needs no care; `lines` are the line numbers of
    the rows, and `restarts` rows before which the recorder began anew.

    Raises:
        UnreadableTimeError: the times run backward as often as forward, or fewer than two rows are left.
    """
    notes: list[LogNote] = []
    kept = np.flatnonzero(np.isfinite(seconds))
    if len(kept) < len(seconds):
        bad = np.flatnonzero(~np.isfinite(seconds))
        notes.append(LogNote(f"{len(bad):,} rows without a time left out", lines.item(bad[0])))
    t = seconds[kept]
    if len(t) < 2:
        raise UnreadableTimeError("fewer than two rows hold a time")
    if not dated:
        t = t + DAY * np.concatenate(([0], np.cumsum(np.diff(t) < -DAY / 2)))
    t = t - t[0]
    steps = np.diff(t)
    if (steps == 0).sum() > 0.5 * len(steps):
        t = _spread(t)
        notes.append(
            LogNote(
                "the clock is coarser than the rows; rows of one time are spread evenly", lines.item(kept[0])
            )
        )
    elif (steps == 0).any():
        same = np.concatenate(([False], steps == 0))
        notes.append(
            LogNote(
                f"{int(same.sum()):,} rows with the time of the row before left out",
                lines.item(kept[np.argmax(same)]),
            )
        )
        kept, t = kept[~same], t[~same]
    t, kept, breaks = _run_forward(t, kept, lines, notes)
    if len(t) < 2:
        raise UnreadableTimeError("fewer than two rows hold a time that moves")
    steps = np.diff(t)
    interval = median(steps)
    gaps = np.flatnonzero(steps > max(GAP, 10 * interval)) + 1
    if len(gaps):
        notes.append(
            LogNote(
                f"the recorder paused {len(gaps)} times, {float(steps[gaps - 1].max()):,.0f} s at most",
                lines.item(kept[gaps[0]]),
            )
        )
    again = np.searchsorted(kept, np.asarray(restarts, dtype=np.intp))
    starts = np.array(sorted({0, *gaps, *breaks, *again[again < len(t)]}), dtype=np.intp)
    return Clock(kept, t - t[0], starts, interval, tuple(notes))


def _spread(t: Floats) -> Floats:
    """Times of a clock coarser than the rows, with the rows of each stamp spread evenly over its step."""
    first = np.flatnonzero(np.concatenate(([True], np.diff(t) != 0)))
    count = np.diff(np.append(first, len(t)))
    step = np.diff(t[first])
    rising = step[step > 0]
    usual = median(rising) if len(rising) else 0.0
    # The first and the last stamp may be cut short, so their rows keep the spacing of the fullest stamp.
    spacing = np.where(np.append(step, usual) > 0, np.minimum(np.append(step, usual), usual), usual) / count
    if len(count) > 2:
        spacing[0] = spacing[-1] = usual / count.max()
    at = np.arange(len(t)) - np.repeat(first, count)
    spread: Floats = t + at * np.repeat(spacing, count)
    if len(count) > 2:
        # The first stamp's rows end where the second begins.
        spread[: count[0]] = t[first[1]] - spacing[0] * np.arange(count[0], 0, -1)
    return spread


def _run_forward(
    t: Floats, kept: Indices, lines: Indices, notes: list[LogNote]
) -> tuple[Floats, Indices, Indices]:
    """Leave out single rows out of order; close up where the clock itself was set back."""
    back = np.flatnonzero(np.diff(t) < 0)
    if len(back) > max(10, 0.1 * len(t)):
        raise UnreadableTimeError(f"the times run backward at {len(back):,} of {len(t):,} rows")
    odd: list[int] = []
    steps_back: list[int] = []
    for i in map(int, back):
        if i + 2 < len(t) and t[i + 2] > t[i]:
            odd.append(i + 1)
        elif i >= 1 and t[i + 1] > t[i - 1]:
            odd.append(i)
        else:
            steps_back.append(i + 1)
    if odd:
        notes.append(
            LogNote(f"{len(odd):,} rows with a time out of order left out", lines.item(kept[odd[0]]))
        )
    rising = np.diff(t)
    rising = rising[rising > 0]
    usual = median(rising) if len(rising) else 1.0
    shift = np.zeros(len(t))
    for at in steps_back:
        size = float(t[at - 1] - t[at])
        shift[at] = size + usual
        notes.append(
            LogNote(
                f"the clock steps back {size:,.0f} s; rows from here on follow what was before",
                lines.item(kept[at]),
            )
        )
    t = t + np.cumsum(shift)
    stays = np.ones(len(t), dtype=bool)
    stays[odd] = False
    # A row left out may stand at a step: what remains must still rise.
    highest = np.maximum.accumulate(np.where(stays, t, -np.inf))
    stays &= np.concatenate(([True], t[1:] > highest[:-1]))
    place = np.cumsum(stays) - 1
    breaks = np.array([place[at] for at in steps_back if stays[at]], dtype=np.intp)
    return t[stays], kept[stays], breaks
