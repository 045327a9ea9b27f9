"""The published JSON Schemas as text."""

from __future__ import annotations

import json

from ...document import Document
from ...document.schema import document_schema, parts_schema
from .trace_json import trace_schema
from .verdicts_json import verdicts_schema


def schema_text(of: str, document: Document | None = None) -> str:
    """The schema of ``document``, ``parts``, ``verdicts`` or ``trace``; that of a document offers the names of one.

    Raises:
        KeyError: of anything else.
    """
    if of == "verdicts":
        return verdicts_schema()
    if of == "trace":
        return trace_schema()
    if of == "document" and document is not None:
        made = document_schema(document.library, document.installation)
    else:
        made = {"document": document_schema, "parts": parts_schema}[of]()
    return json.dumps(made, indent=1, ensure_ascii=False) + "\n"
