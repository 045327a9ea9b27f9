"""Ranges, dial markings, limits and clearances in one line.

``20 to 110 degC, normal 80 degC`` is a range; ``red 25 psi, green 60 to 90 psi`` are the marks of a dial; ``fuel hose
(flammable line) 6 in above clamped, exhaust stacks 8 in guarded`` is what a bundle passes. The unit after the second number
of a range counts for both.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import get_args

from ..model.devices import Marking
from ..model.routes import Clearance
from .clauses import Clause, clauses
from .places import DocPath
from .source import Plain
from .wording import unknown_word

Tell = Callable[[int, str, str], None]
"""Tell what is wrong: at which character, what, and the words."""
Found = tuple[Plain, dict[DocPath, int]]
"""The long form, and at which character each of its values was said."""

_SPAN = re.compile(
    r"^(?P<low>[-+−]?[\d./]+)\s*(?P<unit>[^\d\s]\S*)?\s+to\s+(?P<high>[-+−]?[\d./]+\s*(?P<last>[^\d\s./].*)?)$"
)
_CLEAR = re.compile(
    r"^(?P<name>.*?\S)\s+(?P<distance>(?:\d|\.\d)\S*(?:\s+\d+/\d+)?\s*[a-z]+)(?P<rest>(?:\s+\S+)*)$"
)


def _words(model: type[Clearance] | type[Marking], field: str) -> list[str]:
    def inside(kind: object) -> list[str]:
        return [w for a in get_args(kind) for w in ([a] if isinstance(a, str) else inside(a))]

    return inside(model.model_fields[field].annotation)


_COLOURS = _words(Marking, "colour")
_KINDS = sorted(_words(Clearance, "kind"), key=len, reverse=True)
_POSITIONS = _words(Clearance, "position")


def _range(part: Clause) -> dict[str, tuple[str, int]] | None:
    """``lowest`` and ``highest`` of a range, each with its unit, and where it stands."""
    found = _SPAN.match(part.text)
    if found is None:
        return None
    unit = found["unit"] or found["last"] or ""
    low = part.text[: found.end("low")]
    return {
        "lowest": (f"{low} {unit.strip()}".strip(), part.offset),
        "highest": (found["high"], part.offset + found.start("high")),
    }


def span(text: str, tell: Tell) -> Found:
    """A range: its ends, then fields of it by name: ``normal 80 degC``, ``division 2 psi``."""
    first, *rest = clauses(text)
    ends = _range(first)
    if ends is None:
        tell(
            first.offset,
            f"'{first.text}' is not a range: write its two ends, like '60 to 90 psi'",
            first.text,
        )
        return None, {}
    made: dict[str, Plain] = {}
    marks: dict[DocPath, int] = {}
    named = {part.text.partition(" ")[0]: part.cut(len(part.text.partition(" ")[0])) for part in rest}
    for word, (value, at) in {**ends, **{w: (p.text, p.offset) for w, p in named.items()}}.items():
        made[word], marks[word,] = value, at
    return made, marks


def markings(text: str, tell: Tell) -> Found:
    """The marks of a dial: a colour with one value, or with a range."""
    made: list[Plain] = []
    marks: dict[DocPath, int] = {}
    for part in clauses(text):
        colour = part.text.partition(" ")[0]
        if colour not in _COLOURS:
            tell(part.offset, unknown_word(colour, _COLOURS, "colour of a mark"), part.text)
            continue
        value = part.cut(len(colour))
        words = {"colour": (colour, part.offset), **(_range(value) or {"at": (value.text, value.offset)})}
        marks[len(made),] = part.offset
        for word, (_, at) in words.items():
            marks[len(made), word] = at
        made.append({word: told for word, (told, _) in words.items()})
    return made, marks


def clearances(text: str, tell: Tell) -> Found:
    """What is passed: its name, the kind of thing in brackets where the name does not begin with it, how far, and how."""
    made: list[Plain] = []
    marks: dict[DocPath, int] = {}
    for part in clauses(text):
        found = _CLEAR.match(part.text)
        kind, name = _kind(found["name"]) if found is not None else (None, "")
        if found is None or kind is None:
            told = f"'{part.text}' is no clearance: write 'fuel hose (flammable line) 6 in above clamped'; kinds are "
            tell(part.offset, told + ", ".join(sorted(_KINDS)), part.text)
            continue
        passed: dict[str, Plain] = {"to": name, "kind": kind, "distance": found["distance"]}
        at = part.offset + found.start("rest")
        said = "yes"
        for word in found["rest"].split():
            if word in _POSITIONS:
                passed["position"] = word
            elif word in ("clamped", "guarded"):
                passed[word], said = said, "yes"
            elif word == "not":
                said = "no"
            else:
                tell(
                    at,
                    unknown_word(word, [*_POSITIONS, "clamped", "guarded", "not"], "word of a clearance"),
                    word,
                )
        marks[len(made),] = part.offset
        marks[len(made), "distance"] = part.offset + found.start("distance")
        made.append(passed)
    return made, marks


def _kind(name: str) -> tuple[str | None, str]:
    """The kind of a thing passed, and its name."""
    found = re.match(r"^(.*\S)\s*\(([^()]+)\)$", name)
    if found is not None:
        return (found[2] if found[2] in _KINDS else None), found[1]
    return next((kind for kind in _KINDS if name.startswith(kind)), None), name


Reader = Callable[[str, Tell], Found]
LINES: Mapping[str, Mapping[str, Reader]] = {
    "zones": {"temperature": span},
    "senders": {"temperature": span, "supply_voltage": span},
    "probes": {"temperature": span},
    "indicators": {
        "temperature": span,
        "supply_voltage": span,
        "scale": span,
        "input_range": span,
        "markings": markings,
    },
    "junctions": {"temperature": span},
    "bundles": {"clearances": clearances},
    "wire_runs": {"clearances": clearances, "temperature": span},
    "fluid_lines": {"clearances": clearances, "temperature": span},
}
"""Fields that can be told in one line, by section, and how."""
