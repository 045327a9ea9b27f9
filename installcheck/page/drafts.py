"""Text that is not saved yet, kept on this machine so that a closed window or a killed program loses nothing."""

from __future__ import annotations

import json
from hashlib import sha256
from pathlib import Path

from platformdirs import user_state_path

from ..dataclass import dataclass
from ..files.writing import write_whole


@dataclass(frozen=True, slots=True)
class Draft:
    """An unsaved text.

    Attributes:
        text: the text.
        based_on: SHA-256 of the file's bytes it was changed from; empty for a document without a file.
        when: UTC, ISO 8601.
    """

    text: str
    based_on: str
    when: str


class Drafts:
    """The unsaved text of one document, by the place of its file.

    Attributes:
        ident: stands for the place of the file.
    """

    def __init__(self, file: Path, folder: Path | None = None) -> None:
        kept = folder if folder is not None else user_state_path("installcheck", appauthor=False) / "drafts"
        named = str(file.resolve()).encode(errors="surrogateescape")
        self.ident = sha256(named).hexdigest()[:32]
        self._file = kept / f"{self.ident}.json"
        self._kept, self._named = kept, str(file.resolve())

    def of(self, file: Path) -> Drafts:
        """The drafts of another document, in the same folder."""
        return Drafts(file, self._kept)

    def read(self) -> Draft | None:
        """What was kept; ``None`` if nothing was, or it cannot be read."""
        try:
            kept = json.loads(self._file.read_text(encoding="utf-8"))
            return Draft(str(kept["text"]), str(kept["based_on"]), str(kept["when"]))
        except (OSError, ValueError, KeyError, TypeError):
            return None

    def keep(self, draft: Draft) -> None:
        """Keep a text, in place of the one before, whole or not at all.

        Raises:
            OutputError: the state folder of this user cannot be written to.
        """
        self._file.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        body = {"file": self._named, "text": draft.text, "based_on": draft.based_on, "when": draft.when}
        write_whole(self._file, json.dumps(body).encode())

    def drop(self) -> None:
        """Forget it: it was saved, or the user said so."""
        self._file.unlink(missing_ok=True)
