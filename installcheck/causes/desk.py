"""What judges again: a document tried, by one rule or by all."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from ..analysis.study import Study
from ..document import Document
from ..rules.engine import ask, judge
from ..rules.verdicts import Ledger, Verdict


class Desk:
    """Judges one document at a time, and stands for another within a trial.

    Attributes:
        study: the study of the document it stands for now.
    """

    def __init__(self, document: Document) -> None:
        self.study = Study(document)
        self._tried: tuple[Document, Study] | None = None

    def judge(self) -> Ledger:
        """Judge the document it stands for by every rule."""
        return judge(self.study)

    def ask(self, rule: str) -> list[Verdict]:
        """What one rule says of the document it stands for."""
        return ask(self.study, rule)

    def move(self, document: Document) -> None:
        """Go over to another document, for good."""
        self.study = Study(document)

    @contextmanager
    def trying(self, document: Document) -> Iterator[None]:
        """Stand for another document within the block."""
        before = self.study
        if self._tried is None or self._tried[0] is not document:
            self._tried = document, Study(document)
        self.study = self._tried[1]
        try:
            yield
        finally:
            self.study = before
