"""Words on their way to the terminal: none may move the cursor, hide or turn others about, or begin a line of its own."""

from __future__ import annotations

from rich.console import Console
from rich.text import Text

from ...files.names import visible


def seen(words: str, style: str = "") -> Text:
    """A text in one style, every character of it seen as itself."""
    return Text(visible(words), style)


def indented(console: Console, indent: int, text: Text) -> None:
    """Print a text wrapped behind an indent, with nothing left at the ends of lines."""
    for line in text.wrap(console, max(20, console.width - indent)):
        line.rstrip()
        console.print(seen(" " * indent) + line, soft_wrap=True)
