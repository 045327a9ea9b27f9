"""A wire list pasted from a spreadsheet: rows with tabs or commas between, its headings in the words of the trade."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping

from ..document.parts import Library
from ..document.places import DocumentError
from ..document.rows import Rows, Wanted
from ..document.sheets import of_text
from ..document.source import Plain, Source, mapping
from ..document.tables import likeness
from ..model.edits import Change, Edit, Put, Written

MOST_ROWS = 2000
PASTED_HELP = "headings in the first row, in any order: id, from, to, gauge, type, length or route, bundle, and any other word of a run"
_IN_LINE = frozenset(("from", "to", "gauge", "part", "route", "bundle"))
"""What a run in one line says; the rest stands beside it."""


class NotFilledError(ValueError):
    """A form that says too little or too much; the message says what."""


def pasted(text: str, taken: Collection[str], library: Library) -> Edit:
    """The edit that puts every row of a pasted list into the document, read as a table beside it is.

    Raises:
        NotFilledError: a heading or a cell is missing or wrong; every one with a problem is told.
    """
    source = Source("", headings={})
    try:
        sheet = of_text(text, "the list", likeness("wire_runs"))
    except DocumentError as bad:
        raise NotFilledError("; ".join(one.message for one in bad.problems)) from None
    if len(sheet.rows) > MOST_ROWS:
        raise NotFilledError(f"{len(sheet.rows)} rows are more than {MOST_ROWS}: paste them in parts")
    Rows(sheet, source, Wanted("wire_runs"), library).read()
    wrong = [(one.place.line, f"{one.place.cell}: {one.message}") for one in source.problems]
    changes: list[Change] = []
    for ident, plain in mapping(mapping(source.plain).get("wire_runs")).items():
        row = source.place(("wire_runs", ident)).line
        try:
            if ident in taken:
                raise NotFilledError(f"'{ident}' is there already")
            changes.append(Put(("wire_runs", ident), _run(plain, library)))
        except NotFilledError as bad:
            wrong.append((row, f"row {row}: {bad}"))
    if wrong:
        more = f"; and {len(wrong) - 8} more" if len(wrong) > 8 else ""
        raise NotFilledError("; ".join(why for _, why in sorted(wrong)[:8]) + more)
    return Edit(tuple(changes), f"add {len(changes)} wire runs")


def _run(plain: Plain, library: Library) -> Written:
    """A row as a document writes it: in one line where that holds it all."""
    assert isinstance(plain, dict)
    said = {word: str(plain[word]) for word in plain if isinstance(plain[word], str)}
    require_part("wire_runs", said.get("part", ""), said.get("gauge", ""), library)
    rest = {w: value for w, value in plain.items() if not (w in _IN_LINE and w in said and "from" in said)}
    if "from" not in said:
        return _written(rest)
    given = {**said, "size": said.get("gauge", "")}
    if "length" in said:
        rest.pop("length", None)
        given["route"] = ", ".join((*filter(None, [said.get("route")]), f"length {said['length']}"))
    line = one_line(given)
    return line if not rest else {"run": line, **{word: _written(value) for word, value in rest.items()}}


def _written(value: Plain) -> Written:
    """A plain value as it is written; nothing as ``unknown``."""
    if value is None:
        return "unknown"
    if isinstance(value, dict):
        return {word: _written(one) for word, one in value.items()}
    return [_written(one) for one in value] if isinstance(value, list) else value


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
        raise NotFilledError(f"'{part.key}' comes in sizes: give one of {', '.join(part.as_written())}")


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
