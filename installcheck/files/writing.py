"""Writing files whole or not at all: beside the target first, then renamed over it."""

from __future__ import annotations

import os
import stat
import tempfile
from pathlib import Path

from .reading import was_read


class OutputError(Exception):
    """A file that cannot be written, or a form that is not known; the message says why."""


def write_whole(path: Path, data: bytes, *, over: bool = False) -> None:
    """Write ``data`` to ``path`` so that nobody ever sees half of it; a link is followed.

    Args:
        over: whether it may take the place of a file that was read: the user said so.

    Raises:
        OutputError: it was read before and ``over`` is not set, it is no regular file, or its folder does not exist or cannot be written to.
    """
    try:
        target = Path(os.path.realpath(path))
        _require_writable(path, target, over=over)
        handle, beside = tempfile.mkstemp(prefix=f".{target.name[:100]}.", dir=target.parent)
    except OSError as bad:
        raise OutputError(f"'{path}' cannot be written: {bad.strerror or bad}") from None
    except ValueError as bad:  # a name with a null character
        raise OutputError(f"'{path}' cannot be written: {bad}") from None
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            if over:  # what a person wrote is on the disk before the name is
                stream.flush()
                os.fsync(stream.fileno())
        os.chmod(beside, _mode(target))
        os.replace(beside, target)
    except BaseException as bad:
        Path(beside).unlink(missing_ok=True)
        if isinstance(bad, OSError):
            raise OutputError(f"'{path}' cannot be written: {bad.strerror or bad}") from None
        raise


def _mode(target: Path) -> int:
    """Who may do what with the file that is there; with a new one what is usual."""
    if target.exists():
        return stat.S_IMODE(target.stat().st_mode)
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask


def _require_writable(path: Path, target: Path, *, over: bool) -> None:
    if target.is_symlink():
        raise OutputError(f"'{path}' cannot be written: it is a link that leads back to itself")
    if not target.exists():
        return
    if not target.is_file():
        raise OutputError(f"'{path}' cannot be written: it is there and is no regular file")
    if not over and was_read(target):
        raise OutputError(f"'{path}' is a file this is made from: name another to write")
