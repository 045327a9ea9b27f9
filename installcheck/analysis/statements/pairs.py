"""Two statements of one fact: what a document says twice, and whether it says the same."""

from __future__ import annotations

import re
from typing import TypeAlias

from ...dataclass import dataclass
from ...document.source import DocPath, Key
from ...model.comparing import at_most
from ...model.quantities import Quantity, conversion
from ..missing import Missing

Field: TypeAlias = tuple[Key, ...]
"""Where the model holds a fact: section, id, and the fields down to it."""


@dataclass(frozen=True, slots=True, eq=False)
class Pair:
    """Two statements of one fact.

    Attributes:
        ident: what they are of.
        path: where the document makes the second of them.
        agree: whether they say the same.
        certain: whether both cannot be true where they do not.
        message: both, in one sentence.
        remedy: what to look at, where they disagree.
        beside: ids of what else they concern.
        open: facts that are not known while they disagree.
        lacks: what else would have to be said to know that they agree.
        instead: what could be written in place of one of the two, so that they agree: (path, text), each looked at first.
        taken: facts that are taken as given while they disagree, the side that asks for more: (fact, value).
    """

    ident: str
    path: DocPath
    agree: bool
    message: str
    remedy: str = ""
    beside: tuple[str, ...] = ()
    open: tuple[Field, ...] = ()
    taken: tuple[tuple[Field, object], ...] = ()
    certain: bool = True
    lacks: tuple[Missing, ...] = ()
    instead: tuple[tuple[DocPath, str], ...] = ()


_LAST_FIGURE = re.compile(r"(?<![/\d.])\d+(?:\.(\d*))?\s*((?:[^\d\s./]\S*\s*)+)$")


def rounding(figure: Quantity) -> float:
    """How far a figure can be from what it was rounded from: half a unit of its last place, in SI; 0 for a fraction.

    >>> from installcheck.model.quantities import parse
    >>> round(rounding(parse("9.5 ft", "length")) / 0.3048, 6)
    0.05
    """
    written = _LAST_FIGURE.search(figure.text.strip())
    if written is None:
        return 0.0
    decimals, unit = len(written.group(1) or ""), written.group(2)
    try:
        factor = conversion(figure.kind, unit)[0]
    except KeyError:
        factor = conversion(figure.kind, figure.unit)[0]
    return 0.5 * 10.0**-decimals * factor


def rises(low: Quantity, high: Quantity) -> bool:
    """Whether a figure is no higher than another; written in two units, they may differ by their rounding."""
    return at_most(low, high + (rounding(low) + rounding(high) if low.unit != high.unit else 0.0))
