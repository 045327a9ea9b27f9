"""One more indication in a document: what it takes, at the right sections, as an edit."""

from __future__ import annotations

from dataclasses import replace

from ..document import Document
from ..document.source import Plain
from ..document.wording import unknown_word
from ..model.edits import Change, Edit, Put, Written
from .kits import KITS, Spot, things_of
from .spot import NoSpotError, spot_in

__all__ = ["NoSpotError", "added"]

_RATING, _FEEDER = "5 A", "20 AWG"
"""A protector of what a gauge takes, and a wire it protects."""


def added(document: Document, measure: str, engine: str | None = None, cylinder: int | None = None) -> Edit:
    """The edit that puts one more indication into a document; what nobody has told is ``unknown`` in it.

    Raises:
        NoSpotError: the document does not say enough, or the indication is not known.
    """
    if measure not in KITS:
        raise NoSpotError(unknown_word(measure, KITS, "indication that can be added"))
    spot = spot_in(document, measure, engine, cylinder)
    changes: list[Change] = []
    if not spot.protected:
        spot, changes = _with_breaker(spot, measure)
    for section, things in things_of(measure, spot).items():
        told = {"status": "new"} if spot.marked_new and section not in ("taps", "wire_runs") else {}
        changes += [Put((section, ident), _written({**thing, **told})) for ident, thing in things.items()]
    return Edit(tuple(changes), f"add {measure}")


def _with_breaker(spot: Spot, measure: str) -> tuple[Spot, list[Change]]:
    breaker, run = spot.named(f"{measure} breaker"), spot.named(f"{measure} feeder")
    feeder: dict[str, Written] = {
        "from": spot.power,
        "to": f"{breaker}.in",
        "part": "AS22759/16",
        "gauge": _FEEDER,
        "route": [{"zone": spot.panel_zone, "length": "unknown"}],
    }
    status = {"status": "new"} if spot.marked_new else {}
    changes: list[Change] = [
        Put(("supplies", breaker), {"kind": "breaker", "rating": _RATING, "zone": spot.panel_zone, **status}),
        Put(("wire_runs", run), {**feeder, **{w: str(v) for w, v in spot.shared.items()}}),
    ]
    return replace(spot, power=f"{breaker}.out"), changes


def _written(value: Plain) -> Written:
    if isinstance(value, dict):
        return {word: _written(inner) for word, inner in value.items()}
    if isinstance(value, list):
        return [_written(inner) for inner in value]
    return "unknown" if value is None else value
