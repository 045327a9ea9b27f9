"""Columns of a recorder log in SI: the unit of each found in the log, told by its values, or refused."""

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from ..dataclass import dataclass
from ..model.quantities import in_unit
from .channels import PLAUSIBLE
from .clock import Clock
from .columns import QUANTITIES, ROLE_QUANTITY
from .numbers import Floats, Numbers, at_share, column_numbers, median
from .roles import Place
from .text import LogError, LogNote, Sheet


@dataclass(frozen=True, slots=True)
class Column:
    """A column that is read: its `role` ('cht 1', 'oat', ...), its `name`, its `unit`, and where the unit is
    from: 'stated' in the log, 'mapping' of the caller, told by the 'values', or 'assumed'."""

    role: str
    name: str
    unit: str
    unit_from: str


def show_temperature(temperature: float, unit: str) -> str:
    """A `temperature` [degC] written in `unit`, degF or degC."""
    return f"{in_unit(temperature, unit, 'temperature'):.0f} {unit}"


def show_difference(difference: float, unit: str) -> str:
    """A temperature `difference` [degC] written in `unit`, degF or degC."""
    return f"{in_unit(difference, unit, 'temperature difference'):.1f} {unit}"


@dataclass(frozen=True, slots=True)
class Raw:
    """A column of numbers in the unit of the log, with what was met while reading it."""

    name: str
    place: Place
    values: Floats
    numbers: Numbers


@dataclass(slots=True)
class Reader:
    """Reads columns of one `sheet` on the rows its `clock` keeps, gathering `notes` and the columns
    `used`."""

    sheet: Sheet
    file: str
    decimal: str
    clock: Clock
    notes: list[LogNote]
    used: list[Column]

    def numbers(self, place: Place) -> Raw:
        """The column at `place`, in the unit of the log."""
        cells = self.sheet.columns[place.index]
        values, numbers = column_numbers(cells, self.decimal)
        name = self.sheet.names[place.index].strip()
        if numbers.bad:
            bad = set(numbers.bad)
            rows = np.flatnonzero(np.array([text in bad for text in cells.texts])[cells.codes])
            line = self.sheet.lines.item(rows[0])
            what = f"'{cells[rows[0]].strip()[:30]}' is no number" + (
                f", nor are {len(rows) - 1:,} more" if len(rows) > 1 else ""
            )
            self.notes.append(LogNote(f"{what}; taken as missing", line, name))
        kept = self.clock.kept
        return Raw(name, place, values if len(kept) == len(values) else values[kept], numbers)

    def unit_of(self, raw: Raw, quantity: str) -> tuple[str, str]:
        """The unit word of a column and where it is from; '' where nothing in the log says."""
        behind = {unit for unit in raw.numbers.units if unit in QUANTITIES[quantity]}
        if len(behind) > 1:
            raise LogError(self.file, f"values in {' and '.join(sorted(behind))} are mixed", column=raw.name)
        if raw.place.unit_from == "mapping" or not behind:
            return raw.place.unit, raw.place.unit_from
        return behind.pop(), "stated"

    def temperatures(self, kind: str, raws: Mapping[int, Raw], told: str) -> dict[int, Floats]:
        """Channels of `kind` in degC. Those without a stated unit take that of the others, else `told` by the
        values."""
        stated = {number: self.unit_of(raw, "temperature") for number, raw in raws.items()}
        known = {unit for unit, _ in stated.values() if unit}
        if not known and not told and raws:
            if kind == "egt":
                self.notes.append(LogNote("exhaust temperatures not used: their unit is not stated"))
                return {}
            hottest = max(float(np.nanmax(raw.values, initial=-np.inf)) for raw in raws.values())
            raise LogError(
                self.file,
                f"the unit of the head temperatures is not stated, and values up to {hottest:g} could be degF or degC; "
                "state it",
                self.sheet.header_line,
            )
        converted: dict[int, Floats] = {}
        for number, raw in raws.items():
            unit, source = stated[number]
            if not unit:
                unit, source = (sorted(known)[0], "assumed") if known else (told, "values")
            factor, offset = QUANTITIES["temperature"][unit]
            self.used.append(Column(f"{kind} {number}", raw.name, unit, source))
            converted[number] = raw.values * factor + offset
        if raws and not known:
            name = "degF" if told == "f" else "degC"
            self.notes.append(LogNote(f"no unit is stated for {kind.upper()}; the values can only be {name}"))
        return converted

    def check_plausible(self, heads: Mapping[int, Floats], told: str) -> None:
        """Refuse a stated unit in which the heads hold what none survives, before channels are called faulty;
        say where the values look like degC (`told`) though degF is stated, which would hide heat."""
        unit, source = self.used[0].unit, self.used[0].unit_from
        tops = [float(np.nanmax(values)) for values in heads.values() if np.isfinite(values).any()]
        if source == "values" or not tops:
            return
        if unit not in ("f", "fahrenheit") and median(tops) > PLAUSIBLE[1] - 50:
            raise LogError(
                self.file,
                f"read in the stated unit the heads reach {median(tops):.0f} degC, which none survives; "
                "state the right unit",
                self.sheet.header_line,
                self.used[0].name,
            )
        if unit in ("f", "fahrenheit") and told == "c":
            text = "stated as degF, but heads and exhausts of a working engine this low can only be degC; check the unit"
            self.notes.append(LogNote(text, self.sheet.header_line, self.used[0].name))

    def scalar(self, role: str, raw: Raw) -> Floats | None:
        """A column that is not a channel, in SI; None where its unit is not stated and cannot be told."""
        quantity = ROLE_QUANTITY[role]
        unit, source = self.unit_of(raw, quantity)
        if not np.isfinite(raw.values).any():
            self.notes.append(LogNote("holds no values", column=raw.name))
            return None
        if not unit:
            unit = _usual_unit(role, raw.values)
            source = "values" if role in ("oat", "oil temperature") else "assumed"
            if not unit:
                self.notes.append(
                    LogNote(
                        "not used: its unit is not stated and the values could be either", column=raw.name
                    )
                )
                return None
            if role != "rpm":
                self.notes.append(LogNote(f"no unit is stated; read as {unit}", column=raw.name))
        factor, offset = QUANTITIES[quantity][unit]
        values = raw.values * factor + offset
        low, high = _BELIEVABLE[role]
        absurd = (values < low) | (values > high)
        if absurd.any():
            self.notes.append(
                LogNote(f"{int(absurd.sum()):,} values that cannot be left out", column=raw.name)
            )
        self.used.append(Column(role, raw.name, unit, source))
        kept: Floats = np.where(absurd, np.nan, values)
        return kept

    def check_hours(self, raw: Raw | None, lines: NDArray[np.intp]) -> None:
        """Say where the hour counter `raw` steps back."""
        if raw is not None:
            back = np.flatnonzero(np.diff(raw.values) < 0)
            if len(back):
                at = int(lines[back[0] + 1])
                self.notes.append(
                    LogNote(
                        "the hour counter steps back: two logs joined, or a counter replaced", at, raw.name
                    )
                )


_BELIEVABLE = {
    # Lowest and highest value a light aircraft's recorder can mean, in SI; our choice, only to drop fault
    # codes.
    "oat": (-90.0, 70.0),
    "oil temperature": (-60.0, 200.0),
    "altitude": (-500.0, 20_000.0),
    "ias": (-20.0, 300.0),
    "ground speed": (-20.0, 500.0),
    "vertical speed": (-100.0, 100.0),
    "rpm": (-10.0, 10_000.0),
    "manifold pressure": (0.0, 500_000.0),
}


def _top(raws: Mapping[int, Raw]) -> float | None:
    """The usual highest reading of a group of channels, in the unit of the log, deaf to spikes and single
    channels."""
    tops = [
        at_share(known, 0.98) for raw in raws.values() if len(known := raw.values[np.isfinite(raw.values)])
    ]
    return median(tops) if tops else None


def exhaust_unit(exhausts: Mapping[int, Raw], others: Mapping[str, Raw]) -> str:
    """Unit of exhaust temperatures by their values: 1000 degC is beyond any, and a working engine's are past
    1000 degF."""
    top = _top(exhausts)
    if top is None:
        return ""
    if top > 1000:
        return "f"
    rpm = others.get("rpm")
    working = (
        rpm is not None and np.isfinite(rpm.values).any() and float(np.nanpercentile(rpm.values, 98)) > 1900
    )
    return "c" if working and 500 < top <= 950 else ""


def heads_unit(heads: Mapping[int, Raw], exhausts: Mapping[int, Raw], others: Mapping[str, Raw]) -> str:
    """Unit of head temperatures by their values, '' where they could be either.

    270 degC is past every head limit, so readings above it are degF; below it only exhausts that are
    plainly degC tell.
    """
    top = _top(heads)
    if top is None:
        return "f"
    if top > 270:
        return "f"
    return exhaust_unit(exhausts, others)


def _usual_unit(role: str, values: Floats) -> str:
    """The unit of a column that states none: the one of nearly all recorders, or '' where two are as
    likely."""
    top = float(np.nanpercentile(values, 98))
    if role == "oat":
        return "f" if top > 55 else ""
    if role == "oil temperature":
        return "f" if top > 135 else ""
    if role == "manifold pressure":
        return "inhg" if top < 70 else "kpa" if top < 200 else "hpa"
    return {"altitude": "ft", "vertical speed": "fpm", "rpm": "rpm"}.get(role, "kt")
