"""What a trace says, in the words of the bench: sizes with their range, why something is excluded, what to expect under each."""

from __future__ import annotations

from collections.abc import Sequence

from ..analysis.study import Study
from ..model.quantities import in_unit, plain_number, show
from .channels import channel_of, channels
from .expected import Expect
from .looks import (
    Compared,
    Followed,
    Insulated,
    Look,
    Marked,
    Observation,
    Ohms,
    Rung,
    Show,
    TrueValue,
    Volts,
)
from .next_test import Choice, Outcome, meter_range
from .predict import Predictor
from .ranking import Ranked
from .trace import Trace

_VERBS: dict[str, str] = {
    "frozen": "not move",
    "erratic": "jump about",
    "still": "stay still",
    "moves": "move",
    "holds": "hold",
    "falls": "fall",
    "starved": "work badly or not at all, on too little supply",
    "right": "be right",
    "wrong": "be wrong",
}
_SLIGHT = 0.01
"""Probability below which a result is not told beforehand."""
_LOOKED_AT = 4
"""Indications that are named to be looked at again."""
_SOME = 0.05
"""Probability of two at once from which it is told beside one."""
_NO_VOLTS = 0.0005
"""V below which a hand meter shows none."""
_WORDS = {
    "open": "open (no end)",
    "dead": "nothing",
    "frozen": "does not move",
    "erratic": "jumps about",
    "still": "stays still",
    "closed": "any reading but open",
    "starved": "works badly or not at all, on too little supply",
    "relaid": "anything, as it may sit otherwise now",
    "floats": "anything, as nothing holds it",
}


def size_told(ranked: Ranked) -> str:
    """The size that explains, with its range: '138 to 154 ohm'; empty for a fault without one."""
    h = ranked.hypothesis
    if not h.unit or ranked.lowest is None or ranked.highest is None or ranked.best.size is None:
        return ""
    low, high = ranked.lowest, ranked.highest
    if h.kind_of_size == "ratio":
        return f"{plain_number(100 * min(low, high), 2)} to {plain_number(100 * max(low, high), 2)} % of the way to what is true"
    numbers = [in_unit(x, h.unit, h.kind_of_size) for x in (low, high)]
    a, b = (plain_number(_rounded(n), 2) for n in numbers)
    return f"{a} {h.unit}" if a == b else f"{a} to {b} {h.unit}"


def _rounded(number: float) -> float:
    """A number to two figures: a size is never known better."""
    return float(f"{number:.2g}")


def told(ranked: Ranked) -> str:
    """A hypothesis with its size: 'a bad joint in wire E5 ...: 28 to 6500 ohm'."""
    size = size_told(ranked) or ranked.best.sort
    return f"{ranked.hypothesis.text}: {size}" if size else ranked.hypothesis.text


def expected_told(study: Study, look: Look, expect: Expect) -> str:
    """What a look shows in a world, as text."""
    told = [value_told(study, look, expect.value)] if expect.value is not None else []
    if expect.word is not None:
        place = f" at {expect.places[0][0]}" if expect.places else ""
        told.append(f"{_WORDS.get(expect.word, expect.word)}{place}")
    return " or ".join(told) or "what cannot be told"


def value_told(study: Study, look: Look, value: float) -> str:
    """A value of a look in the unit a person reads it in."""
    if isinstance(look, Ohms):
        if value >= 1e5:
            return show(value, "kohm", "resistance")
        return f"{plain_number(value, 2 if value < 10 else 3)} ohm" if value >= 0.05 else "0 ohm"
    if isinstance(look, Volts):
        small = abs(value) < 0.2
        if abs(value) < _NO_VOLTS:
            return "0 V"
        return f"{plain_number(value * 1000, 2)} mV" if small else f"{plain_number(value, 3)} V"
    channel = (
        channel_of(study, look)
        if isinstance(look, Show)
        else next(
            (
                c
                for c in channels(study)
                if isinstance(look, TrueValue) and look.source in (*c.sources, c.indicator)
            ),
            None,
        )
    )
    dial = channel.spec.scale if channel is not None else None
    if dial is None:
        return plain_number(value)
    number = in_unit(value, dial.highest.unit, dial.highest.kind)
    return f"{plain_number(number)} {dial.highest.unit}"


def outcome_told(study: Study, look: Look, outcome: Outcome) -> str:
    """One result a test can have: 'open', '86 to 98 ohm'."""
    if outcome.word is not None:
        word = _WORDS.get(outcome.word, outcome.word)
        return f"{word} at {outcome.at}" if outcome.at else word
    low, high = value_told(study, look, outcome.low), value_told(study, look, outcome.high)
    if low == high:
        return low
    unit = low.rpartition(" ")[2]
    if unit == high.rpartition(" ")[2]:
        low = low.rpartition(" ")[0]
    return f"{low} to {high}"


def why_excluded(predictor: Predictor, trace: Trace, ranked: Ranked) -> str:
    """'it would show off scale high, and 150 degF was seen'."""
    one = trace.seen[ranked.against]
    expect = predictor.expect(one.at, one.look, [ranked.best.world])[0]
    would = _would(one.look, expect) or f"show {expected_told(trace.study, one.look, expect)}"
    return f"then {one.look} would {would}, and {seen_told(one)} was seen"


def _would(look: Look, expect: Expect) -> str:
    """What a word comes to after 'would'; empty for a value and for what a dial shows."""
    if expect.value is not None or expect.word is None:
        return ""
    place = f" at {expect.places[0][0]}" if expect.places else ""
    if isinstance(look, (Compared, Followed, Rung, Insulated, Marked)):
        return f"be {expect.word}{place}"
    return f"{_VERBS[expect.word]}{place}" if expect.word in _VERBS else ""


def seen_told(one: Observation) -> str:
    """The result of an observation."""
    return one.result.text or _WORDS.get(one.result.word or "", one.result.word or "")


def range_told(choice: Choice) -> str:
    """The range of a meter: '20 V'; empty where none is used."""
    most = meter_range(choice)
    if most is None:
        return ""
    if isinstance(choice.test.look, Volts):
        return "200 mV" if most < 1 else f"{most:g} V"
    for unit, factor in (("Mohm", 1e6), ("kohm", 1e3)):
        if most >= factor:
            return f"{most / factor:g} {unit}"
    return f"{most:g} ohm"


def merged(choice: Choice) -> list[Outcome]:
    """Results of a test with those of one hypothesis, whatever its size, told as one."""
    found: list[Outcome] = []
    for one in choice.outcomes:
        if one.share < _SLIGHT or not one.under:
            continue
        mine = {r.hypothesis.key for r, _ in one.under}
        at = next(
            (
                i
                for i, o in enumerate(found)
                if o.word is None and one.word is None and {r.hypothesis.key for r, _ in o.under} == mine
            ),
            None,
        )
        if at is None:
            found.append(one)
        else:
            o = found[at]
            found[at] = Outcome(
                None, min(o.low, one.low), max(o.high, one.high), o.share + one.share, o.under
            )
    return sorted(found, key=lambda o: -o.share)


def names_told(outcome: Outcome, most: int = 3) -> str:
    """The hypotheses that expect a result, the likeliest first."""
    names = list(dict.fromkeys(r.hypothesis.text for r, _ in outcome.under))
    more = f"; and {len(names) - most} more" if len(names) > most else ""
    return "; ".join(names[:most]) + more


def verdict_told(trace: Trace) -> list[str]:
    """What the trace comes to, in one or two sentences."""
    if not trace.seen:
        return [
            "Nothing was seen yet: say what is wrong with --seen, in a record, or under 'seen' in the document."
        ]
    if not trace.bad:
        return ["What was seen is of no indication of this document."]
    standing = trace.ranking.standing
    if trace.sound:
        return [
            "What was seen is as it should be, within what gauges, senders and readings may be off: say what is wrong, or in "
            "which state. What follows could still be there unseen."
        ]
    if not trace.explained:
        lines = ["No single fault explains everything that was seen."]
        if standing:
            lines = [
                "No single fault explains everything that was seen well: what stands below does so only if a gauge happened to "
                "stand just there."
            ]
        if trace.pairs is not None and trace.pairs.standing:
            lines.append("Two at once do; read the observations again before looking for two.")
        else:
            lines.append(
                "Nor do two that were thought of: read the observations again, and whether the aircraft is as drawn."
            )
        return lines
    return [_of_one_told(trace), *_beside_told(trace)]


def _of_one_told(trace: Trace) -> str:
    """How sure it is which single fault it is."""
    standing, leading = trace.ranking.standing, trace.ranking.leading
    if len(leading) == 1:
        share = leading[0].share
        sure = "likeliest by far" if share > 0.8 else "likeliest"
        left = len(standing) - 1
        if not left:
            return "One is left: what was seen excludes everything else that was thought of."
        return f"One is {sure} ({share:.0%}); {left} other{' is' if left == 1 else 's are'} not excluded."
    less = len(standing) - len(leading)
    also = f"; {less} less likely one{' is' if less == 1 else 's are'} not excluded either" if less else ""
    return f"These {len(leading)} cannot be told apart yet{also}."


def _beside_told(trace: Trace) -> list[str]:
    """What one fault leaves unexplained, and two at once where they are likely enough to be thought of."""
    lines = []
    for one in trace.left_over:
        assert one.result.value is not None
        value = value_told(trace.study, one.look, one.result.value)
        lines.append(
            f"It does not explain well that {one.look} showed {value}: when it is put right, look at that again; a second fault "
            "may be behind it."
        )
    if trace.pairs is not None and trace.pairs.standing and trace.two >= _SOME:
        first = trace.pairs.standing[0].hypothesis.text
        lines.append(f"Or it is two at once ({trace.two:.0%} together), the likeliest: {first}.")
    return lines


_WORTH_NAMING = 0.02
"""Share from which one that no test parts from the others is named with them."""
_OF_SUPPLY = ("dead supply", "low supply")


def nothing_left_told(trace: Trace) -> str:
    """What to do where no test is left: a second fault shows only once the first is mended."""
    looks = list(dict.fromkeys(str(c.show) for c in trace.bad))
    again = f"look at {' and at '.join(looks[:_LOOKED_AT])} again: a second fault shows only then"
    if len(trace.shown) == 1:
        return f"Nothing is left to be parted: put it right, and {again}."
    level = [r for r in trace.shown if r.share >= _WORTH_NAMING]
    named = f" ({'; '.join(f'{r.hypothesis.text}, {r.share:.0%}' for r in level)})" if len(level) > 1 else ""
    return (
        f"No test at an accessible point tells these apart{named}: put the likeliest right, and {again}."
        + _of_regulator_told(trace, level)
    )


def _of_regulator_told(trace: Trace, level: Sequence[Ranked]) -> str:
    """What parts a dead alternator or generator from one that is regulated too low, which give both nothing beside a battery."""
    by_kind = {kind: {r.hypothesis.at for r in level if r.hypothesis.kind == kind} for kind in _OF_SUPPLY}
    both = by_kind["dead supply"] & by_kind["low supply"]
    turned = [i for (i,) in sorted(both) if trace.study.model.supplies[i].spec.kind != "battery"]
    if not turned:
        return ""
    return (
        f" While another source holds the bus, {' and '.join(turned)} gives no ampere whether dead or regulated too low: only the volts at "
        "its field terminal with the engine running, against its maker's data, part the two."
    )
