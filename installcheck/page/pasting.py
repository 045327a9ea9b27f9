"""A wire list pasted from a spreadsheet: rows with tabs or commas between, its headings in the words of the trade."""

from __future__ import annotations

import csv
from collections.abc import Collection, Iterator, Mapping
from io import StringIO

from ..document.parts import Library
from ..model.edits import Change, Edit, Put

MOST_ROWS = 2000
PASTED_HELP = "headings in the first row, in any order: id, from, to, gauge, type, length or route, bundle; the rest is left out"
_HEADINGS: Mapping[str, tuple[str, ...]] = {
    "id": ("id", "wire", "wire id", "wire no", "wire number", "mark", "run", "no", "number"),
    "from": ("from", "from terminal", "start", "end 1", "end a"),
    "to": ("to", "to terminal", "end", "end 2", "end b"),
    "size": ("gauge", "awg", "size", "gauge [awg]", "wire size"),
    "part": ("part", "type", "wire type", "spec", "specification"),
    "length": ("length", "length [ft]", "length [in]", "length [m]", "length ft", "length in"),
    "route": ("route", "length by zone"),
    "bundle": ("bundle", "harness"),
}
"""Headings as people write them, by what they stand for."""


class NotFilledError(ValueError):
    """A form that says too little or too much; the message says what."""


def pasted(text: str, taken: Collection[str], library: Library) -> Edit:
    """The edit that puts every row of a pasted list into the document, one run a row.

    Raises:
        NotFilledError: a heading or a cell is missing or wrong; every row with a problem is told.
    """
    rows = [
        row
        for row in csv.reader(StringIO(text), delimiter="\t" if "\t" in text else ",")
        if any(map(str.strip, row))
    ]
    if len(rows) < 2:
        raise NotFilledError("paste a row of headings and at least one row below it")
    if len(rows) > MOST_ROWS:
        raise NotFilledError(f"{len(rows)} rows are more than {MOST_ROWS}: paste them in parts")
    columns = _columns(rows[0])
    changes: list[Change] = []
    wrong: list[str] = []
    names = set(taken)
    for number, row in enumerate(rows[1:], start=2):
        cells = {word: row[i].strip() if i < len(row) else "" for word, i in columns.items()}
        try:
            changes.append(
                _run(cells, rows[0][columns["length"]] if "length" in columns else "", names, library)
            )
        except NotFilledError as bad:
            wrong.append(f"row {number}: {bad}")
    if wrong:
        more = f"; and {len(wrong) - 8} more rows" if len(wrong) > 8 else ""
        raise NotFilledError("; ".join(wrong[:8]) + more)
    return Edit(tuple(changes), f"add {len(changes)} wire runs")


def _columns(headings: list[str]) -> dict[str, int]:
    columns: dict[str, int] = {}
    for i, heading in enumerate(headings):
        plain = " ".join(heading.lower().replace(".", " ").split())
        for word, known in _HEADINGS.items():
            if plain in known:
                columns.setdefault(word, i)
    missing = [word for word in ("id", "from", "to") if word not in columns]
    if missing:
        raise NotFilledError(f"no heading for {', '.join(missing)}; the first row has: {', '.join(headings)}")
    return columns


def _run(cells: dict[str, str], length_heading: str, names: set[str], library: Library) -> Put:
    ident = cells["id"]
    missing = [word for word in ("id", "from", "to") if not cells[word]]
    if missing:
        raise NotFilledError(f"no {' and no '.join(missing)}")
    if ident in names:
        raise NotFilledError(f"'{ident}' is there already")
    names.add(ident)
    gauge = cells.get("size", "")
    if gauge and "awg" not in gauge.lower():
        cells["size"] = f"{gauge} AWG"
    require_part("wire_runs", cells.get("part", ""), cells.get("size", ""), library)
    length = cells.get("length", "")
    if length and not cells.get("route"):
        unit = next(
            (
                u
                for u in ("ft", "in", "m")
                if u in length_heading.lower().replace("[", " ").replace("]", " ").split()
            ),
            "",
        )
        cells["route"] = f"length {length}" + (
            f" {unit}" if unit and length.replace(".", "", 1).isdigit() else ""
        )
    return Put(("wire_runs", ident), one_line(cells))


def require_part(section: str, key: str, size: str, library: Library) -> None:
    """See that a part is there and comes in a size that is given.

    Raises:
        NotFilledError: it is not, or it needs a size.
    """
    part = library.parts.get(key)
    if key and (part is None or part.section != section):
        near = library.nearest(key, section)
        raise NotFilledError(
            f"there is no part '{key}'" + (f"; near it are {', '.join(near)}" if near else "")
        )
    if part is not None and part.sizes and not size:
        raise NotFilledError(f"'{part.key}' comes in sizes: give one of {', '.join(part.sizes)}")


def one_line(given: Mapping[str, str]) -> str:
    """A run or line in one line, as a document writes it."""
    return ", ".join(_clauses(given))


def _clauses(given: Mapping[str, str]) -> Iterator[str]:
    yield f"{given['from']} to {given['to']}"
    sized = " ".join(word for word in (given.get("part"), given.get("size")) if word)
    if sized:
        yield sized
    if given.get("route"):
        yield given["route"]
    if given.get("bundle"):
        yield f"in {given['bundle']}"
