"""Parts of the library found by words a person would use for them, and the lines that put one into a document."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping

from ..model.installation import SPECS
from .parts import Library, Part, canonical_size
from .source import Plain

_WORD = re.compile(r"[^\s,;]+")
_OTHER_WORDS: Mapping[str, tuple[str, ...]] = {
    "cht": ("head temperature", "cylinder-head", "spark plug"),
    "egt": ("exhaust",),
    "tacho": ("tachometer", "engine speed"),
    "rpm": ("engine speed",),
    "map": ("manifold pressure",),
    "carb": ("carburettor",),
    "carburetor": ("carburettor",),
    "gage": ("gauge", "indicator"),
    "gauge": ("indicator",),
    "indicator": ("gauge",),
    "rtd": ("resistance bulb",),
    "bulb": ("resistance bulb", "vapour-pressure bulb"),
    "couple": ("thermocouple",),
    "vapor-pressure": ("vapour-pressure",),
    "ammeter": ("load current",),
    "fuel-flow": ("fuel flow",),
    "connector": ("plug",),
    "cb": ("breaker",),
    "wire": ("wire_runs", "wire"),
    "hose": ("hose",),
}
"""Words of the hangar for words of the library."""


def found(library: Library, words: str, section: str = "") -> list[Part]:
    """Parts that have every word, in their key, title, figures or section; those that have most in their key first.

    Args:
        words: as a person writes them; capitals do not matter; with none, every part fits.
        section: only those for this section of a document, if given.
    """
    asked = [w.lower() for w in _WORD.findall(words)]
    ranked: list[tuple[int, str, Part]] = []
    for key, part in library.parts.items():
        if section and part.section != section:
            continue
        name, all_of_it = key.lower(), " ".join(_texts(part)).lower()
        if all(any(one in all_of_it for one in _senses(word)) for word in asked):
            ranked.append((-sum(_begins(word, name) for word in asked), key, part))
    return [part for _, _, part in sorted(ranked, key=lambda r: r[0])]


def _senses(word: str) -> tuple[str, ...]:
    return (word, *_OTHER_WORDS.get(word, ()))


def _begins(word: str, name: str) -> bool:
    return re.search(rf"(?<![a-z0-9]){re.escape(word)}", name) is not None


def _texts(part: Part) -> Iterator[str]:
    yield from (part.key, part.section, part.section.replace("_", " ").rstrip("s"), *part.sizes)
    for word, value in part.raw.items():
        if word != "source":
            yield from _leaves(value)


def _leaves(value: Plain) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, list):
        for one in value:
            yield from _leaves(one)
    elif isinstance(value, dict):
        for word, one in value.items():
            yield word
            yield from _leaves(one)


def figures(part: Part) -> Iterator[tuple[str, str]]:
    """The figures of a part, each with its word, in one line as they are written; those of its sizes by size."""
    for word, value in part.raw.items():
        if word not in ("title", "source"):
            yield word, flow(value)
    rows = [
        (size, part.sizes[canonical_size(size)])
        for size in part.as_written()
        if part.sizes[canonical_size(size)]
    ]
    for word in dict.fromkeys(word for _, row in rows for word in row):
        yield word, ", ".join(f"{size}: {flow(row[word])}" for size, row in rows if word in row)


def flow(value: Plain) -> str:
    """A plain value in one line of YAML; ``unknown`` for what is not known."""
    if value is None:
        return "unknown"
    if isinstance(value, dict):
        return "{" + ", ".join(f"{scalar(word)}: {flow(one)}" for word, one in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(flow(one) for one in value) + "]"
    return scalar(value)


def scalar(text: str) -> str:
    """A text as a plain scalar where YAML can read it so inside brackets, else in single quotes.

    >>> scalar("0.040 in"), scalar("-4"), scalar("a: b"), scalar("+")
    ('0.040 in', "'-4'", "'a: b'", "'+'")
    """
    plain = (
        re.fullmatch(r"[\w/.(][^\n,\[\]{}#:'\"]*(?<!\s)", text) is not None
        and text.lower() not in _READ_OTHERWISE
    )
    return text if plain else "'" + text.replace("'", "''") + "'"


_READ_OTHERWISE = frozenset(("null", "unknown"))


def lines_for(part: Part) -> list[str]:
    """The lines that put a part into a document, with what is always its own left to fill in."""
    words: dict[str, str] = {"part": scalar(part.key)}
    if part.sizes:
        size = part.as_written()[0]
        words["gauge" if part.section == "wire_runs" else "size"] = scalar(size)
    if part.section in ("wire_runs", "fluid_lines"):
        words = {"from": "...", "to": "...", **words, "route": "[{zone: ..., length: ...}]"}
    else:
        words["zone"] = "..."
    body = ", ".join(f"{word}: {value}" for word, value in words.items())
    return [f"{part.section}:", f"  {_named(part)}: {{{body}}}"]


def _named(part: Part) -> str:
    measures = part.raw.get("measures")
    noun = {"indicators": "gauge", "senders": "sender", "probes": "probe"}.get(part.section, "")
    if isinstance(measures, str) and noun:
        return f"{measures} {noun}"
    return {"wire_runs": "W1", "fluid_lines": "L1"}.get(part.section, noun or "a name of yours")


def sections_with_parts(library: Library) -> list[str]:
    """Sections that have parts, in the order of a document."""
    return [s for s in SPECS if any(p.section == s for p in library.parts.values())]


def terminals(part: Part) -> Iterable[str]:
    """Names of the terminals or ports a part says it has."""
    for word in ("terminals", "ports", "pins", "supply_terminals"):
        value = part.raw.get(word)
        if isinstance(value, list):
            yield from (one for one in value if isinstance(one, str))
        elif isinstance(value, dict):
            yield from value
