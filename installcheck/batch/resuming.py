"""What came of files that were judged, kept so that the same call goes on where it was broken off.

A record is lines of text, each sealed by its digest and added as soon as some files are judged: whatever ends the call, all
whole lines stand. What is kept of a file counts only if the very same checker would read the very same bytes: those of the
document and of everything that was asked for beside it, whether or not it was there. What could not be read, or made the
checker fail, is not kept: it is tried again.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterable, Iterator
from datetime import date
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import Any

from ..dataclass import dataclass
from ..document.parts import shipped_files
from ..files.reading import ANY, Asked, UnreadableError, as_asked, read_regular
from ..files.writing import OutputError, write_whole
from ..rules.verdicts import Outcome
from .record import Checked, Record

_TITLE = "what came of installations that installcheck judged"
_MOST = 1 << 28
"""Bytes of a record that are read: some 200,000 files."""


class RecordError(Exception):
    """A record that cannot be used; the message says why."""


@dataclass(frozen=True, slots=True)
class Noted:
    """What came of a file.

    Attributes:
        asked: every file that was asked for to judge it, itself first.
        day: the day on which it was judged, where a verdict hangs on that.
    """

    record: Record
    asked: tuple[Asked, ...]
    day: str = ""


class Kept:
    """A record on disk, of counts alone.

    Args:
        path: where it is; made if there is none.

    Attributes:
        broken: how many of its lines are not whole, and count for nothing.
        other_checker: whether it was kept by another release of the checker, so that nothing in it counts.

    Raises:
        RecordError: what is there is no record, or cannot be read or written.
    """

    def __init__(self, path: Path) -> None:
        self._path = path
        self._found: dict[str, dict[str, Any]] = {}
        self.broken = 0
        self.other_checker = False
        self._take_up()
        lines = [_sealed({"title": _TITLE, "checker": checker_digest()}), *map(_sealed, self._found.values())]
        try:
            write_whole(path, b"".join(lines), over=True)
        except OutputError as bad:
            raise RecordError(str(bad)) from None

    def _take_up(self) -> None:
        if not os.path.lexists(self._path):
            return
        try:
            raw = read_regular(self._path, _MOST)
        except UnreadableError as bad:
            raise RecordError(f"'{self._path}' {bad}") from None
        first, *others = raw.split(b"\n")
        head = _opened(first)
        if head is None or head.get("title") != _TITLE:
            raise RecordError(f"'{self._path}' is no record of a check: name another file, or take it away")
        if head.get("checker") != checker_digest():
            self.other_checker = True
            return
        for line in others[:-1] if others and not others[-1] else others:
            told = _opened(line)
            if told is None or _checked(told) is None:
                self.broken += 1
            else:
                self._found[told["name"]] = told

    def of(self, files: Iterable[Path]) -> Iterator[Checked | None]:
        """What came of each file where it would come out the same now; ``None`` where it is to be judged."""
        same = cache(as_asked)
        today = date.today().isoformat()
        for file in files:
            told = self._found.get(str(file))
            if told is None or told["day"] not in ("", today):
                yield None
                continue
            asked = [Asked(*one) for one in told["asked"]]
            mine = bool(asked) and asked[0].path == os.path.abspath(file)
            yield _checked(told) if mine and all(map(same, asked)) else None

    def add(self, made: Iterable[Noted]) -> None:
        """Keep what came of some files.

        Raises:
            RecordError: it cannot be written.
        """
        lines = b"".join(_sealed(told) for one in made if (told := _told(one)) is not None)
        if not lines:
            return
        try:
            with open(self._path, "ab", buffering=0) as handle:
                if handle.write(lines) != len(lines):
                    raise OSError("it was cut short")
        except OSError as bad:
            raise RecordError(f"'{self._path}' cannot be written: {bad.strerror or bad}") from None


@cache
def checker_digest() -> str:
    """Digest of all that the verdicts come from: the package's code and tables, and the parts shipped with it."""
    package = Path(__file__).parent.parent
    code = (file for kind in ("py", "yaml", "csv") for file in package.rglob(f"*.{kind}"))
    digest = sha256()
    for file in sorted({*code, *shipped_files()}):
        digest.update(sha256(file.read_bytes()).digest())
    return digest.hexdigest()


def _told(one: Noted) -> dict[str, Any] | None:
    made = one.record
    if not isinstance(made, Checked) or made.failed or not all(_stood_still(one.asked)):
        return None
    return {
        "name": made.name,
        "asked": one.asked,
        "day": one.day,
        "title": made.title,
        "revision": made.revision,
        "date": made.date,
        "digest": made.digest,
        "files": made.files,
        "counts": {outcome.value: count for outcome, count in made.counts.items()},
    }


def _stood_still(asked: Iterable[Asked]) -> Iterator[bool]:
    """Of each file, whether it was the same each time it was asked for."""
    seen: dict[tuple[str, bool], Asked] = {}
    for one in asked:
        yield seen.setdefault((one.path, one.digest == ANY), one) == one


def _checked(told: dict[str, Any]) -> Checked | None:
    """A file as it was judged; ``None`` if this is not what :func:`_told` tells."""
    try:
        if not all(isinstance(told[word], str) for word in ("name", "day", "title", "digest")):
            return None
        for one in told["asked"]:
            Asked(*one)
        return Checked(
            told["name"],
            told["title"],
            told["revision"],
            told["date"],
            told["digest"],
            tuple((str(name), str(digest)) for name, digest in told["files"]),
            {outcome: int(told["counts"][outcome.value]) for outcome in Outcome},
            {},
            (),
            (),
        )
    except (KeyError, TypeError, ValueError):
        return None


def _sealed(told: dict[str, Any]) -> bytes:
    body = json.dumps(told, ensure_ascii=True, separators=(",", ":")).encode()
    return sha256(body).hexdigest().encode() + b" " + body + b"\n"


def _opened(line: bytes) -> dict[str, Any] | None:
    seal, _, body = line.partition(b" ")
    if sha256(body).hexdigest().encode() != seal:
        return None
    try:
        told = json.loads(body)
    except ValueError:
        return None
    return told if isinstance(told, dict) else None
