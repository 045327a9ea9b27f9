"""What a faulted network does to each indication: reads high or low by how much, off scale, dead, frozen, or nothing."""

from __future__ import annotations

from functools import cached_property
from math import inf
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from ..analysis import missing
from ..analysis.circuit.measuring_inputs import Follower, Meter
from ..analysis.circuit.solved import Circuit
from ..analysis.errors.in_state import Seen, Watched, on_dial, seen, watched
from ..analysis.errors.reading import read
from ..analysis.errors.reading_back import lacking
from ..analysis.missing import Missing
from ..analysis.shown import listed
from ..analysis.study import Study
from ..analysis.true_value import difference_kind
from ..dataclass import dataclass
from ..graph import Indication
from ..model.quantities import Quantity, conversion, in_unit, plain_number

FloatArray = NDArray[np.float64]

What = Literal[
    "unaffected",
    "reads high",
    "reads low",
    "off scale high",
    "off scale low",
    "shows a fixed value",
    "frozen",
    "dead",
    "erratic",
    "reads the temperature at the fault",
    "stays lit",
    "cannot be told",
]
LOST: frozenset[str] = frozenset(
    ("off scale high", "off scale low", "shows a fixed value", "frozen", "dead", "erratic", "stays lit",
     "reads the temperature at the fault")
)  # fmt: skip
"""Effects that take an indication away, as against shifting it."""

_STIR = 1e-5
"""V, change of a sensing circuit below which its reading is not worked out again: a hundredth of a division of any dial."""
_OF_ITS_PAPERS = frozenset((missing.SENDER_TOLERANCE, missing.INDICATOR_ACCURACY, missing.TOLERANCE_OF_KIND))
_OF_BUDGET, _OF_SPAN = 0.05, 0.002
"""Shares of the budget and of the scale below which a change is nothing a pilot can see [-]."""


@dataclass(frozen=True, slots=True)
class Effect:
    """What one fault does to one indication. ``amount`` is in ``unit``, with its sign."""

    indication: str
    indicator: str
    what: What
    text: str
    amount: float | None = None
    unit: str = ""


@dataclass(frozen=True, slots=True)
class _Watched:
    watched: Watched
    base: Seen
    value: float | None

    @property
    def indication(self) -> Indication:
        return self.watched.indication

    @property
    def meter(self) -> Meter:
        return self.watched.meter

    @property
    def follower(self) -> Follower | None:
        return self.watched.follower


class Watch:
    """The indications of a solved installation, ready to be looked at in faulted states.

    Only those whose own voltages moved are read again, so a fault costs a few vector operations.
    """

    def __init__(self, net: Circuit) -> None:
        self.net, self.study = net, net.study
        base = net.solution.voltage
        shown = [(one, read(one.meter, one.curve, base)) for one in watched(net)]
        self.watched = [_Watched(one, on_dial(one.indication.spec, s), s.value) for one, s in shown]
        meters = [w.meter for w in self.watched]
        self.feed, self.high, self.low, self.other = (
            np.array([getattr(m, f) for m in meters], dtype=np.intp) for f in ("feed", "high", "low", "other")
        )
        self.plus = np.array(
            [w.follower.plus if w.follower else w.meter.low for w in self.watched], dtype=np.intp
        )
        self.minus = np.array(
            [w.follower.minus if w.follower else w.meter.low for w in self.watched], dtype=np.intp
        )
        self.base = self._seen(net.solution.voltage)
        self.powered = [
            (ident, net.nodes[f"{ident}.{t[0]}"], net.nodes[f"{ident}.{t[1]}"])
            for ident, one in self.study.model.indicators.items()
            if (t := one.spec.supply_terminals) and f"{ident}.{t[0]}" in net.draw_nodes
        ]
        self.p = np.array([p for _, p, _ in self.powered], dtype=np.intp)
        self.n = np.array([n for _, _, n in self.powered], dtype=np.intp)
        v = net.solution.voltage
        self.least = np.array(
            [self._least(ident, float(v[p] - v[n])) for ident, p, n in self.powered], dtype=np.float64
        )
        self.unsupplied: dict[str, list[Effect]] = {}
        for one in self.study.indications:
            self.unsupplied.setdefault(one.indicator, []).append(
                Effect(one.name, one.indicator, "dead", "dead: no supply")
            )

    @cached_property
    def required(self) -> frozenset[str]:
        """Indicators that are the required instrument."""
        return frozenset(ident for ident in self.study.model.indicators if required(self.study, ident))

    def _least(self, ident: str, across: float) -> float:
        span = self.study.model.indicators[ident].spec.supply_voltage
        if span is not None and span.lowest.kind == "voltage":
            return min(float(span.lowest), 0.98 * across) if across > 0 else inf
        return across / 2 if across > 0 else inf

    def _seen(self, v: FloatArray) -> FloatArray:
        low = v[self.low]
        return np.stack(
            (v[self.feed] - low, v[self.high] - low, v[self.other] - low, v[self.plus] - v[self.minus])
        )

    def dead_indicators(self, v: FloatArray) -> dict[str, None]:
        """Indicators that worked and have too little supply now."""
        if not self.powered:
            return {}
        across = np.nan_to_num(v[self.p] - v[self.n], nan=0.0)
        found = np.flatnonzero((across < self.least) & np.isfinite(self.least))
        return dict.fromkeys(self.powered[i][0] for i in found.tolist())

    def effects(self, v: FloatArray) -> list[Effect]:
        """Effects on every indication that a state of the network moves."""
        dead = self.dead_indicators(v)
        found = [effect for ident in dead for effect in self.unsupplied.get(ident, ())]
        if not self.watched:
            return found
        moved = ~(np.abs(self._seen(v) - self.base) <= _STIR).all(axis=0)
        for k in np.flatnonzero(moved).tolist():
            one = self.watched[k]
            if one.indication.indicator in dead or one.base.state == "dead":
                continue
            effect = self._effect(one, v)
            if effect is not None:
                found.append(effect)
        return found

    def _effect(self, one: _Watched, v: FloatArray) -> Effect | None:
        indication = one.indication
        after = seen(self.net, one.watched, v)
        if after.open:
            return opened(indication, after.state if after.state in ("above", "below") else None)
        if after.state in ("above", "below"):
            return None if after.state == one.base.state else self._side(indication, after.state)
        if after.state == "erratic":
            return self._say(indication, "erratic", "erratic: its transducer has lost its ground")
        if after.state == "dead":
            return self._say(indication, "dead", "dead: nothing feeds its circuit")
        if after.value is None or one.value is None:
            return None
        return self._shift(indication, after.value - one.value)

    def _shift(self, indication: Indication, change: float) -> Effect | None:
        sensed = self.net.senders[indication.source].truth
        assert sensed is not None
        scale, budget = indication.spec.scale, indication.spec.budget
        seen = _OF_BUDGET * float(budget) if budget is not None else 0.0
        if not seen and scale is not None:
            seen = _OF_SPAN * (float(scale.highest) - float(scale.lowest))
        if abs(change) <= (seen or 1e-3 * abs(sensed.value)):
            return None
        amount = change / conversion(difference_kind(sensed.kind), sensed.unit)[0]
        word: What = "reads high" if change > 0 else "reads low"
        text = f"{word} by {plain_number(abs(amount))} {sensed.unit}"
        lacks = unsaid(self.net, indication)
        if lacks:
            text += f" (not told: {listed(lacks)})"
        return Effect(indication.name, indication.indicator, word, text, amount, sensed.unit)

    def _say(self, indication: Indication, what: What, text: str) -> Effect:
        return Effect(indication.name, indication.indicator, what, text)

    def _side(self, indication: Indication, side: str) -> Effect:
        what: What = "off scale high" if side == "above" else "off scale low"
        return self._say(indication, what, what)

    def _open(self, indication: Indication, side: str | None) -> Effect:
        return opened(indication, side)


def unsaid(net: Circuit, indication: Indication) -> tuple[Missing, ...]:
    """What the document lacks and the reading rests on; what its papers say of accuracy moves no reading."""
    return tuple(m for m in lacking(net.study, indication, net.point) if m not in _OF_ITS_PAPERS)


def opened(indication: Indication, side: str | None = None) -> Effect:
    """What an indication shows with its sensing circuit open: as its part says, else as its circuit does."""

    def say(what: What, text: str) -> Effect:
        return Effect(indication.name, indication.indicator, what, text)

    told = indication.spec.open_shows
    if isinstance(told, Quantity):
        text = f"shows {plain_number(in_unit(told, told.unit, told.kind))} {told.unit} whatever is true"
        return say("shows a fixed value", text)
    if told == "nothing":
        return say("dead", "dead: shows nothing")
    if told == "last value":
        return say("frozen", "frozen at its last value")
    if told == "off scale high" or (told is None and side == "above"):
        return say("off scale high", "off scale high")
    if told == "off scale low" or (told is None and side == "below"):
        return say("off scale low", "off scale low")
    return say("dead", "dead: its circuit is open")


def required(study: Study, indicator: str) -> bool:
    """Whether an indicator is the required instrument."""
    one = study.model.indicators.get(indicator)
    return one is not None and bool(one.required)
