"""Plain values as one line of YAML."""

from __future__ import annotations

import re
from collections.abc import Callable

from .places import DocPath
from .source import Plain

Unknown = Callable[[DocPath], bool]
"""Whether a document says ``unknown`` at a path."""

_PLAIN = re.compile(r"[A-Za-z0-9(°µ/.][^\n:#,\[\]{}'\"&*!|>%@`]*")
_READ_AS_NOTHING = frozenset(("", "~", "null", "Null", "NULL", "unknown"))


def value_at(unknown: Unknown, value: Plain, path: DocPath) -> str:
    """The value at a path on one line; ``unknown`` where the document says so."""
    if value is None:
        return "unknown" if unknown(path) else "~"
    if isinstance(value, dict):
        held = (f"{flow(word)}: {value_at(unknown, one, (*path, word))}" for word, one in value.items())
        return f"{{{', '.join(held)}}}"
    if isinstance(value, list):
        return f"[{', '.join(value_at(unknown, one, (*path, i)) for i, one in enumerate(value))}]"
    return flow(value)


def flow(value: Plain) -> str:
    """A value on one line, in quotes where it needs them."""
    if value is None:
        return "~"
    if isinstance(value, dict):
        return f"{{{', '.join(f'{flow(word)}: {flow(one)}' for word, one in value.items())}}}"
    if isinstance(value, list):
        return f"[{', '.join(flow(one) for one in value)}]"
    if value not in _READ_AS_NOTHING and value == value.strip() and _PLAIN.fullmatch(value):
        return value
    if value.isprintable():
        doubled = value.replace("'", "''")
        return f"'{doubled}'"
    escaped = value.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n").replace("\t", "\\t")
    return f'"{escaped}"'
