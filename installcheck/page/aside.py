"""What takes its time, worked out in a process of its own: causes, cures and sheets never hold up a check or a letter typed."""

from __future__ import annotations

import multiprocessing
import os
import signal
import time
from collections.abc import Callable, Mapping
from contextlib import suppress
from multiprocessing.connection import Connection
from pathlib import Path
from threading import Lock
from typing import Any

from ..analysis.study import Study
from ..causes.causes import find_causes
from ..causes.found import Causes
from ..dataclass import dataclass
from ..document import Document
from ..document.load import loads
from ..document.parsing import read_file, read_source
from ..document.source import Source
from ..model.edits import Edit
from ..rules.engine import judge
from . import answers
from .answers import ways_of
from .drawn import drawn

PATIENCE = 3.0
"""Seconds that an answer nobody waits for any more is still worked on, before the process is begun anew."""


@dataclass(frozen=True, slots=True)
class Texts:
    """The files of a document, as they are in the window.

    Attributes:
        name: its main file, as it is shown.
        folder: where the others lie.
        raw: bytes of each, by name.
    """

    name: str
    folder: Path
    raw: Mapping[str, bytes]

    def read(self) -> Document:
        """The document.

        Raises:
            DocumentError: it cannot be read.
        """

        def opened(path: Path, name: str) -> Source:
            raw = self.raw.get(name)
            return read_file(path, name) if raw is None else read_source(raw, name)

        return loads(self.raw[self.name], self.name, self.folder, opener=opened)


@dataclass(frozen=True, slots=True)
class Found:
    """What is to be put right.

    Attributes:
        answer: what the window is told of it, as plain values.
        ways: of each cause, the changes that cure it; see :func:`answers.ways_of`.
    """

    answer: Mapping[str, Any]
    ways: tuple[tuple[Edit, ...], ...]


@dataclass(frozen=True, slots=True)
class Failed:
    """The checker itself failed; ``words`` say where."""

    words: str


class Aside:
    """A process that works for one window at a time; it ends with this one."""

    def __init__(self) -> None:
        self._turn = Lock()
        self._ours: Connection | None = None
        self._process: multiprocessing.process.BaseProcess | None = None

    def causes(self, texts: Texts, wanted: Callable[[], bool]) -> Found | Failed | None:
        """The causes of a document's discrepancies; ``None`` once it is not ``wanted`` any more."""
        found = self._ask("causes", texts, wanted)
        return found if isinstance(found, (Found, Failed)) else None

    def sheets(self, texts: Texts, wanted: Callable[[], bool]) -> list[tuple[str, str]] | Failed | None:
        """Title and drawing of each sheet; ``None`` once it is not ``wanted`` any more."""
        found = self._ask("sheets", texts, wanted)
        return found if isinstance(found, (list, Failed)) else None

    def end(self) -> None:
        """End the process."""
        if self._process is not None:
            self._process.kill()
            self._process.join()
        if self._ours is not None:
            self._ours.close()
        self._process = self._ours = None

    def _ask(self, what: str, texts: Texts, wanted: Callable[[], bool]) -> object:
        with self._turn:
            if not wanted():
                return None
            try:
                ours = self._begun()
                ours.send((what, texts))
                since = time.monotonic()
                while not ours.poll(0.1):
                    if not wanted() and time.monotonic() - since > PATIENCE:
                        self.end()
                        return None
                return ours.recv()
            except (EOFError, OSError):  # it was killed: the next question begins another
                self.end()
                return None

    def _begun(self) -> Connection:
        if self._ours is None or self._process is None or not self._process.is_alive():
            self.end()
            context = multiprocessing.get_context("spawn")
            self._ours, theirs = context.Pipe()
            self._process = context.Process(target=_work, args=(theirs,), daemon=True)
            self._process.start()
            theirs.close()
        return self._ours


def _work(asked: Connection) -> None:
    """Answer until the other end is gone."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    with suppress(OSError, AttributeError):
        os.nice(5)
    work = _Work()
    while True:
        try:
            what, texts = asked.recv()
        except (EOFError, OSError):
            return
        try:
            told: object = work.sheets(texts) if what == "sheets" else work.causes(texts)
        except Exception as bad:  # the window goes on without them, and says so
            told = Failed(f"{type(bad).__name__}: {bad}")
        try:
            asked.send(told)
        except OSError:  # nobody waits for it any more
            return


class _Work:
    """The document asked of last, with what is to be put right in it."""

    def __init__(self) -> None:
        self._last: tuple[Texts, Causes] | None = None

    def _of(self, texts: Texts) -> Causes:
        if self._last is None or self._last[0] != texts:
            self._last = (texts, find_causes(judge(Study(texts.read()))))
        return self._last[1]

    def causes(self, texts: Texts) -> Found:
        """What is to be put right, with its cures."""
        found = self._of(texts)
        return Found(answers.causes(found), tuple(ways_of(found, one) for one in found.causes))

    def sheets(self, texts: Texts) -> list[tuple[str, str]]:
        """Title and drawing of each sheet."""
        return drawn(self._of(texts))
