"""A document as it was read: the typed model, what is written, and where everything stands."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path

from ..dataclass import dataclass
from ..model.edits import Written
from ..model.installation import Installation
from .expansion import Expansion
from .files import Files
from .parts import Library
from .references import References
from .source import DocPath, Place, Plain, Source, key_in


@dataclass(slots=True)
class Document:
    """A read installation, with the place of everything in it.

    Attributes:
        installation: the typed model.
        name: the main file as it was named.
        folder: folder relative paths in it start from; ``None`` for text without a file.
        digest: SHA-256 over all files read, in the order they were read.
        sources: the main file and those it includes.
        library: every part it could use.
        whole: what is written, joined over the files and as it stands there; never changed once read.
        files: the files it was read from.
        references: what its names were checked against.
        expansion: how what is written of a thing becomes all that is said of it.
    """

    installation: Installation
    name: str
    folder: Path | None
    digest: str
    sources: tuple[Source, ...]
    library: Library
    whole: Mapping[str, Plain]
    files: Files
    references: References
    expansion: Expansion

    def place(self, path: DocPath) -> Place:
        """The place of the value at ``path``; of its nearest parent if the document does not hold it."""
        return self.files.places.place(path)

    def declared_unknown(self, path: DocPath) -> bool:
        """Whether the document says ``unknown`` there."""
        return self.files.places.declared_unknown(path)

    def unknown_paths(self) -> Iterator[DocPath]:
        """Every path at which the document says ``unknown``."""
        return self.files.places.unknown_paths()

    def sizes(self, path: DocPath) -> tuple[Written, ...]:
        """The sizes a part comes in, as its file writes them, of the thing whose gauge or size stands at a path; else none."""
        if len(path) != 3 or path[2] not in ("gauge", "size"):
            return ()
        part, _ = self.files.places.parts.get((str(path[0]), str(path[1])), (None, None))
        return tuple(part.as_written()) if part is not None else ()

    def holds(self, path: DocPath) -> bool:
        """Whether the document itself writes a value at ``path``, or says it for this thing elsewhere."""
        return self.files.places.holds(path)

    def written(self, path: DocPath) -> Plain:
        """What the document itself says at ``path``, as it stands there or where it is said once; ``unknown`` in that word.

        Raises:
            KeyError: it says nothing there.
        """
        if not self.holds(path):
            raise KeyError(path)
        if self.declared_unknown(path):
            return "unknown"
        value: Plain = dict(self.whole)
        for depth, step in enumerate(path):
            value = value[step] if isinstance(value, list) else value[key_in(value, str(step)) or str(step)]  # type: ignore[index,arg-type]
            if depth == 1 and len(path) > 2:
                full = self.expansion.full(str(path[0]), str(path[1]), value)
                # a word of the short form, such as ``line``, stands only in what is written
                value = full if isinstance(full, dict) and str(path[2]) in full else value
        return value

    def supplied(self, section: str, ident: str) -> Mapping[str, Plain]:
        """What the part of a thing says of it, in its size, as it stands in the part file; empty without a part."""
        part, size = self.files.places.parts.get((section, ident), (None, None))
        return part.figures(size) if part is not None else {}

    def said(self, path: DocPath) -> tuple[str, Place] | None:
        """Whose words say the value at ``path``, and where, if the thing does not write it out: ('usual of zones', place)."""
        said = self.files.places.said(path)
        return None if said is None else (said.words, self.files.places.place(path))
