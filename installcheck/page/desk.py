"""One document on the page: its text, its file, and the last check of it."""

from __future__ import annotations

import difflib
from collections.abc import Callable
from datetime import UTC, datetime
from hashlib import sha256
from pathlib import Path
from threading import Lock
from typing import TYPE_CHECKING, TypeVar

from ..analysis.study import Study
from ..causes.causes import find_causes
from ..causes.found import Causes
from ..dataclass import dataclass
from ..document import Document, loads
from ..document.places import DocumentError, Problem
from ..document.yaml_text import MAX_BYTES
from ..files.reading import UnreadableError, read_regular
from ..files.writing import OutputError, write_whole
from ..rules.engine import judge
from ..rules.rejudging import Judged
from .cards import Card, card
from .drafts import Draft, Drafts
from .drawn import drawn

if TYPE_CHECKING:
    from ..rules.verdicts import Ledger

T = TypeVar("T")
_MISSING = "missing"
_SHOWN = 200
"""Lines of a difference that are shown; more is told by a count."""


class ConflictError(Exception):
    """The file is not what the text was changed from; ``difference`` shows theirs against the text."""

    def __init__(self, digest: str, difference: str) -> None:
        super().__init__("the file was changed by another program")
        self.digest, self.difference = digest, difference


@dataclass(frozen=True, slots=True)
class Checked:
    """What a text comes to.

    Attributes:
        serial: number of the question it answers.
        text: the text.
        ledger: its verdicts; of the last text that could be read, if this one cannot.
        of: the text the ledger is of.
        problems: why the text cannot be read; empty if it can.
    """

    serial: int
    text: str
    ledger: Ledger | None
    of: str
    problems: tuple[Problem, ...] = ()


class Desk:
    """The document a page works on.

    Attributes:
        file: where it is saved; ``None`` until it has a name.
        folder: files it names lie here, and nothing else is read.
        name: what it is called in messages.
        saved: the text as it is in the file.
        digest: SHA-256 of the file as it was last read or saved; empty without a file.
        checked: the last check.
    """

    def __init__(
        self, file: Path | None, folder: Path, example: str = "", drafts: Path | None = None
    ) -> None:
        self.file, self.folder = file, folder
        self.checked = Checked(0, "", None, "")
        self._asking, self._slow, self._newest = Lock(), Lock(), 0
        self._judged: Judged | None = None
        self._causes: Causes | None = None
        self._drawn: tuple[Document | None, list[tuple[str, str]]] = (None, [])
        self.name = file.name if file is not None else "installation.yaml"
        self.drafts = Drafts(file if file is not None else folder / ".installcheck-unnamed", drafts)
        self.saved, self.digest = (example, "") if file is None else self._read(file)
        self.newline = "\r\n" if "\r\n" in self.saved else "\n"

    @staticmethod
    def _read(file: Path) -> tuple[str, str]:
        """The text of a file and its digest.

        Raises:
            UnreadableError: it cannot be read, is too large, or is no text in UTF-8.
        """
        raw = read_regular(file, MAX_BYTES)
        if len(raw) > MAX_BYTES:
            raise UnreadableError("is too large to be read")
        try:
            return raw.decode("utf-8"), sha256(raw).hexdigest()
        except UnicodeDecodeError:
            raise UnreadableError("is no text in UTF-8: save it as UTF-8 first") from None

    def check(self, text: str, serial: int) -> Checked | None:
        """Judge a text; ``None`` if a newer one was asked for meanwhile."""
        self._newest = max(self._newest, serial)
        with self._asking:
            if serial < self._newest:
                return None
            before = self.checked
            if before.ledger is not None and before.of == text and not before.problems:
                self.checked = Checked(serial, text, before.ledger, text)
                return self.checked
            try:
                document = loads(text, self.name, self.folder)
            except DocumentError as bad:
                self.checked = Checked(serial, text, before.ledger, before.of, tuple(bad.problems))
                return self.checked
            if self._judged is None:
                self._judged = Judged(document)
            else:
                self._judged.move(document)
            self.checked = Checked(serial, text, self._judged.judge(), text)
            return self.checked

    def card(self, section: str, ident: str) -> Card | None:
        """The card of a thing, as the text was judged last; ``None`` if there is no such thing."""
        with self._asking:
            ledger = self.checked.ledger
            return card(ledger, section, ident) if ledger is not None else None

    def causes(self, serial: int) -> Causes | None:
        """What is to be put right in the last text that could be read; ``None`` if a newer one was asked for."""
        return self._whole(serial, self._find_causes)

    def sheets(self, serial: int) -> list[tuple[str, str]] | None:
        """Title and drawing of each sheet of it; ``None`` if a newer one was asked for."""
        return self._whole(serial, self._draw)

    def _whole(self, serial: int, answer: Callable[[Document], T]) -> T | None:
        """What takes its time is worked out beside the checks, of a study of its own."""
        with self._slow:
            ledger = self.checked.ledger
            if ledger is None or serial < self._newest:
                return None
            return answer(ledger.document)

    def _find_causes(self, document: Document) -> Causes:
        if self._causes is None or self._causes.ledger.document is not document:
            self._causes = find_causes(judge(Study(document)))
        return self._causes

    def _draw(self, document: Document) -> list[tuple[str, str]]:
        if self._drawn[0] is not document:
            self._drawn = (document, drawn(self._find_causes(document)))
        return self._drawn[1]

    def keep(self, text: str) -> None:
        """Keep an unsaved text on this machine; drop what was kept if it is the saved one.

        Raises:
            OutputError: it cannot be kept.
        """
        if text == self.saved and (self.file is not None or not text):
            self.drafts.drop()
        else:
            self.drafts.keep(Draft(text, self.digest, datetime.now(UTC).isoformat(timespec="seconds")))

    def on_disk(self) -> str:
        """Digest of the file as it is now; 'missing' if it is not there, empty for a document without one."""
        if self.file is None:
            return ""
        try:
            return sha256(read_regular(self.file, MAX_BYTES)).hexdigest()
        except UnreadableError:
            return _MISSING

    def theirs(self) -> str:
        """The file's text as it is now.

        Raises:
            UnreadableError: it cannot be read.
        """
        if self.file is None:
            return self.saved
        return self._read(self.file)[0]

    def reread(self) -> str:
        """Take the file as it is now for the saved text.

        Raises:
            UnreadableError: it cannot be read.
        """
        if self.file is not None:
            self.saved, self.digest = self._read(self.file)
        return self.saved

    def save(self, text: str, name: str = "", over: str = "") -> None:
        """Write the text to its file, whole or not at all.

        Args:
            name: a file of the folder, for a document that has none yet.
            over: digest of the changed file the user agreed to write over.

        Raises:
            ConflictError: the file was changed by another program since it was read.
            OutputError: it cannot be written.
        """
        file = self.file if self.file is not None else self._named(name)
        now = self.on_disk()
        if self.file is not None and now not in (self.digest, over):
            raise ConflictError(now, self.difference_of("" if now == _MISSING else self.theirs(), text))
        raw = text.encode("utf-8")
        write_whole(file, raw, over=True)
        if self.file is None:
            self.drafts.drop()
            self.file, self.name, self.drafts = file, file.name, self.drafts.of(file)
        self.saved, self.digest = text, sha256(raw).hexdigest()
        self.drafts.drop()

    def _named(self, name: str) -> Path:
        plain = Path(name).name
        if not name or plain != name or name.startswith(".") or not name.endswith((".yaml", ".yml")):
            raise OutputError("give a file name that ends in .yaml, without a folder")
        file = self.folder / plain
        if file.exists() or file.is_symlink():
            raise OutputError(f"'{plain}' is there already: give another name")
        return file

    def difference(self, text: str) -> str:
        """The text against the saved one, as a unified difference; empty if they are the same."""
        return self.difference_of(self.saved, text)

    def difference_of(self, old: str, new: str) -> str:
        """One text against another, as a unified difference."""
        lines = list(
            difflib.unified_diff(
                old.splitlines(), new.splitlines(), self.name, f"{self.name} (here)", lineterm="", n=2
            )
        )
        if len(lines) > _SHOWN:
            lines = [*lines[:_SHOWN], f"... {len(lines) - _SHOWN} more lines"]
        return "\n".join(lines)
