"""The installation before the change, where the document names its file."""

from __future__ import annotations

from ..analysis.study import Study, once
from ..document import Document, DocumentError, load


class NotThereError(Exception):
    """No installation before the change can be read; the message says why."""


def replaced(document: Document) -> Document:
    """The document that ``installation.replaces`` names; it lies in the folder of this one.

    Raises:
        NotThereError: none is named, or it cannot be read.
    """
    name = document.installation.installation.replaces
    if name is None:
        raise NotThereError(
            "The document names no installation before this change ('installation.replaces')."
        )
    if document.folder is None:
        raise NotThereError(f"A text without a file cannot name '{name}'.")
    try:
        target = (document.folder / name).resolve()
        inside = target.is_relative_to(document.folder.resolve())
        there = target.is_file()
    except (OSError, RuntimeError, ValueError):
        raise NotThereError(f"'{name}' cannot be followed to a file.") from None
    if not inside:
        raise NotThereError(f"'{name}' lies outside the folder of the document.")
    if not there:
        raise NotThereError(f"There is no file '{name}' in the folder of the document.")
    try:
        return load(document.folder / name)
    except DocumentError as bad:
        raise NotThereError(f"'{name}' cannot be read: {bad.problems[0].message}.") from None


@once
def before(study: Study) -> Study:
    """The installation before the change.

    Raises:
        NotThereError: as :func:`replaced`.
    """
    return Study(replaced(study.document))
