"""Ohms of conductors, ways, senders and probes on the bench, with the spread that is sound."""

from __future__ import annotations

from collections.abc import Iterable

from ...dataclass import dataclass
from ...graph import Edge, Step, total_length
from ...model.devices import Probe, Sender
from ...model.quantities import Quantity
from ...physics.bulbs import curve_doubt
from ...physics.thermocouple_wire import at_temperature, loop_tcr
from .. import missing
from ..circuit.leads import ends_ohms, lacking_wire, ohm_per_metre, temperature_coefficient
from ..missing import Missing
from ..sender_curves import kind_of, output
from ..study import Study

BENCH_C = 20.0
"""degC, the temperature wire tables are drawn up for."""
COPPER_LOWEST = 25.38 / 28.40
"""Share of the AC's maximum a sound copper wire may measure: a public stranded-conductor table gives 25.38 ohm/1000 ft
nominal for size 24 where AC 43.13-1B table 11-9 gives 28.40 at most."""
THERMOCOUPLE_SPREAD = 0.05
"""Two public thermocouple-wire tables differ by up to 5 percent."""
SOURCE_SPREAD = 0.1
"""Share by which the resistance of a probe or winding may differ from the stated one; working figure of this tool."""
METER_OHM = 0.02
"""What the meter's own leads and last digit add, after zeroing."""
JOINT_OHM = 0.003
"""What one sound joint may add when the document gives no figure: 3 milliohm, the limit of a bonding connection
(AC 43.13-1B 11-189)."""
STRAP_OHM = 0.005
"""ohm, most a ground strap may have with both its joints, from the ground point of the source to that of any equipment:
FAA-H-8083-32 chapter 4."""


@dataclass(frozen=True, slots=True)
class Span:
    """Ohms expected, and the least and the most that is sound."""

    expected: float
    lowest: float
    highest: float

    def plus(self, other: Span) -> Span:
        """Two in series."""
        return Span(self.expected + other.expected, self.lowest + other.lowest, self.highest + other.highest)


def sum_of(spans: Iterable[Span]) -> Span:
    """All in series."""
    total = Span(0.0, 0.0, 0.0)
    for one in spans:
        total = total.plus(one)
    return total


def is_couple(edge: Edge) -> bool:
    """Whether a conductor is thermocouple wire."""
    return edge.run is not None and edge.run.spec.thermocouple is not None


def made_to_loop(edge: Edge) -> bool:
    """Whether a leg has no figure of its own because its lead is made to a loop resistance."""
    return (
        ohm_per_metre(edge) is None
        and edge.run is not None
        and edge.run.spec.loop_length_resistance is not None
    )


def wire_span(edge: Edge, temperature: float) -> Span | None:
    """Ohms of one conductor at a temperature in degC, or of both legs of a lead made to a loop resistance."""
    run = edge.run
    length = total_length(run) if run is not None else None
    if run is None or length is None:
        return None
    couple = run.spec.thermocouple
    if made_to_loop(edge):
        per_metre: float | None = float(run.spec.loop_length_resistance or 0.0)
        coefficient = loop_tcr(couple) if couple is not None and couple != "N" else None
    else:
        per_metre, coefficient = ohm_per_metre(edge), temperature_coefficient(edge.metal)
    if per_metre is None:
        return None
    ohms = per_metre * length
    if coefficient is not None:
        ohms = at_temperature(ohms, coefficient, temperature)
    if is_couple(edge):
        return Span(ohms, ohms * (1 - THERMOCOUPLE_SPREAD), ohms * (1 + THERMOCOUPLE_SPREAD))
    return Span(ohms, ohms * COPPER_LOWEST, ohms)


def metered(span: Span, joints: int) -> Span:
    """A span with what the meter, and joints without a figure, may add."""
    return Span(
        span.expected, max(0.0, span.lowest - METER_OHM), span.highest + METER_OHM + joints * JOINT_OHM
    )


def path_span(study: Study, steps: Iterable[Step], temperature: float) -> Span | list[Missing]:
    """Ohms along a way through conductors and joints; or the data that is missing."""
    spans: list[Span] = []
    lacks: list[Missing] = []
    whole_loops: set[str] = set()
    for step in steps:
        edge = step.edge
        if edge.kind == "conductor":
            to_loop = made_to_loop(edge)
            if to_loop and edge.ident in whole_loops:
                continue
            if to_loop:
                whole_loops.add(edge.ident)
            span = wire_span(edge, temperature)
            if span is None:
                lacks.append(
                    missing.RUN_LENGTH
                    if edge.run is not None and total_length(edge.run) is None
                    else lacking_wire(edge)
                )
                continue
            ends = ends_ohms(study, edge)
            lacks += ends.missing
            joints = ends.cold or 0.0
            spans += [span, Span(joints, joints, joints)]
        elif edge.resistance is not None:
            spans.append(Span(edge.resistance, edge.resistance, edge.resistance))
    return lacks or sum_of(spans)


def source_span(source: Sender | Probe, temperature: float, true: Quantity | None = None) -> Span | None:
    """Ohms of a sender or probe at what it senses: ``true`` if that is told, else the bench, or no pressure or quantity."""
    if isinstance(source, Probe):
        return _about(source.spec.resistance)
    spec = source.spec
    if spec.winding_resistance is not None or spec.principle in (
        "tachometer generator",
        "synchro transmitter",
    ):
        return _about(spec.winding_resistance)
    if spec.curve is None:
        return None
    warm = spec.principle in ("thermistor", "resistance bulb") or "temperature" in (spec.measures or "")
    quiet = temperature if warm else 0.0
    if true is not None and true.kind == kind_of(spec.curve):
        quiet = float(true)
    spread = float(spec.tolerance) if isinstance(spec.tolerance, Quantity) else 0.0
    try:
        values = [output(spec.curve, quiet + d) for d in (0.0, -spread, spread)]
        law = spec.curve.law
        doubt = curve_doubt(law, quiet)[0] if law is not None else 0.0
    except ValueError:
        return None
    return Span(values[0], min(values) - doubt, max(values) + doubt)


def _about(ohms: Quantity | None) -> Span | None:
    if ohms is None:
        return None
    return Span(float(ohms), (1 - SOURCE_SPREAD) * float(ohms), (1 + SOURCE_SPREAD) * float(ohms))
