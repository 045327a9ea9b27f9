"""A trace as JSON, and the schema of it: observations, hypotheses with their share and size, what is excluded, tests."""

from __future__ import annotations

import json
from math import isfinite
from typing import Any

from ...document import Document
from ...model.quantities import in_unit
from ...tracing.next_test import Choice
from ...tracing.phrased import phrase
from ...tracing.predict import Predictor
from ...tracing.ranking import Ranked
from ...tracing.trace import Trace
from ...tracing.wording import merged, outcome_told, range_told, told, verdict_told, why_excluded
from ..wording import CAUTION, VERSION
from .json_text import json_text
from .verdicts_json import place_fields


def trace_as_json(document: Document, trace: Trace, predictor: Predictor) -> str:
    """One step of a trace as JSON text, keys in a fixed order."""
    header = document.installation.installation
    pairs = trace.pairs.standing if trace.pairs is not None else ()
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
        "weights": trace.weights.source,
        "seen": [{"said": o.said, "line": phrase(o)} for o in trace.seen],
        "indications": [str(c.show) for c in trace.bad],
        "safety": [d.text for d in trace.dangers],
        "summary": verdict_told(trace),
        "one_fault_explains": trace.explained,
        "hypotheses": [_hypothesis(document, r) for r in trace.ranking.standing],
        "two_faults": [_hypothesis(document, r) for r in pairs],
        "excluded": [
            {**_hypothesis(document, r), "why": why_excluded(predictor, trace, r)}
            for r in trace.ranking.excluded
        ],
        "tests": [_test(trace, c) for c in trace.tests],
    }
    return json_text(body)


def _number(value: float | None) -> float | None:
    return None if value is None or not isfinite(value) else float(f"{value:.6g}")


def _hypothesis(document: Document, ranked: Ranked) -> dict[str, Any]:
    h = ranked.hypothesis
    place = document.place(h.path) if h.path else None
    sizes = (ranked.best.size, ranked.lowest, ranked.highest) if h.unit else (None, None, None)
    best, low, high = (None if s is None else _number(in_unit(s, h.unit, h.kind_of_size)) for s in sizes)
    return {
        "kind": h.kind,
        "at": list(h.at),
        "text": told(ranked),
        "share": _number(ranked.share),
        "size": best,
        "lowest": low,
        "highest": high,
        "unit": h.unit if best is not None else "",
        "place": None if place is None else place_fields(place),
    }


def _test(trace: Trace, choice: Choice) -> dict[str, Any]:
    return {
        "do": choice.test.words,
        "first": list(choice.test.hazards),
        "minutes": _number(choice.minutes),
        "bits": _number(choice.bits),
        "meter_range": range_told(choice),
        "results": [
            {
                "result": outcome_told(trace.study, choice.test.look, o),
                "share": _number(o.share),
                "hypotheses": [r.hypothesis.key for r, _ in o.under],
            }
            for o in merged(choice)
        ],
    }


def trace_schema() -> str:
    """The JSON Schema of a trace."""
    return json.dumps(_SCHEMA, indent=1, ensure_ascii=False) + "\n"


def _object(**properties: Any) -> dict[str, Any]:
    return {
        "type": "object",
        "properties": properties,
        "required": list(properties),
        "additionalProperties": False,
    }


_TEXT: dict[str, Any] = {"type": "string"}
_MAYBE_TEXT: dict[str, Any] = {"type": ["string", "null"]}
_NUMBER: dict[str, Any] = {"type": ["number", "null"]}
_SHARE: dict[str, Any] = {"type": "number", "minimum": 0, "maximum": 1.0001}
_TEXTS: dict[str, Any] = {"type": "array", "items": _TEXT}
_AT = _object(file=_TEXT, line={"type": "integer", "minimum": 1}, column={"type": "integer", "minimum": 1})
_AT["properties"]["cell"] = {
    **_TEXT,
    "description": "of a table, its row and column in words; left out of a text",
}
_PLACE = {"anyOf": [{"type": "null"}, _AT]}
_HYPOTHESIS = {
    "kind": _TEXT,
    "at": _TEXTS,
    "text": _TEXT,
    "share": _SHARE,
    "size": _NUMBER,
    "lowest": _NUMBER,
    "highest": _NUMBER,
    "unit": _TEXT,
    "place": _PLACE,
}
_SCHEMA = {
    "$schema": "https://json-schema.org/draft/2020-12/schema",
    "title": "a step of tracing a fault",
    **_object(
        tool=_object(name=_TEXT, version=_TEXT),
        caution=_TEXT,
        installation=_object(name=_TEXT, revision=_MAYBE_TEXT, date=_MAYBE_TEXT, file=_TEXT, digest=_TEXT),
        weights=_TEXT,
        seen={"type": "array", "items": _object(said=_TEXT, line=_TEXT)},
        indications=_TEXTS,
        safety=_TEXTS,
        summary=_TEXTS,
        one_fault_explains={"type": "boolean"},
        hypotheses={"type": "array", "items": _object(**_HYPOTHESIS)},
        two_faults={"type": "array", "items": _object(**_HYPOTHESIS)},
        excluded={"type": "array", "items": _object(**_HYPOTHESIS, why=_TEXT)},
        tests={
            "type": "array",
            "items": _object(
                do=_TEXT,
                first=_TEXTS,
                minutes=_NUMBER,
                bits=_NUMBER,
                meter_range=_TEXT,
                results={"type": "array", "items": _object(result=_TEXT, share=_SHARE, hypotheses=_TEXTS)},
            ),
        },
    ),
}
