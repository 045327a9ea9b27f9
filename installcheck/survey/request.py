"""A survey of head temperatures from a log, asked for in words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from ..document.wording import unknown_word
from ..model.quantities import QuantityError, parse

if TYPE_CHECKING:
    from . import Survey

GRADES: Mapping[str, tuple[str, str]] = {
    "standard": ("ASTM E230", "standard"),
    "special": ("ASTM E230", "special"),
    "IEC class 1": ("IEC 60584-1", "class 1"),
    "IEC class 2": ("IEC 60584-1", "class 2"),
}
"""Tolerance grades of the survey's probes by their words, as standard and grade."""


class SurveyError(Exception):
    """A survey that cannot be made; the message says why."""


def survey_log(
    log: str | Path,
    *,
    cylinders: int | None = None,
    limit: str | None = None,
    probed: int | None = None,
    grade: str | None = None,
    thermocouple: str = "K",
    columns: Sequence[str] = (),
    units: Sequence[str] = (),
    engine: int = 1,
    interval: str | None = None,
) -> Survey:
    """Read a recorder log and survey its head temperatures.

    Args:
        cylinders: of the engine; without it the channels used stand for all of them.
        limit: head temperature limit, with its unit.
        probed: cylinder of the aircraft's own probe.
        grade: one of :data:`GRADES`; unknown counts as standard wire.
        columns, units: ``role=name`` and ``role=unit``, for what the log does not tell.
        engine: which one, in a log that holds several.
        interval: time between rows, for a log without times.

    Raises:
        SurveyError: the log cannot be read, or an argument cannot be.
    """
    from ..logs.flight_log import LogError, read_log
    from . import survey

    if grade is not None and grade not in GRADES:
        raise SurveyError(unknown_word(grade, GRADES, "grade"))
    standard, known = GRADES[grade or "standard"]
    try:
        top = None if limit is None else float(parse(limit, "temperature"))
        step = None if interval is None else float(parse(interval, "time"))
        read = read_log(
            log,
            columns=_pairs(columns, "role=name of the column"),
            units=_pairs(units, "role=unit"),
            cylinders=cylinders,
            engine=engine,
            interval=step,
        )
        return survey(
            read,
            cylinders=cylinders,
            limit=top,
            probed=probed,
            grade=None if grade is None else known,
            kind=thermocouple.upper(),
            standard=standard,
        )
    except (LogError, QuantityError, ValueError) as bad:
        raise SurveyError(str(bad)) from None


def _pairs(texts: Sequence[str], wanted: str) -> dict[str, str]:
    pairs = {}
    for text in texts:
        role, equals, name = text.partition("=")
        if not equals or not role.strip() or not name.strip():
            raise SurveyError(f"'{text}' is not {wanted}, like 'cht 1=TC-3' or 'cht=degF'")
        pairs[role.strip()] = name.strip()
    return pairs
