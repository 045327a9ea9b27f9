"""Writing files whole or not at all: beside the target first, then renamed over it."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path


class OutputError(Exception):
    """A file that cannot be written, or a form that is not known; the message says why."""


def write_whole(path: Path, data: bytes) -> None:
    """Write ``data`` to ``path`` so that nobody ever sees half of it.

    Raises:
        OutputError: the folder does not exist or cannot be written to.
    """
    try:
        handle, beside = tempfile.mkstemp(prefix=f".{path.name}.", dir=path.parent)
    except OSError as bad:
        raise OutputError(f"'{path}' cannot be written: {bad.strerror}") from None
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
        mask = os.umask(0)
        os.umask(mask)
        os.chmod(beside, 0o666 & ~mask)
        os.replace(beside, path)
    except OSError as bad:
        Path(beside).unlink(missing_ok=True)
        raise OutputError(f"'{path}' cannot be written: {bad.strerror}") from None
