"""What an alteration changes, as JSON. Quantities that the comparison works out are in SI; units are in the names."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from ...comparison import (
    Change,
    Comparison,
    IndicationChange,
    LargestError,
    Left,
    VerdictChange,
    WeightChange,
)
from ...document import Document
from ..wording import CAUTION, VERSION
from .json_text import json_text
from .verdicts_json import number, place_fields, verdict_fields


def comparison_as_json(found: Comparison) -> str:
    """The comparison as JSON text, keys in a fixed order."""
    body = {
        "tool": {"name": "installcheck", "version": VERSION},
        "caution": CAUTION,
        "old": _document(found.old),
        "new": _document(found.new),
        "summary": {
            "changes": len(found.changes),
            "left": len(found.left),
            "alarming": sum(1 for v in found.verdicts if v.alarming),
            "retests": len(found.retests),
        },
        "changes": [_change(found, one) for one in found.changes],
        "left": [_left(found, one) for one in found.left],
        "verdicts": [_verdict(found, one) for one in found.verdicts],
        "indications": [_indication(one) for one in found.indications],
        "load": {
            "continuous_old_A": number(found.load.old),
            "continuous_new_A": number(found.load.new),
            "intermittent_old_A": number(found.load.old_short),
            "intermittent_new_A": number(found.load.new_short),
            "items": [
                {"id": ident, "old_A": number(old), "new_A": number(new)}
                for ident, old, new in found.load.items
            ],
            "unknown": list(found.load.unknown),
        },
        "weight": _weight(found.weight),
        "retests": [{"what": one.what, "at": list(one.at), "why": one.why} for one in found.retests],
    }
    return json_text(body)


def _document(document: Document) -> dict[str, Any]:
    header = document.installation.installation
    return {
        "name": header.name,
        "revision": header.revision,
        "date": header.date,
        "file": document.name,
        "digest": document.digest,
    }


def _change(found: Comparison, one: Change) -> dict[str, Any]:
    holder = found.old if one.kind == "removed" else found.new
    return {
        "kind": one.kind.value,
        "section": one.section,
        "id": one.ident,
        "noun": one.noun,
        "message": one.message,
        "details": [asdict(detail) for detail in one.details],
        "place": place_fields(holder.place(one.path or (one.section,))),
    }


def _left(found: Comparison, one: Left) -> dict[str, Any]:
    return {
        "kind": one.kind,
        "at": list(one.at),
        "message": one.message,
        "remedy": one.remedy,
        "place": place_fields(found.new.place(one.path)),
    }


def _verdict(found: Comparison, one: VerdictChange) -> dict[str, Any]:
    return {
        "trend": one.trend,
        "alarming": one.alarming,
        "old": None if one.old is None else verdict_fields(found.old, one.old),
        "new": None if one.new is None else verdict_fields(found.new, one.new),
    }


def _indication(one: IndicationChange) -> dict[str, Any]:
    return {
        "name": one.name,
        "measure": one.measure,
        "fate": one.fate,
        "old_source": list(one.old_source),
        "new_source": list(one.new_source),
        "old_error": _error(one.old_error),
        "new_error": _error(one.new_error),
    }


def _error(one: LargestError | None) -> dict[str, Any] | None:
    if one is None:
        return None
    return {**asdict(one), "size": number(one.size)}


def _weight(weight: WeightChange) -> dict[str, Any]:
    return {
        "change_kg": number(weight.change),
        "moment_kg_m": number(weight.moment),
        "items": [
            {
                "section": item.section,
                "id": item.ident,
                "old_kg": number(item.old),
                "new_kg": number(item.new),
                "old_arm_m": number(item.old_arm),
                "new_arm_m": number(item.new_arm),
            }
            for item in weight.items
        ],
        "no_weight": list(weight.no_weight),
        "no_arm": list(weight.no_arm),
        "said_removed_kg": number(weight.said_removed),
    }
