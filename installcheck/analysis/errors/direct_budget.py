"""Direct pressure gauges: what the liquid standing in the line and the gauge itself do to the reading."""

from __future__ import annotations

from ...dataclass import dataclass
from ...document.source import DocPath
from ...graph.media import Feed
from ...model.aircraft import Limit
from ...model.devices import Indicator, InputSpec
from ...model.fields import Measure
from .. import missing
from ..missing import Missing
from ..study import Point, Study, once
from .error_budget import ErrorBudget, tolerance
from .line_head import feeds_of, head_causes


@dataclass(frozen=True, slots=True, eq=False)
class DirectGauge:
    """An input a fluid line leads to.

    Attributes:
        ident, indicator, input, spec: the indicator and its input.
        feeds: the ways by which a medium reaches its ports.
        limit: limits of the engine for it.
    """

    ident: str
    indicator: Indicator
    input: str
    spec: InputSpec
    feeds: tuple[Feed, ...]
    limit: Limit | None

    @property
    def name(self) -> str:
        """As an indication is named."""
        return f"{self.ident} {self.input}".strip()

    @property
    def path(self) -> DocPath:
        """Where the document tells of the input."""
        return ("indicators", self.ident, *(("inputs", self.input) if self.input else ()))

    @property
    def measure(self) -> Measure | None:
        """What it is of."""
        return self.spec.measures

    @property
    def source(self) -> str:
        """The tap it reads; empty if none reaches it."""
        return self.feeds[0].source.ident if self.feeds else ""


@once
def direct_gauges(study: Study) -> tuple[DirectGauge, ...]:
    """Every direct pressure input."""
    found = []
    for ident, indicator in study.model.indicators.items():
        for name, spec in study.inputs(ident):
            if spec.principle == "direct pressure":
                feeds = feeds_of(study, ident, spec.ports)
                engine = study.model.engine_of(indicator)
                limits = engine[1].limits or {} if engine is not None else {}
                limit = limits.get(spec.measures) if spec.measures is not None else None
                found.append(DirectGauge(ident, indicator, name, spec, feeds, limit))
    return tuple(found)


def direct_budgets(study: Study) -> list[ErrorBudget]:
    """A budget for each direct gauge at each operating point that tells its pressure, else at the engine's limit."""
    found = []
    for one in direct_gauges(study):
        limit = one.limit
        fallback = (limit.maximum or limit.minimum) if limit is not None else None
        for point in study.points:
            reading = point.reading(one.measure)
            true = reading if reading is not None and reading.kind == "pressure" else fallback
            if true is not None:
                found.append(direct_budget(study, one, point, float(true)))
    return found


def direct_budget(study: Study, one: DirectGauge, point: Point, true: float) -> ErrorBudget:
    """The budget of a direct gauge with a pressure of ``true`` pascal at its tap."""
    lacks: list[Missing] = [] if one.feeds else [missing.GAUGE_LINE]
    causes = list(head_causes(study, one.indicator, one.feeds, lacks))
    shown: float | None = true + sum(c.amount for c in causes)
    causes += tolerance(
        "indicator accuracy", one.spec.accuracy, "pressure", missing.INDICATOR_ACCURACY, lacks
    )
    dial, beyond = one.spec.scale, ""
    if dial is not None and dial.lowest.kind == "pressure" and shown is not None:
        beyond = "below" if shown < dial.lowest else "above" if shown > dial.highest else ""
    if beyond or not one.feeds:
        shown, causes = None, []
    return ErrorBudget(
        one.name,
        one.source,
        one.measure,
        point.name,
        one.path,
        "pressure",
        _unit(one),
        true,
        shown,
        tuple(causes),
        beyond,
        tuple(dict.fromkeys(lacks)),
    )


def _unit(one: DirectGauge) -> str:
    stated = (
        one.limit.maximum if one.limit is not None else None,
        one.spec.budget,
        one.spec.scale.highest if one.spec.scale is not None else None,
        one.spec.accuracy,
    )
    return next((q.unit for q in stated if q is not None and q.kind == "pressure"), "psi")
