"""Chosen gauges and protectors as JSON."""

from __future__ import annotations

from ...document import Document
from ...sizing.size import Sizing
from ..wording import CAUTION, VERSION
from .json_text import json_text


def sizing_as_json(document: Document, sizing: Sizing) -> str:
    """The set as JSON text, keys in a fixed order."""
    header = document.installation.installation
    before = sizing.weight_before
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
        "weight_kg": float(f"{sizing.weight:.6g}"),
        "weight_before_kg": None if before is None else float(f"{before:.6g}"),
        "runs": [
            {
                "run": r.run,
                "was": None if r.was is None else f"{r.was} AWG",
                "gauge": f"{r.gauge} AWG",
                "weight_kg": float(f"{r.weight:.6g}"),
                "bound_by": list(r.binding),
                "cannot_be_judged": list(r.unjudged),
            }
            for r in sizing.runs
        ],
        "protectors": [
            {"protector": p.protector, "was_A": p.was, "rating_A": p.rating, "bound_by": list(p.binding)}
            for p in sizing.protectors
        ],
        "no_size_cures": [{"rule": v.rule, "at": list(v.at), "message": v.message} for v in sizing.unmet],
        "left": [{"run": ident, "why": why} for ident, why in sizing.left],
    }
    return json_text(body)
