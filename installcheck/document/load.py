"""Read an installation: files -> parts resolved -> typed model -> references checked. All problems at once."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from pydantic import ValidationError

from .installation import SPECS, Installation
from .parts import Library, canonical_size, read_parts, standard_library
from .references import check_references
from .source import DocPath, DocumentError, Place, Plain, Problem, Source, mapping, read_file, read_source
from .specs import Spec
from .wording import problems_of, unknown_word
from .yaml_text import uncollected

_MERGED = tuple(f for f in Installation.model_fields if f not in ("installation", "aircraft"))
_ITEM_FIELDS: dict[str, frozenset[str]] = {}
_SPEC_FIELDS = {section: frozenset(spec.model_fields) for section, spec in SPECS.items()}
for _name in SPECS:
    _model = Installation.model_fields[_name].annotation.__args__[1]  # type: ignore[union-attr]
    _ITEM_FIELDS[_name] = frozenset(f.alias or n for n, f in _model.model_fields.items()) - {"spec"}


@dataclass(slots=True)
class Document:
    """A read installation, with the place of everything in it.

    Attributes:
        installation: the typed model.
        name: the main file as it was named.
        folder: folder relative paths in it start from; ``None`` for text without a file.
        digest: SHA-256 of all files read, in the order they were read.
    """

    installation: Installation
    name: str
    folder: Path | None
    digest: str
    sources: tuple[Source, ...]
    library: Library
    _part_of: Mapping[tuple[str, str], tuple[Source, DocPath]] = field(default_factory=dict)

    def place(self, path: DocPath) -> Place:
        """The place of the value at ``path``; of its nearest parent if the document does not hold it."""
        return _place(self.sources, self._part_of, path)

    def declared_unknown(self, path: DocPath) -> bool:
        """Whether the document says ``unknown`` there."""
        return any(s.declared_unknown(path) for s in self.sources)

    def holds(self, path: DocPath) -> bool:
        """Whether the document itself writes a value at ``path``."""
        return any(s.holds(path) for s in self.sources)


def _place(
    sources: tuple[Source, ...],
    parts: Mapping[tuple[str, str], tuple[Source, DocPath]],
    path: DocPath,
    *,
    of_key: bool = False,
) -> Place:
    best, depth = sources[0], -1
    for source in sources:
        found = source.find(path)
        if found[2] > depth:
            best, depth = source, found[2]
    if depth == 2 and len(path) > 2 and (str(path[0]), str(path[1])) in parts:
        part, root = parts[str(path[0]), str(path[1])]
        inside = part.find((*root, *path[2:]))
        if inside[2] > len(root):
            return part.place((*root, *path[2:]))
    return best.place(path, of_key=of_key)


class _Reading:
    """One document being read: its files, its library, and the problems found so far."""

    def __init__(self, main: Source, folder: Path | None) -> None:
        self.main, self.folder = main, folder
        self.sources: list[Source] = [main]
        self.problems: list[Problem] = []
        self.library = standard_library()
        self.part_of: dict[tuple[str, str], tuple[Source, DocPath]] = {}

    def other_files(self, key: str, source: Source) -> list[Source]:
        """The files a top-level list names, each inside the document's folder."""
        names = mapping(source.plain).get(key)
        if names is None:
            return []
        if not isinstance(names, list):
            self.problems.append(Problem(source.place((key,)), f"'{key}' is a list of file names", key))
            return []
        made = []
        for i, name in enumerate(names):
            place = source.place((key, i))
            if not isinstance(name, str):
                self.problems.append(Problem(place, f"'{key}' holds something that is not a file name"))
                continue
            if self.folder is None:
                self.problems.append(Problem(place, "a text without a file cannot name other files", name))
                continue
            target = (self.folder / name).resolve()
            if not target.is_relative_to(self.folder.resolve()):
                self.problems.append(
                    Problem(place, f"'{name}' lies outside the folder of the document", name)
                )
                continue
            if not target.is_file():
                near = [p.name for p in sorted(self.folder.glob("*.yaml"))][:8]
                self.problems.append(
                    Problem(
                        place, f"there is no file '{name}' here; there are {', '.join(near) or 'none'}", name
                    )
                )
                continue
            try:
                made.append(
                    read_file(
                        target,
                        name
                        if source is self.main and "/" not in self.main.name
                        else str(Path(self.main.name).parent / name),
                    )
                )
            except DocumentError as bad:
                self.problems.extend(bad.problems)
        return made

    def merged(self) -> dict[str, Plain]:
        """The sections of all files as one mapping."""
        whole: dict[str, Plain] = {}
        for source in self.sources:
            self.problems.extend(source.problems)
            if source.plain is not None and not isinstance(source.plain, dict):
                self.problems.append(
                    Problem(
                        source.place(()),
                        "the document is not a mapping of sections: 'installation:', 'zones:', 'senders:'...",
                    )
                )
                continue
            for section, value in mapping(source.plain).items():
                if section in ("include", "part_files") or value is None:
                    continue
                if section not in Installation.model_fields:
                    words = [*Installation.model_fields, "include", "part_files"]
                    self.problems.append(
                        Problem(
                            source.place((section,), of_key=True),
                            unknown_word(section, words, "section"),
                            section,
                        )
                    )
                elif section not in whole:
                    whole[section] = (
                        {k: dict(v) if isinstance(v, dict) else v for k, v in value.items()}
                        if isinstance(value, dict)
                        else value
                    )
                else:
                    self._join(whole, section, value, source)
        return whole

    def _join(self, whole: dict[str, Plain], section: str, value: Plain, source: Source) -> None:
        there = whole[section]
        if section not in _MERGED:
            self.problems.append(
                Problem(
                    source.place((section,), of_key=True),
                    f"'{section}' is already in {self.main.name}",
                    section,
                )
            )
        elif isinstance(there, dict) and isinstance(value, dict):
            for ident in value:
                if ident in there:
                    self.problems.append(
                        Problem(
                            source.place((section, ident), of_key=True),
                            f"'{ident}' is already in {self.main.name}",
                            ident,
                        )
                    )
            there.update(value)
        elif isinstance(there, list) and isinstance(value, list):
            whole[section] = [*there, *value]
        else:
            self.problems.append(
                Problem(
                    source.place((section,)),
                    f"'{section}' is a mapping in one file and a list in another",
                    section,
                )
            )

    def resolve(self, section: str, ident: str, raw: Mapping[str, Plain]) -> dict[str, Plain | Spec]:
        """An item with its spec filled from its part and its own overrides."""
        own, spec_fields = _ITEM_FIELDS[section], _SPEC_FIELDS[section]
        item: dict[str, Plain | Spec] = {}
        overrides: dict[str, Plain] = {}
        for word, value in raw.items():
            if word in own:
                item[word] = value
            elif word in spec_fields:
                overrides[word] = value
            else:
                place = self.place((section, ident, word), of_key=True)
                self.problems.append(
                    Problem(place, unknown_word(word, [*own, *spec_fields], f"word under {section}"), word)
                )
        item["spec"] = self._spec(section, ident, raw, overrides)
        return item

    def _spec(self, section: str, ident: str, raw: Mapping[str, Plain], overrides: dict[str, Plain]) -> Spec:
        model = SPECS[section]
        key = raw.get("part")
        figures: dict[str, Plain] = {}
        cached: tuple[str, str | None] | None = None
        if isinstance(key, str):
            part = self.library.parts.get(key)
            if part is None or part.section != section:
                self.problems.append(
                    Problem(self.place((section, ident, "part")), self._no_part(key, section), key)
                )
            else:
                self.part_of[section, ident] = (part.source, part.path)
                written = raw.get("gauge") if "gauge" in raw else raw.get("size")
                size = canonical_size(written) if isinstance(written, str) else None
                try:
                    figures = part.figures(size)
                    cached = (key, size if part.sizes else None)
                except KeyError:
                    asked = (
                        f"does not come in '{written}'"
                        if written
                        else f"needs its {'gauge' if section == 'wire_runs' else 'size'}"
                    )
                    where = "gauge" if "gauge" in raw else "size" if "size" in raw else "part"
                    unit = " AWG" if section == "wire_runs" else ""
                    sizes = ", ".join(f"{s}{unit}" for s in part.sizes)
                    self.problems.append(
                        Problem(
                            self.place((section, ident, where)),
                            f"part '{key}' {asked}; it comes in {sizes}",
                            str(written or key),
                        )
                    )
        if cached and not overrides and (hit := self.library.specs.get(cached)):
            return hit
        try:
            made = model.model_validate({**figures, **overrides})
        except ValidationError as bad:
            self.problems.extend(
                problems_of(bad, model, lambda loc, k: self.place((section, ident, *loc), of_key=k))
            )
            wrong = {str(e["loc"][0]) for e in bad.errors(include_url=False, include_input=False) if e["loc"]}
            rest = {word: value for word, value in {**figures, **overrides}.items() if word not in wrong}
            return model.model_validate(rest) if wrong else model()
        if cached and not overrides:
            self.library.specs[cached] = made
        return made

    def _no_part(self, key: str, section: str) -> str:
        other = self.library.parts.get(key)
        if other is not None:
            return f"part '{key}' belongs under {other.section}, not {section}"
        near = self.library.nearest(key, section)
        return f"there is no part '{key}' for {section}" + (
            f"; did you mean {' or '.join(repr(n) for n in near)}?" if near else ""
        )

    def place(self, path: DocPath, *, of_key: bool = False) -> Place:
        return _place(tuple(self.sources), self.part_of, path, of_key=of_key)

    def read(self) -> Document:
        for source in self.other_files("include", self.main):
            for key in ("include", "part_files"):
                if key in mapping(source.plain):
                    self.problems.append(
                        Problem(
                            source.place((key,), of_key=True),
                            f"an included file cannot have '{key}' itself",
                            key,
                        )
                    )
            self.sources.append(source)
        part_sources = self.other_files("part_files", self.main)
        for source in part_sources:
            more = read_parts(source)
            self.problems.extend(more.problems)
            self.library = self.library.extended(more)
        whole = self.merged()
        if not whole and not self.problems:
            raise DocumentError(
                [
                    Problem(
                        self.main.place(()),
                        "the file is empty; 'installcheck new' writes a document to start from",
                    )
                ]
            )
        for section in SPECS:
            items = whole.get(section)
            if not isinstance(items, dict):
                continue
            whole[section] = {
                ident: self.resolve(section, ident, raw) if isinstance(raw, dict) else raw  # type: ignore[misc]
                for ident, raw in items.items()
            }
        model, dropped = self._validated(whole)
        self.problems.extend(check_references(model, self.place, dropped))
        if self.problems:
            raise DocumentError(self.problems)
        digest = hashlib.sha256(b"".join(s.digest for s in (*self.sources, *part_sources))).hexdigest()
        return Document(
            model, self.main.name, self.folder, digest, tuple(self.sources), self.library, self.part_of
        )

    def _validated(self, whole: dict[str, Plain]) -> tuple[Installation, frozenset[str]]:
        """The typed model; what cannot be typed is told and left out, so that the rest is still checked.

        Returns the model and the ids of items left out whole.
        """
        dropped: set[str] = set()
        for attempt in ("whole", "less bad fields", "less bad items"):
            try:
                return Installation.model_validate(whole), frozenset(dropped)
            except ValidationError as bad:
                if attempt == "whole":
                    self.problems.extend(
                        problems_of(bad, Installation, lambda loc, k: self.place(loc, of_key=k))
                    )
                for error in bad.errors(include_url=False, include_input=False):
                    dropped.update(
                        _leave_out(whole, error["loc"], item=attempt != "whole" or error["type"] == "missing")
                    )
        raise DocumentError(self.problems)


def _leave_out(whole: dict[str, Plain], loc: DocPath, *, item: bool) -> Iterator[str]:
    """Take the field at ``loc`` out of ``whole``, or its item; yields the id of an item taken out."""
    section = str(loc[0])
    things = whole.get(section)
    if section == "installation":
        whole[section] = {"name": "?"}
    elif not isinstance(things, dict) or len(loc) < 2:
        whole.pop(section, None)
    elif section == "aircraft":
        things.pop(str(loc[1]), None)
    else:
        thing = things.get(str(loc[1]))
        if not item and isinstance(thing, dict) and len(loc) > 2 and loc[2] in thing:
            del thing[str(loc[2])]
        elif str(loc[1]) in things:
            del things[str(loc[1])]
            yield str(loc[1])


def load(path: str | Path) -> Document:
    """Read an installation from a YAML file.

    Raises:
        DocumentError: the file cannot be read as an installation; it holds every problem found, with its place.
    """
    file = Path(path)
    with uncollected():
        return _Reading(read_file(file, str(path)), file.parent).read()


def loads(text: str | bytes, name: str = "document") -> Document:
    """Read an installation from text; it can name no other files.

    Raises:
        DocumentError: as :func:`load`.
    """
    with uncollected():
        return _Reading(read_source(text.encode() if isinstance(text, str) else text, name), None).read()
