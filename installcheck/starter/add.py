"""One more indication in a document: what it takes, at the right sections, as an edit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from ..document import Document
from ..document.parts import canonical_size
from ..document.source import Plain
from ..document.wording import unknown_word
from ..model.edits import Change, Drop, Edit, Put, Written
from .kit import UNFED, NoSpotError, Spot
from .kits import KITS, things_of
from .spot import spot_in

__all__ = ["NoSpotError", "added"]

_OF_THE_SHOP = frozenset(("status", "marked", "mark_spacing", "ends", "supported_by"))
"""Words of how a shop works, which hold of what it adds as of the rest."""
_RATING, _FEEDER = "5 A", "20 AWG"
"""A protector of what a gauge takes, and a wire it protects."""


def added(
    document: Document,
    measure: str,
    engine: str | None = None,
    cylinder: int | None = None,
    *,
    as_usual: bool = False,
) -> Edit:
    """The edit that puts one more indication into a document; what nobody has told is ``unknown`` in it.

    Args:
        document: where it goes.
        measure: what it indicates.
        engine, cylinder: what it serves.
        as_usual: whether what is usual in the document may be said of it.

    Raises:
        NoSpotError: the document does not say enough, or the indication is not known.
    """
    if measure not in KITS:
        raise NoSpotError(unknown_word(measure, KITS, "indication that can be added"))
    spot = spot_in(document, measure, engine, cylinder, as_usual=as_usual)
    changes: list[Change] = []
    if not spot.protected and measure not in UNFED:
        spot, changes = _with_breaker(document, spot, measure)
    for section, things in things_of(measure, spot).items():
        for ident, thing in things.items():
            changes += _changes(document, spot, section, ident, thing, as_usual=as_usual)
    return Edit(tuple(changes), f"add {measure}")


def _changes(
    document: Document, spot: Spot, section: str, ident: str, thing: Mapping[str, Plain], *, as_usual: bool
) -> list[Change]:
    """A thing written whole; of one that is there, the words that change."""
    if ident in document.installation.section(section):
        paths = {(section, ident, word): value for word, value in thing.items()}
        return [Drop(p) if v is None else Put(p, _written(v)) for p, v in paths.items()]
    told = {"status": "new"} if spot.marked_new and section not in ("taps", "wire_runs") else {}
    whole = {**thing, **told}
    own = {} if as_usual else _of_its_own(document, section, whole)
    return [Put((section, ident), _written({**whole, **own}))]


def _of_its_own(document: Document, section: str, thing: Mapping[str, Plain]) -> dict[str, Plain]:
    """What must be written of a thing so that what is usual of its like is not said of it, which nobody has told.

    What its part says is written out; anything else is unknown. Manners of the shop stay as usual.
    """
    usual = document.expansion.said_elsewhere(section, thing)
    words = [word for word in usual if word not in thing and word not in _OF_THE_SHOP]
    key, size = thing.get("part"), thing.get("size") or thing.get("gauge")
    part = document.library.parts.get(key) if isinstance(key, str) else None
    row = canonical_size(size) if isinstance(size, str) else None
    figures = part.figures(row if part.sizes else None) if part is not None else {}
    return {word: figures.get(word, "unknown") for word in words}


def _with_breaker(document: Document, spot: Spot, measure: str) -> tuple[Spot, list[Change]]:
    breaker, run = spot.named(f"{measure} breaker"), spot.named(f"{measure} feeder")
    feeder: dict[str, Plain] = {
        "from": spot.power,
        "to": f"{breaker}.in",
        "part": "AS22759/16",
        "gauge": _FEEDER,
        "route": [{"zone": spot.panel_zone, "length": "unknown"}],
    }
    status = {"status": "new"} if spot.marked_new else {}
    fitted: dict[str, Plain] = {"kind": "breaker", "rating": _RATING, "zone": spot.panel_zone, **status}
    wire: dict[str, Plain] = {**feeder, **spot.shared}
    changes: list[Change] = [
        Put((section, ident), _written({**thing, **_of_its_own(document, section, thing)}))
        for section, ident, thing in (("supplies", breaker, fitted), ("wire_runs", run, wire))
    ]
    return replace(spot, power=f"{breaker}.out"), changes


def _written(value: Plain) -> Written:
    if isinstance(value, dict):
        return {word: _written(inner) for word, inner in value.items()}
    if isinstance(value, list):
        return [_written(inner) for inner in value]
    return "unknown" if value is None else value
