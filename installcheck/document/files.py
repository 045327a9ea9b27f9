"""The files of one document: the main one, what it includes, its part files; joined to one mapping with places kept."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from copy import copy
from pathlib import Path

from ..files.reading import UnreadableError, followed, note, read_regular
from .implied import Implied, Said
from .parsing import read_file
from .parts import Library, Part, canonical_size, read_parts, standard_library
from .rows import Wanted
from .sections import ITEMS
from .sheets import ENDINGS, MAX_BYTES
from .source import DocPath, DocumentError, Place, Plain, Problem, Source, mapping
from .tables import read_table
from .wording import listed, nearest, unknown_word

Opener = Callable[[Path, str], Source]
"""Opens a file a document names, by its path and the name it is shown by; raises DocumentError."""
TABLE = "table"
"""The word under a section that names the tables its things stand in."""


class Places:
    """Where each value of the whole document stands, whichever of its files or parts holds it."""

    def __init__(self, main: Source) -> None:
        self.sources = [main]
        self.starts: dict[str, list[tuple[int, Source]]] = {}
        """Of a list joined from several files: at which index of the whole each file's own list starts."""
        self.parts: dict[tuple[str, str], tuple[Part, str | None]] = {}
        """The part, and its size, of each item that has one, by section and id."""
        self.outdated: dict[tuple[str, str], frozenset[str]] = {}
        """Figures of its part that no longer hold of an item, for what it says otherwise: they are as unknown."""
        self.implied: dict[tuple[str, str], Implied] = {}
        """What is implied of each item of which something is, by section and id."""

    def said(self, path: DocPath) -> Said | None:
        """Where the value at ``path`` was said, if the thing does not write it out itself."""
        if len(path) < 3:
            return None
        known = self.implied.get((str(path[0]), str(path[1])))
        return known.said(path[2:]) if known is not None else None

    def spoken(self, said: Said, *, of_key: bool = False) -> Place:
        """The place of what was said."""
        if said.offset < 0:
            return self.place(said.path, of_key=of_key)
        further = self.said(said.path)
        if further is not None:
            return self.spoken(further._replace(offset=max(further.offset, 0) + said.offset))
        source, inner, _ = self._holder(said.path)
        return source.inside(inner, said.offset)

    def text(self, path: DocPath) -> str:
        """The text a file writes at ``path``; empty if it is none."""
        source, inner, depth = self._holder(path)
        value = source.find(inner)[0] if depth == len(path) else None
        return value if isinstance(value, str) else ""

    def place(self, path: DocPath, *, of_key: bool = False) -> Place:
        """The place of the value at ``path``; of its nearest parent if no file holds it."""
        said = self.said(path)
        if said is not None and said.path != path:
            return self.spoken(said, of_key=of_key)
        if said is not None and said.offset >= 0:
            source, inner, _ = self._holder(path)
            return source.inside(inner, said.offset)
        source, inner, depth = self._holder(path)
        if depth == 2 and len(path) > 2 and (used := self.parts.get((str(path[0]), str(path[1])))):
            part, size = used
            for root in _rows(part, size):
                if part.source.find((*root, *path[2:]))[2] > len(root):
                    return part.source.place((*root, *path[2:]))
        return source.place(inner, of_key=of_key)

    def holds(self, path: DocPath) -> bool:
        """Whether the document itself writes a value at ``path``, or says it for this thing elsewhere."""
        return self.said(path) is not None or self._holder(path)[2] == len(path)

    def declared_unknown(self, path: DocPath) -> bool:
        """Whether the document says ``unknown`` there, or what it says otherwise leaves a figure of the part unknown."""
        if not (self.outdated or self.implied or any(source.unknowns for source in self.sources)):
            return False
        if len(path) > 2 and path[2] in self.outdated.get((str(path[0]), str(path[1])), ()):
            return True
        said = self.said(path)
        if said is not None and said.offset >= 0:
            return re.match(r"unknown(?:,|$)", self.text(said.path)[said.offset :]) is not None
        if said is not None and said.path != path:
            return self.declared_unknown(said.path)
        if not any(source.unknowns for source in self.sources):
            return False
        source, inner, _ = self._holder(path)
        return source.declared_unknown(inner)

    def unknown_paths(self) -> Iterator[DocPath]:
        """Every path of a thing at which the document says ``unknown``, of each thing it says it for.

        Cost: linear in the values, if any is unknown, and in the words implied.
        """
        yield from ((*item, word) for item, words in self.outdated.items() for word in sorted(words))
        texts: dict[DocPath, bool] = {}

        def says_it(path: DocPath) -> bool:
            if path not in texts:
                texts[path] = "unknown" in self.text(path)
            return texts[path]

        written = [(source, path) for source in self.sources for path in source.unknown_paths()]
        for source, path in written:
            if len(path) > 1 and isinstance(path[1], int) and path[0] in self.starts:
                start = next(s for s, held in self.starts[str(path[0])] if held is source)
                yield (path[0], start + path[1], *path[2:])
            else:
                yield path
        for (section, ident), known in self.implied.items():
            texts_of = {mark.path for mark in known.marks.values() if mark.offset >= 0}
            saying = {path for path in texts_of if says_it(path)}
            for inner, mark in known.marks.items() if saying else ():
                if (
                    mark.offset >= 0
                    and mark.path in saying
                    and self.declared_unknown((section, ident, *inner))
                ):
                    yield (section, ident, *inner)
            for layer in known.layers if written else ():
                for _, path in written:
                    inner = path[len(layer.path) :]
                    said = known.said(inner) if inner and path[: len(layer.path)] == layer.path else None
                    if said is not None and said.path == path:
                        yield (section, ident, *inner)

    def _holder(self, path: DocPath) -> tuple[Source, DocPath, int]:
        """The file that holds most of ``path``, the path within that file, and how many steps it holds."""
        if len(path) > 1 and isinstance(path[1], int) and path[0] in self.starts:
            start, source = next(s for s in reversed(self.starts[str(path[0])]) if s[0] <= path[1])
            inner = (path[0], path[1] - start, *path[2:])
            return source, inner, source.find(inner)[2]
        best, depth = self.sources[0], -1
        for source in self.sources:
            found = source.find(path)[2]
            if found > depth:
                best, depth = source, found
        return best, path, depth


def _rows(part: Part, size: str | None) -> list[DocPath]:
    """Where a part's figures stand: the row of its size, then the part itself."""
    sizes, _, _ = part.source.find((*part.path, "sizes"))
    rows: list[DocPath] = [
        (*part.path, "sizes", key)
        for key in mapping(sizes)
        if size is not None and canonical_size(key) == size
    ]
    return [*rows, part.path]


class Files:
    """The files of one document.

    Args:
        opener: opens the files it includes and its part files.

    Attributes:
        main: the file the document was read from.
        places: where everything stands.
        library: the standard parts and those of the document's part files.
        part_sources: the document's part files.
        problems: what is wrong with the files and their sections.
        astray: ids under a word that is no section; they count as known.
    """

    def __init__(
        self, main: Source, folder: Path | None, part_folders: Sequence[Path] = (), opener: Opener = read_file
    ) -> None:
        self.main, self.folder, self.part_folders = main, folder, part_folders
        self._opener = opener
        self.places = Places(main)
        self.problems: list[Problem] = []
        self.astray: set[str] = set()
        self.library: Library = standard_library()
        self.part_sources: list[Source] = []
        self._read: set[Path] = set()
        self._read_others()

    def holding(self, sources: Sequence[Source]) -> Files:
        """The same files with other contents; part files as they are."""
        new = copy(self)
        new.main, new.problems = sources[0], []
        new.places = Places(sources[0])
        new.places.sources = list(sources)
        new.knowing(self)
        return new

    def knowing(self, before: Files) -> None:
        """Take over what is known of the things of the same document as it was before."""
        self.places.parts = dict(before.places.parts)
        self.places.outdated = dict(before.places.outdated)
        self.places.implied = dict(before.places.implied)

    def _read_others(self) -> None:
        if self.folder is not None:
            self._read.add((self.folder / Path(self.main.name).name).resolve())
        for source in self._named("include", ()):
            for key in ("include", "part_files"):
                if key in mapping(source.plain):
                    told = f"an included file cannot have '{key}'; only {self.main.name} names other files"
                    self.problems.append(Problem(source.place((key,), of_key=True), told, key))
            self.places.sources.append(source)
        for source in self._named("part_files", self.part_folders):
            self.part_sources.append(source)
            more = read_parts(source)
            self.problems.extend(more.problems)
            self.library = self.library.extended(more)
        for source in list(self.places.sources):
            for section, value in mapping(source.plain).items():
                if section in ITEMS and TABLE in mapping(value):
                    self.places.sources.extend(self._tables(source, section, mapping(value)[TABLE]))

    def _tables(self, source: Source, section: str, named: Plain) -> Iterator[Source]:
        """The tables a section names, each as a source of its own."""
        read: set[tuple[Path, str]] = set()
        path: DocPath = (section, TABLE)
        for i, one in enumerate(named if isinstance(named, list) else [named]):
            place = source.place((*path, i) if isinstance(named, list) else path)
            try:
                name, wanted = _wanted(section, one)
                target, shown = self._found(name, (), ENDINGS)
                if (target, wanted.sheet) in read:
                    raise _NotReadError(f"'{name}' is already read")
                read.add((target, wanted.sheet))
                raw = read_regular(target, MAX_BYTES)
                yield read_table(raw, shown, wanted, self.library)
            except (_NotReadError, UnreadableError) as why:
                self.problems.append(Problem(place, str(why), str(one)))
            except DocumentError as bad:
                self.problems.extend(bad.problems)

    def _named(self, key: str, more_folders: Sequence[Path]) -> list[Source]:
        """The files a list of the main file names."""
        names = mapping(self.main.plain).get(key)
        if names is None:
            return []
        if not isinstance(names, list):
            told = f"'{key}' is a list of file names: write '{key}: [{names if isinstance(names, str) else 'other.yaml'}]'"
            self.problems.append(Problem(self.main.place((key,)), told, key))
            return []
        made = []
        for i, name in enumerate(names):
            place = self.main.place((key, i))
            try:
                made.append(self._open(name, more_folders))
            except _NotReadError as why:
                self.problems.append(Problem(place, str(why), str(name)))
            except DocumentError as bad:
                self.problems.extend(bad.problems)
        return made

    def _open(self, name: Plain, more_folders: Sequence[Path]) -> Source:
        target, shown = self._found(name, more_folders, (".yaml", ".yml"))
        if target in self._read:
            raise _NotReadError(f"'{name}' is already read")
        self._read.add(target)
        return self._opener(target, shown)

    def _found(self, name: Plain, more_folders: Sequence[Path], endings: tuple[str, ...]) -> tuple[Path, str]:
        """A file that is named, and how it is shown."""
        if not isinstance(name, str):
            raise _NotReadError("a file name is wanted here")
        if self.folder is None:
            raise _NotReadError("a text without a file cannot name other files")
        outside = False
        for folder in (self.folder, *more_folders):
            try:
                target = followed(folder / name)
                inside, there = target.is_relative_to(folder.resolve()), target.is_file()
            except (
                OSError,
                RuntimeError,
                ValueError,
            ):  # a loop of links, a name too long or not to be looked at
                raise _NotReadError(f"'{name}' cannot be followed to a file") from None
            outside = outside or not inside
            if inside and not there:
                note(target, None)
            if inside and there:
                shown = Path(self.main.name).parent if folder is self.folder else folder
                return target, str(shown / name)
        if outside:
            raise _NotReadError(f"'{name}' lies outside the folder of the document")
        others = sorted(
            p.name
            for p in self.folder.iterdir()
            if p.suffix.lower() in endings and p.name != Path(self.main.name).name
        )
        near = nearest(Path(name).stem, [Path(other).stem for other in others])
        meant = [other for other in others if Path(other).stem == near][:1] or others[:8]
        hint = f"did you mean '{meant[0]}'?" if near else f"there are {listed(meant) or 'no others'}"
        raise _NotReadError(f"there is no file '{name}' in the folder of the document; {hint}")

    def joined(self, sections: Mapping[str, bool]) -> dict[str, Plain]:
        """The sections of all files as one mapping that can be changed.

        Args:
            sections: the sections there are; true for those that several files can add to.
        """
        whole: dict[str, Plain] = {}
        for source in self.places.sources:
            if source.plain is not None and not isinstance(source.plain, dict):
                told = "the document is not a mapping of sections: 'installation:', 'zones:', 'senders:'..."
                self.problems.append(Problem(source.place(()), told))
                continue
            for section, value in mapping(source.plain).items():
                if section in ("include", "part_files"):
                    continue
                if section not in sections:
                    told = unknown_word(section, [*sections, "include", "part_files"], "section")
                    self.problems.append(Problem(source.place((section,), of_key=True), told, section))
                    self.astray.update(mapping(value))
                elif value is not None:
                    self._join(whole, section, value, source, shared=sections[section])
        return whole

    def _join(
        self, whole: dict[str, Plain], section: str, value: Plain, source: Source, *, shared: bool
    ) -> None:
        there = whole.get(section)
        if section in ITEMS and TABLE in mapping(value) and source.headings is None:
            value = {ident: entry for ident, entry in mapping(value).items() if ident != TABLE}
        if section not in whole:
            whole[section] = dict(value) if isinstance(value, dict) else value
            self.starts_at(section, 0, source)
        elif not shared:
            told = f"'{section}' is already given in {self.places.place((section,)).file}"
            self.problems.append(Problem(source.place((section,), of_key=True), told, section))
        elif isinstance(there, dict) and isinstance(value, dict):
            for ident, entry in value.items():
                if ident in there:
                    first = self.places.place((section, ident))
                    told = f"'{ident}' is already under {section} in {first.spoken}"
                    self.problems.append(Problem(source.place((section, ident), of_key=True), told, ident))
                else:
                    there[ident] = entry
        elif isinstance(there, list) and isinstance(value, list):
            self.starts_at(section, len(there), source)
            whole[section] = [*there, *value]
        else:
            told = f"'{section}' is a mapping in one file and a list in another"
            self.problems.append(Problem(source.place((section,)), told, section))

    def starts_at(self, section: str, index: int, source: Source) -> None:
        """Remember at which index of a joined list a file's own entries start."""
        self.places.starts.setdefault(section, []).append((index, source))


def _wanted(section: str, named: Plain) -> tuple[Plain, Wanted]:
    """The file a table is in, and what is wanted of it."""
    if not isinstance(named, dict):
        if not isinstance(named, str):
            raise _NotReadError("a table is named like 'wires.csv', or {file: wires.xlsx, sheet: Engine}")
        return named, Wanted(section)
    known = ("file", "sheet", "leave_out")
    for word in named:
        if word not in known:
            raise _NotReadError(unknown_word(word, known, "word known of a table"))
    sheet, left_out = named.get("sheet"), named.get("leave_out")
    headings = left_out if isinstance(left_out, list) else [] if left_out is None else [left_out]
    if not isinstance(sheet, (str, type(None))) or not all(isinstance(one, str) for one in headings):
        raise _NotReadError("'sheet' is one name, and 'leave_out' a list of headings")
    return named.get("file"), Wanted(section, sheet or "", tuple(map(str, headings)))


class _NotReadError(Exception):
    """Why a named file is not read."""
