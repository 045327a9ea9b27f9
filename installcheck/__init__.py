"""Checks a description of an aircraft engine-instrument installation.

Three verbs cover most uses::

    document = installcheck.load("retrofit.yaml")
    ledger = installcheck.check(document)
    installcheck.draw(document, ledger, "retrofit.svg")
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from .document import Document
    from .rules.verdicts import Ledger


def __getattr__(name: str) -> str:
    """``__version__``, looked up when it is asked for: that takes longer than all else here."""
    if name == "__version__":
        from importlib.metadata import version

        return version("installcheck")
    raise AttributeError(f"module '{__name__}' has no attribute '{name}'")


def load(path: str | Path) -> Document:
    """Read an installation from a YAML file.

    Raises:
        DocumentError: it cannot be read; every problem found is in it, with file, line and column.
    """
    from .document import load as read

    return read(path)


def check(document: Document, rules: Iterable[str] | None = None) -> Ledger:
    """Judge a document by every rule, or by those named; verdicts and coverage.

    Raises:
        KeyError: a rule that does not exist.
    """
    from .analysis.study import Study
    from .rules.engine import judge

    return judge(Study(document), rules)


def draw(document: Document, ledger: Ledger | None, out: str | Path) -> list[Path]:
    """Draw the whole installation with the verdicts of ``ledger`` marked; the ending of ``out`` picks the form.

    Returns the files written: one a sheet, except for pdf; for dot one that holds the graph, without verdicts.

    Raises:
        OutputError: the ending is not known or the file cannot be written.
    """
    from pathlib import Path

    from .analysis.study import Study
    from .outputs.diagram.sheets import sheets
    from .outputs.diagram.write import FORMS, GRAPH, write_graph, write_sheets
    from .outputs.pages import require_form

    if require_form(Path(out), FORMS) == GRAPH:
        return write_graph(ledger.study if ledger is not None else Study(document), Path(out))
    return write_sheets(sheets(document, ledger), Path(out))
