"""Changes of a document's text as a unified diff, in the terminal."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from difflib import unified_diff

from rich.console import Console

from ...document import Document
from .words import seen


def print_diff(document: Document, texts: Mapping[str, bytes], out: str | None, console: Console) -> None:
    """The change of each file, by name; ``out`` is the name the main file is to have, if another."""
    for line in diff_of(document, texts, out):
        style = {"+": "green", "-": "red", "@": "cyan"}.get(line[:1], "")
        console.print(seen(line, style=style), soft_wrap=True)


def diff_of(document: Document, texts: Mapping[str, bytes], out: str | None = None) -> Iterator[str]:
    """The lines of a unified diff."""
    for source in document.sources:
        if source.name not in texts:
            continue
        named = out if out is not None and source.name == document.name else source.name
        yield ""
        old, new = _lines(source.raw), _lines(texts[source.name])
        for line in unified_diff(old, new, source.name, named, lineterm="", n=1):
            yield from line.split("\0")


def _lines(raw: bytes) -> list[str]:
    lines = raw.decode("utf-8-sig").replace("\r\n", "\n").split("\n")
    last = lines.pop()
    return [*lines, f"{last}\0\\ No newline at end of file"] if last else lines
