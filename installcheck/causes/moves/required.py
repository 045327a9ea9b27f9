"""A thing that can do less than is asked of it: one that can, the figure it must have being told.

No part is named, since none of the library is fitted: the document takes the figure of what is bought, so none of these is
written before it is (:attr:`Edit.must_measure`).
"""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from ...analysis.study import Study
from ...document.wording import a
from ...model.edits import Edit, Put
from ...model.quantities import plain_number
from ...rules.verdicts import Verdict

_SOURCES = ("alternator", "generator")


def stronger(study: Study, verdict: Verdict) -> Iterator[Edit]:
    """A contact or source that bears the amperes a verdict found."""
    if verdict.unit != "A" or verdict.value is None or not verdict.limit or verdict.path[:1] != ("supplies",):
        return
    ident = str(verdict.path[1])
    supply = study.model.supplies.get(ident)
    if supply is None or verdict.value <= verdict.limit:
        return
    kind = supply.spec.kind or "supply"
    if verdict.path[2:] == ("max_current",) and supply.spec.max_current is not None:
        yield _fitted(ident, kind, "max_current", verdict.value, supply.spec.max_current.text)
    rated = supply.spec.rated_current
    if kind in _SOURCES and len(verdict.at) == 1 and rated is not None and len(verdict.path) == 2:
        # What is allowed is a share of what it is rated for.
        yield _fitted(ident, kind, "rated_current", verdict.value * float(rated) / verdict.limit, rated.text)


def _fitted(ident: str, kind: str, word: str, amps: float, now: str) -> Edit:
    text = f"{plain_number(ceil(amps))} A"
    words = f"fit {a(kind)} that bears {text} or more as {ident}, in place of {now}"
    return Edit(
        (Put(("supplies", ident, word), text),), words, f"{ident} is made for {now}", must_measure=True
    )
