"""``parts``: the parts of the library, found by words, with the lines to paste."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

from .console import PlainForm, console, fail


def parts(
    words: Annotated[
        list[str] | None,
        typer.Argument(help="words of the part: 'bulb pt100', '22 AWG shielded'; every part when left out"),
    ] = None,
    section: Annotated[str, typer.Option(help="only parts for this section of a document")] = "",
    of: Annotated[
        Path | None, typer.Option(help="installation whose own part files are looked through as well")
    ] = None,
    form: Annotated[PlainForm, typer.Option(help="text for a person, json for a machine")] = PlainForm.TEXT,
) -> None:
    """Find parts: terminals, sizes, figures and their source, and the lines to paste. Exit status: 1 if none fits."""
    from ..document.part_search import found, sections_with_parts
    from ..document.parts import standard_library
    from ..document.wording import unknown_word
    from .reading import load_document

    library = load_document(of).library if of is not None else standard_library()
    known = sections_with_parts(library)
    if section and section not in known:
        fail(unknown_word(section, known, "section with parts"))
    asked = " ".join(words or ())
    hits = found(library, asked, section)
    exact = [part for part in hits if part.key.lower() == asked.lower()]
    if form is PlainForm.JSON:
        from ..outputs.machine.parts_json import parts_as_json

        sys.stdout.write(parts_as_json(hits))
    elif exact or len(hits) == 1:
        from ..outputs.terminal.parts import print_part

        print_part((exact or hits)[0], console())
    elif hits:
        from ..outputs.terminal.parts import print_parts

        print_parts(hits, console())
    if not hits:
        near = library.nearest(asked, section) if section else library.nearest_of_all(asked)
        hint = f"; near it are {', '.join(near)}" if near else ""
        fail(f"no part has all of '{asked}'{hint}", status=1)
