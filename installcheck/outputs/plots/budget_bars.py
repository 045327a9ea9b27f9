"""Error of one indication as bars by cause, in line art that prints in grey."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.errors.error_budget import ErrorBudget
from ...analysis.true_value import difference_kind
from ...drawing.ink import GREY, HATCH, Ink, Page, Text, line, rectangle
from ...drawing.text_width import printable, shorten
from ...model.quantities import in_unit, plain_number

_WIDTH, _LABEL, _ROW, _RIGHT = 480.0, 168.0, 17.0, 88.0
_SIZE = 11.0


def budget_page(budget: ErrorBudget) -> Page:
    """Bars of every cause, and of the total with its tolerances, in the unit of the indication.

    What the document lacks has a row without a bar: it is not known, and not zero.
    """
    inks = tuple(_inks(budget))
    rows = len(budget.causes) + (budget.error is not None) + len(budget.missing)
    height = _ROW * rows + 30
    title = f"Error of {budget.indication} by cause"
    return Page(_WIDTH, height, title, inks, (f"{_WIDTH:.0f}px", f"{height:.0f}px"))


def _inks(budget: ErrorBudget) -> Iterator[Ink]:
    kind = difference_kind(budget.kind)
    causes = [(c.name, in_unit(c.amount, budget.unit, kind), c.tolerance) for c in budget.causes]
    error = budget.error
    total = None if error is None else in_unit(error, budget.unit, kind)
    worst = budget.worst_case
    largest = (
        max([abs(a) for _, a, _ in causes] + ([abs(total)] if total is not None else []), default=0.0) or 1.0
    )
    middle = _LABEL + (_WIDTH - _LABEL - _RIGHT) / 2
    scale = (_WIDTH - _LABEL - _RIGHT) / 2 / largest
    whole = "what is known" if budget.missing else "all together"
    rows = [*causes, *([(whole, total, False)] if total is not None else [])]
    if rows:
        yield line(middle, 6, middle, _ROW * len(rows) + 8, 1.0)
    for at, (name, amount, tolerance) in enumerate(rows):
        y = 8 + at * _ROW
        length = abs(amount) * scale
        bold = name == whole
        label = shorten(printable(name), _SIZE, _LABEL - 12, bold=bold)
        yield Text(_LABEL - 8, y + 11, label, _SIZE, bold, "end")
        words = f"{plain_number(amount)} {budget.unit}"
        if tolerance:
            yield rectangle(middle - length, y + 2, 2 * length, 12, stroke=1.0, fill=HATCH)
            words = f"±{plain_number(abs(amount))} {budget.unit}"
        else:
            left = middle if amount >= 0 else middle - length
            yield rectangle(left, y + 2, length, 12, stroke=1.0, fill="black" if bold else GREY)
        yield Text(_WIDTH - _RIGHT + 6, y + 11, words, _SIZE, bold)
    for at, word in enumerate(budget.missing, len(rows)):
        y = 8 + at * _ROW + 11
        yield Text(_LABEL - 8, y, "not known", _SIZE, False, "end")
        yield Text(_LABEL, y, shorten(printable(word), _SIZE, _WIDTH - _LABEL - 6), _SIZE)
    if worst is not None:
        told = plain_number(in_unit(worst, budget.unit, kind))
        joined = plain_number(in_unit(budget.root_sum_square or 0.0, budget.unit, kind))
        note = f"worst case {told} {budget.unit}, root sum square {joined} {budget.unit}"
        note += " without what is not known" if budget.missing else ""
        left = 8.0 if budget.missing else _LABEL
        yield Text(left, _ROW * (len(rows) + len(budget.missing)) + 23, note, _SIZE)
