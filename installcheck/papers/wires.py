"""Wire list, cut list and label list."""

from __future__ import annotations

from collections import defaultdict
from math import ceil

from ..analysis.circuit.drop_paths import hot_ohms
from ..analysis.circuit.solved import circuit
from ..analysis.power.run_currents import run_current
from ..analysis.study import Study
from ..graph import Edge, total_length
from ..model.quantities import in_unit
from ..model.wiring import Termination, WireRun
from .figures import length, route
from .standing import status_of
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

_FOOT = 0.3048
"""m, exact by definition."""
_NO_CURRENT = 1e-7
"""A; what flows below this is the loose tie of a floating circuit."""


def _conductors(study: Study) -> list[Edge]:
    return study.graph.of("conductor")


def _gauge(edge: Edge) -> str | None:
    own = edge.conductor.gauge if edge.conductor is not None else None
    gauge = own if own is not None else edge.run.gauge if edge.run is not None else None
    return None if gauge is None else f"{gauge} AWG"


_NO_PART = "?"
"""Type of a run without a part, which a table is read back as unknown: what is usual is not said of it."""


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


def _termination(one: Termination | None) -> str | None:
    if one is None:
        return None
    stud = f" for {one.stud.text} stud" if one.stud is not None else ""
    barrel = ""
    if one.smallest_gauge is not None and one.largest_gauge is not None:
        barrel = f" {one.smallest_gauge} to {one.largest_gauge} AWG"
    return f"{one.kind}{barrel}{stud}"


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
                run.part or _NO_PART,
                run.title or (run.spec.title if run.part is None else None),
                _colour(study, edge),
                edge.metal,
                length(total_length(run), run),
                route(run),
                run.bundle,
                _shield(run),
                _termination(ends[0]),
                _termination(ends[1]),
                rounded(amps),
                rounded(_drop(study, edge, amps)),
                status_of(study, "wire_runs", edge.ident),
            )
        )
    columns = (
        "id",
        "conductor",
        "from",
        "to",
        "gauge",
        "type",
        "description",
        "colour",
        "metal",
        "length",
        "route",
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
    """Lengths to cut, grouped by wire type and gauge, with totals; what is in the aircraft already is left out."""
    groups: dict[tuple[str, str], list[tuple[str, WireRun, float]]] = defaultdict(list)
    unknown: list[str] = []
    moved: list[str] = []
    for ident, run in study.model.wire_runs.items():
        status = status_of(study, "wire_runs", ident) or ""
        if status.startswith("existing"):
            if status != "existing":
                moved.append(ident)
            continue
        metres = total_length(run)
        if metres is None:
            unknown.append(ident)
            continue
        kind, gauge = _type(run) or "type not given", f"{run.gauge} AWG" if run.gauge else "gauge not given"
        groups[kind, gauge].append((ident, run, metres))
    rows: list[tuple[Cell, ...]] = []
    for (kind, gauge), runs in sorted(groups.items()):
        for ident, run, metres in runs:
            rows.append((kind, gauge, ident, length(metres, run), length(cut_length(metres), run, up=True)))
        if len(runs) > 1:
            whole, like = sum(m for _, _, m in runs), runs[0][1]
            cut = length(sum(cut_length(m) for _, _, m in runs), like, up=True)
            rows.append((kind, gauge, f"total, {len(runs)} runs", length(whole, like), cut))
    notes = [
        f"Cut length is the run plus {CUT_SHARE:.0%} for dressing and {CUT_PER_END_FT * 12:g} in at each end for two reterminations (AC 43.13-1B 11-118), up to the next 1/4 in. Runs that are in the aircraft already are left out."
    ]
    if moved:
        notes.append(f"In the aircraft already, to be moved to other ends: {', '.join(moved)}.")
    if unknown:
        notes.append(f"Length not given, not in the totals: {', '.join(unknown)}.")
    return Table("cut list", ("type", "gauge", "id", "run", "cut"), tuple(rows), tuple(notes))


def cut_length(metres: float) -> float:
    """Length in m to cut for a run of a length in m.

    >>> round(cut_length(0.0762) / 0.0254, 2)  # 3 in: 3.15 in and 6 in at each end
    15.15
    """
    return metres * (1 + CUT_SHARE) + 2 * CUT_PER_END_FT * _FOOT


def label_list(study: Study) -> Table:
    """Text for the labels at both ends of every run and along it, and how many labels it takes."""
    rows: list[tuple[Cell, ...]] = []
    for edge in _conductors(study):
        run = edge.run
        assert run is not None
        metres = total_length(run)
        count = None if metres is None else label_count(in_unit(metres, "in", "length"))
        text = edge.label
        between = None if count is None else max(0, count - 2)
        rows.append(
            (
                text,
                f"{text}: {edge.a} to {edge.b}",
                f"{text}: {edge.b} to {edge.a}",
                text if between else None,
                between,
                count,
                length(metres, run),
                status_of(study, "wire_runs", edge.ident),
            )
        )
    note = "None below 3 in, one at the centre below 7 in, else one at each end and at most 15 in apart (AC 43.13-1B 11-208). Each end's label names its own terminal first."
    return Table(
        "label list",
        (
            "id",
            "label at the from end",
            "label at the to end",
            "label along it",
            "of these",
            "labels",
            "length",
            "status",
        ),
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
