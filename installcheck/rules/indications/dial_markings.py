"""Coloured lines and arcs on a dial agree with the limits and ranges of the engine."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.shown import number, text, width_text
from ...analysis.study import Study
from ...dataclass import dataclass
from ...model.aircraft import Limit
from ...model.comparing import at_least, at_most
from ...model.devices import Marking
from ...model.quantities import Quantity
from ..part_23 import breach
from ..verdicts import Verdict
from ..vocabulary import Answer, Subject, rule
from .ranges import Dial, dials

_UNMARKED = frozenset(("part 27", "part 29"))
"""Bases that let a normal range be left without a mark."""
_ROUGH = 0.005
"""Share of the span a mark may be off on a display without divisions: our choice."""


@rule(
    "dial-markings",
    title="Red lines stand at the limits, the green arc at the normal range, the yellow arc at the caution range",
    why="The pilot flies by the colours. A red line from another engine's papers lets this one be hurt, or a good one be shut down.",
    source="14 CFR 23.1549 (recalled), 25.1549, 27.1549: red at each safe limit, green within them, yellow for caution; a normal range "
    "without a mark by 27.1549(b) from amendment 27-51 and by part 29",
    formula="mark = limit, within half a division; green arc not beyond a limit",
    example="red line at 260 degF, limit 245 degF: 15 degF too high",
    over=dials,
)
def dial_markings(study: Study, subject: Subject, dial: Dial) -> Answer:
    """Every indication with engine limits; of an extra only what it shows."""
    marks = dial.shown.spec.markings
    if dial.limit is None:
        return subject.lacks(missing.ENGINE_INDICATION_LIMITS)
    if marks is None:
        return subject.lacks(missing.INDICATOR_MARKINGS) if dial.required else None
    return _Face(subject, dial, dial.limit, marks).verdicts()


@dataclass(frozen=True, slots=True)
class _Face:
    """The marks of one dial against its limits."""

    subject: Subject
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
    def _slack(self) -> float:
        """How far a mark may be off its value [SI, K]; nothing where the scale is not given."""
        scale = self.dial.shown.spec.scale
        if scale is None:
            return 0.0
        if scale.division is not None:
            return float(scale.division) / 2
        return _ROUGH * (scale.highest - scale.lowest)

    def _mark(self, *index: int) -> Subject:
        return self.subject.field("markings", *index)

    def _wrong(self, place: Subject, message: str, remedy: str) -> Verdict:
        if not self.dial.required:
            return place.advisory(message, remedy=remedy)
        return breach(place, message, remedy=remedy)

    def _near(
        self, index: int, value: float, wanted: Quantity, message: str, broken: str, remedy: str
    ) -> Verdict:
        """Whether a mark is where it is wanted; broken as a rule of certification is."""
        at, low, high = (number(v, wanted) for v in (value, wanted - self._slack, wanted + self._slack))
        judged = self._mark(index).between(at, low, high, wanted.unit, message)
        if judged.margin is not None and judged.margin >= 0:
            return judged
        wrong = self._wrong(self._mark(index), broken, remedy)
        wrong.value, wrong.limit, wrong.margin, wrong.unit = (
            judged.value,
            judged.limit,
            judged.margin,
            judged.unit,
        )
        return wrong

    def _off_scale(self) -> Iterator[Verdict]:
        scale = self.dial.shown.spec.scale
        for i, mark in enumerate(self.marks):
            for value in (mark.at, mark.lowest, mark.highest):
                if scale is None or value is None or value.kind != scale.lowest.kind:
                    continue
                low, high = scale.lowest - self._slack, scale.highest + self._slack
                if not (at_least(value, low) and at_most(value, high)):
                    yield self._wrong(
                        self._mark(i),
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
                self._mark(),
                f"{name} has no red line at its {word} of {text(value, value)}",
                f"add a red line at {text(value, value)}",
            )
        off, index, start = min(reds)
        told = f"the red line of {name} is at {text(start, value)}, and its {word} is {text(value, value)}"
        side = "high" if start > value else "low"
        broken = f"{told}: {width_text(off, value)} too {side}"
        return self._near(index, start, value, told, broken, f"move the red line to {text(value, value)}")

    def _green(self) -> Iterator[Verdict]:
        low, high = self.limit.normal_low, self.limit.normal_high
        if low is not None and high is not None:
            yield self._arc("green", low, high)
        elif self.dial.required:
            yield self.subject.lacks(missing.ENGINE_NORMAL_RANGE)

    def _arc(self, colour: str, low: Quantity, high: Quantity) -> Verdict:
        name = self.dial.shown.name
        wanted = f"{text(low, low)} to {text(high, low)}"
        arcs = [
            (i, m.lowest, m.highest)
            for i, m in enumerate(self.marks)
            if m.colour == colour and m.lowest is not None and m.highest is not None
        ]
        arcs = [a for a in arcs if a[1].kind == low.kind and a[2].kind == high.kind]
        if not arcs and colour == "green" and self.subject.study.model.aircraft.basis in _UNMARKED:
            return self._unmarked(wanted)
        if not arcs:
            return self._wrong(
                self._mark(), f"{name} has no {colour} arc for {wanted}", f"add a {colour} arc from {wanted}"
            )
        index, start, end = min(arcs, key=lambda a: abs(a[1] - low) + abs(a[2] - high))
        _, at, value = max((abs(start - low), start, low), (abs(end - high), end, high), key=lambda e: e[0])
        told = f"the {colour} arc of {name} runs from {text(start, low)} to {text(end, low)}"
        beyond = self._beyond(start, end, self._slack) if colour == "green" else ""
        return self._near(
            index,
            at,
            value,
            f"{told}, as the engine's papers say",
            f"{told}, and that range is {wanted}{beyond}",
            f"redraw the arc from {wanted}",
        )

    def _unmarked(self, wanted: str) -> Verdict:
        """A rotorcraft's normal range without a mark."""
        told = f"{self.dial.shown.name} leaves its normal range of {wanted} without a mark"
        if self.subject.study.model.aircraft.basis == "part 29":
            return self._mark().meets(f"{told}, which part 29 allows")
        return self._mark().advisory(
            f"{told}: 27.1549(b) allows it from amendment 27-51 (2023) on, and asked for green before",
            remedy=f"look up the amendment it is certificated to, or add a green arc from {wanted}",
        )

    def _beyond(self, start: float, end: float, slack: float) -> str:
        top, bottom = self.limit.maximum, self.limit.minimum
        if top is not None and not at_most(end, top + slack):
            return f"; it goes {width_text(end - top, top)} beyond the limit"
        if bottom is not None and not at_least(start, bottom - slack):
            return f"; it goes {width_text(bottom - start, bottom)} below the lower limit"
        return ""
