"""JSON as this program writes it: in UTF-8, with what is not seen as itself escaped."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping

from ...files.names import is_seen, visible

_OUTSIDE = re.compile(r"[^ -~\n]")


def json_text(body: Mapping[str, object]) -> str:
    """A JSON object as text, keys in their order.

    Control, format and private characters are escaped; a byte of a file name that is no text, which JSON cannot say, is
    written out as ``\\\\xff``.

    Raises:
        ValueError: a number is not finite.
    """
    return _OUTSIDE.sub(_escaped, json.dumps(body, indent=2, ensure_ascii=False, allow_nan=False)) + "\n"


def _escaped(found: re.Match[str]) -> str:
    character = found.group()
    if is_seen(character):
        return character
    if "\ud800" <= character <= "\udfff":
        return f"\\{visible(character)}"
    return json.dumps(character)[1:-1]
