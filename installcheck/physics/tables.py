"""Reads the CSV tables that lie beside the code, and finds a row without letting a guess pass for it."""

import csv
from collections.abc import Iterable
from difflib import get_close_matches
from functools import cache
from pathlib import Path

INCH = 0.0254
"""One inch [m], exact: NIST SP 811, appendix B.8."""


@cache
def read_table(name: str) -> tuple[dict[str, str], ...]:
    """Rows of `data/<name>.csv`; lines that start with # state the sources and are left out."""
    path = Path(__file__).parent / "data" / f"{name}.csv"
    with path.open(encoding="utf-8", newline="") as lines:
        return tuple(csv.DictReader(line for line in lines if not line.startswith("#")))


def optional_number(text: str) -> float | None:
    """The number written in a cell, or None where the cell is empty because the source gives no figure."""
    return float(text) if text else None


def unknown(kind: str, name: str, known: Iterable[str]) -> ValueError:
    """The error for a `name` that no table row has: it lists the nearest `known` names, or all of them."""
    names = sorted(known)
    near = get_close_matches(name, names, n=1)
    hint = f"did you mean {near[0]!r}?" if near else f"known: {', '.join(names)}"
    return ValueError(f"no {kind} {name!r}; {hint}")
