"""``new``: a document to start from."""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path
from shlex import quote
from typing import Annotated

import typer

from .console import fail, say


def new(
    file: Annotated[Path, typer.Argument(help="file to write")] = Path("installation.yaml"),
    name: Annotated[str | None, typer.Option(help="name of the installation")] = None,
    indication: Annotated[
        list[str] | None, typer.Option(help="indication it holds; give it again for each one")
    ] = None,
    engines: Annotated[str | None, typer.Option(help="engines: 1 or 2")] = None,
    cylinders: Annotated[str | None, typer.Option(help="cylinders of the engine, or of each")] = None,
    layout: Annotated[str | None, typer.Option(help="opposed, inline, radial or vee")] = None,
    volts: Annotated[str | None, typer.Option(help="system voltage: 14 or 28")] = None,
    basis: Annotated[str | None, typer.Option(help="certification basis")] = None,
    operation: Annotated[
        list[str] | None, typer.Option(help="VFR day, VFR night, IFR or part 121; give it again for each one")
    ] = None,
    force: Annotated[bool, typer.Option("--force", help="write over a file that is there")] = False,
) -> None:
    """Write a commented document to start from; what no option says is asked, or taken as usual when piped."""
    from ..files.writing import OutputError, write_whole
    from ..starter.questions import wishes
    from ..starter.write import starter

    if (file.exists() or file.is_symlink()) and not force:
        fail(f"{file} is there already; name another file, or add --force to write over it")
    single = {
        "name": name,
        "engines": engines,
        "cylinders": cylinders,
        "layout": layout,
        "volts": volts,
        "basis": basis,
    }
    given = {option: [value] for option, value in single.items() if value is not None}
    given |= {"indication": indication or [], "operation": operation or []}
    try:
        text = starter(wishes(given, ask=_asks(), date=date.today().isoformat()), file.name)
        write_whole(file, text.encode())
    except InterruptedError as left:
        fail(f"broken off; to go on with what you answered: installcheck new {quote(str(file))} {left}")
    except (ValueError, OutputError) as bad:
        fail(str(bad))
    say(f"wrote {file}; next: installcheck check {file}", out=True)


def _asks() -> bool:
    return sys.stdin is not None and sys.stdin.isatty()
