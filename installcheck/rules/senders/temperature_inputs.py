"""Sender and input of an indicator: leads of a bulb, the curve of a sender, and what an open circuit shows."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.sender_curves import (
    kind_of,
    output,
    output_kind,
    shown,
)
from ...analysis.study import Study
from ...analysis.true_value import difference_kind
from ...graph import Edge, Indication
from ...graph.indications import measure_of
from ...model.devices import Curve, InputSpec
from ...model.fields import Measure
from ...model.quantities import (
    Quantity,
    in_unit,
    plain_number,
    show,
)
from ...physics.scale import OffScaleError
from ..verdicts import (
    Verdict,
    advisory,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

BULB_LEADS = "number of bulb leads the indicator is made for ('bulb_leads')"
SENDER_CURVE = "curve of the sender"
INPUT_CURVE = "curve the indicator's dial is drawn for"
OPEN = "what the indicator shows with an open input ('open_shows')"
_STEPS = 40
_BULB_INPUTS = frozenset(("bridge", "ratio meter", "electronic resistance", "series meter"))
_CURVE_INPUTS = _BULB_INPUTS | {"voltage", "current loop"}
_TEMPERATURES: frozenset[Measure] = frozenset(
    (
        "oil temperature",
        "head temperature",
        "exhaust temperature",
        "turbine inlet temperature",
        "carburettor air temperature",
        "outside air temperature",
        "coolant temperature",
    )
)


def _bulbs(study: Study) -> list[Indication]:
    return [
        i
        for i in study.indications
        if i.section == "senders" and study.model.senders[i.source].spec.principle == "resistance bulb"
    ]


@rule(
    "bulb-lead-arrangement",
    title="A resistance bulb has as many leads as its indicator is made for, each joined at the bulb",
    why="The third lead takes the resistance of the leads out of the reading only if it starts at the bulb. Joined at the panel, or left "
    "out, the whole lead counts as heat.",
    source="plain physics of the bridge: with equal arms only the imbalance of the leads counts; IEC 60751",
    formula="leads that reach the bulb = leads the indicator is made for",
    example="0.35 ohm of two-wire lead on a nickel bulb at 90 degC: 0.8 degC high",
    over=lambda study: [i.source for i in _bulbs(study)],
)
def bulb_leads(study: Study) -> Iterator[Verdict]:
    """Every resistance bulb that is read."""
    for one in _bulbs(study):
        at, made = (one.source, one.indicator), one.spec.bulb_leads
        if one.spec.principle is not None and one.spec.principle not in _BULB_INPUTS:
            text = f"{one.source} is a resistance bulb and {one.name} is a {one.spec.principle} input"
            yield discrepancy(at, one.path, text, remedy="fit an indicator made for the bulb")
        elif made is None:
            yield undetermined(at, one.path, BULB_LEADS)
        else:
            yield _arrangement(study, one, made)


def _arrangement(study: Study, one: Indication, made: int) -> Verdict:
    at, bulb = (one.source, one.indicator), study.model.senders[one.source]
    path = (*one.path, "bulb_leads")
    wires = [leg for leg in one.legs if not leg.through_ground and not leg.reaches.endswith(".case")]
    reached = len({leg.terminal for leg in wires})
    numbers = {
        "value": float(reached),
        "limit": float(made),
        "margin": float(reached - made),
        "unit": "leads",
    }
    text = f"{one.name} is made for {made} lead{'s' if made > 1 else ''} and {reached} reach{'es' if reached == 1 else ''} {one.source}"
    joined = _joined_early(one) if made == 3 else None
    if reached == made and joined is not None:
        return discrepancy(
            (*at, joined),
            ("wire_runs", joined),
            f"two leads of {one.name} are one, {joined}, on the way to {one.source}: its resistance counts as heat",
            remedy=f"run both leads to {one.source} itself and join them there",
            **numbers,
        )
    if reached == made:
        return meets(at, path, text, **numbers)
    if reached < made:
        names = one.spec.terminals or []
        left = [t for t in names if all(leg.terminal != t for leg in wires)]
        end = (bulb.spec.terminals or ["A", "B"])[-1]
        remedy = (
            f"run one more lead of the same gauge and length from {one.source}.{end} to {one.indicator}"
            f"{'.' + left[0] if left else ''}"
        )
        if made == 2 and reached == 1:
            text += ", the return being through ground: its resistance and every current in it count as heat"
        elif made == 3:
            text += ": the resistance of the leads counts as heat"
        return discrepancy(at, path, text, remedy=remedy, **numbers)
    return discrepancy(
        at, path, text, remedy=f"use {made} of the leads, or an indicator made for {reached}", **numbers
    )


def _joined_early(one: Indication) -> str | None:
    """The run that two of the leads share, if they do not both go to the bulb."""
    seen: set[Edge] = set()
    for leg in one.legs:
        for step in leg.steps:
            if step.edge.kind == "conductor" and step.edge in seen:
                return step.edge.ident
            seen.add(step.edge)
    return None


def _curved(study: Study) -> list[Indication]:
    return [i for i in study.indications if i.section == "senders" and i.spec.principle in _CURVE_INPUTS]


@rule(
    "sender-curve-match",
    title="The dial is drawn for the curve of the sender fitted",
    why="Two senders that screw into the same hole may have nothing else in common. With another curve the gauge moves, and is wrong.",
    source="plain physics: the output of one curve read on another",
    formula="reading = inverse of the dial's curve at the output of the sender's curve, over the whole dial",
    example="nickel bulb at 90 degC on a dial drawn for Pt100: 63.5 degC",
    over=lambda study: [i.source for i in _curved(study)],
)
def curve_match(study: Study) -> Iterator[Verdict]:
    """Every sender with a curve on an input that has one."""
    for one in _curved(study):
        at, sender = (one.source, one.indicator), study.model.senders[one.source].spec
        given, drawn = sender.curve, one.spec.curve
        if given is None or drawn is None:
            words = [w for w, v in ((SENDER_CURVE, given), (INPUT_CURVE, drawn)) if v is None]
            yield undetermined(at, one.path, words)
        elif given == drawn:
            yield meets(at, (*one.path, "curve"), f"{one.name} is drawn for the curve of {one.source}")
        elif (kind_of(given), output_kind(given)) != (kind_of(drawn), output_kind(drawn)):
            text = (
                f"{one.source} gives {output_kind(given)} by {kind_of(given)} and {one.name} is drawn for "
                f"{output_kind(drawn)} by {kind_of(drawn)}"
            )
            yield discrepancy(at, (*one.path, "curve"), text, remedy=_refit(one))
        else:
            yield _compared(one, given, drawn, sender.tolerance)


def _refit(one: Indication) -> str:
    return f"fit the sender {one.indicator} is made for, or an indicator made for {one.source}"


def _unit(spec: InputSpec, kind: str) -> str:
    for stated in (spec.scale.highest if spec.scale is not None else None, spec.budget):
        if stated is not None and stated.kind in (kind, difference_kind(kind)):
            return stated.unit
    return {"temperature": "degF", "pressure": "psi", "ratio": "%", "volume": "gal"}.get(kind, "")


def _span(spec: InputSpec, given: Curve, drawn: Curve) -> tuple[float, float] | None:
    """Readings over which to compare: the dial, as far as the tables of both curves go."""
    low, high = float("-inf"), float("inf")
    if spec.scale is not None and spec.scale.lowest.kind == kind_of(given):
        low, high = float(spec.scale.lowest), float(spec.scale.highest)
    if given.points is not None:
        low, high = max(low, float(given.points[0][0])), min(high, float(given.points[-1][0]))
    if drawn.points is not None and given.points is None:
        low, high = max(low, float(drawn.points[0][0])), min(high, float(drawn.points[-1][0]))
    return (low, high) if float("-inf") < low < high < float("inf") else None


def _compared(one: Indication, given: Curve, drawn: Curve, tolerance: Quantity | None) -> Verdict:
    at, path, kind = (one.source, one.indicator), (*one.path, "curve"), kind_of(given)
    unit, span = _unit(one.spec, kind), _span(one.spec, given, drawn)
    if span is None or not unit:
        return undetermined(at, one.path, "range of the dial ('scale')")
    worst: tuple[float, float, float] | None = None
    off: tuple[float, str] | None = None
    for i in range(_STEPS + 1):
        true = span[0] + (span[1] - span[0]) * i / _STEPS
        try:
            out = output(given, true)
        except ValueError:
            continue
        try:
            seen = shown(drawn, out)
        except OffScaleError as beyond:
            off = off or (true, beyond.side)
            continue
        if worst is None or abs(seen - true) > abs(worst[0]):
            worst = (seen - true, true, seen)
    limit = float(tolerance or 0.0) + float(one.spec.accuracy or 0.0)
    apart = difference_kind(kind)
    most = in_unit(limit, unit, apart)
    if worst is None:
        text = f"no output of {one.source} is on the dial of {one.name}"
        return discrepancy(at, path, text, remedy=_refit(one))
    error, true, seen = worst
    value = in_unit(abs(error), unit, apart)
    numbers = {"value": value, "limit": most, "margin": most - value, "unit": unit}
    text = (
        f"{one.source} has another curve than {one.name} is drawn for: at a true {show(true, unit, kind)} it shows "
        f"{show(seen, unit, kind)}, {plain_number(value)} {unit} {'low' if error < 0 else 'high'}"
    )
    if off is not None:
        text += f", and from {show(off[0], unit, kind)} it is driven {off[1]} its scale"
    if abs(error) <= limit and off is None:
        return meets(at, path, f"{text}, within what both may be off", **numbers)
    return discrepancy(at, path, text, remedy=_refit(one), **numbers)


def _temperatures(study: Study) -> list[Indication]:
    return [i for i in study.indications if measure_of(study.graph, i) in _TEMPERATURES]


@rule(
    "open-circuit-believable",
    title="A broken circuit does not show a temperature one could believe",
    why="A gauge that shows 59 degF with an open sender looks like a cool engine. The pilot has to know what a broken wire looks like.",
    source="good practice; owners' reports of an open sender taken for a reading",
    formula="value shown with an open input lies outside the dial",
    example="59 degF shown when open, on a dial from 50 to 300 degF",
    over=lambda study: [i.indicator for i in _temperatures(study)],
)
def open_circuit(study: Study) -> Iterator[Verdict]:
    """Every temperature input that a wire feeds."""
    done: set[str] = set()
    for one in _temperatures(study):
        if one.name not in done:
            done.add(one.name)
            yield _when_open(one)


def _when_open(one: Indication) -> Verdict:
    at, path, value = (one.indicator, one.source), (*one.path, "open_shows"), one.spec.open_shows
    if value is None and one.spec.principle == "moving-coil thermocouple":
        # Without current the pointer rests where its own spring holds it: at the temperature of the panel.
        return meets(at, one.path, f"{one.name} rests at the temperature of the panel when open")
    if value is None:
        return undetermined(at, one.path, OPEN)
    if isinstance(value, Quantity):
        dial = one.spec.scale
        shows = f"{one.name} shows {value.text} when its circuit is open"
        if dial is not None and dial.lowest.kind == value.kind and not dial.lowest <= value <= dial.highest:
            return meets(at, path, f"{shows}, off its dial")
        return advisory(
            at,
            path,
            f"{shows}, a temperature one could believe",
            remedy="write it on the ring-out sheet and beside the gauge; support the lead at the sender",
        )
    if value == "last value":
        return advisory(
            at,
            path,
            f"{one.name} keeps its last value when its circuit is open",
            remedy="write it on the ring-out sheet and beside the gauge; support the lead at the sender",
        )
    return meets(
        at, path, f"{one.name} shows {value if value == 'nothing' else 'a value ' + value} when open"
    )
