"""Problems in words a mechanic reads: what is wrong, and what would be right."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from difflib import get_close_matches
from typing import get_args

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from .source import DocPath, Place, Problem

Locate = Callable[[DocPath, bool], Place]


def nearest(word: str, words: Iterable[str]) -> str | None:
    """The word most like ``word``, if any is close."""
    known = {w.lower(): w for w in words}
    near = get_close_matches(word.lower(), list(known), 1, 0.6)
    return known[near[0]] if near else None


def unknown_word(word: str, words: Iterable[str], what: str) -> str:
    """``'x' is not a <what>; did you mean 'y'?``"""
    known = sorted(words)
    near = nearest(word, known)
    hint = f"did you mean '{near}'?" if near else f"known are {', '.join(known[:40])}"
    return f"'{_cut(word)}' is not a {what}; {hint}"


def _cut(text: object, limit: int = 60) -> str:
    shown = str(text)
    return shown if len(shown) <= limit else shown[: limit - 3] + "..."


def _words_at(model: type[BaseModel], loc: DocPath) -> list[str]:
    """The keys allowed in the mapping at ``loc``, found by walking the model's annotations."""
    here: list[object] = [model]
    for step in loc:
        following: list[object] = []
        for one in _flatten(here):
            if isinstance(one, type) and issubclass(one, BaseModel):
                for name, info in one.model_fields.items():
                    if step in (name, info.alias):
                        following.append(info.annotation)
            elif get_args(one):
                following.append(get_args(one)[-1])
        here = following or here
    words: list[str] = []
    for one in _flatten(here):
        if isinstance(one, type) and issubclass(one, BaseModel):
            words += [info.alias or name for name, info in one.model_fields.items()]
    return words


def _flatten(kinds: list[object]) -> list[object]:
    flat: list[object] = []
    for kind in kinds:
        args = get_args(kind)
        union = (
            args
            and not isinstance(kind, type)
            and getattr(kind, "__origin__", None) not in (dict, list, tuple)
        )
        flat += _flatten(list(args)) if union else [kind]
    return flat


_PLAIN = {
    "missing": "'{last}' is missing",
    "int_parsing": "'{input}' is not a whole number",
    "int_from_float": "'{input}' is not a whole number",
    "int_type": "a whole number is wanted here",
    "float_parsing": "'{input}' is not a number",
    "float_type": "a number is wanted here",
    "finite_number": "'{input}' is not a finite number",
    "bool_parsing": "'{input}' is neither yes nor no",
    "bool_type": "yes or no is wanted here",
    "string_type": "one text is wanted here",
    "dict_type": "a mapping is wanted here: names, each with its own entries",
    "model_type": "a mapping is wanted here: 'word: value' lines",
    "model_attributes_type": "a mapping is wanted here: 'word: value' lines",
    "list_type": "a list is wanted here: lines that start with '- '",
    "tuple_type": "a list of values is wanted here, like [a, b]",
    "too_long": "more values than the {max_length} wanted here",
    "too_short": "fewer values than the {min_length} wanted here",
    "string_too_long": "longer than the {max_length} characters kept here",
    "string_too_short": "empty, but a text is wanted here",
    "greater_than": "{input} is not above {gt}",
    "greater_than_equal": "{input} is below {ge}",
    "less_than_equal": "{input} is above {le}",
}
_PATTERNS = {
    r"^\d{4}": "'{input}' is not a date like 2026-05-01",
    r"^[A-Za-z0-9]": "'{input}' cannot be an id: letters, digits, spaces and _ / # + ( ) & - are allowed, no dot",
    r"^[^.]+": "'{input}' is not an end: write thing.terminal, with one dot",
}


def _message(error: ErrorDetails, model: type[BaseModel], loc: DocPath) -> str:
    kind, given = error["type"], error.get("input")
    context = error.get("ctx", {})
    shown = (
        _cut(given)
        if isinstance(given, (str, int, float))
        else ("nothing" if given is None else "a list or mapping")
    )
    if kind == "extra_forbidden":
        return unknown_word(str(loc[-1]), _words_at(model, loc[:-1]), "word known here")
    if kind == "literal_error":
        words = re.findall(r"'([^']+)'|(?<![\w'])(\d+)(?![\w'])", str(context.get("expected", "")))
        known = [a or b for a, b in words]
        near = nearest(shown, known)
        return f"'{shown}' is not one of: {', '.join(known)}" + (f"; did you mean '{near}'?" if near else "")
    if kind == "string_pattern_mismatch":
        pattern = str(context.get("pattern", ""))
        return next(
            (m.format(input=shown) for p, m in _PATTERNS.items() if pattern.startswith(p)),
            f"'{shown}' is not written as it must be",
        )
    if kind in _PLAIN:
        values = {"input": shown, "last": loc[-1] if loc else "", **context}
        return _PLAIN[kind].format(**values)
    return str(error["msg"]).removeprefix("Value error, ")


_BRANCH = re.compile(
    r"^(literal|function|list|tuple|dict|str|int|float|nullable|is-instance|lax)[\[-]|^(str|int|float|bool|Quantity|list|dict)$"
)


def problems_of(bad: ValidationError, model: type[BaseModel], locate: Locate) -> list[Problem]:
    """A pydantic failure as problems with places; the branches of a union are told as one."""
    found: dict[DocPath, list[tuple[str, str, str]]] = {}
    for error in bad.errors(include_url=False):
        loc: DocPath = tuple(
            s
            for s in error["loc"]
            if s not in ("spec", "[key]") and not (isinstance(s, str) and _BRANCH.match(s))
        )
        text = _cut(error.get("input")) if isinstance(error.get("input"), (str, int, float)) else ""
        found.setdefault(loc, []).append((error["type"], _message(error, model, loc), text))
    made = []
    for loc, told in found.items():
        kinds = [t for t in told if t[0] == "literal_error"] or told
        kind, message, text = kinds[0]
        if len(told) > 1 and kind == "literal_error":
            others = [m for k, m, _ in told if k == "quantity"]
            message += f"; nor is it a quantity: {others[0]}" if others else ""
        made.append(
            Problem(
                locate(loc[:-1] if kind == "missing" else loc, kind in ("extra_forbidden", "missing")),
                message,
                text,
            )
        )
    return made
