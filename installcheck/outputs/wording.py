"""Words outputs share: the caution, the labels of the outcomes, numbers with their unit, load and weight of a change."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from importlib.metadata import version
from typing import TYPE_CHECKING

from ..model.quantities import in_unit, plain_number, show
from ..rules.asking import Ask, Fact
from ..rules.verdicts import Outcome, Verdict

if TYPE_CHECKING:
    from ..comparison.figures import LoadChange, WeightChange
    from ..comparison.largest_errors import LargestError

VERSION = version("installcheck")
_NUMBERED = re.compile(r"[1-9]\d*$")

CAUTION = (
    "This is an aid to a qualified person. It is not approved data. The type design, the engine and airframe makers' "
    "current data, local rules and a licensed person decide."
)
"""Printed once in every output a person may file."""

OUTCOME_WORDS: dict[Outcome, str] = {
    Outcome.DISCREPANCY: "DISCREPANCY",
    Outcome.ADVISORY: "ADVISORY",
    Outcome.UNDETERMINED: "CANNOT BE JUDGED",
    Outcome.ACCEPTED: "ACCEPTED DEVIATION",
    Outcome.MEETS: "MEETS",
}


def drawn_together(idents: Iterable[str]) -> str:
    """Every name once, numbers that follow each other drawn together.

    >>> drawn_together(["head block", "P20", "P21", "P22", "E3", "E4"])
    'head block, P20 to P22, E3, E4'
    """
    runs: list[list[str]] = []
    for ident in dict.fromkeys(idents):
        if runs and _NUMBERED.sub(lambda last: str(int(last[0]) + 1), runs[-1][-1]) == ident:
            runs[-1].append(ident)
        else:
            runs.append([ident])
    return ", ".join(f"{r[0]} to {r[-1]}" if len(r) > 2 else ", ".join(r) for r in runs)


def numbers(verdict: Verdict) -> str:
    """``0.61 V, limit 0.5 V, margin -0.11 V``; empty if the verdict has no value."""
    if verdict.value is None:
        return ""
    unit = f" {verdict.unit}" if verdict.unit else ""
    told = f"{plain_number(verdict.value)}{unit}"
    if verdict.limit is not None:
        told += f", limit {plain_number(verdict.limit)}{unit}"
    if verdict.margin is not None:
        told += f", margin {plain_number(verdict.margin)}{unit}"
    return told


def ask_of(ask: Ask) -> str:
    """``give the temperature of the zone: engine, cabin``."""
    return "; ".join(map(_asked, ask.facts))


def _asked(fact: Fact) -> str:
    told = f"say {fact.words}" if fact.words.startswith("whether ") else f"give the {fact.words}"
    shown = ", ".join(fact.items[:_ITEMS])
    more = f" and {len(fact.items) - _ITEMS} more" if len(fact.items) > _ITEMS else ""
    return f"{told}: {shown}{more}" if shown else told


def settled_of(ask: Ask) -> str:
    """``29 verdicts of wire-ampacity and wire-protected``."""
    rules = sorted({v.rule for v in ask.settles})
    told = f"{count_of(len(ask.settles), 'verdict', 'verdicts')}: {', '.join(rules)}"
    return told + (f"; {ask.waits} more wait for it and something else" if ask.waits else "")


_ITEMS = 12
"""Things of one answer that are listed; more are counted."""

UNTRIED = "the rule says, not tried"
"""Label of a remedy that is what its rule says, and not a cure that was tried."""


def remedy_of(verdict: Verdict) -> str:
    """``the rule says, not tried: fit a 5 A breaker``; empty where the rule says none."""
    return f"{UNTRIED}: {verdict.remedy}" if verdict.remedy else ""


_ENDS = ("; ", ": ", " (", ", which ", ", up to ", ", against ", ", ")


def clause(message: str, room: int) -> str:
    """The beginning of a sentence that fits ``room`` characters, cut where a clause ends.

    >>> clause("run P9 of 22 AWG stands behind a breaker of 15 A; 5 A is the most it can bear", 60)
    'run P9 of 22 AWG stands behind a breaker of 15 A'
    """
    if len(message) <= room:
        return message
    ends = [at for end in _ENDS if (at := message.rfind(end, 20, room)) > 0]
    told = message[: max(ends)] if ends else message[: message.rfind(" ", 0, room)] + " ..."
    opened = told.rfind(" (")
    return told[:opened] if opened > 20 and ")" not in told[opened:] else told


def count_of(number: int, one: str, many: str) -> str:
    """``1 thing``, ``13 things``."""
    return f"{number} {one if number == 1 else many}"


def load_lines(load: LoadChange) -> Iterator[str]:
    """Load before and after in words; nothing if it is the same."""
    if load.items:
        yield (
            f"continuous load {plain_number(load.old)} A before, {plain_number(load.new)} A after"
            f" ({_signed(load.new - load.old)} A)"
        )
        if load.old_short != load.new_short:
            yield (
                f"load for a short time {plain_number(load.old_short)} A before,"
                f" {plain_number(load.new_short)} A after"
            )
        yield "by item: " + ", ".join(f"{ident} {_signed(new - old)} A" for ident, old, new in load.items)
    if load.unknown:
        yield f"not counted, no current given: {', '.join(load.unknown)}"


def error_told(error: LargestError | None) -> str:
    """``18.2 degF (climb)``; empty where the rules make no budget."""
    if error is None:
        return ""
    least = "" if error.whole else "at least "
    if error.size is None:
        return f"off the scale, {error.beyond} ({error.point})"
    kind = "temperature difference" if error.kind == "temperature" else error.kind
    return f"{least}{show(error.size, error.unit, kind)} ({error.point})"


def weight_lines(weight: WeightChange, *, every: bool = True) -> Iterator[str]:
    """Weight and moment in words, and what is not in them: every thing by its id, or how many there are."""
    unit, arm, moment = ("kg", "m", "kg m") if weight.unit == "kg" else ("lb", "in", "lb in")
    if weight.items:
        change = in_unit(weight.change, unit, "mass")
        turn = weight.moment / (_one(unit, "mass") * _one(arm, "length"))
        known = " of what gives one" if weight.no_weight else ""
        yield f"weight{known} {_signed(change)} {unit}, moment {_signed(turn)} {moment} about the datum"
    if not every and (weight.no_arm or weight.no_weight):
        yield f"not counted: {len(weight.no_weight)} things without a weight; in the moment, {len(weight.no_arm)} without a station"
        return
    if weight.no_arm and weight.items:
        yield f"not in the moment, no station given: {', '.join(weight.no_arm)}"
    if weight.no_weight:
        yield f"not counted, no weight given: {', '.join(weight.no_weight)}"
    if weight.said_removed:
        yield (
            f"the new document lists {show(weight.said_removed, unit, 'mass')} as removed; the figures above count"
            " what the two documents describe instead"
        )


def _one(unit: str, kind: str) -> float:
    return 1 / in_unit(1.0, unit, kind)


def _signed(value: float) -> str:
    return f"{'+' if value > 0 else ''}{plain_number(value)}"
