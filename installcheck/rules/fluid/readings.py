"""What a line does to the reading: the head of its liquid, and cold thick oil."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.fluid.facts import LIQUID, media, zones_of
from ...analysis.fluid.leaks import fluid_of
from ...analysis.missing import Missing
from ...analysis.study import Study
from ...document.source import DocPath
from ...graph import total_length
from ...graph.media import Feed, line_bore
from ...model.comparing import at_most
from ...model.devices import Indicator, Sender
from ...model.installation import inputs_of
from ...model.quantities import Quantity, in_unit, plain_number, show
from ...physics.flow import Segment
from ...physics.media import kinematic_viscosity, liquid_density
from ...physics.media import medium as liquid_called
from ...physics.sensing_lines import head_pressure, liquid_lag, time_to_show
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_PSI = 6894.757293168361
_BOURDON_M3_PER_PA = 0.1e-6 / (100 * _PSI)
"""m3/Pa that a direct gauge takes in: 0.1 cm3 per 100 psi, assumed."""
_OIL_SHOWS_S = 30.0
"""s after a start within which oil pressure must show: engine manuals (recalled)."""


def _port_feeds(study: Study, ident: str, ports: list[str] | None) -> Iterator[Feed]:
    for port in ports or ("P",):
        yield from media(study).feeds(f"{ident}.{port}")


@rule(
    "head-error",
    title="The head of liquid in a line does not take the reading beyond its error budget",
    why="A gauge above its tap reads low by the weight of the column: half a pound in a carburettor fuel gauge, whose lower limit "
    "may be half a pound.",
    source="plain physics: dp = rho g h",
    formula="dp = rho g h, against the budget of the indication, else its accuracy",
    example="fuel gauge 0.6 m above the carburettor: 0.61 psi low; oil 0.74 psi",
    over=lambda study: [*study.model.indicators, *study.model.senders],
)
def head_error(study: Study) -> Iterator[Verdict]:
    """Every direct-reading gauge and every pressure sender that a liquid reaches."""
    for ident, indicator in study.model.indicators.items():
        for name, spec in study.inputs(ident):
            if spec.principle == "direct pressure":
                path: DocPath = ("indicators", ident, *(("inputs", name) if name else ()))
                limit = spec.budget if spec.budget is not None else spec.accuracy
                yield from _head(study, ident, indicator, spec.ports, path, limit)
    budgets: dict[str, Quantity | None] = {}
    for one in study.indications:
        if one.section == "senders":
            budgets.setdefault(one.source, one.spec.budget)
    for ident, sender in study.model.senders.items():
        if "pressure" in (sender.spec.measures or ""):
            limit = budgets.get(ident)
            limit = limit if limit is not None else sender.spec.tolerance
            yield from _head(study, ident, sender, sender.spec.ports, ("senders", ident), limit)


def _head(
    study: Study,
    ident: str,
    thing: Indicator | Sender,
    ports: list[str] | None,
    path: DocPath,
    limit: Quantity | None,
) -> Iterator[Verdict]:
    for feed in _port_feeds(study, ident, ports):
        tap = study.model.taps.get(feed.source.ident)
        if tap is None or tap.medium not in LIQUID:
            continue
        subject = Subject(study, (ident, feed.source.ident), path)
        fluid = fluid_of(study, feed.source.ident)
        if fluid is None:
            yield subject.placed("taps", feed.source.ident).lacks(missing.TAP_TEMPERATURE)
        else:
            yield _reads_off(subject, thing, _reach(feed), fluid.density, limit)


def _reads_off(
    subject: Subject, thing: Indicator | Sender, reach: float | None, density: float, limit: Quantity | None
) -> Verdict:
    """How far off a gauge reads by its height, or by the most that its line of ``reach`` metres allows."""
    ident, tap = subject.at
    height = float(thing.elevation) if thing.elevation is not None else reach
    if height is None or (limit is None and height != 0):
        needs = ((missing.PORT_ELEVATION, height), (missing.INDICATION_BUDGET, limit))
        return subject.lacks(*(w for w, v in needs if v is None))
    if subject.study.document.declared_unknown((*subject.path, "budget")):
        return subject.lacks(missing.INDICATION_BUDGET)
    unit = limit.unit if limit is not None and limit.kind == "pressure" else "psi"
    off = in_unit(head_pressure(density, abs(height)), unit, "pressure")
    where, way = ("above", "low") if height >= 0 else ("below", "high")
    most = in_unit(float(limit), unit, "pressure") if limit is not None else 0.0
    if thing.elevation is None and not at_most(off, most):
        return subject.lacks(missing.PORT_ELEVATION)
    text = (
        f"{ident} is {show(abs(height), 'in', 'length')} {where} {tap}: it reads {way} by {plain_number(off)} {unit}"
        if thing.elevation is not None
        else f"{ident} cannot be more than the {show(height, 'in', 'length')} of its line above {tap}: "
        f"it reads low by up to {plain_number(off)} {unit}"
    )
    return (subject if at_most(off, most) else subject.field("elevation")).at_most(
        off,
        most,
        unit,
        text,
        broken=f"{text}, more than the {plain_number(most)} {unit} allowed",
        remedy=f"put a sender at the height of the tap, or mark the dial {plain_number(off)} {unit} "
        f"{'lower' if height >= 0 else 'higher'}, where the pointer stands at each limit",
    )


def _reach(feed: Feed) -> float | None:
    """The most a gauge can stand above its tap: the whole length of its line, in metres."""
    lengths = [total_length(h.edge.line) for h in feed.hops if h.edge.line is not None]
    return sum(n for n in lengths if n is not None) if None not in lengths else None


@rule(
    "oil-gauge-cold",
    title="A direct oil gauge shows pressure in time on a cold start",
    why="Oil in a thin line is as stiff as tar in the cold. The pilot watches for pressure in the first half minute and shuts "
    "down, or gets used to waiting.",
    source="30 s after start: engine manuals (recalled); light oil in the line: FAA handbook on instruments",
    formula="tau = 128 mu L/(pi d^4) dV/dp, dV/dp = 0.1 cm3 per 100 psi (assumed); 90 % shown after 2.3 tau",
    example="2 m of 0.061 in bore at 0 degC: tau 8.1 s; of 0.180 in: 0.11 s",
    over="indicators",
)
def oil_gauge_cold(study: Study) -> Iterator[Verdict]:
    """Every direct-reading gauge that oil reaches."""
    for ident, indicator in study.model.indicators.items():
        for _, spec in inputs_of(indicator):
            if spec.principle != "direct pressure":
                continue
            for feed in _port_feeds(study, ident, spec.ports):
                if feed.source.medium == "oil" and feed.source.section == "taps":
                    yield _cold(study, ident, feed)


def _cold(study: Study, ident: str, feed: Feed) -> Verdict:
    subject = Subject(study, (ident, feed.source.ident), ("indicators", ident))
    lowest: list[float] = []
    segments: list[Segment] = []
    lacking: dict[Missing, None] = {}
    for hop in feed.hops:
        line = hop.edge.line
        if line is None:
            continue
        length, bore = total_length(line), line_bore(line)
        if length is None or bore is None:
            needs = ((missing.LINE_LENGTH, length), (missing.LINE_BORE, bore))
            lacking.update(dict.fromkeys(w for w, v in needs if v is None))
        else:
            segments.append(Segment(bore, length))
        for zone in zones_of(study, line) or ():
            coldest = study.model.zones[zone].temperature
            if coldest is None:
                lacking[missing.ZONE_TEMPERATURE] = None
            else:
                lowest.append(float(coldest.lowest))
    if lacking or not lowest:
        return subject.lacks(*(lacking or (missing.ZONE_TEMPERATURE,)))
    oil, cold = liquid_called("SAE 50 oil"), min(lowest)
    remedy = (
        "fill the gauge line with light instrument oil, use a line of larger bore, or fit an electric sender"
    )
    if oil.pour_point is not None and cold < oil.pour_point:
        return subject.advisory(
            f"at {plain_number(cold)} degC, the coldest of its line, SAE 50 oil does not flow (pour point {oil.pour_point:g} degC): "
            f"{ident} shows nothing until it warms",
            remedy=remedy,
        )
    cold = min(cold, oil.highest)
    viscosity = kinematic_viscosity(oil, cold)
    tau = liquid_lag(segments, _BOURDON_M3_PER_PA, viscosity * liquid_density(oil, cold))
    seconds = time_to_show(tau, 0.9)
    text = f"at {plain_number(cold)} degC {ident} shows 90 % of the oil pressure after {plain_number(seconds, 2)} s"
    return subject.at_most(
        seconds,
        _OIL_SHOWS_S,
        "s",
        text,
        broken=f"{text}; 30 s is the most a pilot waits",
        remedy=remedy,
        practice=True,
    )
