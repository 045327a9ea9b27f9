"""The command line: a thin layer over the functions of the package."""

import os
import sys


def main() -> None:
    """Entry point of the ``installcheck`` command."""
    from .ending import guarded

    guarded(_command)


def _command() -> None:
    words = sys.argv[1:]
    if words[:1] == ["check"] and os.name == "posix" and not any(word.startswith("-") for word in words):
        _plain_check(words[1:])
    from .commands import app

    app()


def _plain_check(names: list[str]) -> None:
    """``check`` with nothing but files: what reads options takes a tenth of such a check to load, and is not needed.

    Raises:
        SystemExit: always.
    """
    from pathlib import Path

    from ..files.reading import forget
    from .checking import run_check
    from .ending import end_at_once

    end_at_once()
    forget()
    run_check([Path(name) for name in names])
