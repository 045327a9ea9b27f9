"""What a pointer shows against what is true, split by cause. Shared by every rule and output that speaks of error."""

from __future__ import annotations

from collections.abc import Collection
from math import hypot

from ...dataclass import dataclass
from ...document.source import DocPath
from ...model.fields import Measure
from ...model.quantities import Quantity, conversion
from .. import missing
from ..missing import Missing
from ..true_value import difference_kind


@dataclass(frozen=True, slots=True)
class Cause:
    """One cause of error.

    Attributes:
        name: in trade words: 'lead resistance', 'lead heating', 'ground offset', 'contact resistance', 'supply sag',
            'wrong material', 'junction temperature', 'lead mismatch', 'sender tolerance', 'indicator accuracy'...
        amount: indicated minus true in the SI unit of the indication (K for temperatures), with its sign.
        tolerance: whether it is a tolerance, which can fall either way, rather than an error with a sign.
        at: the joint or part it arises at, where one stands out.
    """

    name: str
    amount: float
    tolerance: bool = False
    at: str = ""


def tolerance(
    name: str, most: Quantity | None, kind: str, unsaid: Missing, lacks: list[Missing]
) -> list[Cause]:
    """A stated tolerance as a cause; what is not stated, or not in the unit of the indication, goes to ``lacks``."""
    if most is None:
        lacks.append(unsaid)
    elif most.kind != difference_kind(kind):
        lacks.append(missing.TOLERANCE_OF_KIND)
    elif most:
        return [Cause(name, float(most), tolerance=True)]
    return []


@dataclass(frozen=True, slots=True)
class ErrorBudget:
    """One indication at one operating point.

    Attributes:
        indication: name of the indication, as ``Indication.name`` gives it.
        source: id of the sender or probe.
        measure: what it is of.
        point: name of the operating point.
        path: where the document tells of the input.
        kind: kind of quantity: 'temperature', 'pressure', 'speed'...
        unit: unit the document uses for it.
        true: true value in SI (degC).
        indicated: what the pointer shows in SI (degC), tolerances apart; ``None`` if it is beyond what can be shown.
        causes: what makes the difference.
        beyond: 'above' or 'below' when the pointer is driven off its scale; else empty.
        missing: data that would make the budget whole; what they would add is not in ``causes``.
    """

    indication: str
    source: str
    measure: Measure | None
    point: str
    path: DocPath
    kind: str
    unit: str
    true: float
    indicated: float | None
    causes: tuple[Cause, ...]
    beyond: str = ""
    missing: tuple[Missing, ...] = ()

    @property
    def error(self) -> float | None:
        """Indicated minus true, tolerances apart, in SI."""
        return None if self.indicated is None else self.indicated - self.true

    @property
    def per_unit(self) -> float:
        """SI per unit the document uses for the indication, for differences."""
        return conversion(difference_kind(self.kind), self.unit)[0] if self.kind else 1.0

    def amount(self, names: Collection[str]) -> float:
        """The sum of some causes with a sign in SI, tolerances apart."""
        return sum(c.amount for c in self.causes if c.name in names and not c.tolerance)

    @property
    def tolerances(self) -> float:
        """The tolerances joined as root of the sum of squares, in SI."""
        return hypot(*(c.amount for c in self.causes if c.tolerance))

    @property
    def worst_case(self) -> float | None:
        """Largest total error: the error with its sign made larger by every tolerance in full; always positive."""
        if self.error is None:
            return None
        return abs(self.error) + sum(abs(c.amount) for c in self.causes if c.tolerance)

    @property
    def root_sum_square(self) -> float | None:
        """The error, with the tolerances joined as root of the sum of squares; always positive."""
        if self.error is None:
            return None
        return abs(self.error) + self.tolerances

    @property
    def lowest(self) -> float | None:
        """Lowest the pointer may show, with tolerances joined as root of the sum of squares, in SI."""
        return None if self.indicated is None else self.indicated - self.tolerances

    @property
    def highest(self) -> float | None:
        """Highest the pointer may show, with tolerances joined as root of the sum of squares, in SI."""
        return None if self.indicated is None else self.indicated + self.tolerances
