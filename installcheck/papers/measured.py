"""Measured values: what was read on the aircraft, where, in what state, when and by whom."""

from __future__ import annotations

from ..analysis.study import Study
from ..model.quantities import Quantity
from ..model.records import Measurement
from .tables import Cell, Table

COLUMNS = ("of", "from", "to", "what", "value", "true value", "wiring at", "state", "date", "by")


def measured_values(study: Study) -> Table:
    """Every value the document gives as measured, in its order."""
    rows = tuple(_row(one) for one in study.whole.measured)
    unsigned = sum(1 for one in study.whole.measured if one.by is None or one.date is None)
    notes = ["The document gives no measured value."] if not rows else []
    if unsigned:
        notes.append(f"{unsigned} of {len(rows)} values do not say when they were read, and by whom.")
    return Table("measured values", COLUMNS, rows, tuple(notes))


def _row(one: Measurement) -> tuple[Cell, ...]:
    start, end = one.between or (None, None)
    return (
        one.of,
        start,
        end,
        one.what,
        one.value.text if isinstance(one.value, Quantity) else one.value,
        one.true_value.text if one.true_value is not None else None,
        one.at_temperature.text if one.at_temperature is not None else None,
        _state(one),
        one.date,
        one.by,
    )


def _state(one: Measurement) -> str | None:
    """How things stood when it was read, as far as it is said."""
    said = [
        {True: "connected", False: "freed"}.get(one.connected) if one.connected is not None else None,
        f"selector at {one.position}" if one.position is not None else None,
        f"{one.swapped_for} in its place" if one.swapped_for is not None else None,
        {True: "as expected", False: "not as expected"}.get(one.as_expected)
        if one.as_expected is not None
        else None,
    ]
    return ", ".join(word for word in said if word is not None) or None
