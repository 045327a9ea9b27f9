"""A document written out in full: every usual field, line and route at the thing it counts for, with where it was said."""

from __future__ import annotations

from collections.abc import Iterator

from ...document import Document
from ...document.expansion import SAID_ONCE
from ...document.flow import flow, value_at
from ...document.source import Plain, mapping


def as_expanded(document: Document) -> str:
    """The whole document in its long form, which reads as the same installation; what is implied ends with its place."""
    whole = document.expansion.whole
    lines = ["# Written out in full; what follows a '#' is where a value was said.\n"]
    parts = mapping(document.sources[0].plain).get("part_files")
    if parts is not None:
        lines.append(f"part_files: {flow(parts)}\n")
    for section, value in whole.items():
        if section in SAID_ONCE:
            continue
        lines.append(f"{section}:\n")
        if isinstance(value, dict):
            for word, held in value.items():
                lines += _entry(document, section, word, held)
        else:
            lines += [
                f"  - {value_at(document.declared_unknown, one, (section, i))}\n"
                for i, one in enumerate(value or ())
            ]
    return "".join(lines)


def _entry(document: Document, section: str, ident: str, raw: Plain) -> Iterator[str]:
    full = document.expansion.item(section, ident, raw)
    if not isinstance(full, dict) or not full:
        yield f"  {flow(ident)}: {value_at(document.declared_unknown, full, (section, ident))}\n"
        return
    yield f"  {flow(ident)}:\n"
    for word, value in full.items():
        path = (section, ident, word)
        said = document.said(path)
        told = f"  # {f'{said[0]}, ' if said[0] else ''}{said[1]}" if said is not None else ""
        yield f"    {flow(word)}: {value_at(document.declared_unknown, value, path)}{told}\n"
