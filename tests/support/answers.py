"""What the readers make of any bytes: an answer, or a refusal that says where."""

from __future__ import annotations

import warnings
from collections.abc import Callable

from installcheck.document import DocumentError, loads
from installcheck.logs.flight_log import LogError, parse_log


def document(raw: bytes) -> None:
    """Read bytes as a document; a refusal has a message and a place."""
    problems = None
    try:
        loads(raw)
    except DocumentError as bad:
        problems = bad.problems
    if problems is not None:
        assert problems
        for problem in problems:
            assert problem.message
            assert problem.place.line >= 1
            assert problem.place.column >= 1


def log(raw: bytes) -> None:
    """Read bytes as a recorder log; a refusal has a message."""
    refusal = None
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        try:
            parse_log(raw, "log.csv")
        except LogError as bad:
            refusal = bad
    assert refusal is None or str(refusal)


READERS: dict[str, Callable[[bytes], None]] = {"documents": document, "logs": log}
