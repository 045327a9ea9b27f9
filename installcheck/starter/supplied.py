"""What feeds a further indication in a document, and where its current goes back."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from ..model.installation import Installation, is_one_point, split_end
from ..model.power import SOURCES
from ..model.wiring import WireRun
from .kit import Feed, NoSpotError

_MOST_ON_A_STUD = 4
"""Terminals on one stud: AC 43.13-1B paragraph 11-174b."""


_GAUGES_A = 10.0
"""A, largest protector behind which gauges are fed: practice; a feed of the main bus has more."""


def fed_from(model: Installation, which: int, engine: str | None) -> str | None:
    """The end from which most indicators are fed (0) or grounded (1); of a block's terminals the least used."""
    terminals = {
        f"{ident}.{gauge.spec.supply_terminals[which]}"
        for ident, gauge in model.indicators.items()
        if engine in (None, gauge.engine)
        and gauge.spec.supply_terminals
        and len(gauge.spec.supply_terminals) > which
    }
    found: Counter[str] = Counter()
    used: Counter[str] = Counter()
    for run in model.wire_runs.values():
        used.update(end for end in _ends(run) if end)
        for one, other in ((run.from_, run.to), (run.to, run.from_)):
            if one in terminals and other is not None and other not in terminals:
                found[other] += 1
    if not found:
        return _strip(model, engine) if which == 0 else None
    block = Counter({split_end(end)[0]: 0 for end in found})
    for end, count in found.items():
        block[split_end(end)[0]] += count
    best, count = block.most_common(1)[0]
    supply = model.supplies.get(best)
    if count == 1 and supply is not None and supply.spec.kind in ("breaker", "fuse"):
        return None  # each has its own
    if (supply is not None and is_one_point(supply)) or (
        best in model.grounds and model.grounds[best].kind == "bus"
    ):
        return best
    end = min((end for end in found if split_end(end)[0] == best), key=lambda end: used[end])
    landing = 2 if which else 1  # a shield lands on the ground as well
    return end if used[end] + landing <= _MOST_ON_A_STUD else None


def _strip(model: Installation, engine: str | None) -> str | None:
    """A bus that nothing but a small protector feeds, from which gauges are to be fed."""
    for run in model.wire_runs.values():
        one, terminal = split_end(run.from_ or "")
        supply, there = model.supplies.get(one), model.supplies.get(run.to or "")
        if supply is None or there is None or there.spec.kind != "bus" or terminal != "out":
            continue
        amps = supply.spec.rating if supply.spec.kind in ("breaker", "fuse") else None
        if amps is not None and amps <= _GAUGES_A and engine in (None, there.engine):
            return run.to
    return None


def _ends(run: WireRun) -> Iterator[str | None]:
    yield from (run.from_, run.to)
    for conductor in (run.conductors or {}).values():
        yield from (conductor.from_, conductor.to)


def bus_of(model: Installation) -> str:
    for ident, supply in model.supplies.items():
        if supply.spec.kind == "bus":
            return ident
    raise NoSpotError("no bus is told from which it could be fed: add one under 'supplies'")


def ground_of(model: Installation, before: str = "") -> str:
    """The ground nearest to the panel; of several one whose name begins with ``before``, if there is one."""
    for kind in ("bus", "stud", "structure"):
        found = [ident for ident, ground in model.grounds.items() if ground.kind == kind]
        if found:
            return next((ident for ident in found if ident.startswith(before)), found[0])
    raise NoSpotError("no ground is told: add the structure under 'grounds'")


def feed_of(model: Installation, bus: str | None, engine: str | None) -> Feed | None:
    """The run that brings current to a bus: from an alternator or through its protector, else from a battery."""
    found: list[tuple[int, Feed]] = []
    for ident, run in model.wire_runs.items():
        for side, other, here in (("to", run.from_, run.to), ("from", run.to, run.from_)):
            supply = model.supplies.get(split_end(other or "")[0])
            if here != bus or supply is None or not _gives(supply.spec.kind, other or ""):
                continue
            gauge = f"{run.gauge} AWG" if run.gauge is not None else None
            made_of = {"part": run.part, "gauge": gauge, "bundle": run.bundle}
            amps = supply.spec.rating or supply.spec.rated_current
            feed = Feed(
                ident, side, {w: v for w, v in made_of.items() if v is not None}, amps and float(amps)
            )
            likely = _likely(model, split_end(other or "")[0])
            found.append((likely + (2 if engine not in (None, supply.engine) else 0), feed))
    return min(found, key=lambda one: one[0])[1] if found else None


def _gives(kind: str | None, end: str) -> bool:
    return kind in SOURCES or (kind != "bus" and split_end(end)[1] == "out")


def _likely(model: Installation, supply: str) -> int:
    """0 for an alternator and what it feeds, 1 for anything else."""
    kinds = {model.supplies[supply].spec.kind}
    for run in model.wire_runs.values():
        ends = [split_end(end or "")[0] for end in (run.from_, run.to)]
        if supply in ends:
            kinds |= {model.supplies[end].spec.kind for end in ends if end in model.supplies}
    return 0 if kinds & {"alternator", "generator"} else 1


def ground_of_engine(model: Installation, zone: str) -> str:
    """The ground nearest to what is on the engine."""
    named = model.grounds.items()
    return next(
        (i for i, g in named if g.kind == "engine case" and g.zone in (None, zone)),
        next((i for i, g in named if g.zone == zone and g.kind != "strap"), None) or ground_of(model),
    )
