"""A sender's signal suits its indicator: kind, measure, full scale, electrical range, and how many read it."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.sender_curves import output_kind
from ...analysis.sender_pairs import Pair, pairs
from ...analysis.shown import Shown, limit_of, listed, number, shown_on, text
from ...analysis.study import Study, once
from ...graph.indications import Indication
from ...model.devices import Sender
from ...model.quantities import Quantity
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_RESISTANCES = frozenset(("resistive", "thermistor", "resistance bulb"))
_TAKES: dict[str, frozenset[str]] = {
    "bridge": _RESISTANCES,
    "ratio meter": _RESISTANCES,
    "electronic resistance": _RESISTANCES,
    "series meter": _RESISTANCES,
    "voltage": frozenset(("pressure transducer",)),
    "current loop": frozenset(("pressure transducer",)),
    "pulse counter": frozenset(("pulse pick-up", "tachometer generator")),
    "synchro receiver": frozenset(("synchro transmitter",)),
    "synchronous tachometer": frozenset(("tachometer generator",)),
    "warning light": frozenset(("switch",)),
    "moving-coil thermocouple": frozenset(("thermocouple",)),
    "electronic thermocouple": frozenset(("thermocouple",)),
}
"""What each kind of input can read."""
_OUTPUT = {"voltage": "voltage", "current loop": "current"}
_PRESSURES = frozenset(("oil pressure", "fuel pressure", "manifold pressure", "hydraulic pressure", "vacuum"))


_QUANTITIES = frozenset(("fuel quantity", "oil quantity"))


def _sender(study: Study, one: Indication) -> Sender | None:
    return study.model.senders[one.source] if one.section == "senders" else None


def _indications(study: Study) -> list[Indication]:
    return study.indications


@rule(
    "signal-kind",
    title="An indicator is made for the kind of signal its sender gives",
    why="A resistance on a voltage input, or a thermistor on a thermocouple gauge, moves the pointer and means nothing.",
    source="plain physics; data of sender and indicator",
    formula="principle and output of the sender among those the input reads",
    example="4-20 mA transmitter on a 0.5-4.5 V input: no indication",
    over=_indications,
)
def signal_kind(study: Study, subject: Subject, one: Indication) -> Verdict | None:
    """An indication, unless a resistance bulb is on another input, which the rule of its leads judges."""
    subject, sender = Subject(study, (one.indicator, one.source), one.path), _sender(study, one)
    gives = "thermocouple" if sender is None else sender.spec.principle
    takes = one.spec.principle
    if gives is None or takes is None:
        facts = ((missing.INDICATOR_PRINCIPLE, takes), (missing.SENDER_PRINCIPLE, gives))
        return subject.lacks(*(word for word, value in facts if value is None))
    allowed = _TAKES.get(takes, frozenset())
    if gives == "resistance bulb" and gives not in allowed:
        return None
    if gives not in allowed:
        return subject.discrepancy(
            f"{one.name} is a {takes} input and {one.source} is a {gives}",
            remedy=f"fit {listed(sorted(allowed)) or 'nothing by wire'} here, or an indicator made for a {gives}",
        )
    curve = sender.spec.curve if sender is not None else None
    wanted, output = _OUTPUT.get(takes), output_kind(curve) if curve is not None else None
    if wanted is not None and output is not None and output != wanted:
        return subject.discrepancy(
            f"{one.name} reads a {wanted} and {one.source} gives a {output}",
            remedy=f"fit a transducer that gives a {wanted}, or an indicator that reads a {output}",
        )
    return subject.meets(f"{one.name} reads a {gives}")


@rule(
    "indication-measure",
    title="An indicator reads a sender of what it shows",
    why="Two senders of one thread and one curve change places easily: fuel pressure under the name of oil pressure.",
    source="14 CFR 23.1301: labelled as to its function; 33.29(a): connections that cannot be crossed or are marked",
    formula="measure of the input = measure of the sender or probe",
    example="oil pressure input joined to the fuel pressure sender",
    over=_indications,
)
def indication_measure(study: Study, subject: Subject, one: Indication) -> Verdict:
    """Every indication with a sender or probe."""
    sender = _sender(study, one)
    gives = sender.spec.measures if sender is not None else study.model.probes[one.source].measures
    also = (sender.serves or []) if sender is not None else []
    subject = Subject(study, (one.indicator, one.source), one.path)
    if gives is None:
        senses = missing.PROBE_MEASURES if sender is None else missing.SENDER_MEASURES
        return subject.placed(one.section, one.source).lacks(senses)
    if one.spec.measures is None:
        return subject.lacks(missing.INDICATOR_MEASURES)
    if one.spec.measures in (gives, *also):
        return subject.meets(f"{one.name} and {one.source} are both of {gives}")
    return subject.discrepancy(
        f"{one.name} shows {one.spec.measures}, but reads {one.source}, which senses {gives}",
        remedy=f"join {one.name} to the sender of {one.spec.measures}",
    )


@rule(
    "sender-full-scale",
    title="A sender reaches the limit, and its full scale is the one the gauge is made for",
    why="Beyond its full scale a sender says nothing; on a gauge made for another the pointer is wrong by their ratio.",
    source="data of sender and indicator; plain physics",
    formula="full scale >= limit, of a quantity the top of the dial, without either the highest value in flight; shown = true x full scale made for / full scale fitted",
    example="100 psi transmitter on a 200 psi indicator: 60 psi shows 120 psi",
    over=pairs,
)
def sender_full_scale(study: Study, subject: Subject, pair: Pair) -> Iterator[Verdict]:
    """A pressure read by wire, and every other sender that tells a full scale; of a driven tachometer sender it is not the engine's."""
    inputs = shown_on(study).get(pair.indication.indicator, ())
    dial = next((s for s in inputs if s.name == pair.name), None)
    if dial is None or dial.measure in (None, "engine speed") or pair.gives.principle == "switch":
        return
    subject, full = subject.along(pair.source), pair.gives.full_scale
    unknown = study.document.declared_unknown(("senders", pair.source, "full_scale"))
    if full is None and dial.measure not in _PRESSURES and not unknown:
        return
    of_sender = subject.placed("senders", pair.source)
    if full is None:
        yield of_sender.lacks(missing.SENDER_FULL_SCALE)
        return
    what, top = _to_reach(study, dial)
    if top is not None and top.kind != full.kind:
        because = f"it is told in {full.unit}, and {what} is {text(top, top)}"
        yield of_sender.lacks(missing.SENDER_FULL_SCALE, because=because)
    elif top is not None:
        yield of_sender.field("full_scale").at_least(
            number(full, top),
            number(top, top),
            top.unit,
            f"{pair.source} senses up to {text(full, top)}, and {what} is {text(top, top)}",
            remedy=f"fit a sender of {text(top, top)} or more, with its indicator",
        )
    told = dial.measure in _PRESSURES or pair.reads.full_scale is not None
    if told and (pair.gives.curve is None or pair.reads.curve is None):
        yield _made_for(subject, pair, full)


def _to_reach(study: Study, dial: Shown) -> tuple[str, Quantity | None]:
    """The highest value a sender has to sense, with what it is; ``None`` where the document gives none."""
    limit, scale = limit_of(study, dial), dial.spec.scale
    if dial.measure in _QUANTITIES and scale is not None:
        return "the top of the dial", scale.highest
    if limit is not None and limit.maximum is not None:
        return "the limit", limit.maximum
    given = [(r, p.name) for p in study.points if (r := p.reading(dial.measure)) is not None]
    if not given:
        return "", None
    most, where = max(given)
    return f"the true value at {where}", most


def _made_for(subject: Subject, pair: Pair, full: Quantity) -> Verdict:
    """Full scale against full scale, where no curves say more."""
    made = pair.reads.full_scale
    if made is None:
        return subject.lacks(missing.INDICATOR_FULL_SCALE)
    subject = subject.field("full_scale")
    told = f"{pair.name} is made for a sender of {text(made, made)}, and {pair.source} has {text(full, full)}"
    if made.kind != full.kind:
        return subject.discrepancy(told, remedy=f"fit the sender {pair.indication.indicator} is made for")
    half, ratio = full / 2, made / full if full else 0.0
    compare = subject.at_least if full < made else subject.at_most
    return compare(
        number(full, made),
        number(made, made),
        made.unit,
        told,
        broken=f"{told}: {text(half, made)} shows as {text(half * ratio, made)}",
        remedy=f"fit a sender of {text(made, made)}, or an indicator for {text(full, made)}",
    )


@rule(
    "signal-range",
    title="A sender's signal stays within what the input accepts",
    why="Beyond its range an input clips: the pointer stops short of the limit.",
    source="the indicator's own limit",
    formula="lowest and highest output of the sender's curve within the input's range",
    example="0 to 10 V transducer on a 0 to 5 V input: everything above half scale is lost",
    over=pairs,
)
def signal_range(study: Study, subject: Subject, pair: Pair) -> Verdict | None:
    """An indication whose input states the range it accepts and whose sender has a table of points."""
    accepts = pair.reads.input_range
    points = pair.gives.curve.points if pair.gives.curve is not None else None
    if accepts is None or not points or points[0][1].kind != accepts.lowest.kind:
        return None
    subject = subject.along(pair.source).field("input_range")
    low, high = sorted((points[0][1], points[-1][1]))
    from_below = low - accepts.lowest <= accepts.highest - high
    value, end = (low, accepts.lowest) if from_below else (high, accepts.highest)
    compare = subject.at_least if from_below else subject.at_most
    return compare(
        number(value, end),
        number(end, end),
        end.unit,
        f"{pair.source} gives {text(low, end)} to {text(high, end)}, and {pair.name} accepts "
        f"{text(accepts.lowest, end)} to {text(accepts.highest, end)}",
        remedy=f"fit the sender {pair.indication.indicator} is made for",
    )


@once
def _read_by(study: Study) -> dict[str, list[str]]:
    """The indicators that read each sender."""
    found: dict[str, dict[str, None]] = {}
    for pair in pairs(study):
        found.setdefault(pair.source, {})[pair.ident] = None
    return {source: list(names) for source, names in found.items()}


@rule(
    "sender-stations",
    title="A sender feeds as many indicators as it is meant for",
    why="A second gauge on a resistance takes part of the current, and both read wrong.",
    source="data of the sender: single- or dual-station",
    formula="indicators that read the sender <= stations",
    example="single-station sender with two gauges: both off",
    over="senders",
)
def sender_stations(study: Study, subject: Subject, sender: Sender) -> Verdict | None:
    """A sender that more than one input reads, or that is meant for more than reads it."""
    names = _read_by(study).get(subject.ident, [])
    stations, count = sender.spec.stations, len(names)
    if not names or (stations is None and count < 2):
        return None
    subject = subject.along(*names)
    if stations is None:
        return subject.lacks(missing.SENDER_STATIONS)
    told = f"{subject.ident} is meant for {stations} indicator{'s' if stations > 1 else ''} and feeds {count}"
    few = count < stations
    compare = subject.field("stations").at_least if few else subject.field("stations").at_most
    return compare(
        count,
        stations,
        "",
        told,
        broken=f"{told}: {listed(names)} {'read' if count > 1 else 'reads'} wrong",
        remedy="fit a single-station sender, or the second indicator" if few else f"fit a sender for {count}",
    )
