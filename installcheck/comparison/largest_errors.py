"""The largest error of each indication, from the error budgets the rules make."""

from __future__ import annotations

from ..analysis.errors.error_budget import ErrorBudget
from ..analysis.errors.indicated import all_budgets
from ..analysis.study import Study
from ..dataclass import dataclass
from ..model.installation import inputs_of


@dataclass(frozen=True, slots=True)
class LargestError:
    """The largest error of one indication over its operating points and the sources it reads.

    Attributes:
        size: error with every tolerance in full, in the SI unit of the indication (K for temperatures); always
            positive; ``None`` where the pointer leaves its scale.
        point: the operating point at which it is largest.
        kind, unit: kind of quantity, and the unit the document uses for the indication.
        beyond: 'above' or 'below' where the pointer is driven off its scale.
        whole: whether nothing is missing from the budget.
    """

    size: float | None
    point: str
    kind: str
    unit: str
    beyond: str
    whole: bool


def largest_errors(study: Study) -> dict[str, LargestError]:
    """The largest error of each indication that has a budget, by the name of the indication."""
    found: dict[str, LargestError] = {}
    for budget in all_budgets(study):
        if _off_dial(study, budget):
            continue
        one = LargestError(
            budget.worst_case, budget.point, budget.kind, budget.unit, budget.beyond, not budget.missing
        )
        other = found.get(budget.indication)
        if other is None or _size(one) > _size(other):
            found[budget.indication] = one
    return found


def _size(one: LargestError) -> float:
    return float("inf") if one.size is None else one.size


def _off_dial(study: Study, budget: ErrorBudget) -> bool:
    """Whether the true value itself lies outside the dial, as an idle exhaust temperature may."""
    indicator = study.whole.indicators[str(budget.path[1])]
    name = str(budget.path[3]) if len(budget.path) > 3 else ""
    scale = next((spec.scale for one, spec in inputs_of(indicator) if one == name), None)
    return scale is not None and not scale.lowest <= budget.true <= scale.highest
