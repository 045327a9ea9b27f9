"""Problems in words a mechanic reads: what is wrong, and what would be right."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import datetime
from difflib import SequenceMatcher
from functools import lru_cache
from types import MappingProxyType
from typing import get_args, get_origin

from pydantic import BaseModel
from pydantic_core import ErrorDetails

from .equivalents import could_mean, meant, number_meant, plainly
from .source import DocPath, Place, Problem

Locate = Callable[[DocPath, bool], Place]

_CLOSE = 0.6
"""Share of letters in common, in order, from which a word is offered as what was meant."""
_ALIKE = 0.5
"""Share from which a word comes before the others of a list."""
_SHOWN = 12
"""Words listed when none is close."""
_FEW = 4
"""Words offered at once where what is written is a part of each."""
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
    known = tuple(words)
    if len(known) <= _SEARCHED and (stood_for := meant(word, known)) is not None:
        return stood_for
    best = _ranked(_cut(word), known)[:1]
    return best[0][1] if best and best[0][0] >= _CLOSE else None


def unknown_word(
    word: str, words: Iterable[str], what: str, *, hint: bool = True, elsewhere: Sequence[str] = ()
) -> str:
    """``'x' is not a <what>; did you mean 'y'?``, or the dozen words most like it when none is close.

    Args:
        word: what is written.
        words: what would be known.
        what: what it should be.
        hint: whether to look for what was meant.
        elsewhere: sections in which it is known.
    """
    if not hint:
        return f"'{_cut(word)}' is not {a(what)}"
    known = tuple(dict.fromkeys(words))
    if not known:
        return f"'{_cut(word)}' is not {a(what)}; there is none here to name, so write it first"
    if elsewhere:
        return f"'{_cut(word)}' is not {a(what)}; it is one under {' and '.join(elsewhere[:3])}"
    near = nearest(word, known)
    return f"'{_cut(word)}' is not {a(what)}; " + (f"did you mean '{near}'?" if near else _known(word, known))


def _known(word: str, known: tuple[str, ...]) -> str:
    """The known words, the likely ones first, the others sorted."""
    if len(known) <= _SHOWN:
        return f"known are {listed(sorted(known, key=_in_order))}"
    likely = [k for likeness, k in _ranked(_cut(word), known) if likeness >= _ALIKE]
    rest = sorted((k for k in known if k not in likely), key=_in_order) if len(known) <= _SEARCHED else known
    shown = [*likely, *rest][:_SHOWN]
    return f"known are {listed(shown)} and {len(known) - len(shown)} more"


def _in_order(word: str) -> list[tuple[int, int, str]]:
    """For sorting as a person does: 2 before 10."""
    pieces = [piece for piece in re.split(r"([0-9]{1,9})", word) if piece]
    return [(0, int(p), "") if p.isascii() and p.isdigit() else (1, 0, p.lower()) for p in pieces]


def listed(words: Iterable[str]) -> str:
    """Words with commas between."""
    return ", ".join(_cut(w, 40) for w in words)


def a(noun: str) -> str:
    """A noun with its article: ``an indicator``."""
    return f"{'an' if noun[:1] in 'aeiou' else 'a'} {noun}"


def _cut(text: object, limit: int = 60) -> str:
    shown = str(text)
    return shown if len(shown) <= limit else shown[: limit - 3] + "..."


def _kinds_at(model: type[BaseModel], loc: DocPath) -> list[object]:
    """What the annotations of a model say can stand at ``loc``."""
    here: list[object] = [model]
    for step in loc:
        here = [inner for one in _members(here) for inner in _inside(one, step)]
    return _members(here)


def _words_at(model: type[BaseModel], loc: DocPath) -> list[str]:
    """The keys allowed in the mapping at ``loc``, found by walking the model's annotations."""
    return [
        info.alias or name
        for one in _kinds_at(model, loc)
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
    "missing": "'{last}' is missing{example}",
    "int_parsing": "'{input}' is not a whole number{number}",
    "int_from_float": "'{input}' is not a whole number",
    "int_parsing_size": "'{input}' is too large a number",
    "int_type": "one whole number is wanted here, not {input}",
    "float_parsing": "'{input}' is not a number",
    "float_type": "a number is wanted here",
    "finite_number": "'{input}' is not a finite number",
    "bool_parsing": "'{input}' is neither yes nor no; write 'yes' or 'no'",
    "bool_type": "yes or no is wanted here",
    "string_type": "one text is wanted here, not {input}",
    "dict_type": "names, each with its own entry, are wanted here ('name: entry' lines), not {input}",
    "model_type": "'word: value' lines are wanted here, not {input}{words}",
    "model_attributes_type": "'word: value' lines are wanted here, not {input}{words}",
    "list_type": "a list is wanted here (lines that start with '- ', or {list}), not {input}",
    "tuple_type": "a list of values is wanted here, like {list}, not {input}",
    "too_long": "more than the {max_length} values wanted here",
    "too_short": "fewer than the {min_length} values wanted here",
    "string_too_long": "longer than the {max_length} characters kept here",
    "string_too_short": "empty, but a text is wanted here",
    "greater_than": "{input} is not above {gt}",
    "greater_than_equal": "{input} is below {ge}, the least possible here",
    "less_than_equal": "{input} is above {le}, the most possible here",
}
_PATTERNS = {
    r"^\d{4}": "'{input}' is not a date like {date}",
    r"^[A-Za-z0-9]": "'{input}' cannot be an id: up to 60 letters, digits, spaces and _ / # + ( ) & - are allowed,"
    " beginning with a letter or digit; no dot",
    r"^[^.]+": "'{input}' is not an end: write thing.terminal, with one dot",
    r"^[^.\s]": "'{input}' cannot name a terminal: up to 40 characters, no dot",
}


def choices_of(error: ErrorDetails) -> list[str]:
    """The words one of which was wanted."""
    return re.findall(r"'([^']+)'", str(error.get("ctx", {}).get("expected", "")))


def choices_at(model: type[BaseModel], loc: DocPath) -> list[str]:
    """The words one of which can stand at ``loc``; none where anything else can."""
    kinds = [one for one in _kinds_at(model, loc) if one is not type(None)]
    return [w for w in kinds if isinstance(w, str)] if all(isinstance(w, str) for w in kinds) else []


def _likely(word: str, words: Sequence[str]) -> str:
    """What may have been meant, in quotes: the word most like it, or the few it is a part of; empty if none is close."""
    part = re.compile(rf"\b{re.escape(plainly(word))}\b")
    held = could_mean(word, words) or [w for w in words if part.search(plainly(w))]
    near = held if 1 < len(held) <= _FEW else [n for n in [nearest(word, words)] if n is not None]
    return " or ".join(f"'{n}'" for n in near)


def _message(
    error: ErrorDetails, model: type[BaseModel], loc: DocPath, sections: Mapping[str, Sequence[str]]
) -> str:
    kind, given, context = error["type"], error.get("input"), error.get("ctx", {})
    shown = _shown(given)
    if kind == "extra_forbidden":
        word, words = str(loc[-1]), _words_at(model, loc[:-1])
        elsewhere = sections.get(word, ()) if len(loc) == 1 and not nearest(word, words) else ()
        return unknown_word(word, words, "word known here", elsewhere=elsewhere)
    if kind == "literal_error":
        words = choices_of(error)
        near = _likely(shown, words)
        if near and len(words) > _SHOWN:
            return f"'{shown}' is not known here; did you mean {near}?"
        hint = f"; did you mean {near}?" if near else ""
        return f"'{shown}' is not one of: {', '.join(words)}{hint}"
    if kind == "string_pattern_mismatch":
        pattern = str(context.get("pattern", ""))
        return next(
            (m.format(input=shown, date=_date(shown)) for p, m in _PATTERNS.items() if pattern.startswith(p)),
            f"'{shown}' is not written as it must be",
        )
    if kind == "missing" and isinstance(loc[-1], int):
        return "fewer values than are wanted here"
    if kind in _PLAIN:
        number = number_meant(shown) if kind == "int_parsing" else None
        told = {
            "input": shown,
            "last": loc[-1] if loc else "",
            "number": f"; write {number}" if number is not None else "",
            "list": _as_list(shown) if isinstance(given, str) else "[a, b]",
            "words": _words_wanted(model, loc, given) if kind.startswith("model") else "",
            "example": _example(model, loc) if kind == "missing" else "",
        }
        return _PLAIN[kind].format(**{**told, **context})
    return str(error["msg"]).removeprefix("Value error, ")


def _as_list(text: str) -> str:
    """A text that tells several things as a list of them."""
    pieces = [p for p in re.split(r"\s*[,;]\s*|\s+(?:and|to)\s+", text) if p]
    pieces = pieces if len(pieces) > 1 else text.split()
    return f"[{', '.join(pieces)}]" if len(pieces) > 1 else "[a, b]"


_DATES = ("%d %B %Y", "%d %b %Y", "%B %d %Y", "%b %d %Y", "%Y/%m/%d", "%Y.%m.%d", "%Y%m%d")
"""Dates with no doubt which is the month."""


def _date(text: str) -> str:
    """A date as it is written here, if the text is one beyond doubt; else an example."""
    for form in _DATES:
        try:
            return datetime.strptime(text.replace(",", " ").replace("  ", " "), form).date().isoformat()
        except ValueError:
            continue
    return "2026-05-01"


def _words_wanted(model: type[BaseModel], loc: DocPath, given: object) -> str:
    """How a thing with words of its own is written."""
    here = [one for one in _kinds_at(model, loc) if isinstance(one, type) and issubclass(one, BaseModel)]
    needed = [i.alias or n for one in here for n, i in one.model_fields.items() if i.is_required()]
    words = [w for w in _words_at(model, loc) if w not in ("title", "spec")]
    if len(needed) == 1 and isinstance(given, str) and needed != ["spec"]:
        return f"; write '{{{needed[0]}: {_cut(given)}}}'"
    return f"; like '{{{', '.join(f'{w}: ...' for w in words[:2])}}}'" if words else ""


def _example(model: type[BaseModel], loc: DocPath) -> str:
    """What a missing word would hold."""
    words = choices_at(model, loc)
    if words:
        return f": '{loc[-1]}: {words[0]}'" + (f", or {listed(words[1:6])}" if len(words) > 1 else "")
    return f": '{loc[-1]}: ...'" if loc else ""


def _shown(given: object) -> str:
    if isinstance(given, (str, int, float)):
        return _cut(given)
    return "nothing" if given is None else "a list" if isinstance(given, (list, tuple)) else "a mapping"


def problems_of(
    errors: Sequence[ErrorDetails],
    model: type[BaseModel],
    locate: Locate,
    unknown: Callable[[DocPath], bool] = lambda loc: False,
    sections: Mapping[str, Sequence[str]] = MappingProxyType({}),
) -> list[Problem]:
    """What pydantic found as problems with places.

    Args:
        errors: as pydantic tells them.
        model: the model that was to be made.
        locate: the place of a path within it, of its key if so asked.
        unknown: whether the document says ``unknown`` at a path.
        sections: the sections in which each word is known.
    """
    made = []
    for error in errors:
        loc: DocPath = tuple(s for s in error["loc"] if s != "[key]")
        kind, given = error["type"], error.get("input")
        if loc and unknown(loc):
            message = f"'{loc[-1]}' cannot be unknown; leave the whole entry out, or find it out"
        else:
            message = _message(error, model, loc, sections)
        place = locate(loc[:-1] if kind == "missing" else loc, kind in ("extra_forbidden", "missing"))
        text = str(loc[-1]) if kind == "extra_forbidden" else given if isinstance(given, str) else ""
        made.append(Problem(place, message, _cut(text)))
    return made
