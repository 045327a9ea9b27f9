"""Wire list, cut list and label list."""

from __future__ import annotations

from collections import defaultdict
from math import ceil

from ..analysis.circuit.drop_paths import hot_ohms
from ..analysis.circuit.solved import circuit
from ..analysis.power.run_currents import run_current
from ..analysis.study import Study
from ..graph import Edge, total_length, zone_lengths
from ..model.quantities import in_unit
from ..model.wiring import Termination, WireRun
from .tables import Cell, Table, rounded

CUT_SHARE = 0.05
"""Share of a run's length added when it is cut: routing and dressing (shop practice of this tool; state your own)."""
CUT_PER_END_FT = 0.5
"""Feet added at each end: two reterminations at each lug or connector (AC 43.13-1B 11-118), three inches each."""
MARK_INTERVAL_IN = 15.0
"""Largest distance between marks (AC 43.13-1B 11-208)."""
NO_MARK_BELOW_IN = 3.0
CENTRE_MARK_BELOW_IN = 7.0
"""Below 3 in no mark, below 7 in one at the centre (AC 43.13-1B 11-208)."""

_NO_CURRENT = 1e-7
"""A; what flows below this is the loose tie of a floating circuit."""


def _feet(metres: float | None) -> float | None:
    return None if metres is None else rounded(in_unit(metres, "ft", "length"), 5)


def _conductors(study: Study) -> list[Edge]:
    return [e for e in study.graph.edges if e.kind == "conductor"]


def _gauge(edge: Edge) -> str | None:
    own = edge.conductor.gauge if edge.conductor is not None else None
    gauge = own if own is not None else edge.run.gauge if edge.run is not None else None
    return None if gauge is None else f"{gauge} AWG"


def _type(run: WireRun) -> str | None:
    return run.part or run.spec.title or run.title


def _colour(study: Study, edge: Edge) -> str | None:
    """Insulation colour: as the document says, else by the thermocouple colour scheme it is drawn up to."""
    if edge.colour is not None or edge.leg is None:
        return edge.colour
    own = edge.run.thermocouple_colours if edge.run is not None else None
    scheme = own or study.whole.installation.thermocouple_colours
    by = {"US": edge.leg.colour_us, "IEC": edge.leg.colour_iec, "military": edge.leg.colour_military}
    return by.get(scheme) if scheme is not None else None


def _zones(run: WireRun) -> str | None:
    split = zone_lengths(run)
    if split is None:
        return None
    return ", ".join(f"{zone} {in_unit(length, 'ft', 'length'):.4g} ft" for zone, length in split)


def _termination(one: Termination | None) -> str | None:
    if one is None:
        return None
    stud = f" for {one.stud.text} stud" if one.stud is not None else ""
    return f"{one.kind}{stud}"


def _shield(run: WireRun) -> str | None:
    if run.shield is None:
        return "shielded, ends not given" if run.spec.shielded else ""
    return f"from {run.shield.from_ or 'open'} to {run.shield.to or 'open'}"


def _current(study: Study, edge: Edge) -> float | None:
    """Amps of one conductor: all loads behind it on, else the most the solved circuit gives it at any operating point."""
    stated = run_current(study, edge.ident).value
    if stated is not None:
        return stated
    solved = [circuit(study, point).current(edge) for point in study.points]
    known = [abs(amps) for amps in solved if amps is not None]
    return max(known) if known and max(known) > _NO_CURRENT else None


def _drop(study: Study, edge: Edge, amps: float | None) -> float | None:
    """Volts along one conductor at its worst current and the operating point at which it is warmest."""
    if amps is None:
        return None
    known = [ohms for point in study.points if (ohms := hot_ohms(study, edge, point, amps)) is not None]
    return amps * max(known) if known else None


def wire_list(study: Study) -> Table:
    """Every conductor from end to end."""
    rows: list[tuple[Cell, ...]] = []
    for edge in _conductors(study):
        run = edge.run
        assert run is not None
        ends = run.terminations or (None, None)
        amps = _current(study, edge)
        rows.append(
            (
                edge.ident,
                edge.name,
                edge.a,
                edge.b,
                _gauge(edge),
                _type(run),
                _colour(study, edge),
                edge.metal,
                _feet(total_length(run)),
                _zones(run),
                run.bundle,
                _shield(run),
                _termination(ends[0]),
                _termination(ends[1]),
                rounded(amps),
                rounded(_drop(study, edge, amps)),
                run.status,
            )
        )
    columns = (
        "id",
        "conductor",
        "from",
        "to",
        "gauge",
        "type",
        "colour",
        "metal",
        "length [ft]",
        "length by zone",
        "bundle",
        "shield",
        "end at from",
        "end at to",
        "current [A]",
        "drop [V]",
        "status",
    )
    return Table(
        "wire list",
        columns,
        tuple(rows),
        (
            "Current is that of all loads behind the wire, or of its measuring circuit; drop is along this wire alone, at its temperature by AC 43.13-1B 11-66 where it is warmest. A cell left empty is not in the document.",
        ),
    )


def cut_list(study: Study) -> Table:
    """Lengths to cut, grouped by wire type and gauge, with totals."""
    groups: dict[tuple[str, str], list[tuple[str, float, float]]] = defaultdict(list)
    unknown: list[str] = []
    for ident, run in study.whole.wire_runs.items():
        if run.status in ("removed", "existing"):
            continue
        length = total_length(run)
        if length is None:
            unknown.append(ident)
            continue
        feet = in_unit(length, "ft", "length")
        cut = feet * (1 + CUT_SHARE) + 2 * CUT_PER_END_FT
        groups[_type(run) or "type not given", f"{run.gauge} AWG" if run.gauge else "gauge not given"].append(
            (ident, feet, cut)
        )
    rows: list[tuple[Cell, ...]] = []
    for (kind, gauge), runs in sorted(groups.items()):
        rows += [(kind, gauge, ident, rounded(feet), rounded(cut)) for ident, feet, cut in runs]
        rows.append(
            (
                kind,
                gauge,
                f"total, {len(runs)} run{'s' if len(runs) > 1 else ''}",
                rounded(sum(r[1] for r in runs)),
                rounded(sum(r[2] for r in runs)),
            )
        )
    notes = [
        f"Cut length is the run plus {CUT_SHARE:.0%} for dressing and {CUT_PER_END_FT * 12:g} in at each end for two reterminations (AC 43.13-1B 11-118). Existing and removed runs are left out."
    ]
    if unknown:
        notes.append(f"Length not given, not in the totals: {', '.join(unknown)}.")
    return Table("cut list", ("type", "gauge", "id", "run [ft]", "cut [ft]"), tuple(rows), tuple(notes))


def label_list(study: Study) -> Table:
    """Text for both ends of every run, and how many labels it takes."""
    rows: list[tuple[Cell, ...]] = []
    for edge in _conductors(study):
        run = edge.run
        assert run is not None
        length = total_length(run)
        inches = None if length is None else in_unit(length, "in", "length")
        count = None if inches is None else label_count(inches)
        text = edge.label
        rows.append(
            (
                text,
                f"{text} to {edge.b}",
                f"{text} to {edge.a}",
                None if inches is None else rounded(inches),
                count,
            )
        )
    note = "None below 3 in, one at the centre below 7 in, else one at each end and at most 15 in apart (AC 43.13-1B 11-208)."
    return Table(
        "label list",
        ("id", "text at the from end", "text at the to end", "length [in]", "labels"),
        tuple(rows),
        (note,),
    )


def label_count(inches: float) -> int:
    """Labels a run needs by AC 43.13-1B 11-208.

    >>> label_count(2), label_count(6), label_count(30), label_count(31)
    (0, 1, 3, 4)
    """
    if inches < NO_MARK_BELOW_IN:
        return 0
    if inches <= CENTRE_MARK_BELOW_IN:
        return 1
    return ceil(inches / MARK_INTERVAL_IN) + 1
