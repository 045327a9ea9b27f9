"""Sender and input of an indicator: leads of a bulb, the curve of a sender, and what an open circuit shows."""

from __future__ import annotations

from ...analysis import missing
from ...analysis.sender_curves import kind_of, of_each_station, output, output_kind, shown
from ...analysis.sender_pairs import Pair, pairs
from ...analysis.shown import listed
from ...analysis.study import Study
from ...analysis.true_value import difference_kind
from ...graph import Edge, Indication
from ...graph.indications import measure_of
from ...model.comparing import at_most
from ...model.devices import Curve, InputSpec
from ...model.fields import Measure
from ...model.installation import split_end
from ...model.quantities import Quantity, in_unit, plain_number, show
from ...physics.scale import OffScaleError
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

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


@rule(
    "bulb-lead-arrangement",
    title="A resistance bulb has as many leads as its indicator is made for, each joined at the bulb",
    why="The third lead takes the resistance of the leads out of the reading only if it starts at the bulb. Joined at the panel, or left "
    "out, the whole lead counts as heat.",
    source="plain physics of the bridge: with equal arms only the imbalance of the leads counts; IEC 60751",
    formula="leads that reach the bulb = leads the indicator is made for",
    example="0.35 ohm of two-wire lead on a nickel bulb at 90 degC: 0.8 degC high",
    over=lambda study: [p for p in pairs(study) if p.gives.principle == "resistance bulb"],
)
def bulb_leads(study: Study, subject: Subject, pair: Pair) -> Verdict:
    """A resistance bulb that is read."""
    subject, reads = Subject(study, (pair.source, pair.indication.indicator), pair.path), pair.reads
    if reads.principle is not None and reads.principle not in _BULB_INPUTS:
        text = f"{pair.source} is a resistance bulb and {pair.name} is a {reads.principle} input"
        return subject.discrepancy(text, remedy="fit an indicator made for the bulb")
    if reads.bulb_leads is None:
        return subject.lacks(missing.INDICATOR_BULB_LEADS)
    return _arrangement(subject.field("bulb_leads"), pair, reads.bulb_leads)


def _arrangement(subject: Subject, pair: Pair, made: int) -> Verdict:
    one, source = pair.indication, pair.source
    wires = [leg for leg in one.legs if not leg.through_ground and not leg.reaches.endswith(".case")]
    reached = len({leg.terminal for leg in wires})
    text = f"{one.name} is made for {made} lead{'s' if made > 1 else ''} and {reached} reach{'es' if reached == 1 else ''} {source}"
    joined = _joined_early(one) if made == 3 else None
    if reached == made and joined is not None:
        return (
            subject.along(joined)
            .placed("wire_runs", joined)
            .discrepancy(
                f"two leads of {one.name} are one, {joined}, on the way to {source}: its resistance counts as heat",
                remedy=f"run both leads to {source} itself and join them there",
            )
        )
    if reached == made == 3 and (pairing := _in_wrong_arm(pair)):
        runs = pair.indication.runs
        return (
            subject.along(*runs)
            .placed("wire_runs", runs[0])
            .discrepancy(
                f"{pairing} of {one.name} are not joined to one end of {source} by {listed(list(runs))}: a lead lies where the "
                "element should",
                remedy=f"join {pairing} of {one.name} to the end of {source} that has two leads, and the third to its other end",
            )
        )
    if reached > made:
        remedy = f"use {made} of the leads, or an indicator made for {reached}"
        return subject.at_most(reached, made, "leads", text, remedy=remedy)
    left = [t for t in pair.reads.terminals or [] if all(leg.terminal != t for leg in wires)]
    end = (pair.gives.terminals or ["A", "B"])[-1]
    harm = ""
    if made == 2 and reached == 1:
        harm = ", the return being through ground: its resistance and every current in it count as heat"
    elif made == 3:
        harm = ": the resistance of the leads counts as heat"
    return subject.at_least(
        reached,
        made,
        "leads",
        text,
        broken=f"{text}{harm}",
        remedy=f"run one more lead of the same gauge and length from {source}.{end} to {one.indicator}"
        f"{'.' + left[0] if left else ''}",
    )


def _in_wrong_arm(pair: Pair) -> str:
    """The two terminals of a three-lead input that belong to one end of the bulb's element, if they do not go there."""
    ours, theirs = pair.reads.terminals or (), pair.gives.terminals or ("A", "B")
    if len(ours) != 3 or len(theirs) not in (2, 3):
        return ""
    went = {leg.terminal: split_end(leg.reaches)[1] for leg in pair.indication.legs}
    alone, one, other = (theirs[0] if went.get(name) == theirs[0] else theirs[1] for name in ours)
    return "" if alone != one == other else f"{ours[1]} and {ours[2]}"


def _joined_early(one: Indication) -> str | None:
    """The run that two of the leads share, if they do not both go to the bulb."""
    seen: set[Edge] = set()
    for leg in one.legs:
        for step in leg.steps:
            if step.edge.kind == "conductor" and step.edge in seen:
                return step.edge.ident
            seen.add(step.edge)
    return None


@rule(
    "sender-curve-match",
    title="The dial is drawn for the curve of the sender fitted",
    why="Two senders that screw into the same hole may have nothing else in common. With another curve the gauge moves, and is wrong.",
    source="plain physics: the output of one curve read on another",
    formula="reading = inverse of the dial's curve at the output of the sender's curve, over the whole dial",
    example="nickel bulb at 90 degC on a dial drawn for Pt100: 63.5 degC",
    over=lambda study: [p for p in pairs(study) if p.reads.principle in _CURVE_INPUTS],
)
def curve_match(study: Study, subject: Subject, pair: Pair) -> Verdict:
    """A sender with a curve on an input that has one."""
    subject = Subject(study, (pair.source, pair.indication.indicator), pair.path)
    given, drawn = pair.gives.curve, pair.reads.curve
    if given is None or drawn is None:
        facts = ((missing.SENDER_CURVE, given), (missing.INDICATOR_CURVE, drawn))
        return subject.lacks(*(word for word, value in facts if value is None))
    at_curve = subject.field("curve")
    given = of_each_station(given, pair.gives.stations or 1)
    if given == drawn:
        return at_curve.meets(f"{pair.name} is drawn for the curve of {pair.source}")
    if (kind_of(given), output_kind(given)) != (kind_of(drawn), output_kind(drawn)):
        return at_curve.discrepancy(
            f"{pair.source} gives {output_kind(given)} by {kind_of(given)} and {pair.name} is drawn for "
            f"{output_kind(drawn)} by {kind_of(drawn)}",
            remedy=_refit(pair),
        )
    unit, span = _unit(pair.reads, kind_of(given)), _span(pair.reads, given, drawn)
    if span is None or not unit:
        return subject.lacks(missing.INDICATOR_SCALE)
    return _compared(at_curve, pair, given, drawn, unit, span)


def _refit(pair: Pair) -> str:
    return f"fit the sender {pair.indication.indicator} is made for, or an indicator made for {pair.source}"


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


def _compared(
    subject: Subject, pair: Pair, given: Curve, drawn: Curve, unit: str, span: tuple[float, float]
) -> Verdict:
    kind = kind_of(given)
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
    if worst is None:
        return subject.discrepancy(
            f"no output of {pair.source} is on the dial of {pair.name}", remedy=_refit(pair)
        )
    error, true, seen = worst
    apart = difference_kind(kind)
    value = in_unit(abs(error), unit, apart)
    most = in_unit(float(pair.gives.tolerance or 0.0) + float(pair.reads.accuracy or 0.0), unit, apart)
    text = (
        f"{pair.source} has another curve than {pair.name} is drawn for: at a true {show(true, unit, kind)} it shows "
        f"{show(seen, unit, kind)}, {plain_number(value)} {unit} {'low' if error < 0 else 'high'}"
    )
    if off is None:
        return subject.at_most(
            value, most, unit, f"{text}, within what both may be off", broken=text, remedy=_refit(pair)
        )
    text += f", and from {show(off[0], unit, kind)} it is driven {off[1]} its scale"
    if at_most(value, most):
        return subject.discrepancy(text, remedy=_refit(pair))
    return subject.at_most(value, most, unit, text, remedy=_refit(pair))


@rule(
    "open-circuit-believable",
    title="A broken circuit does not show a temperature one could believe",
    why="A gauge that shows 59 degF with an open sender looks like a cool engine. The pilot has to know what a broken wire looks like.",
    source="good practice; owners' reports of an open sender taken for a reading",
    formula="value shown with an open input lies outside the dial",
    example="59 degF shown when open, on a dial from 50 to 300 degF",
    over=lambda study: list({i.name: i for i in reversed(_temperatures(study))}.values())[::-1],
)
def open_circuit(study: Study, subject: Subject, one: Indication) -> Verdict:
    """A temperature input that a wire feeds."""
    subject, value = Subject(study, (one.indicator, one.source), one.path), one.spec.open_shows
    if value is None and one.spec.principle == "moving-coil thermocouple":
        # Without current the pointer rests where its own spring holds it: at the temperature of the panel.
        return subject.meets(f"{one.name} rests at the temperature of the panel when open")
    if value is None:
        return subject.lacks(missing.INDICATOR_OPEN)
    subject = subject.field("open_shows")
    if isinstance(value, Quantity):
        dial = one.spec.scale
        shows = f"{one.name} shows {value.text} when its circuit is open"
        if dial is not None and dial.lowest.kind == value.kind and not dial.lowest <= value <= dial.highest:
            return subject.meets(f"{shows}, off its dial")
        believable = f"{shows}, a temperature one could believe"
    elif value == "last value":
        believable = f"{one.name} keeps its last value when its circuit is open"
    else:
        told = value if value == "nothing" else f"a value {value}"
        return subject.meets(f"{one.name} shows {told} when open")
    return subject.advisory(
        believable,
        remedy="write it on the ring-out sheet and beside the gauge; support the lead at the sender",
    )


def _temperatures(study: Study) -> list[Indication]:
    return [i for i in study.indications if measure_of(study.graph, i) in _TEMPERATURES]
