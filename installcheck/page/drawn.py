"""The sheets of a document as the page shows them."""

from __future__ import annotations

import re
from hashlib import sha256

from ..causes.found import Causes
from ..drawing.page import compose
from ..drawing.svg import page_svg
from ..outputs.diagram.sheets import Subject, sheets

_STYLE = re.compile(r"<style>.*?</style>", re.DOTALL)
"""The page has its own, under its content policy."""


def drawn(causes: Causes) -> list[tuple[str, str]]:
    """Title and SVG of every sheet, in the order they are bound; the flags are numbered as the causes are."""
    ledger = causes.ledger
    made = sheets(ledger.document, ledger, list(Subject), causes=causes)
    pages = [compose(sheet) for sheet in made]
    return [
        (p.title, _STYLE.sub("", page_svg(p, prefix=f"s{n}-").decode())) for n, p in enumerate(pages, start=1)
    ]


def digest(svg: str) -> str:
    """A short name of a drawing's content: the same for the same drawing."""
    return sha256(svg.encode()).hexdigest()[:24]
