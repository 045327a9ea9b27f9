"""Text as it may be shown: what would move the cursor, hide or turn other text about is written out."""

from __future__ import annotations

import re
import unicodedata

_PLAIN = re.compile(r"[ -~]*")
_BYTE = range(0xDC80, 0xDD00)
"""What Python reads a byte of a file name as that is no text (PEP 383)."""
_UNSEEN = frozenset(("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"))
"""Unicode general categories of control, format, surrogate, private and unassigned characters, and ends of lines."""


def visible(text: str) -> str:
    r"""A text on one line, with every character that is not seen as itself written as its code.

    >>> visible("a\x1b[31mb\nc\u202ed"), visible("\udcff.yaml")
    ('a\\x1b[31mb\\x0ac\\u202ed', '\\xff.yaml')
    """
    if _PLAIN.fullmatch(text):
        return text
    return "".join(map(_shown, text))


def is_seen(character: str) -> bool:
    """Whether a character is seen as itself, on the line it stands on."""
    return unicodedata.category(character) not in _UNSEEN


def _shown(character: str) -> str:
    if is_seen(character):
        return character
    code = ord(character)
    if code in _BYTE:
        return f"\\x{code - 0xDC00:02x}"
    if code < 0x100:
        return f"\\x{code:02x}"
    return f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"
