"""What every command speaks through: the console, a refusal in one line, the forms of an answer."""

from __future__ import annotations

import sys
from enum import StrEnum
from typing import TYPE_CHECKING, NoReturn

from ..files.names import visible

if TYPE_CHECKING:
    from rich.console import Console

    from ..rules.verdicts import Ledger

READ_FAILED = 2
"""Exit status where what was given cannot be read, or is refused."""
CHECKER_FAILED = 3
"""Exit status where the checker itself failed, in a rule or as a whole."""


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


def say(line: str, *, out: bool = False) -> None:
    """Print one line at once, on standard error or on standard output, with nothing in it that is not seen as itself."""
    print(visible(line), file=sys.stdout if out else sys.stderr, flush=True)


def fail(message: str, status: int = READ_FAILED) -> NoReturn:
    """Say in one line why nothing is done, and end.

    Raises:
        SystemExit: always, with ``status``.
    """
    say(f"installcheck: {message}")
    raise SystemExit(status)


def unless_failed(*ledgers: Ledger) -> None:
    """Go on if no rule failed itself; otherwise say on standard error which did, and end.

    Raises:
        SystemExit: a rule failed.
    """
    failed = dict.fromkeys(rule for ledger in ledgers for rule in ledger.failed)
    if failed:
        fail(
            f"the checker itself failed in {', '.join(failed)}: what these rules would find is not told; please report it "
            "together with the document",
            CHECKER_FAILED,
        )
