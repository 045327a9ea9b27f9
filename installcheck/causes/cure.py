"""The cures of a document's causes written into its text, and what is left then."""

from __future__ import annotations

from collections.abc import Collection

from ..analysis.study import Study
from ..dataclass import dataclass
from ..document.revising import Revision, reread, revised
from ..document.wording import listed
from ..rules.engine import judge
from ..rules.verdicts import Ledger, Outcome, Verdict
from .found import Cause, Causes


class NoSuchCureError(ValueError):
    """A number that names no cure, or one that must not be made alone; the message says what to do."""


@dataclass(slots=True)
class Cured:
    """A document with cures made in its text.

    Attributes:
        causes: what was to be put right.
        revision: the changed text, and which cures could not be written.
        ledger: the changed text as it is judged.
        come: discrepancies and advisories that were not there before.
    """

    causes: Causes
    revision: Revision
    ledger: Ledger
    come: tuple[Verdict, ...]

    def cause(self, number: int) -> Cause:
        """The cause of a number, counted from 1."""
        return self.causes.causes[number - 1]

    @property
    def left(self) -> tuple[Verdict, ...]:
        """The discrepancies that are left."""
        return tuple(v for v in self.ledger.verdicts if v.outcome is Outcome.DISCREPANCY)


def cured(
    causes: Causes, only: Collection[int] = (), also: Collection[str] = (), name: str | None = None
) -> Cured:
    """Cures made in the text of a document, which is read and judged again. Nothing is written to disk.

    Args:
        causes: those found.
        only: numbers of those to cure, counted from 1; all when empty.
        also: names of included files that may be changed beside the main one.
        name: what the main file is called from now on.

    Raises:
        NoSuchCureError: a number has no cure, or one that needs another not named.
        DocumentError: the changed text cannot be read.
    """
    chosen = {number: c.edits for number, c in enumerate(causes.causes, 1) if c.writable}
    if only:
        _require(causes, set(only))
        chosen = {number: chosen[number] for number in sorted(set(only))}
    document = causes.ledger.document
    ordered = {n: chosen[n] for n in sorted(chosen, key=lambda n: (bool(causes.causes[n - 1].after), n))}
    revision = revised(document, ordered, also)
    ledger = judge(Study(reread(document, revision.texts, name)))
    return Cured(causes, revision, ledger, tuple(_come(causes.ledger, ledger)))


def _require(causes: Causes, only: set[int]) -> None:
    with_cure = [n for n, c in enumerate(causes.causes, 1) if c.writable]
    for number in sorted(only):
        if not 1 <= number <= len(causes.causes):
            raise NoSuchCureError(f"there is no {number} among the {len(causes.causes)} things to put right")
        if causes.causes[number - 1].edits and number not in with_cure:
            raise NoSuchCureError(
                f"{number} must be measured: write what is found into the document yourself"
            )
        if number not in with_cure:
            raise NoSuchCureError(
                f"no cure of {number} was found; there is one of {listed(map(str, with_cure))}"
            )
        missing = sorted(set(causes.causes[number - 1].after) - only)
        if missing:
            are = "is: name both" if len(missing) == 1 else "are: name all"
            raise NoSuchCureError(f"{number} is done once {' and '.join(map(str, missing))} {are}")


def _come(before: Ledger, after: Ledger) -> list[Verdict]:
    """Discrepancies and advisories of rules on things that had none of that rule before."""
    grave = (Outcome.DISCREPANCY, Outcome.ADVISORY)
    known = {(v.rule, v.at[:1], v.path[:2]) for v in before.verdicts if v.outcome in grave}
    return [v for v in after.verdicts if v.outcome in grave and (v.rule, v.at[:1], v.path[:2]) not in known]
