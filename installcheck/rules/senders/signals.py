"""A sender's signal suits its indicator: kind, measure, full scale, electrical range, and how many read it."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.sender_curves import output_kind
from ...analysis.shown import (
    limit_of,
    listed,
    number,
    shown,
    text,
    width,
)
from ...analysis.study import Study
from ...graph.indications import Indication
from ...model.devices import Sender
from ...model.quantities import Quantity
from ..verdicts import (
    Verdict,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

SENDER_PRINCIPLE = "principle of the sender"
INPUT_PRINCIPLE = "principle of the indicator"
FULL_SCALE = "full scale of the sender"
MADE_FOR = "sender full scale the indicator is made for ('full_scale')"
STATIONS = "number of indicators the sender is meant for ('stations')"

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
_SAME = 1e-3
_PRESSURES = frozenset(("oil pressure", "fuel pressure", "manifold pressure", "hydraulic pressure", "vacuum"))


def _sender(study: Study, one: Indication) -> Sender | None:
    return study.model.senders[one.source] if one.section == "senders" else None


@rule(
    "signal-kind",
    title="An indicator is made for the kind of signal its sender gives",
    why="A resistance on a voltage input, or a thermistor on a thermocouple gauge, moves the pointer and means nothing.",
    source="plain physics; data of sender and indicator",
    formula="principle and output of the sender among those the input reads",
    example="4-20 mA transmitter on a 0.5-4.5 V input: no indication",
    over=lambda study: [i.name for i in study.indications],
)
def signal_kind(study: Study) -> Iterator[Verdict]:
    """Every indication but those of resistance bulbs on other inputs, which the rule of their leads judges."""
    for one in study.indications:
        at, sender = (one.name, one.source), _sender(study, one)
        gives = "thermocouple" if sender is None else sender.spec.principle
        takes = one.spec.principle
        if gives is None or takes is None:
            facts = ((INPUT_PRINCIPLE, takes), (SENDER_PRINCIPLE, gives))
            yield undetermined(at, one.path, [w for w, v in facts if v is None])
            continue
        allowed = _TAKES.get(takes, frozenset())
        if gives == "resistance bulb" and gives not in allowed:
            continue
        curve = sender.spec.curve if sender is not None else None
        wanted, output = _OUTPUT.get(takes), output_kind(curve) if curve is not None else None
        if gives not in allowed:
            yield discrepancy(
                at,
                one.path,
                f"{one.name} is a {takes} input and {one.source} is a {gives}",
                remedy=f"fit {listed(sorted(allowed)) or 'nothing by wire'} here, or an indicator made for a {gives}",
            )
        elif wanted is not None and output is not None and output != wanted:
            yield discrepancy(
                at,
                one.path,
                f"{one.name} reads a {wanted} and {one.source} gives a {output}",
                remedy=f"fit a transducer that gives a {wanted}, or an indicator that reads a {output}",
            )
        else:
            yield meets(at, one.path, f"{one.name} reads a {gives}")


@rule(
    "indication-measure",
    title="An indicator reads a sender of what it shows",
    why="Two senders of one thread and one curve change places easily: fuel pressure under the name of oil pressure.",
    source="14 CFR 23.1301: labelled as to its function; 33.29(a): connections that cannot be crossed or are marked",
    formula="measure of the input = measure of the sender or probe",
    example="oil pressure input joined to the fuel pressure sender",
    over=lambda study: [i.name for i in study.indications],
)
def indication_measure(study: Study) -> Iterator[Verdict]:
    """Every indication whose input and source both say what they are of."""
    for one in study.indications:
        at, sender = (one.name, one.source), _sender(study, one)
        gives = sender.spec.measures if sender is not None else study.model.probes[one.source].measures
        also = (sender.serves or []) if sender is not None else []
        if gives is None or one.spec.measures is None:
            continue
        if one.spec.measures in (gives, *also):
            yield meets(at, one.path, f"{one.name} and {one.source} are both of {gives}")
        else:
            yield discrepancy(
                at,
                one.path,
                f"{one.name} shows {one.spec.measures}, but reads {one.source}, which senses {gives}",
                remedy=f"join {one.name} to the sender of {one.spec.measures}",
            )


@rule(
    "sender-full-scale",
    title="A pressure sender reaches the limit, and its full scale is the one the gauge is made for",
    why="Beyond its full scale a sender says nothing; on a gauge made for another the pointer is wrong by their ratio.",
    source="data of sender and indicator; plain physics",
    formula="full scale >= limit; shown = true x full scale made for / full scale fitted",
    example="100 psi transmitter on a 200 psi indicator: 60 psi shows 120 psi",
    over=lambda study: [i.name for i in study.indications if i.section == "senders"],
)
def sender_full_scale(study: Study) -> Iterator[Verdict]:
    """Every pressure that is read from a transducer, a synchro transmitter or a resistance."""
    by_name = {s.name: s for s in shown(study)}
    for one in study.indications:
        sender, dial = _sender(study, one), by_name.get(one.name)
        if sender is None or dial is None or dial.measure not in _PRESSURES:
            continue
        if sender.spec.principle == "switch":
            continue
        at, path = (one.name, one.source), ("senders", one.source, "full_scale")
        full = sender.spec.full_scale
        if full is None:
            yield undetermined(at, path[:2], FULL_SCALE)
            continue
        limit = limit_of(study, dial)
        top = limit.maximum if limit is not None else None
        if top is not None and top.kind == full.kind:
            told = f"{one.source} senses up to {text(full, top)}, and the limit is {text(top, top)}"
            figures = {
                "value": number(full, top),
                "limit": number(top, top),
                "margin": width(full - top, top),
                "unit": top.unit,
            }
            if full < top * (1 - _SAME):
                remedy = f"fit a sender of {text(top, top)} or more, with its indicator"
                yield discrepancy(at, path, told, remedy=remedy, **figures)
            else:
                yield meets(at, path, told, **figures)
        curves = sender.spec.curve is not None and one.spec.curve is not None
        if not curves:
            yield _made_for(one, full)


def _made_for(one: Indication, full: Quantity) -> Verdict:
    """Full scale against full scale, where no curves say more."""
    at, path = (one.name, one.source), (*one.path, "full_scale")
    made = one.spec.full_scale
    if made is None:
        return undetermined(at, one.path, MADE_FOR)
    ratio = made / full if made.kind == full.kind and full else 0.0
    told = f"{one.name} is made for a sender of {text(made, made)}, and {one.source} has {text(full, full)}"
    if made.kind != full.kind:
        return discrepancy(at, path, told, remedy=f"fit the sender {one.indicator} is made for")
    figures = {
        "value": number(full, made),
        "limit": number(made, made),
        "margin": -width(abs(full - made), made) if abs(ratio - 1) > _SAME else 0.0,
        "unit": made.unit,
    }
    if abs(ratio - 1) <= _SAME:
        return meets(at, path, told, **figures)
    half = full / 2
    return discrepancy(
        at,
        path,
        f"{told}: {text(half, made)} shows as {text(half * ratio, made)}",
        remedy=f"fit a sender of {text(made, made)}, or an indicator for {text(full, made)}",
        **figures,
    )


@rule(
    "signal-range",
    title="A sender's signal stays within what the input accepts",
    why="Beyond its range an input clips: the pointer stops short of the limit.",
    source="the indicator's own limit",
    formula="lowest and highest output of the sender's curve within the input's range",
    example="0 to 10 V transducer on a 0 to 5 V input: everything above half scale is lost",
    over=lambda study: [i.name for i in study.indications if i.spec.input_range is not None],
)
def signal_range(study: Study) -> Iterator[Verdict]:
    """Every indication whose input states the range it accepts and whose sender has a table of points."""
    for one in study.indications:
        sender, accepts = _sender(study, one), one.spec.input_range
        points = sender.spec.curve.points if sender is not None and sender.spec.curve is not None else None
        if accepts is None or not points or points[0][1].kind != accepts.lowest.kind:
            continue
        at, path = (one.name, one.source), (*one.path, "input_range")
        outputs = sorted((points[0][1], points[-1][1]))
        ends = (
            (outputs[0] - accepts.lowest, outputs[0], accepts.lowest),
            (accepts.highest - outputs[1], outputs[1], accepts.highest),
        )
        room, value, end = min(ends, key=lambda e: e[0])
        figures = {
            "value": number(value, end),
            "limit": number(end, end),
            "margin": width(room, end),
            "unit": end.unit,
        }
        told = (
            f"{one.source} gives {text(outputs[0], end)} to {text(outputs[1], end)}, and {one.name} accepts "
            f"{text(accepts.lowest, end)} to {text(accepts.highest, end)}"
        )
        if room >= -abs(end) * _SAME:
            yield meets(at, path, told, **figures)
        else:
            yield discrepancy(at, path, told, remedy=f"fit the sender {one.indicator} is made for", **figures)


@rule(
    "sender-stations",
    title="A sender feeds as many indicators as it is meant for",
    why="A second gauge on a resistance takes part of the current, and both read wrong.",
    source="data of the sender: single- or dual-station",
    formula="indicators that read the sender <= stations",
    example="single-station sender with two gauges: both off",
    over=lambda study: [i.source for i in study.indications if i.section == "senders"],
)
def sender_stations(study: Study) -> Iterator[Verdict]:
    """Every sender that more than one input reads, and every sender meant for more than reads it."""
    read: dict[str, dict[str, None]] = {}
    for one in study.indications:
        if one.section == "senders":
            read.setdefault(one.source, {})[one.name] = None
    for ident, names in read.items():
        stations = study.model.senders[ident].spec.stations
        count = len(names)
        if stations is None and count < 2:
            continue
        at, path = (ident, *names), ("senders", ident)
        if stations is None:
            yield undetermined(at, path, STATIONS)
            continue
        told = f"{ident} is meant for {stations} indicator{'s' if stations > 1 else ''} and feeds {count}"
        figures = {"value": float(count), "limit": float(stations), "margin": float(stations - count)}
        if count == stations:
            yield meets(at, (*path, "stations"), told, **figures)
        else:
            more = count > stations
            yield discrepancy(
                at,
                (*path, "stations"),
                f"{told}: {listed(list(names))} {'read' if count > 1 else 'reads'} wrong",
                remedy=f"fit a sender for {count}"
                if more
                else "fit a single-station sender, or the second indicator",
                **figures,
            )
