"""The ledger of the review record: every verdict as plain values, under the number that stands on the sheets."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence

from ...files.names import visible
from ...model.quantities import plain_number
from ...rules.verdicts import Ledger, Outcome, Verdict
from ..numbering import Finding
from ..wording import OUTCOME_WORDS, remedy_of
from .by_cause import DrawnSheet

_SHAPES = {
    Outcome.DISCREPANCY: "▲",
    Outcome.ADVISORY: "◆",
    Outcome.UNDETERMINED: "?",
    Outcome.ACCEPTED: "≈",
    Outcome.MEETS: "○",
}


def ledger_rows(
    ledger: Ledger, numbered: Sequence[Finding], drawn: Sequence[DrawnSheet]
) -> Iterator[dict[str, object]]:
    """Every verdict once, under the number of what it belongs to; then what meets, which has none."""
    numbers: dict[int, list[int]] = defaultdict(list)
    for finding in numbered:
        for verdict in finding.verdicts:
            numbers[id(verdict)].append(finding.number)
    on = {f.number: [s for s in drawn if any(m.number == f.number for m in s.marks)] for f in numbered}
    in_order = list({id(v): v for finding in numbered for v in finding.verdicts}.values())
    count: Counter[int] = Counter()
    for serial, verdict in enumerate((*in_order, *(v for v in ledger.verdicts if id(v) not in numbers))):
        mine = numbers.get(id(verdict), [])
        count.update(mine[:1])
        yield {
            "id": _ident(mine[0], count[mine[0]]) if mine else f"met-{serial}",
            "number": ", ".join(map(str, mine)),
            "order": mine[0] if mine else "",
            "outcome": verdict.outcome.value,
            "word": OUTCOME_WORDS[verdict.outcome].lower(),
            "shape": _SHAPES[verdict.outcome],
            "message": verdict.message,
            "remedy": remedy_of(verdict),
            "deviation": verdict.deviation,
            "rule": verdict.rule,
            "source": verdict.source,
            "place": visible(str(ledger.document.place(verdict.path))),
            "sheets": [{"id": s.id, "number": s.number} for s in on[mine[0]]] if mine else [],
            "of": ", ".join(_things(verdict)),
            **_figures(verdict),
        }


def _ident(number: int, nth: int) -> str:
    return f"verdict-{number}" if nth == 1 else f"verdict-{number}-{nth}"


def _things(verdict: Verdict) -> list[str]:
    """Everything a verdict is about, its run and input as well as what it names first."""
    path = [str(word) for word in verdict.path[1:2]]
    if len(verdict.path) >= 4 and verdict.path[2] in ("conductors", "inputs"):
        path.append(f"{verdict.path[1]} {verdict.path[3]}")
    return list(dict.fromkeys((*verdict.at, *(w for w in path if not w.isdecimal()))))


def _figures(verdict: Verdict) -> dict[str, str]:
    told: dict[str, str] = {}
    for name in ("value", "limit", "margin"):
        number = getattr(verdict, name)
        known = number is not None and math.isfinite(number)
        told[name] = f"{plain_number(number)} {verdict.unit}".strip() if known else ""
        told[f"{name}_key"] = f"{number:.9g}" if known else ""
    told["unit"] = verdict.unit
    return told
