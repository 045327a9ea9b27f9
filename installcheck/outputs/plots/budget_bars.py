"""Error of one indication as bars by cause, as plain SVG that prints in grey."""

from __future__ import annotations

from html import escape

from ...analysis.errors.error_budget import ErrorBudget
from ...analysis.true_value import difference_kind
from ...model.quantities import in_unit, plain_number

_WIDTH, _LABEL, _ROW, _RIGHT = 720, 190, 24, 90


def budget_svg(budget: ErrorBudget) -> str:
    """Bars of every cause, and of the total with its tolerances, in the unit of the indication."""
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
    height = _ROW * (len(causes) + (total is not None)) + 34
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_WIDTH} {height}" width="{_WIDTH}" height="{height}" role="img" font-family="Arial, Helvetica, sans-serif" font-size="12">',
        f"<title>{escape(f'Error of {budget.indication} by cause')}</title>",
        '<defs><pattern id="either-way" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="6" height="6" fill="#fff"/><line x1="0" y1="0" x2="0" y2="6" stroke="#000" stroke-width="2"/></pattern></defs>',
        f'<rect width="{_WIDTH}" height="{height}" fill="#fff"/>',
        f'<line x1="{middle:.1f}" y1="6" x2="{middle:.1f}" y2="{height - 26}" stroke="#000"/>',
    ]
    rows = [*causes, *([("all together", total, False)] if total is not None else [])]
    for at, (name, amount, tolerance) in enumerate(rows):
        y = 8 + at * _ROW
        length = abs(amount) * scale
        bold = ' font-weight="bold"' if name == "all together" else ""
        parts.append(f'<text x="{_LABEL - 8}" y="{y + 13}" text-anchor="end"{bold}>{escape(name)}</text>')
        if tolerance:
            parts.append(
                f'<rect x="{middle - length:.1f}" y="{y + 2}" width="{2 * length:.1f}" height="14" fill="url(#either-way)" stroke="#000"/>'
            )
            words = f"±{plain_number(abs(amount))} {budget.unit}"
        else:
            left = middle if amount >= 0 else middle - length
            parts.append(
                f'<rect x="{left:.1f}" y="{y + 2}" width="{length:.1f}" height="14" fill="{"#000" if bold else "#888"}" stroke="#000"/>'
            )
            words = f"{plain_number(amount)} {budget.unit}"
        parts.append(f'<text x="{_WIDTH - _RIGHT + 6}" y="{y + 13}"{bold}>{escape(words)}</text>')
    if worst is not None:
        note = f"worst case {plain_number(in_unit(worst, budget.unit, kind))} {budget.unit}, root sum square {plain_number(in_unit(budget.root_sum_square or 0.0, budget.unit, kind))} {budget.unit}"
        parts.append(f'<text x="{_LABEL}" y="{height - 9}">{escape(note)}</text>')
    return "".join([*parts, "</svg>"])
