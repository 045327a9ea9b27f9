"""Taps closed where they stand open."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.study import Study
from ...model.edits import Edit, Put


def closed(study: Study, ident: str) -> Iterator[Edit]:
    """A tap that is said to stand open, closed with a plug of its thread."""
    tap = study.model.taps[ident]
    if tap.capped is False:
        plug = f" of {tap.thread}" if tap.thread is not None else ""
        put = Put(("taps", ident, "capped"), "yes")
        yield Edit((put,), f"close {ident} with a plug{plug}", f"{ident} is open")
