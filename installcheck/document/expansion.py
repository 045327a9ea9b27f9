"""From what a document writes of a thing to all it says of it: usual fields, lines, routes, whole joins, terminations.

Plain values in, plain values out, before anything is typed; :class:`Implied` keeps where each of them was said.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache
from typing import Protocol

from ..model.installation import JOINABLE
from . import ends as terminations
from . import inputs
from .clauses import Clause, clauses
from .ends import Ends
from .equivalents import meant
from .figures import LINES as FIGURES
from .figures import Reader
from .implied import Implied, Layer, Said
from .joins import joined
from .lines import LINED, Lines, one_of
from .parts import Library, canonical_size
from .places import DocPath, Place, Problem
from .routes import Routes, laid
from .sections import WORDS
from .source import Plain, mapping
from .usual import NOT_OF_BUNDLE, OF_RUNS, Usual

SAID_ONCE = ("usual", "routes", "include")
"""Sections that are gone once everything is written out."""


class Things(Protocol):
    """What is known of the things a run can end at, once they are typed."""

    def terminals(self, ident: str) -> tuple[str, ...] | None:
        """Terminals of a thing; ``None`` where any name will do, it is one point, or it is not known."""

    def stud(self, ident: str) -> str | None:
        """The stud or screw of its terminals."""


class Finder(Protocol):
    """Where things stand."""

    implied: dict[tuple[str, str], Implied]

    def place(self, path: DocPath, *, of_key: bool = False) -> Place:
        """The place of the value at a path, or of its word."""

    def spoken(self, said: Said) -> Place:
        """The place of what was said."""


class Expansion:
    """How the things of one document are written out in full.

    Args:
        whole: its sections as written, ``usual`` and ``routes`` among them.
        library: its parts.
        places: where everything stands; told what is implied of each thing.
        things: what is known of the things runs end at; asked only for runs.
        before: how it was, where all that is said once, and the names it uses, are as they were.

    Attributes:
        problems: what is wrong with what is said once, and with lines.
    """

    def __init__(
        self,
        whole: Mapping[str, Plain],
        library: Library,
        places: Finder,
        things: Things,
        before: Expansion | None = None,
    ) -> None:
        self.whole, self.library, self.places, self.things = whole, library, places, things
        self.problems: list[Problem] = []
        if before is None:
            self.usual = Usual(whole.get("usual"), WORDS, whole, self._figure, self._tell_key)
            self.routes = Routes(whole, self._tell_at)
            self.routes.check()
        else:
            self.usual, self.routes = before.usual, before.routes.telling(self._tell_at)
        idents = {ident for section in JOINABLE for ident in mapping(whole.get(section))}
        self.lines = Lines(whole, self.routes, library, idents)
        self.ends = Ends(library, self._tell_at)
        self._bundles: dict[str, Layer | None] = {}
        self._own: dict[tuple[str, str], tuple[Plain, Plain]] = {}
        self._full: dict[tuple[str, str], tuple[Plain, Plain]] = {}
        self._spelled: dict[tuple[str, str], str] = {}

    def _tell(self, path: DocPath, message: str, text: str) -> None:
        self._tell_at(path, -1, message, text)

    def _tell_key(self, path: DocPath, message: str, text: str) -> None:
        self.problems.append(Problem(self.places.place(path, of_key=True), message, text))

    def _tell_at(self, path: DocPath, offset: int, message: str, text: str) -> None:
        self.problems.append(Problem(self.places.spoken(Said(path, offset)), message, text))

    def _figure(self, section: str, told: Mapping[str, Plain], word: str) -> Plain:
        """A field of a thing, or of its part."""
        if word in told:
            return told[word]
        key = told.get("part")
        part = self.library.parts.get(key) if isinstance(key, str) else None
        if part is None or part.section != section:
            return None
        size = told.get("gauge") or told.get("size")
        row = part.sizes.get(canonical_size(size), {}) if isinstance(size, str) else {}
        return row.get(word, part.raw.get(word))

    def _bundle(self, ident: str) -> Layer | None:
        """What a bundle says of its runs."""
        if ident not in self._bundles:
            raw = mapping(self.whole.get("bundles")).get(ident)
            usual = self.usual.layers("bundles", mapping(raw), lambda _: None)
            full = {**_merged(usual), **mapping(raw)}
            given = {word: full[word] for word in OF_RUNS if word in full}
            self._bundles[ident] = Layer(given, ("bundles", ident), f"bundle {ident}")
        return self._bundles[ident]

    def spelled(self, section: str, ident: str) -> str:
        """Every word written of a thing, or of a whole section where it is none, each on a line."""
        known = self._spelled.get((section, ident))
        if known is None:
            held = self.whole.get(section)
            known = "\n".join(_words(mapping(held).get(ident) if ident else held))
            self._spelled[section, ident] = known
        return known

    def written(self, section: str, ident: str, raw: Plain) -> Plain:
        """A thing as it writes itself, a line of text put as words; what is implied elsewhere is left out."""
        known = self._own.get((section, ident))
        if known is None or known[0] is not raw:
            known = self._own[section, ident] = raw, self._opened(section, ident, raw, None)
        return known[1]

    def _opened(self, section: str, ident: str, raw: Plain, marks: dict[DocPath, Said] | None) -> Plain:
        if section not in LINED:
            return raw
        word = LINED[section]
        rest: Mapping[str, Plain] = {}
        text: Plain = raw
        path: DocPath = (section, ident)
        if isinstance(raw, dict):
            text, path = raw.get(word), (section, ident, word)
            rest = {w: v for w, v in raw.items() if w != word}
        if not isinstance(text, str):
            return raw
        line = self.lines.read(section, text, path)
        if marks is None:
            return {**line.plain, **({"route": line.route} if line.route else {}), **rest}
        for twice in (w for w in rest if w in line.plain):
            self._tell((section, ident, twice), f"'{twice}' is told in the line as well; take one out", twice)
        marks.update({inner: said for inner, said in line.marks.items() if inner[0] not in rest})
        return {**line.plain, **rest}

    def said_elsewhere(self, section: str, own: Mapping[str, Plain]) -> dict[str, Plain]:
        """What a thing that writes ``own`` would be told to be by what is usual, and by its bundle."""
        return _merged(self.usual.layers(section, own, self._bundle))

    def full(self, section: str, ident: str, raw: Plain) -> Plain:
        """As :meth:`item`, of a thing of a document that is read: it is put in full once."""
        known = self._full.get((section, ident))
        if known is None or known[0] is not raw:
            known = self._full[section, ident] = raw, self.item(section, ident, raw)
        return known[1]

    def item(self, section: str, ident: str, raw: Plain) -> Plain:
        """A thing in full, as plain values; what is implied of it is remembered with its places."""
        marks: dict[DocPath, Said] = {}
        own = self._opened(section, ident, raw, marks)
        if not isinstance(own, dict):
            return raw
        own = self._plainly(section, own)
        layers = self.usual.layers(section, own, self._bundle)
        full: dict[str, Plain] = {**_merged(layers), **own} if layers else own
        if layers or marks:
            self.places.implied[section, ident] = Implied(layers, marks, own)
        if section == "indicators" and isinstance(full.get("inputs"), dict):
            full = self._with_inputs(ident, full)
        for word, read in FIGURES.get(section, {}).items():
            if isinstance(full.get(word), str):
                full = self._figured(section, ident, full, word, read, marks)
        if section == "bundles":
            full = {word: value for word, value in full.items() if word not in NOT_OF_BUNDLE}
        if section in LINED and isinstance(full.get("route"), str):
            full = self._routed(section, ident, full, marks)
        if section == "wire_runs":
            full = self._wired(ident, full, marks)
        if marks and (section, ident) not in self.places.implied:
            self.places.implied[section, ident] = Implied(layers, marks, own)
        return full

    def _plainly(self, section: str, own: dict[str, Plain]) -> dict[str, Plain]:
        """A thing with the words that stand for known ones as those: ``circuit breaker`` as ``breaker``."""
        choices = _choices().get(section, {})
        odd = [(w, v) for w, v in own.items() if w in choices and isinstance(v, str) and v not in choices[w]]
        if not odd:
            return own
        return {**own, **{word: meant(value, choices[word]) or value for word, value in odd}}

    def _said(self, section: str, ident: str, word: str) -> Said:
        known = self.places.implied.get((section, ident))
        return (known.said((word,)) if known is not None else None) or Said((section, ident, word))

    def _with_inputs(self, ident: str, full: dict[str, Plain]) -> dict[str, Plain]:
        """An indicator whose inputs are told one by one, with the rest of them from its part."""
        written = mapping(full["inputs"])
        bare = {word: value for word, value in full.items() if word != "inputs"}
        of_part = mapping(self._figure("indicators", bare, "inputs"))
        for name, why in inputs.stray(written, of_part):
            self._tell(("indicators", ident, "inputs", name), why, name)
        return {**full, "inputs": inputs.merged(written, of_part)}

    def _figured(
        self,
        section: str,
        ident: str,
        full: dict[str, Plain],
        word: str,
        read: Reader,
        marks: dict[DocPath, Said],
    ) -> dict[str, Plain]:
        """A range, markings or clearances in one line as the long form."""
        said = self._said(section, ident, word)
        base = max(said.offset, 0)

        def tell(at: int, message: str, text: str) -> None:
            self._tell_at(said.path, base + at, message, text)

        value, found = read(str(full[word]), tell)
        marks.update({(word, *inner): said._replace(offset=base + at) for inner, at in found.items()})
        return {**full, word: value}

    def _routed(
        self, section: str, ident: str, full: dict[str, Plain], marks: dict[DocPath, Said]
    ) -> dict[str, Plain]:
        said = self._said(section, ident, "route")
        base = max(said.offset, 0)
        parts = [Clause(text, base + offset) for text, offset in clauses(str(full["route"]))]
        steps, found = laid(self.routes.read(parts, said.path, said.words))
        marks.update(found)
        return {**full, "route": steps or None}

    def _wired(self, ident: str, full: dict[str, Plain], marks: dict[DocPath, Said]) -> dict[str, Plain]:
        path: DocPath = ("wire_runs", ident)
        one, other = full.get("from"), full.get("to")
        whole = None
        if one is not None and ((legs := self._legs(full)) or "conductors" in full):
            whole = joined(full, legs, path, self.things.terminals, self._tell)
        if whole is not None:
            conductors, found = whole
            for inner, said in found.items():
                source = said.path[2:]
                marks[inner] = marks.get(source) or self._deeper(ident, source)
            full = {word: value for word, value in full.items() if word not in ("from", "to")}
            full["conductors"] = dict(conductors)
        if "ends" in full and full["ends"] is None:  # unknown
            full = {word: value for word, value in full.items() if word != "ends"}
        if "ends" in full:
            studs = self._stud(full, one, 0), self._stud(full, other, 1)
            picked = self.ends.both(full, self._said("wire_runs", ident, "ends"), studs)
            crimped, found = terminations.laid(picked, full.get("terminations"))
            marks.update(found)
            full = {word: value for word, value in full.items() if word != "ends"}
            if any(one is not None for one in picked):
                full["terminations"] = crimped
        return full

    def _deeper(self, ident: str, inner: DocPath) -> Said:
        known = self.places.implied.get(("wire_runs", ident))
        return (known.said(inner) if known is not None else None) or Said(("wire_runs", ident, *inner))

    def _legs(self, run: Mapping[str, Plain]) -> list[str]:
        """Names of a run's conductors, if it has several."""
        legs = mapping(self._figure("wire_runs", run, "legs"))
        if legs:
            return list(legs)
        couple = self._figure("wire_runs", run, "kind") == "thermocouple lead"
        return ["+", "-"] if couple and self._figure("wire_runs", run, "metal") is None else []

    def _stud(self, run: Mapping[str, Plain], end: Plain, side: int) -> str | None:
        """The stud a run's end lands on."""
        if not isinstance(end, str):
            ends = [mapping(one).get(("from", "to")[side]) for one in mapping(run.get("conductors")).values()]
            end = next((one for one in ends if isinstance(one, str)), None)
        return self.things.stud(str(end).partition(".")[0]) if end is not None else None


def _words(raw: Plain) -> Iterator[str]:
    if isinstance(raw, str):
        yield raw
    elif isinstance(raw, dict):
        for key, value in raw.items():
            yield key
            yield from _words(value)
    elif isinstance(raw, list):
        for value in raw:
            yield from _words(value)


@cache
def _choices() -> Mapping[str, Mapping[str, tuple[str, ...]]]:
    """The words allowed, of every section's words that allow nothing else."""
    return {
        section: {word: found for word, kind in known.items() if (found := one_of(kind))}
        for section, known in WORDS.items()
    }


def _merged(layers: tuple[Layer, ...]) -> dict[str, Plain]:
    """The fields of all layers, the nearest winning."""
    full: dict[str, Plain] = {}
    for layer in reversed(layers):
        full.update(layer.values)
    return full
