"""A run or fluid line in one line: ``oil bulb.A to oil temperature gauge.A, 20 AWG, engine to panel, in engine harness``.

The two ends come first. Then, in any order, with commas between: a gauge, a part (with its gauge or size), a route by name
or its steps, ``in`` a bundle, ``ends ring and pin 20``, a conductor that goes elsewhere (``+ to
spool.in``), a field and its value (``slack 3 in``), a yes-or-no field alone or after ``not``, and words that can only mean
one field (``new``, ``oil``).
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping
from functools import cache
from types import UnionType
from typing import Literal, NamedTuple, TypeAlias, Union, get_args, get_origin

from ..dataclass import dataclass
from ..model.installation import split_end
from .clauses import Clause, clauses
from .implied import Said
from .parts import Library, canonical_size
from .places import DocPath
from .routes import Routes, Step, laid
from .sections import WORDS
from .source import Plain, mapping
from .usual import gauge_number
from .wording import nearest

Fields: TypeAlias = "list[tuple[DocPath, Clause | tuple[str, Clause]]]"
"""Paths within a thing, each with the words of a line that stand for it, or what they mean."""

LINED = {"wire_runs": "run", "fluid_lines": "line"}
"""Sections whose things can be told in one line, and the word for it where they write more."""
_GAUGE = re.compile(r"^(?:\S+\s*AWG|AWG\s*\S+)$", re.IGNORECASE)
_OTHER_GAUGE = re.compile(r"^#?\s*[\d/]+\s*(?:ga\.?|gage|gauge)$", re.IGNORECASE)
"""What is meant for a gauge and not written as one; it is told how."""
_TAIL_GAUGE = re.compile(r"\s+(\S+\s*AWG)$", re.IGNORECASE)
_LEG = re.compile(r"^(?P<leg>\S+)\s+(?P<way>to|from)\s+(?P<end>.+)$")
_BARE = {"wire_runs": ("status", "thermocouple_colours"), "fluid_lines": ("status", "medium")}
_NOT_BARE = frozenset(("from", "to", "route", "conductors", "terminations", "ends", "clearances", "notes"))


def _choices(kinds: object) -> list[str]:
    """The words an annotation allows."""
    found = [a for a in get_args(kinds) if isinstance(a, str)]
    return found + [w for one in get_args(kinds) for w in _choices(one)]


def one_of(kind: object) -> tuple[str, ...]:
    """The words an annotation allows, if it allows nothing else."""
    if get_origin(kind) is Literal:
        return tuple(str(word) for word in get_args(kind))
    inner = [a for a in get_args(kind) if a is not type(None)]
    optional = get_origin(kind) in (Union, UnionType) and len(inner) == 1
    return one_of(inner[0]) if optional else ()


class _Words(NamedTuple):
    """Words of a section in its lines: of its fields, the longest first; of those that are yes or no; of what needs no word."""

    fields: tuple[str, ...]
    switches: frozenset[str]
    bare: Mapping[str, str]


@cache
def _words(section: str) -> _Words:
    words = WORDS[section]
    return _Words(
        tuple(sorted((w for w in words if w not in _NOT_BARE), key=len, reverse=True)),
        frozenset(w for w, kind in words.items() if kind is bool or bool in get_args(kind)),
        {choice: w for w in _BARE[section] for choice in _choices(words[w])},
    )


@dataclass(slots=True)
class Line:
    """A line as the long form: its words, and where in it each was said; and its route as the line has it."""

    plain: dict[str, Plain]
    marks: dict[DocPath, Said]
    route: str = ""


class Lines:
    """How the lines of a document are read.

    Args:
        whole: its sections as written, for the ids in them.
        routes: its routes.
        library: its parts.
        idents: ids a run or line can end at.
    """

    def __init__(
        self, whole: Mapping[str, Plain], routes: Routes, library: Library, idents: Collection[str]
    ) -> None:
        self.routes, self.library, self.idents = routes, library, idents
        self.bundles = mapping(whole.get("bundles"))
        self.parts = {section: library.of_section(section) for section in LINED}

    def read(self, section: str, text: str, path: DocPath) -> Line:
        """A line of a section, which stands at ``path``."""
        line = Line({}, {})
        first, *rest = clauses(text)
        self._ends(section, first, path, line)
        steps: list[Step] = []
        route: list[str] = []
        for part in rest:
            found = self._clause(section, part)
            if found is None and (why := self._meant(section, part.text)):
                self.routes.tell(path, part.offset, why, part.text)
                continue
            if found is None:
                laying = self.routes.clause(part, path)
                if laying is None:
                    self.routes.tell(path, part.offset, self._refused(section, part.text), part.text)
                steps += laying or ()
                route.append(part.text)
                continue
            for inner, piece in found:
                self._put(line, inner, piece, path)
        if steps:
            line.plain["route"], marks = laid(tuple(steps))
            line.marks.update(marks)
            line.marks["route",] = steps[0].whole
            line.route = ", ".join(route)
        return line

    def _put(self, line: Line, inner: DocPath, piece: Clause | tuple[str, Clause], path: DocPath) -> None:
        value, at = (piece.text, piece) if isinstance(piece, Clause) else piece
        here: dict[str, Plain] = line.plain
        for step in inner[:-1]:
            deeper = here.setdefault(str(step), {})
            assert isinstance(deeper, dict)
            here = deeper
        if str(inner[-1]) in here:
            told = f"'{inner[-1]}' is told twice in this line; take one out"
            self.routes.tell(path, at.offset, told, at.text)
        here[str(inner[-1])] = None if value == "unknown" else value
        line.marks[inner] = Said(path, at.offset)

    def _ends(self, section: str, part: Clause, path: DocPath, line: Line) -> None:
        """The two ends that begin a line, parted at the 'to' that leaves an id on either side."""
        breaks = [m.start() for m in re.finditer(r" to ", part.text)]
        if not breaks:
            word = LINED[section]
            told = f"'{part.text}' is not a {word}'s two ends; a {word} in one line begins 'oil bulb.A to oil gauge.A'"
            self.routes.tell(path, part.offset, told, part.text)
            return

        def known(at: int) -> int:
            sides = part.cut(0, at).text, part.cut(at + 4).text
            return sum(split_end(side)[0] in self.idents for side in sides)

        at = max(breaks, key=known)
        for word, piece in (("from", part.cut(0, at)), ("to", part.cut(at + 4))):
            line.plain[word] = piece.text
            line.marks[word,] = Said(path, piece.offset)

    def _clause(self, section: str, part: Clause) -> Fields | None:
        """The fields a clause gives; ``None`` if it is none, which leaves a step of a route."""
        text = part.text
        if section == "wire_runs":
            wired = self._wire(part)
            if wired is not None:
                return wired
        if text in self.routes.named:
            return None
        if text in _words(section).bare:
            return [((_words(section).bare[text],), part)]
        named = self._part(section, part)
        if named is not None:
            return named
        if self._lies(text):
            return None
        return self._field(section, part)

    def _lies(self, text: str) -> bool:
        """Whether a clause names a zone or a barrier there is."""
        known = [*self.routes.zones, *self.routes.barriers]
        return any(text == k or text.startswith(f"{k} ") for k in known)

    def _wire(self, part: Clause) -> Fields | None:
        text = part.text
        if text.startswith("in ") and (
            text[3:].strip() in self.bundles or not text[3:].lstrip()[:1].isdigit()
        ):
            return [(("bundle",), part.cut(3))]
        if _GAUGE.match(text):
            return [(("gauge",), part)]
        if text.startswith("ends "):
            return [(("ends",), part.cut(5))]
        leg = _LEG.match(text)
        if leg is not None and text not in self.routes.named and (len(leg["leg"]) < 4 or "." in leg["end"]):
            return [(("conductors", leg["leg"], leg["way"]), part.cut(leg.start("end")))]
        return None

    def _part(self, section: str, part: Clause) -> Fields | None:
        text = part.text
        if text in self.library.parts and text in self.parts[section]:
            return [(("part",), part)]
        tail = _TAIL_GAUGE.search(text) if section == "wire_runs" else None
        if tail is not None:
            return [(("part",), part.cut(0, tail.start())), (("gauge",), part.cut(tail.start(1)))]
        for key in self.parts[section] if section != "wire_runs" else ():
            if text.startswith(f"{key} "):
                size = part.cut(len(key))
                if canonical_size(size.text) in self.library.parts[key].sizes:
                    return [(("part",), part.cut(0, len(key))), (("size",), size)]
        return None

    def _field(self, section: str, part: Clause) -> Fields | None:
        text = part.text
        for word in _words(section).fields:
            spoken = word.replace("_", " ")
            if word in _words(section).switches:
                if text in (spoken, word):
                    return [((word,), ("yes", part))]
                if text == f"not {spoken}":
                    return [((word,), ("no", part))]
            for said in (spoken, word):
                if text.startswith(f"{said} "):
                    return [((word,), part.cut(len(said)))]
        if section == "wire_runs" and _OTHER_GAUGE.match(text):
            return [(("gauge",), part)]
        if re.match(r"^[\d.]", text):
            return [(("length",), part)]
        return None

    def _meant(self, section: str, text: str) -> str:
        """What a clause that could be taken for a zone and a length is beyond doubt; empty where it may be one."""
        name, _, figure = text.rpartition(" ")
        if section == "wire_runs" and name in self.parts[section] and gauge_number(figure) is not None:
            return f"'{text}' lacks the unit of its gauge: write '{name} {figure} AWG'"
        found = re.match(r"^(?P<name>.*?\S)\s+(?:\d|\.\d).*$", text)
        if found is None or self._lies(text) or found["name"] in self.routes.named:
            return ""
        spoken = [w.replace("_", " ") for w in _words(section).fields]
        near = nearest(found["name"], [*self.routes.zones, *self.routes.barriers, *spoken])
        if near in spoken:
            return f"'{found['name']}' is not a word of a {LINED[section]}; did you mean '{near}'?"
        return ""

    def _refused(self, section: str, text: str) -> str:
        if not text:
            return "there is nothing between two commas here; take one out"
        known: Iterator[str] = iter(
            (
                *self.routes.named,
                *self.routes.zones,
                *self.routes.barriers,
                *(f"in {b}" for b in self.bundles),
                *self.parts[section],
                *(w.replace("_", " ") for w in _words(section).fields),
            )
        )
        near = nearest(text, known)
        wanted = (
            "a gauge, a part, a route, 'in' a bundle"
            if section == "wire_runs"
            else "a part, a medium, a route"
        )
        hint = f"; did you mean '{near}'?" if near else ""
        return f"'{text}' is not understood in a {LINED[section]} in one line: {wanted} or a field and its value{hint}"
