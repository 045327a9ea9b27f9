"""What people say of an indication: the verbs, the words for how it stands, and what is said for short."""

from __future__ import annotations

import re

from .looks import Word

MOVING = (
    "jumps", "jumped", "swings", "swung", "wavers", "flickers", "fluctuates", "fluctuated", "bounces", "bounced", "wanders", "hunts",
    "cuts out",
)  # fmt: skip
"""Verbs of a pointer that does not keep still."""
STANDING = (
    "sticks", "stuck", "freezes", "froze", "does not move", "doesn't move", "will not move", "won't move",
)  # fmt: skip
"""Those of one that keeps still for good."""
TELLS = (
    *MOVING, *STANDING, "works", "dead", "frozen", "pegged", "erratic", "intermittent", "unsteady", "blank",
)  # fmt: skip
"""Words that tell the result themselves."""
VERB = re.compile(
    r"\s(shows?|showed|reads?|indicates?|indicated|measures|measured|is|are|was|were|holds|"
    r"(?:falls|fell|drops|dropped|rises|rose|climbs|climbed|goes|went) to|falls|moves|stays still|"
    + "|".join(TELLS)
    + r")(?=\s|$)"
)
"""Between what is told of and what is told of it."""
NONE = re.compile(r"\s*no\s+(?P<sign>(?:indication|reading|display)\s+(?:on|of|from|at)\s+)?", re.IGNORECASE)
ALWAYS = re.compile(r"\s+(?:all the time|always|constantly)$")
SAME: dict[str, Word] = {
    "nothing": "dead",
    "no reading": "dead",
    "blank": "dead",
    "OL": "open",
    "no end": "open",
    "off scale": "off scale high",
    "full scale": "off scale high",
    "pegged high": "off scale high",
    "pegged low": "off scale low",
    "too high": "high",
    "too low": "low",
    "ok": "right",
    "as it should": "right",
    "normal": "right",
    "works": "right",
    **dict.fromkeys(STANDING, "frozen"),
    **dict.fromkeys(
        (
            *MOVING, "jumping", "swinging", "wavering", "flickering", "fluctuating", "bouncing", "wandering", "unsteady", "intermittent",
        ),
        "erratic",
    ),
}  # fmt: skip
"""Other ways to say a word."""
APART = re.compile(r"(?P<by>[\d.].*?)\s+(?:too\s+)?(?P<side>high|low)")
"""A value told by how far it is from the truth."""
ENDS = {"empty": "lowest", "full": "highest"}
"""Ends of a dial of contents."""
