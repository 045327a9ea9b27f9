"""Reading files: only regular ones, and only so much of them; what was read is remembered, so that it is not written over."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator
from contextlib import contextmanager
from hashlib import sha256
from pathlib import Path
from typing import NamedTuple

_NOT_A_FILE = (
    (stat.S_ISDIR, "folder"),
    (stat.S_ISFIFO, "pipe"),
    (stat.S_ISSOCK, "socket"),
    (stat.S_ISCHR, "device"),
    (stat.S_ISBLK, "device"),
)


_READ: set[str] = set()
"""Every file read since :func:`forget`, by its real path."""


class Asked(NamedTuple):
    """A file that was asked for.

    Attributes:
        path: its absolute path, as it was asked for.
        real: the file that it leads to.
        digest: SHA-256 of what was read; empty if nothing could be; ``ANY`` if it was asked only where it leads.
    """

    path: str
    real: str
    digest: str


ANY = "any"
_NOTED: list[list[Asked]] = []
"""Where :func:`noting` notes, for each that is under way."""


class UnreadableError(Exception):
    """A file that is not read; the message says why, without its name."""


def read_regular(path: str | Path, most: int) -> bytes:
    """The bytes of a regular file, ``most`` + 1 of them at most: one more than allowed tells that it is too large.

    A folder, a pipe or a device is refused before it is opened, so that nothing waits and nothing is set off.

    Raises:
        UnreadableError: it is not there, not a regular file, or cannot be read.
    """
    try:
        _require_regular(os.stat(path).st_mode)
        flags = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
        with os.fdopen(os.open(path, flags), "rb") as handle:
            _require_regular(os.fstat(handle.fileno()).st_mode)
            _READ.add(os.path.realpath(path))
            read = handle.read(most + 1)
            note(path, read)
            return read
    except OSError as bad:
        note(path, None)
        raise UnreadableError(f"cannot be opened: {bad.strerror or bad}") from None
    except ValueError as bad:  # a name with a null character
        raise UnreadableError(f"cannot be opened: {bad}") from None


@contextmanager
def noting() -> Iterator[list[Asked]]:
    """Every file asked for until this ends, in order, with the digest of the very bytes that were read."""
    asked: list[Asked] = []
    _NOTED.append(asked)
    try:
        yield asked
    finally:
        _NOTED.pop()


def note(path: str | Path, read: bytes | None) -> None:
    """Note a file that was asked for; ``None`` where there was none, or none that could be read."""
    if _NOTED:
        _note(path, os.path.realpath(path), "" if read is None else sha256(read).hexdigest())


def followed(path: Path) -> Path:
    """Where a path leads, whether or not there is a file.

    Raises:
        OSError, RuntimeError, ValueError: it cannot be followed.
    """
    target = path.resolve()
    if os.path.abspath(path) != str(target):
        _note(path, str(target), ANY)
    return target


def _note(path: str | Path, real: str, digest: str) -> None:
    for asked in _NOTED:
        asked.append(Asked(os.path.abspath(path), real, digest))


def as_asked(one: Asked) -> bool:
    """Whether asking for a file again leads to the same file, with the same bytes, or to none as before."""
    if os.path.realpath(one.path) != one.real:
        return False
    if one.digest == ANY:
        return True
    try:
        read = read_regular(one.path, os.stat(one.path).st_size)
    except (OSError, ValueError, UnreadableError):
        return not one.digest
    return sha256(read).hexdigest() == one.digest


def was_read(path: Path) -> bool:
    """Whether a file was read before, under whatever name."""
    return any(os.path.exists(one) and path.samefile(one) for one in _READ)


def forget() -> None:
    """Start anew: nothing was read yet."""
    _READ.clear()


def _require_regular(mode: int) -> None:
    for is_one, word in _NOT_A_FILE:
        if is_one(mode):
            raise UnreadableError(f"cannot be opened: it is a {word}, not a file")
