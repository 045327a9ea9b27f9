"""What every command speaks through: the console, a refusal in one line, the forms of an answer."""

from __future__ import annotations

import sys
from enum import StrEnum
from typing import TYPE_CHECKING, NoReturn

import typer

if TYPE_CHECKING:
    from rich.console import Console

READ_FAILED = 2
"""Exit status where what was given cannot be read, or is refused."""


class PlainForm(StrEnum):
    """How an answer is printed."""

    TEXT = "text"
    JSON = "json"


def console(*, stderr: bool = False) -> Console:
    """A console on standard output, or on standard error; plain where it is no terminal."""
    from rich.console import Console

    stream = sys.stderr if stderr else sys.stdout
    plain = not stream.isatty()
    return Console(
        file=stream, width=110 if plain else None, highlight=False, no_color=plain or None, soft_wrap=False
    )


def fail(message: str) -> NoReturn:
    """Say in one line why nothing is done, and end.

    Raises:
        Exit: always, with the status of what cannot be read.
    """
    print(f"installcheck: {message}", file=sys.stderr)
    raise typer.Exit(READ_FAILED)
