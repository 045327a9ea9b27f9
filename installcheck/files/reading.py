"""Reading files: only regular ones, and only so much of them; what was read is remembered, so that it is not written over."""

from __future__ import annotations

import os
import stat
from pathlib import Path

_NOT_A_FILE = (
    (stat.S_ISDIR, "folder"),
    (stat.S_ISFIFO, "pipe"),
    (stat.S_ISSOCK, "socket"),
    (stat.S_ISCHR, "device"),
    (stat.S_ISBLK, "device"),
)


_READ: set[str] = set()
"""Every file read since :func:`forget`, by its real path."""


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
            return handle.read(most + 1)
    except OSError as bad:
        raise UnreadableError(f"cannot be opened: {bad.strerror or bad}") from None
    except ValueError as bad:  # a name with a null character
        raise UnreadableError(f"cannot be opened: {bad}") from None


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
