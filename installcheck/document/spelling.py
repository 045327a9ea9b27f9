"""Plain values -> YAML text, in one line or in lines of their own, so that they read back as they are."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

import yaml

from .source import NULLS, Plain

WIDTH = 120
"""Columns a line that is written anew may take."""
_SURE = re.compile(r"[A-Za-z0-9][A-Za-z0-9 ._/+()&%-]*(?<! )")
"""Texts that are plain scalars wherever they stand."""


def scalar(value: str | None, *, style: str = "", flow: bool = True) -> str:
    """A text as a scalar of one line, plain if it can be, in quotes of ``style`` if it was in quotes before.

    ``flow`` says whether it may stand in brackets, where commas part entries.
    """
    if value is None:
        return "null"
    quoted = "'" + value.replace("'", "''") + "'" if value.isprintable() else None
    if style == "'" and quoted is not None:
        return quoted
    if style != '"' and _reads_back(value, flow=flow):
        return value
    return quoted if quoted is not None and style != '"' else _double(value)


def _reads_back(value: str, *, flow: bool) -> bool:
    """Whether a text is itself as a plain scalar, as a value and as a key."""
    if value in NULLS:
        return False
    if _SURE.fullmatch(value):
        return True
    if not value.isprintable() or value == "<<" or "\xa0" in value:
        return False
    block = f"{value}: {value}"
    for text in (f"[{value}]", f"{{{value}: {value}}}", block) if flow else (block,):
        try:
            events = list(yaml.parse(text, Loader=yaml.CSafeLoader))
        except yaml.YAMLError:
            return False
        found = [e for e in events if isinstance(e, yaml.NodeEvent)][1:]
        if not all(isinstance(e, yaml.ScalarEvent) and e.value == value for e in found):
            return False
        if len(found) != (1 if text[0] == "[" else 2):
            return False
    return True


_ESCAPES = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\t": "\\t", "\r": "\\r"}


def _double(value: str) -> str:
    def shown(c: str) -> str:
        if c in _ESCAPES:
            return _ESCAPES[c]
        return c if c.isprintable() else f"\\u{ord(c):04x}" if ord(c) < 0x10000 else f"\\U{ord(c):08x}"

    return '"' + "".join(shown(c) for c in value) + '"'


def one_line(value: Plain) -> str:
    """A value in one line, mappings and lists in brackets."""
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{scalar(k)}: {one_line(v)}" for k, v in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(one_line(v) for v in value) + "]"
    return scalar(value)


def wrapped(value: Plain, column: int, indent: int, *, flow: bool = False) -> str:
    """A value, mappings and lists in brackets, broken between entries into lines of at most :data:`WIDTH` columns.

    Args:
        column: columns already taken on the first line.
        indent: blanks before the lines that follow.
        flow: whether it stands in brackets itself.
    """
    whole = scalar(value, flow=flow) if isinstance(value, str) else one_line(value)
    if column + len(whole) <= WIDTH or not isinstance(value, (dict, list)):
        return whole
    opens, closes = "{}" if isinstance(value, dict) else "[]"
    entries = (
        [(f"{scalar(k)}: ", v) for k, v in value.items()]
        if isinstance(value, dict)
        else [("", v) for v in value]
    )
    text, used = opens, column + 1
    for i, (key, inner) in enumerate(entries):
        piece = key + one_line(inner)
        if text != opens:
            fits = used + 1 + len(piece) + 1 <= WIDTH
            text, used = (f"{text} ", used + 1) if fits else (f"{text}\n{' ' * indent}", indent)
        if used + len(piece) + 1 > WIDTH:
            piece = key + wrapped(inner, used + len(key), indent + 2, flow=True)
        text += piece + (closes if i == len(entries) - 1 else ",")
        used = len(text) - text.rfind("\n") - 1 + (column if "\n" not in text else 0)
    return text


def lines(value: Plain, indent: int) -> Iterator[str]:
    """A mapping or list as lines of a block, each thing in it in brackets."""
    before = " " * indent
    if isinstance(value, dict):
        for key, inner in value.items():
            start = f"{before}{scalar(key)}: "
            yield start + wrapped(inner, len(start), indent + 2)
    elif isinstance(value, list):
        for inner in value:
            yield f"{before}- {wrapped(inner, indent + 2, indent + 2)}"
