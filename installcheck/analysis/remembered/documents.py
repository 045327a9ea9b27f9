"""A document of which it is taken down what is asked."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from ...document import Document
from ...document.source import DocPath, Key, Place
from .reads import Token, Tokens
from .sections import put
from .standins import Undo

_TOLD = ("name", "folder", "digest", "sources", "library", "installation")


class WatchedDocument:
    """A document as it is read: what it says of a path, and each of its attributes, are read apart."""

    def __init__(self, plain: Document) -> None:
        self.plain = plain
        self._places, self._told = Tokens(), Tokens()
        self._unknown, self._held = _OfThings(), _OfThings()

    def declared_unknown(self, path: DocPath) -> bool:
        """Whether the document says ``unknown`` there."""
        self._unknown.note(path)
        return self.plain.declared_unknown(path)

    def holds(self, path: DocPath) -> bool:
        """Whether the document itself writes a value at ``path``."""
        self._held.note(path)
        return self.plain.holds(path)

    def place(self, path: DocPath) -> Place:
        """The place of the value at ``path``."""
        self._places.note(path)
        return self.plain.place(path)

    def __getattr__(self, name: str) -> Any:
        if name not in _TOLD:
            raise AttributeError(name)
        self._told.note(name)
        return getattr(self.plain, name)

    def turned_into(self, plain: Document, undo: Undo) -> Iterator[Token]:
        """Let it stand for another document; the tokens of what changed."""
        before = self.plain
        put(self.__dict__, "plain", plain, undo)
        for name, token in self._told.by_key.items():
            if getattr(before, name) is not getattr(plain, name):
                yield token
        for path, token in self._places.by_key.items():
            if before.place(path) != plain.place(path):
                yield token
        for tokens, ask in ((self._unknown, Document.declared_unknown), (self._held, Document.holds)):
            for path, token in tokens.of_others(before, plain):
                if ask(before, path) != ask(plain, path):
                    yield token


class _OfThings:
    """Tokens by path, those that lead into one section together, and in it those that lead into one thing."""

    def __init__(self) -> None:
        self._by_section: dict[str, dict[Key, Tokens]] = {}

    def note(self, path: DocPath) -> None:
        """Take down that it is read."""
        things = self._by_section.setdefault(str(path[0]) if path else "", {})
        ident = path[1] if len(path) > 1 else ""
        tokens = things.get(ident)
        if tokens is None:
            tokens = things[ident] = Tokens()
        tokens.note(path)

    def of_others(self, before: Document, after: Document) -> Iterator[tuple[DocPath, Token]]:
        """Those of things the two documents do not share: what is said of one they share is the same."""
        for section, things in self._by_section.items():
            one, other = (_section(document, section) for document in (before, after))
            if one and one is other:
                continue
            for ident, tokens in things.items():
                thing = one.get(ident)
                if thing is None or thing is not other.get(ident):
                    yield from tokens.by_key.items()


def _section(document: Document, section: str) -> Mapping[Key, object]:
    held = getattr(document.installation, section, None)
    return held if isinstance(held, dict) else {}


class Files:
    """Files that results rest on; another size or time is another content."""

    def __init__(self) -> None:
        self._tokens = Tokens()
        self._seen: dict[Path, tuple[int, int] | None] = {}

    def note(self, file: Path) -> None:
        """Take down that a file is read."""
        if file not in self._seen:
            self._seen[file] = _stamp(file)
        self._tokens.note(file)

    def changed(self) -> Iterator[Token]:
        """The tokens of the files that have changed since they were last looked at."""
        for file, before in self._seen.items():
            self._seen[file] = _stamp(file)
            if self._seen[file] != before:
                yield from self._tokens.of(file)


def _stamp(file: Path) -> tuple[int, int] | None:
    try:
        found = file.stat()
    except OSError:
        return None
    return found.st_mtime_ns, found.st_size
