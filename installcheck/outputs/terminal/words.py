"""Words on their way to the terminal: none may move the cursor, hide or turn others about, or begin a line of its own."""

from __future__ import annotations

from rich.text import Text

from ...files.names import visible


def seen(words: str, style: str = "") -> Text:
    """A text in one style, every character of it seen as itself."""
    return Text(visible(words), style)
