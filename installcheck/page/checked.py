"""What the texts of the window come to."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from ..dataclass import dataclass
from ..document.places import Problem

if TYPE_CHECKING:
    from ..rules.verdicts import Ledger

Shown = Mapping[str, str]
"""Texts of the window by the name of their file; a file it does not name is as it was saved."""


@dataclass(frozen=True, slots=True)
class Checked:
    """What texts come to.

    Attributes:
        serial: number of the question it answers.
        texts: the texts, whole.
        ledger: their verdicts; of the last texts that could be read, if these cannot.
        of: the texts the ledger is of.
        problems: why the texts cannot be read; empty if they can.
    """

    serial: int
    texts: Shown
    ledger: Ledger | None
    of: Shown
    problems: tuple[Problem, ...] = ()
