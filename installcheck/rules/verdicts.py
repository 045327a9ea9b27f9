"""What a check comes to: verdicts, the coverage of every rule, and the ledger of both."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import field
from enum import StrEnum
from typing import TypeAlias

from ..analysis.missing import without
from ..analysis.study import Study
from ..dataclass import dataclass
from ..document import Document
from ..document.source import DocPath
from ..model.edits import Edit

Cure: TypeAlias = "Edit | Iterable[Edit] | Callable[[], Edit | Iterable[Edit] | None] | None"
"""Changes that may put a verdict right, likeliest first, or what works them out; only asked for where they are wanted."""


class Outcome(StrEnum):
    """How a rule ends on one item."""

    MEETS = "meets"
    DISCREPANCY = "discrepancy"
    ADVISORY = "advisory"
    UNDETERMINED = "undetermined"
    ACCEPTED = "accepted"


@dataclass(slots=True)
class Verdict:
    """The outcome of one rule on one item.

    Attributes:
        outcome: one of the five outcomes.
        at: ids of what it concerns, the item judged first.
        path: where the document tells of it.
        message: one sentence with the numbers.
        value, limit, margin: numbers in ``unit``; margin is negative exactly when the limit is broken.
        unit: unit of the numbers, as the document or the rule states the limit.
        remedy: a computed way out, for a discrepancy or an advisory.
        missing: for ``undetermined``, the data to add, each in words that do not name the item ('route of the run').
        source: document and paragraph, when it is not the rule's own.
        rule: id of the rule; set by the engine.
        deviation: for ``accepted``, who accepted it, on what data and until when.
        failed: for ``undetermined``, whether the rule itself failed, rather than that the document says too little.
        cure: what the rule proposes; see ``cures``.
    """

    outcome: Outcome
    at: tuple[str, ...]
    path: DocPath
    message: str
    value: float | None = None
    limit: float | None = None
    margin: float | None = None
    unit: str = ""
    remedy: str = ""
    missing: tuple[str, ...] = ()
    source: str = ""
    rule: str = ""
    deviation: str = ""
    failed: bool = False
    cure: Cure = field(default=None, repr=False, compare=False)

    @property
    def cures(self) -> tuple[Edit, ...]:
        """Changes the rule proposes, likeliest first. None has been tried."""
        found = self.cure() if callable(self.cure) else self.cure
        return (found,) if isinstance(found, Edit) else tuple(found or ())


def meets(at: Sequence[str], path: DocPath, message: str, **more: object) -> Verdict:
    """A verdict that the rule is kept."""
    return Verdict(Outcome.MEETS, tuple(at), path, message, **more)  # type: ignore[arg-type]


def discrepancy(at: Sequence[str], path: DocPath, message: str, **more: object) -> Verdict:
    """A verdict that a regulation, a standard, the part's limit or plain physics is broken."""
    return Verdict(Outcome.DISCREPANCY, tuple(at), path, message, **more)  # type: ignore[arg-type]


def advisory(at: Sequence[str], path: DocPath, message: str, **more: object) -> Verdict:
    """A verdict that good practice, or a figure of weak source, is not kept."""
    return Verdict(Outcome.ADVISORY, tuple(at), path, message, **more)  # type: ignore[arg-type]


def undetermined(
    at: Sequence[str], path: DocPath, missing: str | Sequence[str], message: str = ""
) -> Verdict:
    """A verdict that the document does not say enough; ``missing`` names what to add."""
    needs = (missing,) if isinstance(missing, str) else tuple(missing)
    return Verdict(
        Outcome.UNDETERMINED,
        tuple(at),
        path,
        message or f"{at[0]}: cannot be judged {without(needs)}",
        missing=needs,
    )


@dataclass(slots=True)
class Tally:
    """Coverage of one rule: how many items ended in each outcome, and how many it did not concern."""

    items: int = 0
    meets: int = 0
    discrepancy: int = 0
    advisory: int = 0
    undetermined: int = 0
    accepted: int = 0
    not_concerned: int = 0


@dataclass(slots=True)
class Ledger:
    """What a check comes to; every output is made of it.

    Attributes:
        study: what was judged, with all that was worked out on the way.
        verdicts: in the order of the rules.
        coverage: by rule.
        document: the document judged.
    """

    study: Study
    verdicts: list[Verdict] = field(default_factory=list)
    coverage: dict[str, Tally] = field(default_factory=dict)
    document: Document = field(init=False)

    def __post_init__(self) -> None:
        self.document = self.study.plain

    @property
    def failed(self) -> tuple[str, ...]:
        """The rules that failed themselves: what they would have found is not known."""
        return tuple(dict.fromkeys(v.rule for v in self.verdicts if v.failed))

    def count(self, outcome: Outcome) -> int:
        """How many verdicts have an outcome."""
        return sum(1 for v in self.verdicts if v.outcome is outcome)
