"""Headings of tables in the words of the trade, with the unit that counts for the bare numbers below."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import cache
from typing import NamedTuple, get_args, get_origin

from pydantic import BaseModel

from ..model.kinds import KINDS
from .figures import LINES as FIGURES
from .sections import WORDS

FROM_PIN, TO_PIN, END_FROM, END_TO, CONDUCTOR, RESULT = (
    "from pin",
    "to pin",
    "end at from",
    "end at to",
    "conductor",
    "result",
)
"""What a column can hold that is no field of its own."""

_COMMON: Mapping[str, Sequence[str]] = {
    "id": ("id", "ident", "name", "no", "number", "item", "mark", "ref", "reference"),
    "title": ("description", "function", "signal", "purpose"),
    "part": ("type", "part number", "part no", "spec", "specification"),
    "zone": ("location", "place"),
    "notes": ("note", "remark", "remarks", "comment", "comments"),
    "colour": ("color",),
    "measures": ("indication", "parameter", "measurement", "indicates", "senses", "reads"),
    "cylinder": ("cyl", "cyl no", "cylinder no", "cylinder number"),
    "budget": ("error budget", "error allowed", "allowed error", "largest error"),
}
_JOINED: Mapping[str, Sequence[str]] = {
    "from": ("start", "end 1", "end a"),
    "to": ("end", "end 2", "end b"),
    "route": ("length by zone", "routing"),
    "length": ("total length",),
}
_OWN: Mapping[str, Mapping[str, Sequence[str]]] = {
    "wire_runs": {
        **_JOINED,
        "id": ("wire", "wire id", "wire no", "wire number", "wire mark", "run", "run id"),
        "gauge": ("awg", "wire size", "wire gauge", "ga"),
        "part": ("wire type", "wire part"),
        "bundle": ("harness", "loom"),
        "ends": ("terminations",),
        CONDUCTOR: ("core", "leg"),
        FROM_PIN: ("from terminal", "from contact", "pin 1"),
        TO_PIN: ("to terminal", "to contact", "pin 2"),
        END_FROM: ("end at from", "termination 1", "from end", "from termination"),
        END_TO: ("end at to", "termination 2", "to end", "to termination"),
        RESULT: ("drop", "voltage drop"),
    },
    "fluid_lines": {
        **_JOINED,
        "id": ("line", "line id", "line no", "line number", "hose", "tube"),
        "part": ("line type", "hose type"),
        "medium": ("fluid",),
        "support_spacing": ("supports every",),
        FROM_PIN: ("from port",),
        TO_PIN: ("to port",),
        RESULT: ("crosses", "flare nuts", "bands"),
    },
    "senders": {"id": ("sender", "transmitter", "transducer", "bulb"), "part": ("sender type",)},
    "probes": {"id": ("probe",), "part": ("probe type",), "distance": ("distance from port",)},
    "indicators": {"id": ("indicator", "gauge", "instrument"), "part": ("indicator type", "gauge type")},
    "junctions": {"id": ("junction", "splice", "plug")},
    "grounds": {"id": ("ground",)},
    "supplies": {"id": ("supply", "breaker", "fuse")},
}
NEEDED: Mapping[str, tuple[str, ...]] = {"wire_runs": ("from", "to"), "fluid_lines": ("from", "to")}
"""Columns a table must have beside that of the ids."""
_UNITS = frozenset((*(unit for kind in KINDS.values() for unit in kind.units), "AWG"))
_SPELLED = {"foot": "ft", "feet": "ft", "inch": "in", "inches": "in", "metre": "m", "metres": "m"}
_IN_BRACKETS = re.compile(
    r"^(?P<base>.*?)\s*(?:[\[(](?P<unit>[^\])]+)[\])]|,\s*(?P<after>[^,]+)|\bin (?P<said>\S+))$"
)


class Heading(NamedTuple):
    """What a column holds: a field of the section's things or one of the words above, and the unit of bare numbers."""

    word: str
    unit: str = ""


@cache
def known(section: str) -> Mapping[str, str]:
    """What each heading of a section stands for, as people write them."""
    own = {word.replace("_", " "): word for word in fields(section)}
    if section == "wire_runs":
        own["size"] = "gauge"
    if section in NEEDED:
        own.update({"from": "from", "to": "to"})
    for word, others in _OWN.get(section, {}).items():
        for other in (*others, *(() if word == RESULT else (word.replace("_", " "),))):
            own.setdefault(other, word)
    for word, others in _COMMON.items():
        if word == "id" or word in fields(section):
            for other in (word, *others):
                own.setdefault(other, word)
    return own


@cache
def fields(section: str) -> Mapping[str, str]:
    """The fields of a section a cell can hold, with what sort of text each takes: ``text``, ``switch``, ``list``."""
    sorts = {
        word: sort
        for word, kind in WORDS[section].items()
        if (sort := _sort(kind)) or word in _lines(section)
    }
    return {word: sort or "text" for word, sort in sorts.items()}


def _lines(section: str) -> set[str]:
    """Fields that are more than one value and can be written in one line."""
    joined = {"route"} if section in ("wire_runs", "fluid_lines", "bundles") else set()
    shield = {"shield"} if section == "wire_runs" else set()
    return {*FIGURES.get(section, {}), *joined, *shield}


def _sort(kind: object) -> str:
    """What sort of text a field takes in a cell; empty if none will do."""
    parts = _members(kind)
    if any(isinstance(one, type) and issubclass(one, BaseModel) for one in parts):
        return ""
    if any(get_origin(one) in (dict, tuple) for one in parts):
        return ""
    for one in parts:
        if get_origin(one) is list:
            inner = _members(get_args(one)[0])
            whole = any(isinstance(i, type) and issubclass(i, BaseModel) for i in inner)
            return "" if whole or any(get_origin(i) is not None for i in inner if _is_nest(i)) else "list"
    return "switch" if bool in parts else "text"


def _is_nest(kind: object) -> bool:
    return get_origin(kind) in (dict, list, tuple)


def _members(kind: object) -> list[object]:
    """An annotation with unions and ``Annotated`` taken apart."""
    args = get_args(kind)
    if not args or get_origin(kind) in (dict, list, tuple):
        return [kind]
    return [inner for one in args for inner in _members(one)]


def read(section: str, text: str) -> Heading | None:
    """What a heading says; ``None`` if it is none.

    >>> read("wire_runs", "Wire No."), read("wire_runs", "Length (ft)"), read("wire_runs", "AWG")
    (Heading(word='id', unit=''), Heading(word='length', unit='ft'), Heading(word='gauge', unit=''))
    """
    words = " ".join(text.split())
    there = known(section)
    if (word := there.get(_plain(words))) is not None:
        return Heading(word)
    found = _IN_BRACKETS.match(words)
    if found is not None:
        unit = (found["unit"] or found["after"] or found["said"]).strip()
        base, said = there.get(_plain(found["base"])), _unit(unit)
        if base is not None and said is not None:
            return Heading(base, said)
    *first, last = words.split(" ")
    base, said = there.get(_plain(" ".join(first))), _unit(last)
    return Heading(base, said) if base is not None and said is not None else None


def _unit(text: str) -> str | None:
    """A unit as a quantity is written with it; ``None`` if it is none."""
    plain = text.rstrip(".")
    if plain.lower() in _SPELLED:
        return _SPELLED[plain.lower()]
    return plain if plain in _UNITS else plain.lower() if plain.lower() in _UNITS else None


def _plain(text: str) -> str:
    return " ".join(re.sub(r"[._#:]", " ", text.casefold()).split())
