"""Every command, in the order the help lists them, and the entry point."""

from __future__ import annotations

import gc
import sys

import typer

from .check import check
from .draw import draw
from .examine import compare, faults, size_
from .explain import basis, schema
from .new import new
from .papers import lists, report
from .survey import survey

app = typer.Typer(
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    help="Checks a description of an aircraft engine-instrument installation, draws it and makes its papers.",
)
for command in (check, draw, lists, report, compare, faults, size_, new, survey, basis, schema):
    app.command(command.__name__.rstrip("_"))(command)


def main() -> None:
    """Entry point of the ``installcheck`` command."""
    gc.set_threshold(200_000, 50, 50)  # a document is a million small objects, none of them garbage
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(encoding="utf-8", errors="replace")
    try:
        app()
    except BrokenPipeError:
        sys.stderr.close()
        raise SystemExit(1) from None
