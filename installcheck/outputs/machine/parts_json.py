"""Parts as JSON: key, section, title, terminals, sizes, figures as they are written, source, lines to paste."""

from __future__ import annotations

from collections.abc import Sequence

from ...document.part_search import figures, lines_for, terminals
from ...document.parts import Part
from ..wording import CAUTION, VERSION
from .json_text import json_text


def parts_as_json(parts: Sequence[Part]) -> str:
    """Parts as JSON text, in the order given."""
    return json_text(
        {
            "tool": {"name": "installcheck", "version": VERSION},
            "caution": CAUTION,
            "parts": [
                {
                    "key": part.key,
                    "section": part.section,
                    "title": part.raw.get("title"),
                    "terminals": list(terminals(part)),
                    "sizes": part.as_written(),
                    "figures": dict(figures(part)),
                    "source": part.raw.get("source"),
                    "lines": lines_for(part),
                }
                for part in parts
            ],
        }
    )
