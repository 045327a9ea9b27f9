"""One document on the page: its files with their texts, and the last check of them."""

from __future__ import annotations

import os
from pathlib import Path
from threading import Lock

from ..document import Document, loads
from ..document.parsing import read_file, read_source
from ..document.places import DocumentError
from ..document.rereading import Rereading
from ..document.source import Source
from ..document.yaml_text import uncollected
from ..files.reading import UnreadableError
from ..files.writing import OutputError
from ..rules.rejudging import Judged
from .aside import Aside, Failed, Found, Texts
from .cards import Card, card
from .checked import Checked, Shown
from .drafts import Drafts
from .text_file import TextFile

Tables = tuple[tuple[str, int, int], ...]
"""Files that other programs change: name, time and size."""


class Desk:
    """The document a page works on.

    Args:
        file: its main file; ``None`` until it has a name.
        folder: files it names lie here, and nothing else is read.
        example: what a document without a file starts from.
        drafts: where unsaved texts are kept; the user's state folder when left out.

    Attributes:
        main: its main file.
        files: every file of it that was opened, by the name it is shown by; the main one first.
        checked: the last check.

    Raises:
        UnreadableError: the file cannot be read as text.
    """

    def __init__(
        self, file: Path | None, folder: Path, example: str = "", drafts: Path | None = None
    ) -> None:
        self.folder = folder
        kept = Drafts(file if file is not None else folder / ".installcheck-unnamed", drafts)
        self.main = TextFile(file, file.name if file is not None else "installation.yaml", kept, example)
        self.files = {self.main.name: self.main}
        self.checked = Checked(0, {}, None, {})
        self._asking, self._newest = Lock(), 0
        self._tables: Tables = ()
        self._again: Rereading | None = None
        self._judged: Judged | None = None
        self._found: tuple[Shown, Found] | None = None
        self._aside = Aside()

    def whole(self, texts: Shown) -> Shown:
        """The text of every file that was opened, by its name."""
        return {name: texts.get(name, file.saved) for name, file in self.files.items()}

    def check(self, texts: Shown, serial: int) -> Checked | None:
        """Judge texts; ``None`` if newer ones were asked for meanwhile."""
        self._newest = max(self._newest, serial)
        with self._asking, uncollected():
            if serial < self._newest:
                return None
            before, tables = self.checked, self.tables()
            if before.ledger is not None and tables == self._tables and before.of == self.whole(texts):
                self.checked = Checked(serial, before.of, before.ledger, before.of)
                return self.checked
            try:
                document = self._read_again(texts)
            except DocumentError as bad:
                whole = self.whole(texts)
                self.checked = Checked(serial, whole, before.ledger, before.of, tuple(bad.problems))
                return self.checked
            if self._judged is None:
                self._judged = Judged(document)
            else:
                self._judged.move(document)
            whole = self.whole(texts)
            self.checked = Checked(serial, whole, self._judged.judge(), whole)
            self._tables = self.tables()
            return self.checked

    def _read_again(self, texts: Shown) -> Document:
        if self._again is None or self._again.name != self.main.name:
            self._again = Rereading(self.main.name, self.folder)
        again = self._again
        again.opener = lambda path, name: self._opened(texts, path, name, again)
        return again.read(self._raw(texts, self.main).decode(errors="surrogatepass"))

    def _raw(self, texts: Shown, file: TextFile) -> bytes:
        return file.raw(texts.get(file.name, file.saved))

    def _opened(self, texts: Shown, path: Path, name: str, again: Rereading | None = None) -> Source:
        """A file the document names, with the text it has in the window; opened there from now on."""
        if name not in self.files:
            try:
                self.files[name] = TextFile(path, name, self.main.drafts.of(path))
            except UnreadableError:
                return read_file(path, name)
        raw = self._raw(texts, self.files[name])
        return read_source(raw, name) if again is None else again.source(raw, name)

    def read(self, texts: Shown) -> Document:
        """The document of some texts, read from nothing.

        Raises:
            DocumentError: it cannot be read.
        """
        raw = self._raw(texts, self.main)
        return loads(raw, self.main.name, self.folder, opener=lambda p, n: self._opened(texts, p, n))

    def named(self) -> list[str]:
        """The files of the document, and those with a text that is not saved; the main one first.

        While the texts cannot be read, every file that was opened.
        """
        if self.checked.problems:
            return list(self.files)
        ledger = self.checked.ledger
        found = [self.main.name]
        if ledger is not None:
            files = ledger.document.files
            found += [s.name for s in (*files.places.sources, *files.part_sources)]
        found += [
            n for n, text in self.checked.texts.items() if n in self.files and text != self.files[n].saved
        ]
        return [name for name in dict.fromkeys(found) if name in self.files]

    def tables(self) -> Tables:
        """The tables of the document, which other programs change, each as it stands on disk."""
        ledger = self.checked.ledger
        found = []
        for name in (
            dict.fromkeys(s.name for s in ledger.document.sources if s.headings is not None) if ledger else ()
        ):
            try:
                stat = os.stat(self.folder / name)
                found.append((name, stat.st_mtime_ns, stat.st_size))
            except OSError:
                found.append((name, 0, 0))
        return tuple(found)

    def card(self, section: str, ident: str) -> Card | None:
        """The card of a thing, as the texts were judged last; ``None`` if there is no such thing."""
        with self._asking:
            ledger = self.checked.ledger
            return card(ledger, section, ident) if ledger is not None else None

    def causes(self, serial: int) -> Found | Failed | None:
        """What is to be put right in the last texts that could be read; ``None`` if newer ones were asked for."""
        of = self.checked.of
        if self._found is not None and self._found[0] == of:
            return self._found[1]
        texts = self._texts()
        found = self._aside.causes(texts, lambda: serial >= self._newest) if texts is not None else None
        if isinstance(found, Found):
            self._found = (of, found)
        return found

    def found(self, texts: Shown) -> Found | None:
        """What is to be put right in some texts, if it was found of just these."""
        return self._found[1] if self._found is not None and self._found[0] == self.whole(texts) else None

    def sheets(self, serial: int) -> list[tuple[str, str]] | Failed | None:
        """Title and drawing of each sheet of them; ``None`` if newer ones were asked for."""
        texts = self._texts()
        return self._aside.sheets(texts, lambda: serial >= self._newest) if texts is not None else None

    def _texts(self) -> Texts | None:
        """The texts the ledger is of, as they are handed on."""
        checked = self.checked
        if checked.ledger is None:
            return None
        raw = {n: self.files[n].raw(text) for n, text in checked.of.items() if n in self.files}
        return Texts(self.main.name, self.folder, raw)

    def end(self) -> None:
        """End what works for it."""
        self._aside.end()

    def save(self, name: str, text: str, as_name: str = "", over: str = "") -> TextFile:
        """Write the text of one file, whole or not at all; see :meth:`TextFile.save`.

        Args:
            as_name: a file of the folder, for a document that has none yet.

        Raises:
            ConflictError: the file was changed by another program since it was read.
            OutputError: it cannot be written.
        """
        file = self.file(name)
        if file.file is not None:
            file.save(text, over)
            return file
        with self._asking:
            file.save(text, into=self._free(as_name))
            self.files = {file.name: file, **{n: f for n, f in self.files.items() if f is not file}}
            self.checked = Checked(self.checked.serial, {}, None, {})
        return file

    def file(self, name: str) -> TextFile:
        """An open file.

        Raises:
            OutputError: it is none of the document's.
        """
        if name not in self.files:
            raise OutputError(f"'{name}' is not a file of this document")
        return self.files[name]

    def _free(self, name: str) -> Path:
        plain = Path(name).name
        if not name or plain != name or name.startswith(".") or not name.endswith((".yaml", ".yml")):
            raise OutputError("give a file name that ends in .yaml, without a folder")
        file = self.folder / plain
        if file.exists() or file.is_symlink():
            raise OutputError(f"'{plain}' is there already: give another name")
        return file
