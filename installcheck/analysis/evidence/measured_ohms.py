"""Measured ohms set against what the bench should show: one reading for each value the document or a filled sheet holds."""

from __future__ import annotations

from dataclasses import replace
from math import inf

from ...dataclass import dataclass
from ...document.source import DocPath
from ...graph import total_length
from ...model.quantities import Quantity
from ...model.records import Measurement
from .. import missing
from ..study import Study, once
from .bench import Check, all_checks
from .bench_network import between
from .spans import BENCH_C, Span

DOUBT_C = 20.0
"""degC either side of the bench's 20 that wiring may have been at when nobody wrote its temperature down."""


@dataclass(frozen=True, slots=True)
class Reading:
    """One measured resistance.

    Attributes:
        index: place under ``measured``.
        check: what it checks, with what is expected at the temperature it was taken at.
        ohms: what was read; infinite for 'open'.
        temperature: degC of the wiring; ``None`` if nobody wrote it down, which widens the span.
        path: where the document tells of it.
    """

    index: int
    check: Check
    ohms: float
    temperature: float | None
    path: DocPath

    @property
    def known(self) -> bool:
        """Whether there is something to compare with."""
        return self.check.highest is not None

    @property
    def high(self) -> bool:
        """Whether it is above all that is sound."""
        return self.check.highest is not None and self.ohms > self.check.highest

    @property
    def low(self) -> bool:
        """Whether it is below all that is sound."""
        return self.check.lowest is not None and self.ohms < self.check.lowest

    @property
    def sound(self) -> bool:
        """Whether it is within what is sound."""
        return self.known and not self.high and not self.low

    def fits(self, span: Check) -> bool:
        """Whether it would be sound as the reading of another check."""
        return (
            span.lowest is not None and span.highest is not None and span.lowest <= self.ohms <= span.highest
        )


def what_of(one: Measurement) -> str:
    """What was measured, where the document leaves it to the unit."""
    if one.what is not None:
        return one.what
    if isinstance(one.value, str):
        return "resistance" if one.between is not None else "indication"
    if one.value.kind in ("resistance", "length"):
        return one.value.kind
    return "voltage" if one.value.kind == "voltage" and one.between is not None else "indication"


def ohms_of(one: Measurement) -> float | None:
    """Ohms read; infinite for 'open', ``None`` for what is no resistance."""
    if not isinstance(one.value, Quantity):
        return inf
    return float(one.value) if one.value.kind == "resistance" else None


@once
def readings(study: Study) -> tuple[list[Reading], list[int]]:
    """Every measured resistance with its check, and the places of those that match nothing."""
    found: list[Reading] = []
    stray: list[int] = []
    for i, one in enumerate(study.model.measured):
        ohms = ohms_of(one)
        if what_of(one) != "resistance" or ohms is None:
            continue
        at = None if one.at_temperature is None else float(one.at_temperature)
        check = _check_for(study, one, at)
        if check is None:
            stray.append(i)
        else:
            found.append(Reading(i, check, ohms, at, path_of(study, i, check.thing)))
    return found, stray


def path_of(study: Study, index: int, thing: tuple[str, str] | None = None) -> DocPath:
    """Where the document tells of a measured value; for one of a filled sheet, where it tells of what was measured."""
    path: DocPath = ("measured", index)
    return path if thing is None or study.document.holds(path) else thing


def _check_for(study: Study, one: Measurement, at: float | None) -> Check | None:
    if at is not None:
        return _at(study, one, at)
    middle = _at(study, one, BENCH_C)
    ends = [_at(study, one, BENCH_C + d) for d in (-DOUBT_C, DOUBT_C)]
    if middle is None or middle.expected is None:
        return middle
    lows = [c.lowest for c in (middle, *ends) if c is not None and c.lowest is not None]
    highs = [c.highest for c in (middle, *ends) if c is not None and c.highest is not None]
    return replace(middle, lowest=min(lows, default=None), highest=max(highs, default=None))


def _at(study: Study, one: Measurement, temperature: float) -> Check | None:
    true = one.true_value
    checks = _checks(study, temperature, true)
    name = (one.of or "").replace(".", " ", 1)
    if one.position is not None:
        name += f" at {one.position}"
    ends = set(one.between) if one.between is not None else None
    if ends is not None:
        ends = {study.graph.node_of(e) if study.model.find(e.partition(".")[0]) else e for e in ends}
    wanted = [c for c in checks.get(name, ()) if c.kind != "insulation"] if name else checks["*"]
    matching = [c for c in wanted if ends is None or {c.start, c.end} == ends]
    if len(matching) == 1:
        return _connected(study, one, matching[0], temperature)
    if matching and name:
        loops = [c for c in matching if c.kind == "loop"]
        return loops[0] if len(loops) == 1 else None
    if matching:
        return matching[0] if len({c.ident for c in matching}) == 1 else None
    return _between(study, one, temperature) if one.between is not None else None


def _connected(study: Study, one: Measurement, check: Check, temperature: float) -> Check:
    """The check, with all that lies beside it where its ends were still connected."""
    if not one.connected or check.kind == "loop" or not check.end:
        return check
    span = between(study, check.start, check.end, temperature, one.true_value)
    if span is None:
        return replace(check, expected=None, lowest=None, highest=None, missing=(missing.MEASURED_PARTS,))
    return replace(check, expected=span.expected, lowest=span.lowest, highest=span.highest)


@once
def _checks(study: Study, temperature: float, true: Quantity | None) -> dict[str, list[Check]]:
    """Every check at a temperature in degC, by name; '*' for all that are not of insulation."""
    checks = all_checks(study, temperature, true)
    named: dict[str, list[Check]] = {"*": [c for c in checks if c.kind != "insulation"]}
    for check in checks:
        named.setdefault(check.ident, []).append(check)
    return named


def _between(study: Study, one: Measurement, temperature: float) -> Check | None:
    assert one.between is not None
    if any(study.model.find(e.partition(".")[0]) is None for e in one.between):
        return None
    start, end = (study.graph.node_of(e) for e in one.between)
    thing = start.partition(".")[0]
    found = study.model.find(thing)
    check = Check(
        f"{one.between[0]} to {one.between[1]}", "path", (found[0] if found else "", thing), start, end
    )
    span: Span | None = between(study, start, end, temperature, one.true_value)
    if span is None:
        return replace(check, missing=(missing.MEASURED_PARTS,))
    return replace(check, expected=span.expected, lowest=span.lowest, highest=span.highest)


def length_of(check: Check) -> float | None:
    """Length of the one run a check is of, in m."""
    if check.kind != "run" or check.edges[0].run is None:
        return None
    return total_length(check.edges[0].run)
