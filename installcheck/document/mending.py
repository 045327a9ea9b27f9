"""Plain values put right, or parts of them left out, so that the rest of a thing can still be typed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from pydantic import BaseModel
from pydantic_core import ErrorDetails

from .equivalents import all_meant, meant
from .sections import LISTS
from .source import DocPath, Plain
from .wording import choices_at, choices_of


def mended(
    raw: Mapping[str, object], errors: Sequence[ErrorDetails], kind: type[BaseModel]
) -> dict[str, object] | None:
    """A copy in which words that stand for known ones are those; ``None`` if there are none."""
    made: dict[str, object] | None = None
    for error in errors:
        loc, given = error["loc"], error["input"]
        if not isinstance(given, str) or not loc:
            continue
        if loc[-1] == "[key]":
            known = meant(given, choices_of(error)) if error["type"] == "literal_error" else None
            if known is not None:
                made = _named_anew(made if made is not None else raw, loc[:-1], known) or made
            continue
        right: object = None
        if error["type"] == "literal_error":
            choices = choices_of(error)
            right = meant(given, choices)
            if right is None and isinstance(loc[-1], int) and (several := all_meant(given, choices)):
                loc, right = loc[:-1], several
        elif error["type"] == "list_type":
            right = [given] if choices_at(kind, (*loc, 0)) else None
        if right is not None:
            made = _with(made if made is not None else raw, loc, right)
    return made


def _with(raw: object, loc: DocPath, value: object) -> Any:
    """A copy with ``value`` at ``loc``; several words for one of a list take its place beside the others."""
    if not loc:
        if isinstance(raw, list) and isinstance(value, list):
            return [*value, *(one for one in raw if one not in value and all_meant(str(one), value) is None)]
        return value
    step, *rest = loc
    if isinstance(raw, list) and isinstance(step, int):
        return [_with(one, tuple(rest), value) if i == step else one for i, one in enumerate(raw)]
    assert isinstance(raw, dict)
    word = str(step) if str(step) in raw else next((w for w in raw if str(w) == str(step)), str(step))
    return {**raw, word: _with(raw.get(word), tuple(rest), value)}


def _named_anew(raw: Mapping[str, object], loc: DocPath, key: str) -> dict[str, object] | None:
    """A copy in which the entry at ``loc`` has the key it stands for; ``None`` where that is there already."""
    holder: Any = raw
    for step in loc[:-1]:
        holder = holder[step if isinstance(holder, list) else str(step)]
    if key in holder:
        return None
    renamed = {key if word == loc[-1] else word: value for word, value in holder.items()}
    made: dict[str, object] = _with(raw, loc[:-1], renamed)
    return made


def shape(section: str, value: Plain) -> str:
    """How a section is written."""
    if section in LISTS:
        return f"'{section}' holds lines that start with '- ', like '- {{...}}'"
    if isinstance(value, list):
        return f"'{section}' holds ids, each with its own entries: write 'name: {{...}}' lines without '- '"
    return f"'{section}' holds ids, each with its own entries: 'name: {{...}}' lines"


def listless(raw: object, loc: DocPath) -> DocPath:
    """``loc`` cut at the first list on its way."""
    for i, step in enumerate(loc):
        raw = raw.get(str(step)) if isinstance(raw, dict) else None
        if isinstance(raw, list):
            return loc[: i + 1]
    return loc


def without(raw: Mapping[str, object], loc: DocPath) -> dict[str, object]:
    """A copy without the entry at ``loc``."""
    step, *rest = loc
    inner = raw.get(str(step))
    if rest and isinstance(inner, dict):
        return {**raw, str(step): without(inner, tuple(rest))}
    return {word: value for word, value in raw.items() if word != str(step)}
