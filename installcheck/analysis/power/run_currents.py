"""The current each run carries at its worst: as the run says, else the loads behind it, else what its protector lets by."""

from __future__ import annotations

from ...dataclass import dataclass
from ...model.wiring import WireRun
from .. import missing
from ..circuit.solved import circuit
from ..ignition import is_ignition_lead
from ..missing import Missing
from ..routing import is_thermocouple, sensing_runs, wires
from ..study import Study, once
from .feeds import Branch, branches
from .wiring import is_starter, most_amps


@dataclass(frozen=True, slots=True)
class Amps:
    """The largest current of a run.

    Attributes:
        value: ampere; ``None`` if it cannot be known.
        missing: the data to add.
        least: ampere it carries at least, where it cannot be known.
        basis: where the figure comes from, in words that follow 'carries 5 A'.
    """

    value: float | None
    missing: tuple[Missing, ...] = ()
    basis: str = ""
    least: float = 0.0


def run_branches(study: Study, ident: str) -> tuple[Branch, ...]:
    """What hangs behind the power conductors of a run; empty for one that only carries signals."""
    known = branches(study)
    run = study.model.wire_runs[ident]
    if run.conductors is None:
        found = known.get((ident, ""))
        return (found,) if found is not None else ()
    return tuple(b for name in run.conductors if (b := known.get((ident, name))) is not None)


@once
def run_current(study: Study, ident: str) -> Amps:
    """The largest current of any conductor of a run, engine starting apart.

    A power wire must stand all the loads behind it on at once, and the whole of it where parallel ways may be open, which
    no single solved state of the network shows; so the sum comes first.
    """
    run = study.model.wire_runs[ident]
    if run.current is not None:
        return Amps(float(run.current), (), "as stated")
    found = run_branches(study, ident)
    if not found:
        return _of_its_load(study, ident, run)
    worst = max(found, key=lambda b: max(b.load, b.sources))
    if lacking := tuple(dict.fromkeys(m for b in found for m in b.missing)):
        return Amps(None, lacking, "what is known of the loads behind it", max(worst.load, worst.sources))
    if worst.sources > worst.load:
        return Amps(worst.sources, (), "the rated output of its source")
    if worst.loads == 0 and worst.starter:
        return Amps(None, (), "the starter's")
    return Amps(worst.load, (), "all loads behind it on" if worst.loads > 1 else "its load on")


def _of_its_load(study: Study, ident: str, run: WireRun) -> Amps:
    """The current of the load a run ends at, where the rest of its circuit is not described."""
    for wire in wires(run):
        for end in wire.ends:
            name = end.partition(".")[0]
            load = study.model.loads.get(name)
            if load is None or is_starter(name, load):
                continue
            amps = most_amps(study, load)
            return Amps(amps, (), "its load on") if amps is not None else Amps(None, (missing.LOAD_CURRENT,))
    return _as_solved(study, ident)


def _as_solved(study: Study, ident: str) -> Amps:
    """The largest current of the solved network over all operating points, for wires the sum of loads does not reach."""
    edges = study.edges(ident)
    found: list[float] = []
    lacking: list[Missing] = []
    for net in (circuit(study, point) for point in study.points):
        for edge in edges:
            if (amps := net.current(edge)) is not None:
                found.append(abs(amps))
                lacking += net.undrawn_between((edge.a, edge.b))
    if not found:
        return Amps(None, (missing.RUN_CURRENT,))
    if lacking:
        return Amps(None, tuple(dict.fromkeys(lacking)), "what is known of its loads", max(found))
    return Amps(max(found), (), "as solved")


@once
def carries_power(study: Study, ident: str) -> bool:
    """Whether a run can carry more than a signal: it is on the way to or from a load, or states its current."""
    run = study.model.wire_runs[ident]
    if run.current is not None:
        return True
    if is_thermocouple(run) or run.spec.kind == "coaxial cable" or is_ignition_lead(study, run):
        return False
    if run_branches(study, ident):
        return True
    return (
        ident not in sensing_runs(study)
        and any(w.gauge is not None for w in wires(run))
        and _joins_power(study, run)
    )


def _joins_power(study: Study, run: WireRun) -> bool:
    """Whether a run touches a supply or a load, whatever its circuit is."""
    for wire in wires(run):
        for end in wire.ends:
            ident = end.partition(".")[0]
            if ident in study.model.supplies or ident in study.model.loads:
                return True
    return False
