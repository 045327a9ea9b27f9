"""``page``: the installation written, judged, drawn and cured in one window of a browser."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from .console import fail, say
from .reading import only_installation


def page(
    file: Annotated[
        Path | None,
        typer.Argument(help="installation to open; the only one in this folder when left out, or an example"),
    ] = None,
    port: Annotated[
        int, typer.Option(min=0, max=65535, help="where to listen; 0 takes any that is free")
    ] = 0,
    stay: Annotated[bool, typer.Option("--stay", help="print the address, and open no browser")] = False,
) -> None:
    """Open the local page: text, drawing and findings in one window. It listens on this machine alone; end it with Ctrl-C."""
    from importlib.resources import files

    from ..files.reading import UnreadableError
    from ..page.desk import Desk
    from ..page.serve import serve

    found = file if file is not None else only_installation()
    example = files("installcheck.page").joinpath("example.yaml").read_text(encoding="utf-8")
    try:
        desk = Desk(found, (found.parent if found is not None else Path()).resolve(), example)
    except UnreadableError as bad:
        fail(f"'{found}' {bad}")

    def started(address: str) -> None:
        say(f"installcheck: open {address}", out=True)
        say("installcheck: it works until Ctrl-C is pressed here", out=True)
        if not stay:
            import webbrowser

            webbrowser.open(address)

    try:
        serve(desk, started, port=port, tour=found is None)
    except OSError as bad:
        fail(f"port {port} cannot be had: {bad.strerror or bad}")
    say("installcheck: the page has ended", out=True)
