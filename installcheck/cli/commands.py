"""Every command, in the order the help lists them."""

from __future__ import annotations

import typer

from ..files.reading import forget
from . import main
from .add import add
from .check import check
from .cure import cure
from .draw import draw
from .examine import compare, faults, size_
from .expand import expand
from .explain import basis, schema
from .new import new
from .page import page
from .papers import lists, report
from .parts import parts
from .survey import survey
from .trace import trace

__all__ = ["app", "main"]

app = typer.Typer(
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    help="Checks a description of an aircraft engine-instrument installation, draws it and makes its papers.",
)
app.callback()(forget)
for command in (
    check, cure, draw, lists, report, compare, faults, trace, size_, expand, new, add, page, survey, parts, basis, schema
):  # fmt: skip
    app.command(command.__name__.rstrip("_"))(command)
