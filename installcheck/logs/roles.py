"""Gives each column of a log its role, from a mapping of the caller or from the column names, and its
unit."""

from collections.abc import Mapping
from dataclasses import field
from difflib import get_close_matches
from math import isfinite

from ..dataclass import dataclass
from .channels import LeftOut
from .columns import (
    QUANTITIES,
    ROLE_QUANTITY,
    Meaning,
    is_unit,
    letter_channels,
    meaning,
    tidy_name,
    unit_word,
)
from .text import LogError, LogNote, Sheet

MOST_CYLINDERS = 28
"""Cylinders of the largest radial engine built, four rows of seven."""


@dataclass(frozen=True, slots=True)
class Request:
    """What the caller knows of a log: `columns` role -> name, `units` role -> unit word, the number of
    `cylinders`, which `engine`, and the `interval` between rows [s] of a log without times."""

    columns: Mapping[str, str]
    units: Mapping[str, str]
    cylinders: int | None
    engine: int
    interval: float | None


@dataclass(frozen=True, slots=True)
class Place:
    """Where a role is read: column `index`, and its `unit` word, '' where none is stated, from the log or a
    mapping."""

    index: int
    unit: str
    unit_from: str


@dataclass(slots=True)
class Roles:
    """The columns found: `heads` and `exhausts` by cylinder, `times` in the order to try, all `others` by
    role."""

    heads: dict[int, Place] = field(default_factory=dict)
    exhausts: dict[int, Place] = field(default_factory=dict)
    times: list[Place] = field(default_factory=list)
    others: dict[str, Place] = field(default_factory=dict)
    left_out: list[LeftOut] = field(default_factory=list)
    notes: list[LogNote] = field(default_factory=list)


def make_request(
    file: str,
    columns: Mapping[str, str],
    units: Mapping[str, str],
    cylinders: int | None,
    engine: int,
    interval: float | None,
) -> Request:
    """Check what the caller says of the log.

    Raises:
        LogError: a role or unit that is not known, or a number that cannot be.
    """
    if interval is not None and not (isfinite(interval) and interval > 0):
        raise LogError(file, f"the time between rows must be more than 0 s, not {interval:g}")
    if cylinders is not None and not 1 <= cylinders <= MOST_CYLINDERS:
        raise LogError(file, f"an engine has 1 to {MOST_CYLINDERS} cylinders, not {cylinders}")
    by_role = {_role(file, role): name for role, name in columns.items()}
    told: dict[str, str] = {}
    for role, unit in units.items():
        kind = _role(file, role, numbered=False)
        quantity = ROLE_QUANTITY[kind]
        word = unit.casefold().strip() if quantity == "date" else unit_word(unit)
        if quantity != "date" and word not in QUANTITIES[quantity] and not (kind == "time" and is_unit(unit)):
            known = ", ".join(QUANTITIES[quantity])
            raise LogError(file, f"'{unit}' is no unit of {quantity}; known: {known}")
        told[kind] = word
    return Request(by_role, told, cylinders, engine, interval)


def _role(file: str, text: str, *, numbered: bool = True) -> str:
    tidy = tidy_name(text)
    kind = tidy.rstrip("0123456789").strip()
    number = tidy[len(tidy.rstrip("0123456789")) :]
    if kind in ("cht", "egt"):
        if numbered and number and 1 <= int(number[:4]) <= MOST_CYLINDERS:
            return f"{kind} {int(number)}"
        if not numbered and not number:
            return kind
        wanted = (
            f"the cylinder's number, 1 to {MOST_CYLINDERS}, as in '{kind} 1'"
            if numbered
            else f"no number: '{kind}'"
        )
        raise LogError(file, f"the role '{text}' needs {wanted}")
    if tidy in ROLE_QUANTITY:
        return tidy
    near = get_close_matches(tidy, list(ROLE_QUANTITY), n=1)
    hint = f"did you mean '{near[0]}'?" if near else f"known: {', '.join(ROLE_QUANTITY)}"
    raise LogError(file, f"no role '{text}' for a column; {hint}")


def assign(sheet: Sheet, file: str, request: Request) -> Roles:
    """Find the column of every role.

    Raises:
        LogError: head temperatures are numbered from 0, or none belongs to the engine asked for.
    """
    roles = Roles()
    by_name = {tidy_name(name): i for i, name in reversed(list(enumerate(sheet.names)))}
    letters = letter_channels(sheet.names)
    meanings: list[tuple[int, Meaning]] = []
    for i, name in enumerate(sheet.names):
        found = letters.get(i) or meaning(name)
        if found is not None:
            meanings.append((i, found))
    mapped = {role: by_name[tidy_name(name)] for role, name in request.columns.items()}
    mapped_kinds = {role.split(" ")[0] for role in mapped if role[:3] in ("cht", "egt")}

    for role, index in mapped.items():
        found = meaning(sheet.names[index])
        place = _place(sheet, index, role, found.unit if found else "", request)
        _put(roles, role, place)
    for i, found in sorted(meanings, key=lambda one: (one[1].rank, one[0])):
        if found.role in mapped_kinds or found.role in mapped or i in mapped.values():
            continue
        place = _place(sheet, i, found.role, found.unit, request)
        if found.role in ("cht", "egt"):
            _channel(roles, sheet.names[i], found, place, request, file)
        elif (found.engine or 1) == request.engine or (
            found.engine is None and found.role in ("time", "date", "hours")
        ):
            _put(roles, found.role, place)
    if not roles.heads:
        others = sorted({found.engine for _, found in meanings if found.role == "cht" and found.engine})
        if others:
            names = " and ".join(map(str, others))
            raise LogError(
                file,
                f"no head temperatures of engine {request.engine}; the log has engine {names}",
                sheet.header_line,
            )
        reasons = "; ".join(f"'{one.column}': {one.reason}" for one in roles.left_out)
        raise LogError(file, f"no head temperature can be used: {reasons}", sheet.header_line)
    lone = [
        name
        for i, name in enumerate(sheet.names)
        if tidy_name(name).replace(" ", "") in ("e1", "e2", "c1", "c2") and i not in letters
    ]
    for name in lone:
        if name not in request.columns.values():
            what = "engine or exhaust" if name.strip()[0] in "eE" else "cylinder or coolant"
            roles.notes.append(
                LogNote(f"not read: it could mean {what}; map it if it is wanted", sheet.header_line, name)
            )
    return roles


def _channel(roles: Roles, name: str, found: Meaning, place: Place, request: Request, file: str) -> None:
    channels = roles.heads if found.role == "cht" else roles.exhausts

    def leave_out(reason: str) -> None:
        if found.role == "cht":
            roles.left_out.append(LeftOut(name, found.cylinder, reason))

    if (found.engine or 1) != request.engine:
        leave_out(f"it belongs to engine {found.engine or 1}, not to engine {request.engine}")
    elif found.cylinder == 0:
        raise LogError(
            file,
            "cylinders are numbered from 0 here; map the columns to the engine's own numbers",
            column=name,
        )
    elif found.cylinder is None or found.cylinder > MOST_CYLINDERS:
        leave_out("it names no cylinder an engine can have")
    elif request.cylinders is not None and found.cylinder > request.cylinders:
        leave_out(
            f"the engine has {request.cylinders} cylinders, so no probe can be on a cylinder {found.cylinder}"
        )
    elif found.cylinder in channels:
        leave_out(
            f"a second column for cylinder {found.cylinder}; the first is used, map the columns if that is wrong"
        )
    else:
        channels[found.cylinder] = place


def _put(roles: Roles, role: str, place: Place) -> None:
    kind, _, number = role.partition(" ")
    if kind == "cht":
        roles.heads[int(number)] = place
    elif kind == "egt":
        roles.exhausts[int(number)] = place
    elif role == "time":
        roles.times.append(place)
    else:
        roles.others.setdefault(role, place)


def _place(sheet: Sheet, index: int, role: str, name_unit: str, request: Request) -> Place:
    kind = role.split(" ")[0] if role[:3] in ("cht", "egt") else role
    if kind in request.units:
        return Place(index, request.units[kind], "mapping")
    if kind == "date":
        return Place(index, name_unit or sheet.units[index].casefold(), "stated")
    quantity = ROLE_QUANTITY[kind]
    for word in (name_unit, unit_word(sheet.units[index])):
        if word in QUANTITIES[quantity] or (kind == "time" and word and is_unit(word)):
            return Place(index, word, "stated")
    return Place(index, "", "")
