"""What is to be put right in a document, as it was found; apart from the search, which a sound document does without."""

from __future__ import annotations

from dataclasses import field

from ..analysis.study import Study
from ..dataclass import dataclass
from ..document import Document
from ..document.source import DocPath
from ..model.edits import Edit
from ..rules.verdicts import Ledger, Outcome, Verdict


@dataclass(slots=True)
class Cause:
    """One thing to put right.

    Attributes:
        edits: what is done, which was tried; empty for a verdict that no change found explains.
        explains: the verdicts that vanish with it alone, discrepancies first.
        shares: verdicts that vanish only when other causes are cured as well, with the numbers of those, counted from 1.
        after: numbers of the causes that must be cured first, or it would do harm.
        brings: advisories that come with the cure; where a change without any was found, that one is the cure.
        instead: other changes, each as good as the cure: tried alike, with the same gone and nothing new.
        waits: what is wrong now and waits, once it is cured, for what the document says is unknown.
    """

    edits: tuple[Edit, ...]
    explains: tuple[Verdict, ...]
    shares: tuple[tuple[Verdict, tuple[int, ...]], ...] = ()
    after: tuple[int, ...] = ()
    brings: tuple[Verdict, ...] = ()
    instead: tuple[Edit, ...] = ()
    waits: tuple[Verdict, ...] = ()

    @property
    def verdicts(self) -> tuple[Verdict, ...]:
        """All it makes wrong."""
        return (*self.explains, *(v for v, _ in self.shares))

    @property
    def writable(self) -> bool:
        """Whether a cure was found that can be written without a measurement."""
        return bool(self.edits) and not any(edit.must_measure for edit in self.edits)

    @property
    def heading(self) -> str:
        """What is wrong, with the thing to change; what is judged of it where no change was found."""
        return (self.edits[0].wrong if self.edits else "") or self.verdicts[0].message

    @property
    def path(self) -> DocPath:
        """Where the document tells of what is to be changed."""
        return self.edits[0].paths[0] if self.edits else self.verdicts[0].path

    @property
    def words(self) -> str:
        """What is done, in the imperative; empty if nothing was found."""
        return "; ".join(edit.words for edit in self.edits)


@dataclass(slots=True)
class Causes:
    """What is to be put right in a document.

    Attributes:
        ledger: the document as it was judged.
        cured: the document with every cure made; the document itself where there is none.
        after: what is judged in that.
        causes: worst first.
        advisories: advisories that no cure takes away.
        whole: whether the search ended before its allowance did.
    """

    ledger: Ledger
    cured: Document
    after: tuple[Verdict, ...]
    causes: list[Cause] = field(default_factory=list)
    advisories: tuple[Verdict, ...] = ()
    whole: bool = True

    @property
    def study(self) -> Study:
        """What was judged."""
        return self.ledger.study


def nothing_to_find(ledger: Ledger) -> Causes:
    """What a document without a discrepancy comes to: its advisories are all there is."""
    advisories = tuple(v for v in ledger.verdicts if v.outcome is Outcome.ADVISORY)
    return Causes(ledger, ledger.document, tuple(ledger.verdicts), advisories=advisories)
