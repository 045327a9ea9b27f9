"""The bench sheet of a trace: what was seen, what could be wrong, each test with its hazards, values and a line to write on."""

from __future__ import annotations

import json
import tempfile
from pathlib import Path
from typing import Any

from markupsafe import Markup

from ...drawing.png import FONTS
from ...files.names import visible
from ...files.writing import OutputError
from ...tracing.predict import Predictor
from ...tracing.trace import Trace
from ...tracing.wording import merged, names_told, outcome_told, range_told, told, verdict_told, why_excluded
from ..pages import NO_PDF
from ..wording import CAUTION, VERSION
from .files import page, template

_TESTS, _HYPOTHESES, _EXCLUDED = 8, 12, 10


def bench_sheet(trace: Trace, predictor: Predictor) -> dict[str, Any]:
    """Everything the sheet says, as plain values that a template lays out."""
    document = trace.study.document
    header = document.installation.installation
    return {
        "name": visible(header.name),
        "revision": visible(header.revision or ""),
        "file": visible(document.name),
        "digest": document.digest,
        "version": VERSION,
        "caution": CAUTION,
        "weights": visible(trace.weights.source),
        "seen": [visible(o.said) for o in trace.seen],
        "safety": [visible(d.text) for d in trace.dangers],
        "told": [visible(line) for line in verdict_told(trace)],
        "hypotheses": [
            {"share": f"{r.share:.0%}" if r.share >= 0.005 else "under 1 %", "text": visible(told(r))}
            for r in trace.shown[:_HYPOTHESES]
        ],
        "more": max(0, len(trace.shown) - _HYPOTHESES),
        "excluded": [
            {"text": visible(r.hypothesis.text), "why": visible(why_excluded(predictor, trace, r))}
            for r in trace.ranking.excluded[:_EXCLUDED]
        ],
        "more_excluded": max(0, len(trace.ranking.excluded) - _EXCLUDED),
        "tests": [
            {
                "number": n,
                "do": visible(c.test.words),
                "first": [visible(h) for h in c.test.hazards],
                "minutes": f"{c.minutes:.0f}",
                "meter": range_told(c),
                "results": [
                    {
                        "result": outcome_told(trace.study, c.test.look, o),
                        "share": f"{o.share:.0%}",
                        "then": visible(names_told(o)),
                    }
                    for o in merged(c)
                ],
            }
            for n, c in enumerate(trace.tests[:_TESTS], start=1)
        ],
    }


def as_html(sheet: dict[str, Any]) -> str:
    """The sheet as one self-contained HTML page; every text of the document is escaped."""
    return page("bench.html.j2").render(**sheet, style=Markup(template("bench.css")))


def as_pdf(sheet: dict[str, Any]) -> bytes:
    """The sheet as PDF; texts reach the layout as data, never as markup.

    Raises:
        OutputError: the pdf extra is not installed.
    """
    try:
        import typst
    except ImportError:
        raise OutputError(NO_PDF) from None
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        (place / "sheet.json").write_text(json.dumps(sheet), encoding="utf-8")
        (place / "main.typ").write_text(template("bench.typ"), encoding="utf-8")
        made: bytes = typst.compile(str(place / "main.typ"), font_paths=[str(FONTS)])
        return made
