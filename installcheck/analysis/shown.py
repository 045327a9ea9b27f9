"""What each indicator shows, of which engine, and what it reads: shared by the rules of placement and indication."""

from __future__ import annotations

from ..dataclass import dataclass
from ..document.source import DocPath
from ..graph.indications import Indication, measure_of, source_of
from ..model.aircraft import Limit
from ..model.devices import Indicator, InputSpec, Probe, Sender
from ..model.fields import Measure
from ..model.quantities import Quantity, in_unit, plain_number
from .study import Study, once

_OF_AIRCRAFT: frozenset[str] = frozenset(
    ("fuel quantity", "bus voltage", "load current", "outside air temperature", "hydraulic pressure")
)
"""Measures that are not of one engine."""


@dataclass(frozen=True, slots=True, eq=False)
class Shown:
    """One input of an indicator.

    Attributes:
        indicator, item, input, spec: the indicator and its input.
        measure: what it shows, as the input or else what it reads says.
        engine: the engine it is of; ``None`` for what is not of one engine, or if the document does not say.
        reads: what it reads by wire.
    """

    indicator: str
    item: Indicator
    input: str
    spec: InputSpec
    measure: Measure | None
    engine: str | None
    reads: tuple[Indication, ...]

    @property
    def name(self) -> str:
        """``head gauge``, ``monitor oil pressure``."""
        return f"{self.indicator} {self.input}".strip()

    @property
    def ident(self) -> str:
        """As an indication is named."""
        return self.name

    @property
    def path(self) -> DocPath:
        """Where the document tells of the input."""
        path: DocPath = ("indicators", self.indicator)
        return (*path, "inputs", self.input) if self.input else path


@once
def shown(study: Study) -> tuple[Shown, ...]:
    """Every input of every indicator."""
    reads: dict[tuple[str, str], list[Indication]] = {}
    for one in study.indications:
        reads.setdefault((one.indicator, one.input), []).append(one)
    found = []
    for ident, item in study.model.indicators.items():
        for name, spec in study.inputs(ident):
            read = tuple(reads.get((ident, name), ()))
            measure = spec.measures or next((m for r in read if (m := measure_of(study.graph, r))), None)
            found.append(Shown(ident, item, name, spec, measure, _engine(study, item, measure, read), read))
    return tuple(found)


@once
def shown_on(study: Study) -> dict[str, tuple[Shown, ...]]:
    """The inputs of each indicator."""
    found: dict[str, list[Shown]] = {}
    for one in shown(study):
        found.setdefault(one.indicator, []).append(one)
    return {ident: tuple(inputs) for ident, inputs in found.items()}


def _engine(
    study: Study, item: Indicator, measure: Measure | None, read: tuple[Indication, ...]
) -> str | None:
    if measure in _OF_AIRCRAFT:
        return None
    if item.engine is not None:
        return item.engine
    named = {source_of(study.graph, r).engine for r in read} - {None}
    if len(named) == 1:
        return named.pop()
    return next(iter(study.model.engines)) if len(study.model.engines) == 1 else None


def engine_id(study: Study, thing: Sender | Probe | Indicator) -> str:
    """Id of the engine a thing serves; empty if the document does not say."""
    found = study.model.engine_of(thing)
    return found[0] if found is not None else ""


def limit_of(study: Study, one: Shown) -> Limit | None:
    """What the engine's papers say of an indication; rated speed stands in for a speed limit that is not given."""
    engine = study.model.engines.get(one.engine or "")
    if engine is None or one.measure is None:
        return None
    limit = (engine.limits or {}).get(one.measure)
    if limit is None and one.measure == "engine speed" and engine.speed is not None:
        return Limit(maximum=engine.speed)
    return limit


def difference(si: float, unit: str) -> str:
    """A temperature difference in K as text in the unit of a temperature: ``14.4 degF``."""
    number = in_unit(si, unit, "temperature difference")
    return f"{plain_number(number)} {unit}"


def number(value: float, like: Quantity) -> float:
    """A value in SI as a number in the unit of a quantity the document writes."""
    return in_unit(value, like.unit, like.kind)


def width(si: float, like: Quantity) -> float:
    """A difference in SI as a number in the unit of a quantity the document writes."""
    kind = "temperature difference" if like.kind == "temperature" else like.kind
    return in_unit(si, like.unit, kind)


def text(value: float, like: Quantity) -> str:
    """A value in SI as text in the unit of a quantity the document writes."""
    return f"{plain_number(number(value, like))} {like.unit}"


def width_text(si: float, like: Quantity) -> str:
    """A difference in SI as text in the unit of a quantity the document writes."""
    return f"{plain_number(width(si, like))} {like.unit}"


def listed(words: list[str] | tuple[str, ...]) -> str:
    """Words as a person lists them: ``a, b and c``."""
    return f"{', '.join(words[:-1])} and {words[-1]}" if len(words) > 1 else "".join(words)


def numbers(cylinders: tuple[int, ...] | list[int]) -> str:
    """Cylinder numbers as a person lists them: ``2, 4 and 5``."""
    return listed([str(c) for c in cylinders])
