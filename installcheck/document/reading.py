"""Reads what is written of an installation into its model, and tells what is wrong with it, each with its place."""

from __future__ import annotations

import hashlib
from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import TypeVar

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from ..model.aircraft import Header
from ..model.installation import JOINABLE, SPECS, Installation, Thing, is_one_point, terminals_of
from ..model.power import Ground
from ..model.things import Spec
from .document import Document
from .expansion import SAID_ONCE, Expansion
from .files import Files
from .mending import listless, mended, shape, without
from .named_routes import wrong_in_routes
from .parts import UNKNOWN_SIZE, Part, canonical_size, outdated
from .references import References
from .sections import EVERY_WORD, ITEM_WORDS, ITEMS, LISTS, SHARED, SPEC_WORDS
from .source import DocPath, DocumentError, Place, Plain, Problem
from .usual import gauge_number
from .wording import problems_of, unknown_word

M = TypeVar("M", bound=BaseModel)


class Known:
    """What is read already, and need not be read again: nothing."""

    def things(self, section: str, written: Mapping[str, Plain]) -> Mapping[str, BaseModel]:
        """Those of a section that are as they were read before, by id."""
        return {}

    def entry(self, section: str, raw: Plain) -> BaseModel | None:
        """An entry of a list, if it is as it was read before."""
        return None


_SECTIONS_OF: Mapping[str, Sequence[str]] = {
    word: [section for section, words in EVERY_WORD.items() if word in words]
    for words in EVERY_WORD.values()
    for word in words
}
"""Where each word belongs."""
_LAST = ("wire_runs", "fluid_lines")
"""Sections read when what their things end at is known."""
NAMING = frozenset(
    (
        "terminals",
        "ports",
        "pins",
        "inputs",
        "supply_terminals",
        "kind",
        "principle",
        "case_return",
        "grounding",
        "part",
        "size",
    )
)
"""Words that settle which terminals a thing has."""


class Reading:
    """One document being read.

    Args:
        files: its files.
        known: what was read before of what is still written so.

    What cannot be typed is told and left out, so that the rest is still checked: ``dropped`` holds the ids of things
    left out whole, ``damaged`` those of which a part is missing.
    """

    def __init__(self, files: Files, known: Known | None = None) -> None:
        self.files, self.places, self.known = files, files.places, known or Known()
        self.problems: list[Problem] = []
        self.dropped: set[str] = set()
        self.damaged: set[tuple[str, str]] = set()
        self.things: dict[str, tuple[str, Thing]] = {}
        self._taken: dict[str, Mapping[str, BaseModel]] = {}
        """By section, the things that were read before."""

    def read(self) -> Document:
        files = self.files
        whole = files.joined(SHARED)
        if files.main.plain is None and not files.main.problems:
            told = "the file is empty; 'installcheck new' writes a document to start from"
            raise DocumentError([Problem(files.main.place(()), told)])
        self.dropped |= files.astray
        self.expand(whole)
        model = self.installation(whole)
        references = References(model, self.places.place, self.dropped, self.damaged)
        self.problems.extend(references.all())
        return self.finished(model, whole, references)

    def expand(
        self,
        whole: Mapping[str, Plain],
        before: Installation | None = None,
        again: Collection[str] = (),
        once: Expansion | None = None,
    ) -> None:
        """Settle how what is written becomes all that is said.

        Args:
            whole: what is written.
            before: holds things that are not read again.
            again: the sections that are.
            once: how it became so before, where all that is said once, and the names it uses, are as they were.
        """
        if before is not None:
            self.things = {i: (section, t) for section, i, t in before.things() if section not in again}
        self.expansion = Expansion(whole, self.files.library, self.places, self, once)
        self._said_before = once is not None

    def finished(self, model: Installation, whole: Mapping[str, Plain], references: References) -> Document:
        """The document.

        Raises:
            DocumentError: problems were found.
        """
        if not self._said_before:
            self.problems.extend(
                wrong_in_routes(
                    self.expansion.routes, references, self.places.spoken, self.places.declared_unknown
                )
            )
        self._raise()
        self.known = Known()  # what was before is let go of
        files = self.files
        read = (*self.places.sources, *files.part_sources)
        digest = hashlib.sha256(b"".join(s.digest for s in read)).hexdigest()
        sources = tuple(self.places.sources)
        return Document(
            model,
            files.main.name,
            files.folder,
            digest,
            sources,
            files.library,
            whole,
            files,
            references,
            self.expansion,
        )

    def _raise(self) -> None:
        """Raise what was found; where a text itself is bad, what the model says of it is left unsaid."""
        texts = [p for s in self.places.sources for p in s.problems] + self.expansion.problems
        spoken = {p.place for p in texts}
        rest = [p for p in (*self.files.problems, *self.problems) if p.place not in spoken]
        if texts or rest:
            raise DocumentError([*texts, *rest])

    def installation(self, whole: Mapping[str, Plain]) -> Installation:
        """The sections of a document as a model; what is wrong with them is told."""
        made: dict[str, object] = {}
        for section, value in sorted(whole.items(), key=lambda one: one[0] in _LAST):
            if section in SAID_ONCE:
                continue
            if section in ITEMS and isinstance(value, dict):
                made[section] = self._items(section, value)
            elif section in LISTS and isinstance(value, list):
                made[section] = list(self._entries(section, value))
            elif section in SHARED and not SHARED[section]:
                model = self._item(Installation.model_fields[section].annotation, value, (section,))  # type: ignore[arg-type]
                if model is not None:
                    made[section] = model
            else:
                self._tell((section,), shape(section, value), section)
                if isinstance(value, (list, dict)):
                    whole_things = [value] if isinstance(value, dict) else value
                    named = [one if isinstance(one, dict) else [one] for one in whole_things]
                    self.dropped.update(word for one in named for word in one if isinstance(word, str))
        if "installation" not in whole and not self.files.problems:
            told = "'installation' is missing: a document begins with its name, 'installation: {name: ...}'"
            self._tell((), told)
        made.setdefault("installation", Header(name="?"))
        whole_sections = {section: made[section] for section, known in self._taken.items() if known}
        for section, things in whole_sections.items():  # what was read before need not be looked at again
            assert isinstance(things, dict)
            made[section] = {i: thing for i, thing in things.items() if i not in self._taken[section]}
        try:
            model = Installation.model_validate(made)
        except ValidationError as bad:  # only ids are left to be wrong
            self._tell_all(bad.errors(include_url=False), Installation, ())
            for error in bad.errors(include_url=False, include_input=False):
                bad_id, section = str(error["loc"][1]), str(error["loc"][0])
                self.dropped.add(bad_id)
                for items in (made[section], whole_sections.get(section, {})):
                    assert isinstance(items, dict)
                    items.pop(bad_id, None)
            model = Installation.model_validate(made)
        return model.model_copy(update=whole_sections) if whole_sections else model

    def _entries(self, section: str, entries: Sequence[Plain]) -> Iterator[BaseModel]:
        for i, raw in enumerate(entries):
            item = self.known.entry(section, raw) or self._item(LISTS[section], raw, (section, i))
            if item is not None:
                yield item

    def _items(self, section: str, items: Mapping[str, Plain]) -> dict[str, BaseModel]:
        made: dict[str, BaseModel] = {}
        known = self._taken[section] = self.known.things(section, items)
        for ident, written in items.items():
            before = known.get(ident)
            if before is not None:
                made[ident] = before
                continue
            self.places.parts.pop((section, ident), None)
            self.places.outdated.pop((section, ident), None)
            self.places.implied.pop((section, ident), None)
            raw = self.expansion.item(section, ident, written)
            full = self._resolved(section, ident, raw) if section in SPECS and isinstance(raw, dict) else raw
            item = self._item(ITEMS[section], full, (section, ident))
            if item is None:
                self.dropped.add(ident)
            else:
                made[ident] = item
        if section in JOINABLE:
            self.things.update((ident, (section, thing)) for ident, thing in made.items())  # type: ignore[misc]
        return made

    def terminals(self, ident: str) -> tuple[str, ...] | None:
        """Terminals of a thing read so far; ``None`` where any name will do, it is one point, or it is not known."""
        section, thing = self.things.get(ident, ("", None))
        return None if (section, ident) in self.damaged else _terminals(section, thing)

    def stud(self, ident: str) -> str | None:
        """The stud or screw of its terminals, where it is told."""
        return _stud(self.things.get(ident, ("", None))[1])

    def same_ends(self, ident: str, before: Installation) -> bool:
        """Whether a run or line that ends at a thing read so far finds it as it was before."""
        section, thing = before.find(ident) or ("", None)
        return (_terminals(section, thing), _stud(thing)) == (self.terminals(ident), self.stud(ident))

    def _item(self, kind: type[M], raw: object, path: DocPath) -> M | None:
        """``raw`` as a model; what is wrong with it is told and left out. ``None`` if nothing is left to hold."""
        forgotten: set[DocPath] = set()
        told = False
        while True:
            try:
                return kind.model_validate(raw)
            except ValidationError as bad:
                errors = bad.errors(include_url=False)
            if not isinstance(raw, dict):
                self._tell_all(errors, kind, path)
                return None
            better = mended(raw, errors, kind)
            if better is not None:
                raw = better
                continue
            unknown = {loc for e in errors if (loc := self._unknown(e, raw, path, forgotten))}
            if unknown:
                forgotten |= unknown
                for loc in unknown:
                    raw = without(raw, loc)
                continue
            if not told:
                self._tell_all(errors, kind, path, forgotten)
            told = True
            wrong = {str(e["loc"][0]) for e in errors if e["loc"]} & raw.keys()
            if len(path) == 2 and wrong & NAMING:
                self.damaged.add((str(path[0]), str(path[1])))
            if not wrong:
                return None
            raw = {word: value for word, value in raw.items() if word not in wrong}

    def _unknown(
        self, error: ErrorDetails, raw: Mapping[str, object], path: DocPath, forgotten: set[DocPath]
    ) -> DocPath | None:
        """What to leave out because it cannot be without a figure the document says is ``unknown``.

        A range whose lowest is unknown is itself unknown, and so is a list with an unknown entry.
        """
        loc: DocPath = error["loc"]
        if len(loc) > 1 and error["input"] is None and self.places.declared_unknown((*path, *loc)):
            return listless(raw, loc)
        owed = [f for f in forgotten if f[: len(loc)] == loc]
        if owed and loc:
            return loc if len(owed[0]) > len(loc) else loc[:-1] or None
        return None

    def _resolved(self, section: str, ident: str, raw: Mapping[str, Plain]) -> dict[str, Plain | Spec]:
        """An item with its spec filled from its part and its own overrides."""
        own, spec_words = ITEM_WORDS[section], SPEC_WORDS[section]
        item: dict[str, Plain | Spec] = {}
        overrides: dict[str, Plain] = {}
        for word, value in raw.items():
            if word in own:
                item[word] = value
            elif word in spec_words:
                overrides[word] = value
            else:
                self.damaged.add((section, ident))
                told = unknown_word(
                    word, [*own, *spec_words], f"word under {section}", elsewhere=_SECTIONS_OF.get(word, ())
                )
                self._tell((section, ident, word), told, word, of_key=True)
        item["spec"] = self._spec(section, ident, raw, overrides)
        return item

    def _spec(self, section: str, ident: str, raw: Mapping[str, Plain], overrides: dict[str, Plain]) -> Spec:
        key = raw.get("part")
        figures: dict[str, Plain] = {}
        cached: tuple[str, str | None] | None = None
        if isinstance(key, str):
            part = self.files.library.parts.get(key)
            if part is None or part.section != section:
                self._tell((section, ident, "part"), self._no_part(key, section), key)
                self.damaged.add((section, ident))
            else:
                where = "gauge" if "gauge" in raw else "size"
                written = raw.get(where)
                size = canonical_size(written) if isinstance(written, str) else None
                if self.places.declared_unknown((section, ident, where)):
                    size = UNKNOWN_SIZE
                self.places.parts[section, ident] = part, size
                try:
                    figures = part.figures(size)
                    cached = (key, size if part.sizes else None)
                except KeyError:
                    self._no_size(section, ident, part, where, written)
        library = self.files.library.specs
        if cached and not overrides and (hit := library.get(cached)):
            return hit
        gone = outdated(SPECS[section], figures, overrides)
        if gone - SPECS[section].worked_out:
            self.places.outdated[section, ident] = gone - SPECS[section].worked_out
        figures = {word: value for word, value in figures.items() if word not in gone}
        made = self._item(SPECS[section], {**figures, **overrides}, (section, ident)) or SPECS[section]()
        if cached and not overrides and (section, ident) not in self.damaged:
            library[cached] = made
        return made

    def _no_part(self, key: str, section: str) -> str:
        other = self.files.library.parts.get(key)
        if other is not None:
            return f"part '{key}' belongs under {other.section}, not {section}"
        near = self.files.library.nearest(key, section)
        hint = (
            f"; did you mean {' or '.join(repr(n) for n in near)}?"
            if near
            else f"; 'installcheck parts {key}' looks for one, and a part file can hold it"
        )
        return f"there is no part '{key}' for {section}{hint}"

    def _no_size(self, section: str, ident: str, part: Part, where: str, written: object) -> None:
        wire = section == "wire_runs"
        self.damaged.add((section, ident))
        if where == "gauge" and isinstance(written, str) and gauge_number(written) is None:
            return  # that it is no gauge is told where it is read
        sizes = [f"{s} AWG" if wire and s.isdigit() else s for s in part.as_written()]
        asked = f"does not come in '{written}'" if written else f"needs its {'gauge' if wire else 'size'}"
        meant = [s for s in sizes if written and s.split(" ")[0] == str(written).strip()]
        right = f"write '{meant[0]}'" if len(meant) == 1 else f"it comes in {', '.join(sizes)}"
        path = (section, ident, where if written else "part")
        self._tell(path, f"part '{part.key}' {asked}; {right}", str(written or part.key))

    def _tell(self, path: DocPath, message: str, text: str = "", *, of_key: bool = False) -> None:
        self.problems.append(Problem(self.places.place(path, of_key=of_key), message, text))

    def _tell_all(
        self,
        errors: Sequence[ErrorDetails],
        kind: type[BaseModel],
        path: DocPath,
        forgotten: Collection[DocPath] = (),
    ) -> None:
        """Tell what is wrong; what follows from words already refused in the same item is left unsaid."""
        damaged = len(path) == 2 and (str(path[0]), str(path[1])) in self.damaged
        said = [e for e in errors if not (damaged and (not e["loc"] or e["type"] == "missing"))]

        def locate(loc: DocPath, of_key: bool) -> Place:
            return self.places.place((*path, *loc), of_key=of_key)

        def unknown(loc: DocPath) -> bool:
            return loc in forgotten or self.places.declared_unknown((*path, *loc))

        self.problems.extend(problems_of(said, kind, locate, unknown, _SECTIONS_OF))


def _terminals(section: str, thing: Thing | None) -> tuple[str, ...] | None:
    return None if thing is None or is_one_point(thing) else terminals_of(section, thing)


def _stud(thing: Thing | None) -> str | None:
    stud = thing.stud if isinstance(thing, Ground) else getattr(getattr(thing, "spec", None), "stud", None)
    return stud.text if stud is not None else None
