"""Single faults as JSON: each with its place, the protector it opens and its effect on every indication it moves."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from ...document import Document
from ...faults.play import Played
from ..wording import CAUTION, VERSION
from .json_text import json_text
from .verdicts_json import place_fields


def _fault(document: Document, fault: Played) -> dict[str, Any]:
    place = document.place(fault.path)
    return {
        "fault": fault.kind,
        "at": fault.at,
        "place": place_fields(place),
        "opens": fault.opens,
        "note": fault.note,
        "effects": [
            {
                "indication": e.indication,
                "effect": e.what,
                "text": e.text,
                "amount": None if e.amount is None else float(f"{e.amount:.6g}"),
                "unit": e.unit,
            }
            for e in fault.effects
        ],
        "required_lost_together": list(fault.together),
    }


def faults_as_json(document: Document, point: str, played: Iterable[Played]) -> str:
    """All faults as JSON text, keys in a fixed order; an indication that is not listed is unaffected."""
    header = document.installation.installation
    body = {
        "tool": {"name": "installcheck", "version": VERSION},
        "caution": CAUTION,
        "installation": {
            "name": header.name,
            "revision": header.revision,
            "date": header.date,
            "file": document.name,
            "digest": document.digest,
        },
        "operating_point": point,
        "faults": [_fault(document, f) for f in played],
    }
    return json_text(body)
