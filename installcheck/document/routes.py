"""A route in one line: ``engine 3 ft, engine bay 1 ft, firewall by fireproof grommet, cabin 5 ft``; and routes by name.

A clause is a zone with the length in it, a barrier with what it is crossed by, or the name of a route of the section
``routes``, forwards or ``reversed``. After what a barrier is crossed by, the fitting or plug may be named and the
clearance told: ``firewall by sealed plug P1, floor by grommet 0.5 in clear``.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from copy import copy
from typing import NamedTuple, get_args

from ..model.routes import RouteStep
from .clauses import Clause, clauses
from .implied import Said
from .places import DocPath
from .source import Plain, mapping
from .wording import nearest

Tell = Callable[[DocPath, int, str, str], None]
"""Tell what is wrong: the path of a text, the character in it, what, and the offending words."""

_THROUGH = sorted(
    (w for kind in get_args(RouteStep.model_fields["through"].annotation) for w in get_args(kind)),
    key=len,
    reverse=True,
)
_LENGTH = re.compile(r"^(?P<name>.*?\S)\s+(?P<length>[-+−]?(?:\d|\.\d).*)$")
_CLEAR = re.compile(r"^(?:(?P<name>.*?\S)\s+)??(?:with\s+)?(?P<length>(?:\d|\.\d)\S*\s+\S+)\s+clear$")


class Step(NamedTuple):
    """One step of a route, as plain words, and where each of them was said."""

    words: Mapping[str, Plain]
    whole: Said
    said: Mapping[str, Said]


class Routes:
    """The routes of a document, and how a line of one is read."""

    def __init__(self, whole: Mapping[str, Plain], tell: Tell) -> None:
        self.zones = dict.fromkeys(sorted(mapping(whole.get("zones")), key=len, reverse=True))
        self.barriers = mapping(whole.get("barriers"))
        self.named, self.tell = mapping(whole.get("routes")), tell
        self._known: dict[str, tuple[Step, ...]] = {}
        self._told: set[str] = set()

    def telling(self, tell: Tell) -> Routes:
        """The same routes, of which what is wrong is told to another."""
        new = copy(self)
        new.tell = tell
        return new

    def check(self) -> None:
        """Read every named route, so that what is wrong in one that nothing uses is told."""
        for name in self.named:
            self.route(name)

    def route(self, name: str) -> tuple[Step, ...]:
        """A route of the section ``routes``."""
        if name not in self._known:
            self._known[name] = ()
            path: DocPath = ("routes", name)
            said = self.named[name]
            if isinstance(said, str):
                self._known[name] = self.read([*clauses(said)], path, f"route '{name}'")
            elif isinstance(said, list) and all(isinstance(one, dict) for one in said):
                self._known[name] = tuple(_written(step, (*path, i)) for i, step in enumerate(said))
            else:
                told = "a route is a line like 'engine 3 ft, firewall by fireproof grommet, cabin 5 ft'"
                self.tell(path, -1, told, name)
        return self._known[name]

    def read(self, parts: list[Clause], path: DocPath, words: str = "") -> tuple[Step, ...]:
        """The steps of a route's clauses, which stand in the text at ``path``."""
        found: list[Step] = []
        for part in parts:
            steps = self.clause(part, path, words)
            if steps is None:
                self.tell(path, part.offset, self.refused(part.text), part.text)
            else:
                found += steps
        return tuple(found)

    def refused(self, text: str) -> str:
        """Why a clause is not understood, and what would be right."""
        if not text:
            return "there is nothing between two commas here; take one out"
        barrier = self._crossed(text)
        if barrier is not None:
            by = text.removeprefix(barrier)
            kind = next((w for w in _THROUGH if w in by), "fireproof grommet")
            return (
                f"'{text}' is no part of a route, since {barrier} is a barrier: write '{barrier} by {kind}'"
            )
        near = nearest(text, [*self.named, *self.zones, *self.barriers])
        hint = f"; did you mean '{near}'?" if near else ""
        return (
            f"'{text}' is no part of a route: a zone and its length ('cabin 5 ft'), a barrier ('firewall by fireproof "
            f"grommet') or a name under routes{hint}"
        )

    def _crossed(self, text: str) -> str | None:
        """The barrier a clause begins with, which says otherwise than by 'by' what it is crossed by."""
        return next((b for b in self.barriers if text.startswith(f"{b} ")), None)

    def clause(self, part: Clause, path: DocPath, words: str = "") -> tuple[Step, ...] | None:
        """The steps of one clause; ``None`` if it is no part of a route."""
        text = part.text
        if text in self.named:
            return self.route(text)
        if text.endswith(" reversed") and text.removesuffix(" reversed").rstrip() in self.named:
            return self.route(text.removesuffix(" reversed").rstrip())[::-1]
        pieces = self._zone(part) or self._barrier(part)
        if pieces is None:
            return None
        said = {word: Said(path, piece.offset, words) for word, piece in pieces.items()}
        whole = Said(path, part.offset, words)
        return (Step({word: piece.text for word, piece in pieces.items()}, whole, said),)

    def _zone(self, part: Clause) -> dict[str, Clause] | None:
        text = part.text
        if text in self.zones:
            return {"zone": part}
        for zone in self.zones:
            if text.startswith(f"{zone} "):
                length = part.cut(len(zone))
                if length.text[0].isdigit() or length.text[0] in ".-+":
                    return {"zone": part.cut(0, len(zone)), "length": length}
        if " by " in text or text in self.barriers or self._crossed(text) is not None:
            return None
        found = _LENGTH.match(text)
        if found is None:
            return None
        return {"zone": part.cut(0, found.end("name")), "length": part.cut(found.start("length"))}

    def _barrier(self, part: Clause) -> dict[str, Clause] | None:
        if part.text in self.barriers:
            return {"barrier": part}
        at = part.text.find(" by ")
        if at < 0:
            return None
        found = {"barrier": part.cut(0, at)}
        rest = part.cut(at + 4)
        clear = _CLEAR.match(rest.text)
        if clear is not None:
            found["clearance"] = rest.cut(clear.start("length"), clear.end("length"))
            rest = rest.cut(0, clear.end("name") if clear["name"] else 0)
        through = next((w for w in _THROUGH if rest.text == w or rest.text.startswith(f"{w} ")), None)
        if through is None:
            return {**found, "through": rest}
        found["through"] = rest.cut(0, len(through))
        if rest.text != through:
            found["fitting"] = rest.cut(len(through))
        return found


def _written(step: Plain, path: DocPath) -> Step:
    words = mapping(step)
    return Step(words, Said(path), {word: Said((*path, word)) for word in words})


def laid(steps: tuple[Step, ...]) -> tuple[list[Plain], dict[DocPath, Said]]:
    """Steps as the long form of a route, and where each of their words was said."""
    marks: dict[DocPath, Said] = {}
    plain: list[Plain] = []
    for i, step in enumerate(steps):
        plain.append(dict(step.words))
        marks["route", i] = step.whole
        for word, said in step.said.items():
            marks["route", i, word] = said
    return plain, marks
