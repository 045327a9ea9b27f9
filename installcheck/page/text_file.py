"""One file of the document on the page: its text as it was last read or saved, and what of it is not saved yet."""

from __future__ import annotations

import difflib
from datetime import UTC, datetime
from hashlib import sha256
from pathlib import Path

from ..document.yaml_text import MAX_BYTES
from ..files.reading import UnreadableError, read_regular
from ..files.writing import OutputError, write_whole
from .drafts import Draft, Drafts
from .line_ends import shown, written

MOST_BYTES = 4_000_000
"""Bytes of a file that is opened here; a window would not move any more with a longer one."""
_MISSING = "missing"
_SHOWN = 200
"""Lines of a difference that are shown; more is told by a count."""


class ConflictError(Exception):
    """The file is not what the text was changed from; ``difference`` shows theirs against the text."""

    def __init__(self, digest: str, difference: str) -> None:
        super().__init__("the file was changed by another program")
        self.digest, self.difference = digest, difference


class TextFile:
    """A file of the document, and the text it was last read or saved with.

    Args:
        file: where it is saved; ``None`` until it has a name.
        name: what it is called in messages.
        drafts: what is kept of it.
        text: what a file without a name starts from.

    Attributes:
        saved: its text, as the window shows it.
        digest: SHA-256 of its bytes as they were last read or saved; empty without a file.

    Raises:
        UnreadableError: it cannot be read, is too large, or is no text in UTF-8.
    """

    def __init__(self, file: Path | None, name: str, drafts: Drafts, text: str = "") -> None:
        self.file, self.name, self.drafts = file, name, drafts
        self._written, self.digest = (text, "") if file is None else _read(file)
        self.saved = shown(self._written)

    def raw(self, text: str) -> bytes:
        """The bytes the file would have with a text from the window."""
        return (self._written if text == self.saved else written(text, self._written)).encode(
            errors="surrogatepass"
        )

    def keep(self, text: str) -> None:
        """Keep an unsaved text on this machine; drop what was kept if it is the saved one.

        Raises:
            OutputError: it cannot be kept.
        """
        if text == self.saved and (self.file is not None or not text):
            self.drafts.drop()
        else:
            self.drafts.keep(Draft(text, self.digest, datetime.now(UTC).isoformat(timespec="seconds")))

    def left(self) -> Draft | None:
        """The unsaved text that was kept, if there is one that says something else than the file."""
        draft = self.drafts.read()
        return draft if draft is not None and draft.text != self.saved else None

    def on_disk(self) -> str:
        """Digest of the file as it is now; 'missing' if it is not there, empty without one."""
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
        return self.saved if self.file is None else shown(_read(self.file)[0])

    def reread(self) -> str:
        """Take the file as it is now for the saved text.

        Raises:
            UnreadableError: it cannot be read.
        """
        if self.file is not None:
            self._written, self.digest = _read(self.file)
            self.saved = shown(self._written)
        return self.saved

    def save(self, text: str, over: str = "", into: Path | None = None) -> None:
        """Write a text to the file, whole or not at all.

        Args:
            over: digest of the changed file the user agreed to write over.
            into: the file it is from now on, for one that has none.

        Raises:
            ConflictError: the file was changed by another program since it was read.
            OutputError: it cannot be written.
        """
        file = self.file if self.file is not None else into
        if file is None:
            raise OutputError("give a file name")
        now = self.on_disk()
        if self.file is not None and now not in (self.digest, over):
            try:
                theirs = "" if now == _MISSING else self.theirs()
            except UnreadableError as bad:
                raise ConflictError(now, f"the file {bad}") from None
            raise ConflictError(now, self.between(theirs, text))
        raw = self.raw(text)
        try:
            now_written = raw.decode()
        except UnicodeDecodeError:
            raise OutputError("the text holds half a character, which no file can: take it out") from None
        write_whole(file, raw, over=True)
        self._written, self.saved, self.digest = now_written, text, sha256(raw).hexdigest()
        self.drafts.drop()
        if self.file is None:
            self.file, self.name, self.drafts = file, file.name, self.drafts.of(file)
            self.drafts.drop()

    def difference(self, text: str) -> str:
        """The text against the saved one, as a unified difference; empty if they are the same."""
        return self.between(self.saved, text)

    def between(self, old: str, new: str) -> str:
        """One text against another, as a unified difference."""
        lines = list(
            difflib.unified_diff(
                old.split("\n"), new.split("\n"), self.name, f"{self.name} (here)", lineterm="", n=2
            )
        )
        if len(lines) > _SHOWN:
            lines = [*lines[:_SHOWN], f"... {len(lines) - _SHOWN} more lines"]
        return "\n".join(lines)


def _read(file: Path) -> tuple[str, str]:
    """The text of a file and its digest."""
    raw = read_regular(file, MOST_BYTES)
    if len(raw) > MOST_BYTES:
        raise UnreadableError(f"is larger than the {MOST_BYTES // 1_000_000} MB that are opened here")
    try:
        return raw.decode("utf-8"), sha256(raw).hexdigest()
    except UnicodeDecodeError:
        raise UnreadableError("is no text in UTF-8: save it as UTF-8 first") from None
