"""The card of a thing: what it is, its computed figures, its verdicts with their margins, and its tests."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from pydantic import BaseModel

from ..analysis.circuit.leads import conductor_ohms
from ..analysis.errors.error_budget import ErrorBudget
from ..analysis.errors.indicated import all_budgets, worst_budgets
from ..analysis.study import Study
from ..dataclass import dataclass
from ..model.quantities import plain_number
from ..papers.ring_out import ring_out_sheet
from ..papers.tables import Table, cell_text
from ..papers.wires import wire_list
from ..rules.verdicts import Ledger, Outcome, Verdict

if TYPE_CHECKING:
    from ..graph import Edge

_ORDER = (Outcome.DISCREPANCY, Outcome.UNDETERMINED, Outcome.ADVISORY, Outcome.ACCEPTED, Outcome.MEETS)
_IN_ALL = "in all, tolerances apart"
_IN_SHORT = ("length", "current", "drop", "resistance")
_UNASKED = frozenset(("measured [ohm]", "initials"))


@dataclass(frozen=True, slots=True)
class Card:
    """All that is known of one thing.

    Attributes:
        section, ident: the thing.
        title: in words, where the document gives them.
        figures: label and value, as they are read aloud.
        causes: error by cause of each indication it is part of: heading, then label and value.
        verdicts: what rules say of it, what asks for something first.
        tests: rows of the ring-out sheet that are of it: label and value.
    """

    section: str
    ident: str
    title: str
    figures: tuple[tuple[str, str], ...]
    causes: tuple[tuple[str, tuple[tuple[str, str], ...]], ...]
    verdicts: tuple[Verdict, ...]
    tests: tuple[tuple[tuple[str, str], ...], ...]

    @property
    def in_short(self) -> list[tuple[str, str]]:
        """What a hand on the wire wants to know: length, current, drop and ohms; the error of an indication."""
        short = [row for row in self.figures if row[0].startswith(_IN_SHORT)]
        errors = [
            (f"error of {of}", value) for of, rows in self.causes for label, value in rows if label == _IN_ALL
        ]
        return [*short, *errors[:2]]


def card(ledger: Ledger, section: str, ident: str) -> Card | None:
    """The card of a thing; ``None`` if the document has no such thing."""
    study = ledger.study
    held = study.whole.section(section) if section in type(study.whole).model_fields else {}
    thing = held.get(ident)
    if thing is None:
        return None
    computed = tuple(_computed(study, section, ident))
    stated = (row for row in _stated(study, section, ident) if row[0] not in dict(computed))
    return Card(
        section,
        ident,
        str(getattr(thing, "title", None) or ""),
        (*computed, *dict(stated).items()),
        tuple(_budgets(study, ident)),
        tuple(sorted(_verdicts(ledger, section, ident), key=lambda v: _ORDER.index(v.outcome))),
        tuple(_rows(ring_out_sheet(ledger), ident, column=1)),
    )


def to_its_limit(verdict: Verdict) -> str:
    """How far a verdict that meets is from its limit; empty where it has no figures."""
    if verdict.outcome is not Outcome.MEETS or verdict.margin is None or verdict.value is None:
        return ""
    return f"{plain_number(verdict.margin)} {verdict.unit} from its limit".replace("  ", " ")


def _computed(study: Study, section: str, ident: str) -> Iterator[tuple[str, str]]:
    if section == "wire_runs":
        for row in _rows(wire_list(study), ident, column=0):
            yield from (cell for cell in row if cell[0] != "id")
        for edge in study.edges(ident):
            yield from _ohms(study, edge)


def _stated(study: Study, section: str, ident: str) -> Iterator[tuple[str, str]]:
    """What the document and its part say of a thing, as far as it is a word or a figure."""
    thing = study.whole.section(section)[ident]
    for holder in (thing, getattr(thing, "spec", None)):
        for name in type(holder).model_fields if isinstance(holder, BaseModel) else ():
            value = getattr(holder, name)
            if isinstance(value, bool):
                yield name.replace("_", " ").strip(), "yes" if value else "no"
            elif isinstance(value, (str, int, float)) and name not in ("title", "source"):
                yield name.replace("_", " ").strip(), str(getattr(value, "text", value))


def _ohms(study: Study, edge: Edge) -> Iterator[tuple[str, str]]:
    """Resistance of a conductor cold, and at the operating point where it is most."""
    found = [(conductor_ohms(study, edge, point), point.name) for point in study.points]
    name = f" {edge.name}" if edge.name else ""
    cold = next((ohms.cold for ohms, _ in found if ohms.cold is not None), None)
    if cold is not None:
        yield f"resistance{name}, 20 degC", f"{plain_number(cold)} ohm"
    hot = [(ohms.hot, point) for ohms, point in found if ohms.hot is not None]
    if hot:
        most, point = max(hot)
        yield f"resistance{name}, {point}", f"{plain_number(most)} ohm"


def _rows(table: Table, ident: str, column: int) -> Iterator[tuple[tuple[str, str], ...]]:
    for row in table.rows:
        of = str(row[column])
        if of == ident or of.startswith(f"{ident} "):
            yield tuple(
                (label, cell_text(cell))
                for label, cell in zip(table.columns, row, strict=True)
                if cell not in (None, "") and label not in _UNASKED
            )


def _budgets(study: Study, ident: str) -> Iterator[tuple[str, tuple[tuple[str, str], ...]]]:
    for budget in worst_budgets(all_budgets(study)):
        if ident in _concerned(study, budget):
            yield f"{budget.indication} at {budget.point}", tuple(_causes(budget))


def _concerned(study: Study, budget: ErrorBudget) -> frozenset[str]:
    through = {budget.source, str(budget.path[1]) if len(budget.path) > 1 else ""}
    for one in study.indications:
        if one.name == budget.indication:
            through.update(step.edge.ident for leg in one.legs for step in leg.steps)
    return frozenset(through)


def _causes(budget: ErrorBudget) -> Iterator[tuple[str, str]]:
    for cause in budget.causes:
        amount = cause.amount / budget.per_unit
        sign = "+/-" if cause.tolerance else "+" if amount > 0 else ""
        yield (
            cause.name + (f" at {cause.at}" if cause.at else ""),
            f"{sign}{plain_number(amount)} {budget.unit}",
        )
    if budget.error is not None:
        yield _IN_ALL, f"{plain_number(budget.error / budget.per_unit)} {budget.unit}"
    if budget.worst_case is not None:
        yield "at the worst", f"{plain_number(budget.worst_case / budget.per_unit)} {budget.unit}"
    if budget.missing:
        yield "open until stated", ", ".join(budget.missing)


def _verdicts(ledger: Ledger, section: str, ident: str) -> Iterator[Verdict]:
    for verdict in ledger.verdicts:
        if ident in verdict.at or verdict.path[:2] == (section, ident):
            yield verdict
