"""Verdicts as JSON: the fields of design, a summary of counts, coverage, the installation and the tool version."""

from __future__ import annotations

import json
import math
from typing import Any

from .. import __version__
from ..document import Document
from ..rules.verdicts import Ledger, Outcome, Verdict
from .wording import CAUTION


def _number(value: float | None) -> float | None:
    if value is None or not math.isfinite(value):
        return None
    return float(f"{value:.6g}")


def verdict_fields(document: Document, verdict: Verdict) -> dict[str, Any]:
    """One verdict as a JSON object."""
    place = document.place(verdict.path)
    return {
        "rule": verdict.rule,
        "outcome": verdict.outcome.value,
        "at": list(verdict.at),
        "message": verdict.message,
        "value": _number(verdict.value),
        "limit": _number(verdict.limit),
        "margin": _number(verdict.margin),
        "unit": verdict.unit,
        "remedy": verdict.remedy,
        "missing": list(verdict.missing),
        "deviation": verdict.deviation,
        "source": verdict.source,
        "place": {"file": place.file, "line": place.line, "column": place.column},
    }


def summary(ledger: Ledger) -> dict[str, int]:
    """Counts of verdicts by outcome."""
    return {outcome.value: ledger.count(outcome) for outcome in Outcome}


def as_json(document: Document, ledger: Ledger) -> str:
    """The whole check as JSON text, keys in a fixed order."""
    header = document.installation.installation
    body = {
        "tool": {"name": "installcheck", "version": __version__},
        "caution": CAUTION,
        "installation": {
            "name": header.name,
            "revision": header.revision,
            "date": header.date,
            "file": document.name,
            "digest": document.digest,
        },
        "summary": summary(ledger),
        "coverage": {
            ident: {
                "items": t.items,
                "meets": t.meets,
                "discrepancy": t.discrepancy,
                "advisory": t.advisory,
                "undetermined": t.undetermined,
                "accepted": t.accepted,
                "not_concerned": t.not_concerned,
            }
            for ident, t in ledger.coverage.items()
        },
        "verdicts": [verdict_fields(document, v) for v in ledger.verdicts],
    }
    return json.dumps(body, indent=2, ensure_ascii=False) + "\n"
