"""Coloured lines and arcs on a dial agree with the limits and ranges of the engine."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ...analysis.shown import (
    number,
    text,
    width,
    width_text,
)
from ...analysis.study import Study
from ...model.aircraft import Limit
from ...model.devices import Marking
from ...model.quantities import Quantity
from ..fluid.part_23 import breach
from ..verdicts import (
    Verdict,
    advisory,
    meets,
    undetermined,
)
from ..vocabulary import rule
from .ranges import LIMITS, Dial, dials

MARKINGS = "coloured marks on the dial ('markings')"
NORMAL = "normal range of the indication"

_ROUGH = 0.005
"""Share of the span a mark may be off on a display without divisions: our choice."""
_BARE = 0.001
"""Share of its value a mark may be off where the scale is not given."""


@rule(
    "dial-markings",
    title="Red lines stand at the limits, the green arc at the normal range, the yellow arc at the caution range",
    why="The pilot flies by the colours. A red line from another engine's papers lets this one be hurt, or a good one be shut down.",
    source="14 CFR 23.1549 (recalled; 25.1549 and 27.1549 alike): red at each safe limit, green within them, yellow for caution",
    formula="mark = limit, within half a division; green arc not beyond a limit",
    example="red line at 260 degF, limit 245 degF: 15 degF too high",
    over=lambda study: [d.shown.name for d in dials(study)],
)
def dial_markings(study: Study) -> Iterator[Verdict]:
    """Every indication with engine limits; of an extra only what it shows."""
    for dial in dials(study):
        one, marks = dial.shown, dial.shown.spec.markings
        at = (one.name,)
        if dial.limit is None:
            yield undetermined(at, one.path, LIMITS)
        elif marks is None:
            if dial.required:
                yield undetermined(at, one.path, MARKINGS)
        else:
            yield from _Face(study, dial, dial.limit, marks).verdicts()


@dataclass(frozen=True, slots=True)
class _Face:
    """The marks of one dial against its limits."""

    study: Study
    dial: Dial
    limit: Limit
    marks: list[Marking]

    def verdicts(self) -> Iterator[Verdict]:
        yield from self._off_scale()
        for word, value, upper in (
            ("limit", self.limit.maximum, True),
            ("lower limit", self.limit.minimum, False),
        ):
            if value is not None:
                yield self._red(word, value, upper=upper)
        yield from self._green()
        if self.limit.caution_low is not None and self.limit.caution_high is not None:
            yield self._arc("yellow", self.limit.caution_low, self.limit.caution_high)

    @property
    def _at(self) -> tuple[str, ...]:
        return (self.dial.shown.name,)

    def _slack(self, value: float) -> float:
        """How far a mark may be off its value [SI, K]."""
        scale = self.dial.shown.spec.scale
        if scale is None:
            return abs(value) * _BARE
        if scale.division is not None:
            return float(scale.division) / 2
        return _ROUGH * (scale.highest - scale.lowest)

    def _wrong(self, index: int | None, message: str, remedy: str, **figures: object) -> Verdict:
        path = (*self.dial.shown.path, "markings", *(() if index is None else (index,)))
        if not self.dial.required:
            return advisory(self._at, path, message, remedy=remedy, **figures)
        return breach(self.study, self._at, path, message, remedy=remedy, **figures)

    def _off_scale(self) -> Iterator[Verdict]:
        scale = self.dial.shown.spec.scale
        for i, mark in enumerate(self.marks):
            for value in (mark.at, mark.lowest, mark.highest):
                if scale is None or value is None or value.kind != scale.lowest.kind:
                    continue
                slack = self._slack(value)
                if not scale.lowest - slack <= value <= scale.highest + slack:
                    yield self._wrong(
                        i,
                        f"the {mark.colour} mark of {self.dial.shown.name} at {text(value, value)} is not on its scale, which ends at "
                        f"{text(scale.lowest, value)} and {text(scale.highest, value)}",
                        "move the mark, or fit a scale that holds it",
                    )

    def _red(self, word: str, value: Quantity, *, upper: bool) -> Verdict:
        name = self.dial.shown.name
        reds: list[tuple[float, int, Quantity]] = []
        for i, mark in enumerate(self.marks):
            start = mark.at if mark.at is not None else mark.lowest if upper else mark.highest
            if mark.colour == "red" and start is not None and start.kind == value.kind:
                reds.append((abs(start - value), i, start))
        other = self.limit.minimum if upper else self.limit.maximum
        reds = [r for r in reds if other is None or r[0] <= abs(r[2] - other)]
        if not reds:
            return self._wrong(
                None,
                f"{name} has no red line at its {word} of {text(value, value)}",
                f"add a red line at {text(value, value)}",
            )
        off, index, start = min(reds)
        figures = {
            "value": number(start, value),
            "limit": number(value, value),
            "margin": width(self._slack(value) - off, value),
            "unit": value.unit,
        }
        told = f"the red line of {name} is at {text(start, value)}, and its {word} is {text(value, value)}"
        if off <= self._slack(value) * (1 + 1e-9) + 1e-9:
            return meets(self._at, (*self.dial.shown.path, "markings", index), told, **figures)
        side = "high" if start > value else "low"
        return self._wrong(
            index,
            f"{told}: {width_text(off, value)} too {side}",
            f"move the red line to {text(value, value)}",
            **figures,
        )

    def _green(self) -> Iterator[Verdict]:
        low, high = self.limit.normal_low, self.limit.normal_high
        if low is not None and high is not None:
            yield self._arc("green", low, high)
        elif self.dial.required:
            yield undetermined(self._at, self.dial.shown.path, NORMAL)

    def _arc(self, colour: str, low: Quantity, high: Quantity) -> Verdict:
        name = self.dial.shown.name
        wanted = f"{text(low, low)} to {text(high, low)}"
        arcs = [
            (i, m.lowest, m.highest)
            for i, m in enumerate(self.marks)
            if m.colour == colour and m.lowest is not None and m.highest is not None
        ]
        arcs = [a for a in arcs if a[1].kind == low.kind and a[2].kind == high.kind]
        if not arcs:
            return self._wrong(
                None,
                f"{name} has no {colour} arc for {wanted}",
                f"add a {colour} arc from {wanted}",
            )
        index, start, end = min(arcs, key=lambda a: abs(a[1] - low) + abs(a[2] - high))
        off, at, value = max((abs(start - low), start, low), (abs(end - high), end, high), key=lambda e: e[0])
        slack = self._slack(value)
        figures = {
            "value": number(at, low),
            "limit": number(value, low),
            "margin": width(slack - off, low),
            "unit": low.unit,
        }
        told = f"the {colour} arc of {name} runs from {text(start, low)} to {text(end, low)}"
        if off <= slack * (1 + 1e-9) + 1e-9:
            return meets(
                self._at,
                (*self.dial.shown.path, "markings", index),
                f"{told}, as the engine's papers say",
                **figures,
            )
        beyond = self._beyond(start, end, slack) if colour == "green" else ""
        return self._wrong(
            index, f"{told}, and that range is {wanted}{beyond}", f"redraw the arc from {wanted}", **figures
        )

    def _beyond(self, start: float, end: float, slack: float) -> str:
        top, bottom = self.limit.maximum, self.limit.minimum
        if top is not None and end > top + slack:
            return f"; it goes {width_text(end - top, top)} beyond the limit"
        if bottom is not None and start < bottom - slack:
            return f"; it goes {width_text(bottom - start, bottom)} below the lower limit"
        return ""
