"""Every text that coverage-guided fuzzing kept is answered: read, or refused with its place."""

from __future__ import annotations

from pathlib import Path
from zipfile import ZipFile

import pytest
from answers import READERS

CORPUS = Path(__file__).parent / "corpus"


@pytest.mark.parametrize("what", sorted(READERS))
def test_every_kept_text_is_answered(what: str) -> None:
    with ZipFile(CORPUS / f"{what}.zip") as kept:
        assert kept.namelist()
        for name in kept.namelist():
            raw = kept.read(name)
            try:
                READERS[what](raw)
            except Exception as fault:
                raise AssertionError(f"{name}: {raw!r}") from fault
