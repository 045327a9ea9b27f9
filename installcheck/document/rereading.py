"""A document read again as its texts are changed, letter by letter: what is written as before is not made anew.

It says what :func:`load.loads` would say of the same texts. Things whose text stayed are the same objects as before, so that a
check of it costs what changed.
"""

from __future__ import annotations

from pathlib import Path

from .document import Document
from .edited import read_again
from .files import Files, Opener
from .parsing import read_file, read_source
from .reading import Reading
from .reparsing import parsed_again
from .sections import SHARED
from .source import DocPath, DocumentError, Plain, Source
from .yaml_text import uncollected


class Rereading:
    """One document, read as often as its texts change.

    Args:
        name: its main file, as it is shown.
        folder: where the files it names lie; without one it can name none.
        opener: opens the files it names.
    """

    def __init__(self, name: str, folder: Path | None, opener: Opener = read_file) -> None:
        self.name, self.folder, self.opener = name, folder, opener
        self._before: Document | None = None
        self._sources: dict[str, Source] = {}

    def read(self, text: str) -> Document:
        """The document with ``text`` in its main file.

        Raises:
            DocumentError: it cannot be read; it holds every problem found, with its place.
        """
        with uncollected():
            main = self.source(text.encode(errors="surrogatepass"), self.name)
            files = Files(main, self.folder, opener=self.opener)
            made = self._again(files) if self._before is not None else None
            if made is None:
                made = Reading(Files(main, self.folder, opener=self.opener)).read()
        self._before = made
        return made

    def source(self, raw: bytes, name: str) -> Source:
        """A file's text parsed; the one parsed before, if it says the same."""
        known = self._sources.get(name)
        if known is None or known.raw != raw:
            again = parsed_again(known, raw) if known is not None else None
            known = self._sources[name] = again or read_source(raw, name)
        return known

    def _again(self, files: Files) -> Document | None:
        """The document read where it changed; ``None`` where it has to be read whole, to be sure or to tell what is wrong."""
        before = self._before
        assert before is not None
        if files.problems or any(s.problems for s in (*files.places.sources, *files.part_sources)):
            return None
        if [s.raw for s in files.part_sources] != [s.raw for s in before.files.part_sources]:
            return None
        files.library = before.files.library
        whole = files.joined(SHARED)
        if files.problems:
            return None
        files.knowing(before.files)
        paths = _changed(before, files, whole)
        try:
            return read_again(before, files, whole, paths)
        except DocumentError:
            return None


def _changed(before: Document, files: Files, whole: dict[str, Plain]) -> list[DocPath]:
    """The paths at which something else is written; what is written as before is put back into ``whole`` as it was."""
    same = _Sameness(before, files)
    paths: list[DocPath] = [(section,) for section in before.whole if section not in whole]
    for section, new in whole.items():
        old = before.whole.get(section)
        if isinstance(new, dict) and isinstance(old, dict):
            if list(new) != list(old):
                paths.append((section,))
                paths += [(section, ident) for ident in old if ident not in new]
            for ident, one in new.items():
                was = old.get(ident)
                if was is not None and same.of(was, one):
                    new[ident] = was
                else:
                    paths += same.apart((section, ident), was, one)
        elif isinstance(new, list) and isinstance(old, list):
            kept = [was if same.of(was, one) else one for was, one in zip(old, new, strict=False)]
            whole[section] = [*kept, *new[len(kept) :]]
            if len(old) != len(new) or any(a is not b for a, b in zip(old, kept, strict=True)):
                paths.append((section,))
        elif new is not old:
            paths.append((section,))
    return paths


class _Sameness:
    """Whether two texts say the same, word for word and in the same order, ``unknown`` told from nothing."""

    def __init__(self, before: Document, files: Files) -> None:
        self._old = [s.unknowns for s in before.files.places.sources if s.unknowns]
        self._new = [s.unknowns for s in files.places.sources if s.unknowns]

    def of(self, old: Plain, new: Plain) -> bool:
        if old is new:
            return old is not None
        if isinstance(old, dict) and isinstance(new, dict):
            return list(old) == list(new) and all(
                self._at(old, new, word, one, new[word]) for word, one in old.items()
            )
        if isinstance(old, list) and isinstance(new, list):
            return len(old) == len(new) and all(
                self._at(old, new, n, one, new[n]) for n, one in enumerate(old)
            )
        return isinstance(old, str) and isinstance(new, str) and old == new

    def _at(self, old: object, new: object, key: object, one: Plain, other: Plain) -> bool:
        if one is None or other is None:
            said = [
                any((id(of), key) in u for u in held) for of, held in ((old, self._old), (new, self._new))
            ]
            return one is other and said[0] == said[1]
        return self.of(one, other)

    def apart(self, path: DocPath, old: Plain, new: Plain) -> list[DocPath]:
        """Where what is written of a thing differs, down to its words."""
        if not isinstance(old, dict) or not isinstance(new, dict):
            return [path]
        words = [
            word
            for word in dict.fromkeys((*old, *new))
            if word not in old or word not in new or not self._at(old, new, word, old[word], new[word])
        ]
        return [(*path, word) for word in words] or [path]
