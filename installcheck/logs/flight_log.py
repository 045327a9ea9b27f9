"""A recorder log read into arrays in SI: what was found, in which unit, and everything that was left out and
why."""

from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from ..dataclass import dataclass
from ..files.reading import UnreadableError, read_regular
from .channels import LeftOut, judge
from .clock import Clock, UnreadableTimeError, row_seconds, straighten
from .numbers import Floats, decimal_sign, division
from .roles import Place, Request, Roles, assign, make_request
from .text import MAX_BYTES, LogError, LogNote, Sheet, read_sheet
from .values import Column, Reader, exhaust_unit, heads_unit, show_temperature

__all__ = ["Column", "FlightLog", "LeftOut", "LogError", "LogNote", "parse_log", "read_log"]


@dataclass(frozen=True, slots=True, eq=False)
class FlightLog:
    """One flight log, rows without a usable time left out. NaN stands for a missing value.

    `time` [s] from the first row, `lines` the line number of each row, `starts` the first row of each
    unbroken piece, `interval` [s] the usual time between rows; `cht` and `egt` [degC] by cylinder, `oat`
    and `oil_temperature` [degC], `altitude` [m], `ias` and `ground_speed` and `vertical_speed` [m/s], `rpm`
    [1/min], `manifold_pressure` [Pa], None where the log has no such column. `temperature_unit` is that of
    the heads in the log (degF or degC), `division` [degC] the smallest step of a head temperature.
    `connected` tells that the heads were seen to move together.
    """

    file: str
    lines: NDArray[np.intp]
    time: Floats
    starts: NDArray[np.intp]
    interval: float
    cht: Mapping[int, Floats]
    egt: Mapping[int, Floats]
    oat: Floats | None
    oil_temperature: Floats | None
    altitude: Floats | None
    ias: Floats | None
    ground_speed: Floats | None
    vertical_speed: Floats | None
    rpm: Floats | None
    manifold_pressure: Floats | None
    temperature_unit: str
    division: float
    connected: bool
    columns: tuple[Column, ...]
    left_out: tuple[LeftOut, ...]
    notes: tuple[LogNote, ...]


def read_log(
    path: str | Path,
    *,
    columns: Mapping[str, str] | None = None,
    units: Mapping[str, str] | None = None,
    cylinders: int | None = None,
    engine: int = 1,
    interval: float | None = None,
) -> FlightLog:
    """Read the log at `path`; see `parse_log`.

    Raises:
        LogError: it cannot be opened or read as a log.
    """
    file = str(path)
    try:
        raw = read_regular(path, MAX_BYTES)
    except UnreadableError as bad:
        raise LogError(file, str(bad)) from None
    told = tuple((columns or {}).items()), tuple((units or {}).items())
    return _read_once(raw, file, *told, cylinders, engine, interval)


@lru_cache(maxsize=2)
def _read_once(
    raw: bytes,
    file: str,
    columns: tuple[tuple[str, str], ...],
    units: tuple[tuple[str, str], ...],
    cylinders: int | None,
    engine: int,
    interval: float | None,
) -> FlightLog:
    """A log as it was read before: a document is judged again for each thing an unknown word of it could be."""
    return parse_log(
        raw,
        file,
        columns=dict(columns),
        units=dict(units),
        cylinders=cylinders,
        engine=engine,
        interval=interval,
    )


def parse_log(
    raw: bytes,
    file: str,
    *,
    columns: Mapping[str, str] | None = None,
    units: Mapping[str, str] | None = None,
    cylinders: int | None = None,
    engine: int = 1,
    interval: float | None = None,
) -> FlightLog:
    """Read the bytes of a log; `file` is its name in messages.

    Args: columns: role -> column name, such as {"cht 1": "TC-3", "oat": "T AMB"}; roles not given are found
    by the names. units: role -> unit, for logs that state none, such as {"cht": "degF", "altitude": "ft"}.
    cylinders: how many the engine has; channels beyond them are left out. engine: which engine, in a log
    that holds several. interval: time between rows [s], for a log without a time column.

    Raises:
        LogError: what is wrong, with the line and column where there is one.
    """
    request = make_request(file, columns or {}, units or {}, cylinders, engine, interval)
    sheet = read_sheet(raw, file, list(request.columns.values()))
    if len(sheet.lines) < 2:
        raise LogError(file, "fewer than two rows of data", sheet.header_line)
    roles = assign(sheet, file, request)
    decimal = _decimal(sheet, roles)
    clock = _clock(sheet, roles, decimal, file, request)
    reader = Reader(sheet, file, decimal, clock, [*sheet.notes, *roles.notes, *clock.notes], [])
    raw_heads = {number: reader.numbers(place) for number, place in sorted(roles.heads.items())}
    raw_exhausts = {number: reader.numbers(place) for number, place in sorted(roles.exhausts.items())}
    others = {role: reader.numbers(place) for role, place in roles.others.items() if role != "date"}
    told = heads_unit(raw_heads, raw_exhausts, others)
    heads = reader.temperatures("cht", raw_heads, told)
    shown = "degC" if reader.used[0].unit in ("c", "celsius", "centigrade", "k") else "degF"
    reader.check_plausible(heads, told)
    lines = sheet.lines[clock.kept]
    names = {number: sheet.names[place.index].strip() for number, place in roles.heads.items()}
    judged = judge(
        heads, names, clock.time, clock.starts, clock.interval, lines, lambda t: show_temperature(t, shown)
    )
    if not judged.channels:
        reasons = "; ".join(f"'{one.column}': {one.reason}" for one in judged.left_out)
        raise LogError(file, f"no head temperature can be believed: {reasons}", sheet.header_line)
    exhausts = reader.temperatures("egt", raw_exhausts, exhaust_unit(raw_exhausts, others))
    scalars = {role: reader.scalar(role, column) for role, column in others.items() if role != "hours"}
    reader.check_hours(others.get("hours"), lines)
    return FlightLog(
        file=file,
        lines=lines,
        time=clock.time,
        starts=clock.starts,
        interval=clock.interval,
        cht=judged.channels,
        egt=exhausts,
        oat=scalars.get("oat"),
        oil_temperature=scalars.get("oil temperature"),
        altitude=scalars.get("altitude"),
        ias=scalars.get("ias"),
        ground_speed=scalars.get("ground speed"),
        vertical_speed=scalars.get("vertical speed"),
        rpm=scalars.get("rpm"),
        manifold_pressure=scalars.get("manifold pressure"),
        temperature_unit=shown,
        division=min(
            (step for values in judged.channels.values() if (step := division(values))), default=0.0
        ),
        connected=judged.proven,
        columns=tuple(reader.used),
        left_out=(*roles.left_out, *judged.left_out),
        notes=(*reader.notes, *judged.notes),
    )


def _decimal(sheet: Sheet, roles: Roles) -> str:
    places = [*roles.heads.values(), *roles.exhausts.values(), *roles.others.values()]
    every = max(1, len(sheet.lines) // 200)
    return decimal_sign(cell for place in places for cell in sheet.columns[place.index][::every])


def _clock(sheet: Sheet, roles: Roles, decimal: str, file: str, request: Request) -> Clock:
    """The time of each row from the first column that gives one; hour counters are tried last."""
    tried: list[str] = []
    dated = roles.others.get("date")
    hours = roles.others.get("hours")
    places = [*roles.times, *([Place(hours.index, hours.unit or "h", hours.unit_from)] if hours else [])]
    for place in places:
        try:
            given, has_date, notes = row_seconds(
                sheet.columns[place.index],
                sheet.columns[dated.index] if dated else None,
                place.unit,
                dated.unit if dated else "",
                decimal,
            )
            clock = straighten(given, has_date, sheet.lines, sheet.restarts)
        except UnreadableTimeError as bad:
            tried.append(f"'{sheet.names[place.index].strip()}': {bad}")
            continue
        skipped = [LogNote(f"not used as time; {why}") for why in tried]
        return Clock(clock.kept, clock.time, clock.starts, clock.interval, (*skipped, *notes, *clock.notes))
    if request.interval is not None:
        seconds: Floats = np.arange(len(sheet.lines), dtype=np.float64) * np.float64(request.interval)
        note = LogNote(f"rows taken as {request.interval:g} s apart, as the log gives no time")
        clock = straighten(seconds, True, sheet.lines, sheet.restarts)
        return Clock(clock.kept, clock.time, clock.starts, clock.interval, (note, *clock.notes))
    reasons = f" ({'; '.join(tried)})" if tried else ""
    raise LogError(
        file, f"no column gives the time{reasons}; name it, or give the time between rows", sheet.header_line
    )
