"""Problems in words a mechanic reads: what is wrong, and what would be right."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from difflib import SequenceMatcher
from functools import lru_cache
from typing import get_args, get_origin

from pydantic import BaseModel
from pydantic_core import ErrorDetails

from .source import DocPath, Place, Problem

Locate = Callable[[DocPath, bool], Place]

_CLOSE = 0.6
"""Share of letters in common, in order, from which a word is offered as what was meant."""
_SHOWN = 12
"""Words listed when none is close."""
_SEARCHED = 2000
"""Words compared by their letters; among more, only the case and the beginning are looked at, to keep the cost low."""


@lru_cache(maxsize=4096)
def _ranked(word: str, words: tuple[str, ...]) -> tuple[tuple[float, str], ...]:
    """The known words most like ``word`` with their likeness, best first."""
    matcher = SequenceMatcher(autojunk=False)
    matcher.set_seq2(word.lower())
    few = len(words) <= _SEARCHED
    scored = []
    for i, known in enumerate(words):
        lowered = known.lower()
        likeness = 0.0
        if lowered == word.lower():
            likeness = 1.0
        elif min(len(word), len(known)) > 2 and (
            lowered.startswith(word.lower()) or word.lower().startswith(lowered)
        ):
            likeness = 0.9
        if few:
            matcher.set_seq1(lowered)
            likeness = max(likeness, matcher.ratio())
        scored.append((-likeness, i, known))
    return tuple((-likeness, known) for likeness, _, known in sorted(scored)[:_SHOWN])


def nearest(word: str, words: Iterable[str]) -> str | None:
    """The word most like ``word``, if any is close."""
    best = _ranked(_cut(word), tuple(words))[:1]
    return best[0][1] if best and best[0][0] >= _CLOSE else None


def unknown_word(word: str, words: Iterable[str], what: str, *, hint: bool = True) -> str:
    """``'x' is not a <what>; did you mean 'y'?``, or the dozen words most like it when none is close."""
    if not hint:
        return f"'{_cut(word)}' is not {a(what)}"
    known = tuple(words)
    if not known:
        return f"'{_cut(word)}' is not {a(what)}; there is none"
    near = nearest(word, known)
    return f"'{_cut(word)}' is not {a(what)}; " + (f"did you mean '{near}'?" if near else _known(word, known))


def _known(word: str, known: tuple[str, ...]) -> str:
    if len(known) <= _SHOWN:
        return f"known are {listed(known)}"
    likely = [k for _, k in _ranked(_cut(word), known)]
    return f"known are {listed(likely)} and {len(known) - len(likely)} more"


def listed(words: Iterable[str]) -> str:
    """Words with commas between."""
    return ", ".join(_cut(w, 40) for w in words)


def a(noun: str) -> str:
    """A noun with its article: ``an indicator``."""
    return f"{'an' if noun[:1] in 'aeiou' else 'a'} {noun}"


def _cut(text: object, limit: int = 60) -> str:
    shown = str(text)
    return shown if len(shown) <= limit else shown[: limit - 3] + "..."


def _words_at(model: type[BaseModel], loc: DocPath) -> list[str]:
    """The keys allowed in the mapping at ``loc``, found by walking the model's annotations."""
    here: list[object] = [model]
    for step in loc:
        here = [inner for one in _members(here) for inner in _inside(one, step)]
    return [
        info.alias or name
        for one in _members(here)
        if isinstance(one, type) and issubclass(one, BaseModel)
        for name, info in one.model_fields.items()
    ]


def _inside(kind: object, step: str | int) -> list[object]:
    """What the annotation of a model, mapping or list says stands at ``step``."""
    if isinstance(kind, type) and issubclass(kind, BaseModel):
        return [i.annotation for n, i in kind.model_fields.items() if step in (n, i.alias)]
    args = get_args(kind)
    return [args[-1]] if args and get_origin(kind) in (dict, list, tuple) else []


def _members(kinds: Iterable[object]) -> list[object]:
    """Annotations with unions and ``Annotated`` taken apart."""
    flat: list[object] = []
    for kind in kinds:
        args = get_args(kind)
        flat += _members(args) if args and get_origin(kind) not in (dict, list, tuple) else [kind]
    return flat


_PLAIN = {
    "missing": "'{last}' is missing",
    "int_parsing": "'{input}' is not a whole number",
    "int_from_float": "'{input}' is not a whole number",
    "int_parsing_size": "'{input}' is too large a number",
    "int_type": "a whole number is wanted here",
    "float_parsing": "'{input}' is not a number",
    "float_type": "a number is wanted here",
    "finite_number": "'{input}' is not a finite number",
    "bool_parsing": "'{input}' is neither yes nor no",
    "bool_type": "yes or no is wanted here",
    "string_type": "one text is wanted here, not {input}",
    "dict_type": "names, each with its own entry, are wanted here ('name: entry' lines), not {input}",
    "model_type": "'word: value' lines are wanted here, not {input}",
    "model_attributes_type": "'word: value' lines are wanted here, not {input}",
    "list_type": "a list is wanted here (lines that start with '- ', or [a, b]), not {input}",
    "tuple_type": "a list of values is wanted here, like [a, b], not {input}",
    "too_long": "more than the {max_length} values wanted here",
    "too_short": "fewer than the {min_length} values wanted here",
    "string_too_long": "longer than the {max_length} characters kept here",
    "string_too_short": "empty, but a text is wanted here",
    "greater_than": "{input} is not above {gt}",
    "greater_than_equal": "{input} is below {ge}, the least possible here",
    "less_than_equal": "{input} is above {le}, the most possible here",
}
_PATTERNS = {
    r"^\d{4}": "'{input}' is not a date like 2026-05-01",
    r"^[A-Za-z0-9]": "'{input}' cannot be an id: up to 60 letters, digits, spaces and _ / # + ( ) & - are allowed,"
    " beginning with a letter or digit; no dot",
    r"^[^.]+": "'{input}' is not an end: write thing.terminal, with one dot",
    r"^[^.\s]": "'{input}' cannot name a terminal: up to 40 characters, no dot",
}


def _message(error: ErrorDetails, model: type[BaseModel], loc: DocPath) -> str:
    kind, given, context = error["type"], error.get("input"), error.get("ctx", {})
    shown = _shown(given)
    if kind == "extra_forbidden":
        return unknown_word(str(loc[-1]), _words_at(model, loc[:-1]), "word known here")
    if kind == "literal_error":
        words = re.findall(r"'([^']+)'", str(context.get("expected", "")))
        near = nearest(shown, words)
        if near and len(words) > _SHOWN:
            return f"'{shown}' is not known here; did you mean '{near}'?"
        hint = f"; did you mean '{near}'?" if near else ""
        return f"'{shown}' is not one of: {', '.join(words)}{hint}"
    if kind == "string_pattern_mismatch":
        pattern = str(context.get("pattern", ""))
        return next(
            (m.format(input=shown) for p, m in _PATTERNS.items() if pattern.startswith(p)),
            f"'{shown}' is not written as it must be",
        )
    if kind == "missing" and isinstance(loc[-1], int):
        return "fewer values than are wanted here"
    if kind in _PLAIN:
        return _PLAIN[kind].format(**{"input": shown, "last": loc[-1] if loc else "", **context})
    return str(error["msg"]).removeprefix("Value error, ")


def _shown(given: object) -> str:
    if isinstance(given, (str, int, float)):
        return _cut(given)
    return "nothing" if given is None else "a list" if isinstance(given, (list, tuple)) else "a mapping"


def problems_of(
    errors: Sequence[ErrorDetails],
    model: type[BaseModel],
    locate: Locate,
    unknown: Callable[[DocPath], bool] = lambda loc: False,
) -> list[Problem]:
    """What pydantic found as problems with places.

    Args:
        errors: as pydantic tells them.
        model: the model that was to be made.
        locate: the place of a path within it, of its key if so asked.
        unknown: whether the document says ``unknown`` at a path.
    """
    made = []
    for error in errors:
        loc: DocPath = tuple(s for s in error["loc"] if s != "[key]")
        kind, given = error["type"], error.get("input")
        if loc and unknown(loc):
            message = f"'{loc[-1]}' cannot be unknown; leave the whole entry out, or find it out"
        else:
            message = _message(error, model, loc)
        place = locate(loc[:-1] if kind == "missing" else loc, kind in ("extra_forbidden", "missing"))
        text = str(loc[-1]) if kind == "extra_forbidden" else given if isinstance(given, str) else ""
        made.append(Problem(place, message, _cut(text)))
    return made
