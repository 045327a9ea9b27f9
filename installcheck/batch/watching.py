"""Installations that are judged again at each save."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from ..dataclass import dataclass
from ..document import Document, DocumentError, Problem, load
from ..rules.rejudging import Judged
from ..rules.verdicts import Ledger, Verdict

_PAUSE = 0.2
"""s between two looks at the files; a person does not notice it."""

Stamp = tuple[tuple[str, int, int], ...]


@dataclass(frozen=True, slots=True)
class Saved:
    """What a save comes to.

    Attributes:
        file: the installation, as it was named.
        ledger: what is judged now; ``None`` if it cannot be read as it was saved.
        before: what was judged before; ``None`` the first time it could be read.
        problems: what keeps it from being read.
    """

    file: Path
    ledger: Ledger | None
    before: tuple[Verdict, ...] | None
    problems: tuple[Problem, ...] = ()


def watch(files: Sequence[Path], wait: Callable[[float], None] = time.sleep) -> Iterator[Saved]:
    """Each installation as it stands, then again whenever it or a file it rests on is saved. It does not end by itself."""
    watched = [_Watched(file) for file in files]
    while True:
        for one in watched:
            saved = one.look()
            if saved is not None:
                yield saved
        wait(_PAUSE)


class _Watched:
    def __init__(self, file: Path) -> None:
        self._file = file
        self._rests_on: tuple[Path, ...] = (file,)
        self._judged: Judged | None = None
        self._verdicts: tuple[Verdict, ...] | None = None
        self._seen: Stamp | None = None
        self._done: Stamp | None = None

    def look(self) -> Saved | None:
        """Judge it if it was saved since; ``None`` if it was not, or is being written."""
        now = _stamp(self._rests_on)
        being_written = self._seen is not None and now != self._seen
        self._seen = now
        if now == self._done or being_written:
            return None
        try:
            document = load(self._file)
        except DocumentError as bad:
            self._done = now
            return Saved(self._file, None, self._verdicts, bad.problems)
        known, self._rests_on = self._rests_on, _files_of(self._file, document)
        fresh = tuple(file for file in self._rests_on if file not in known)
        # What was there before is as it was when it was looked at: it may have been saved again while it was read.
        self._seen = self._done = tuple(
            sorted({*_stamp(fresh), *(one for one in now if Path(one[0]) in self._rests_on)})
        )
        if self._judged is None:
            self._judged = Judged(document)
        else:
            self._judged.move(document)
        ledger = self._judged.judge()
        before, self._verdicts = self._verdicts, tuple(ledger.verdicts)
        return Saved(self._file, ledger, before)


def _files_of(file: Path, document: Document) -> tuple[Path, ...]:
    """The files a document rests on: itself, what it includes, its part files, the logs of its surveys."""
    read = [Path(source.name) for source in (*document.sources, *document.files.part_sources)]
    logs = [file.parent / one.log for one in document.installation.survey.values() if one.log is not None]
    return tuple(dict.fromkeys((file, *read, *logs)))


def _stamp(files: Sequence[Path]) -> Stamp:
    """Time and size of each file that is there."""
    found = []
    for file in files:
        try:
            status = file.stat()
        except OSError:
            continue
        found.append((str(file), status.st_mtime_ns, status.st_size))
    return tuple(sorted(found))
