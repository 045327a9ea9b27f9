"""What an alteration makes necessary to test, inspect or record again."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from ..dataclass import dataclass
from ..model.fluid import FluidLine
from ..model.installation import Installation
from ..model.routes import RouteStep
from ..model.wiring import Bundle, WireRun
from .chains import Chain
from .change import Change, Kind
from .differences import NOT_GIVEN, Pair
from .figures import LoadChange, WeightChange

_TOUCHED = frozenset(Kind) - {Kind.RENAMED, Kind.REWORDED}
_BIG = frozenset((Kind.ADDED, Kind.REPLACED, Kind.MOVED))
_WIRING = _TOUCHED - {Kind.CHANGED, Kind.REMOVED}
_AGAINST = {
    "exhaust temperature": "with the probe in a heat source of known temperature",
    "turbine inlet temperature": "with the probe in a heat source of known temperature",
    "temperature": "at the temperature of the day and with the sensing element in boiling water",
    "manifold pressure": "with the engine stopped, against the field pressure, and against a test gauge",
    "pressure": "against a test gauge, up to the red line",
    "engine speed": "against an optical tachometer",
    "fuel quantity": "empty, and filled by measured amounts",
}


@dataclass(frozen=True, slots=True)
class Retest:
    """One thing to do before return to service.

    Attributes:
        what: the test, inspection or entry.
        at: ids it concerns.
        why: the changes that call for it, in words.
    """

    what: str
    at: tuple[str, ...]
    why: str


def retests(
    pair: Pair, changes: Sequence[Change], chains: Mapping[str, Chain], load: LoadChange, weight: WeightChange
) -> list[Retest]:
    """Everything to test, inspect or record again, in the order it is done. Cost: linear in changes and chains."""
    touched = [change for change in changes if change.kind in _TOUCHED and not _only_told(change)]
    return [
        *_wiring(touched),
        *_bonds(touched),
        *_lines(touched),
        *_barriers(pair, touched),
        *_indications(touched, chains),
        *_electrical(touched, load),
        *_compass(pair.new.whole, touched),
        *_records(weight),
    ]


def _only_told(change: Change) -> bool:
    """Whether the document only says more or less than before, as when a length is given that was not."""
    return change.kind is Kind.CHANGED and all(NOT_GIVEN in (d.old, d.new) for d in change.details)


def _of(changes: Sequence[Change], *sections: str) -> list[Change]:
    return [change for change in changes if change.section in sections]


def _ids(changes: Sequence[Change]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(change.ident for change in changes))


def _why(changes: Sequence[Change]) -> str:
    """``W1 re-gauged and re-lengthened, oil bulb replaced``."""
    by_thing: dict[str, dict[str, None]] = {}
    for change in changes:
        by_thing.setdefault(change.ident, {})[change.kind.value] = None
    return ", ".join(f"{ident} {' and '.join(kinds)}" for ident, kinds in by_thing.items())


def _wiring(touched: Sequence[Change]) -> Iterator[Retest]:
    found = [change for change in _of(touched, "wire_runs", "junctions") if change.kind in _WIRING]
    if found:
        yield Retest(
            "ring out: continuity end to end, and insulation to ground and to each neighbour",
            _ids(found),
            _why(found),
        )


def _bonds(touched: Sequence[Change]) -> Iterator[Retest]:
    found = _of(touched, "grounds") + [
        change for change in touched if any(detail.what.startswith("grounding") for detail in change.details)
    ]
    found = [change for change in found if change.kind is not Kind.REMOVED]
    if found:
        yield Retest("measure the resistance of each ground and bond", _ids(found), _why(found))


def _lines(touched: Sequence[Change]) -> Iterator[Retest]:
    found = _of(touched, "fluid_lines", "fittings", "taps")
    if found:
        there = [change for change in found if change.kind is not Kind.REMOVED]
        yield Retest("leak check at working pressure, joints and caps", _ids(there or found), _why(found))


def _barriers(pair: Pair, touched: Sequence[Change]) -> Iterator[Retest]:
    crossing: dict[str, list[Change]] = {}
    kinds = (Kind.ADDED, Kind.REMOVED, Kind.REROUTED, Kind.REPLACED)
    for change in touched:
        if change.kind not in kinds:
            continue
        graph = pair.old if change.kind is Kind.REMOVED else pair.new
        sides = [_crossed(graph.whole, change.section, change.ident)]
        if change.kind is Kind.REROUTED:
            sides.append(_crossed(pair.old.whole, change.section, change.ident))
        for barrier in {b for side in sides for b in side}:
            crossing.setdefault(pair.names.of("barriers", barrier), []).append(change)
    for barrier, found in crossing.items():
        what = (
            f"inspect {barrier}: each new crossing sealed, each hole left closed with material of its rating"
        )
        yield Retest(what, (barrier,), _why(found))


def _crossed(model: Installation, section: str, ident: str) -> list[str]:
    if section == "fittings":
        fitting = model.fittings.get(ident)
        return [fitting.barrier] if fitting is not None and fitting.barrier else []
    if section not in ("wire_runs", "fluid_lines"):
        return []
    run = model.section(section).get(ident)
    route: list[RouteStep] = (run.route or []) if isinstance(run, (WireRun, FluidLine)) else []
    return [step.barrier for step in route if step.barrier]


def _indications(touched: Sequence[Change], chains: Mapping[str, Chain]) -> Iterator[Retest]:
    by_thing: dict[str, list[Change]] = {}
    for change in touched:
        by_thing.setdefault(change.ident, []).append(change)
    for chain in chains.values():
        if not chain.sources:
            continue
        found = [change for ident in sorted(chain.things) for change in by_thing.get(ident, ())]
        if not found:
            continue
        against = next(
            (how for word, how in _AGAINST.items() if word in chain.measure), "against a known value"
        )
        ends = {chain.indicator, *chain.sources}
        big = any(change.ident in ends and change.kind in _BIG for change in found)
        what = (
            f"check the indication {chain.name} {against}"
            if big
            else f"check that {chain.name} indicates, {against}"
        )
        yield Retest(what, (chain.indicator,), _why(found))


def _electrical(touched: Sequence[Change], load: LoadChange) -> Iterator[Retest]:
    found = _of(touched, "supplies", "loads")
    if found or load.items:
        told = [_why(found)] if found else []
        if load.items:
            told.append(f"continuous load {load.old:.3g} A before, {load.new:.3g} A after")
        at = tuple(dict.fromkeys((*_ids(found), *(ident for ident, _, _ in load.items))))
        yield Retest(
            "measure bus voltage and source current with every continuous load on", at, ", ".join(told)
        )


def _compass(model: Installation, touched: Sequence[Change]) -> Iterator[Retest]:
    near = {ident for ident, bundle in model.bundles.items() if _by_compass(bundle)}
    found = []
    for change in _of(touched, "wire_runs"):
        run = model.wire_runs.get(change.ident)
        if run is not None and (run.bundle in near or _by_compass(run)) and change.kind in _WIRING:
            found.append(change)
    if found:
        yield Retest("swing the compass and renew its card", _ids(found), _why(found))


def _by_compass(way: Bundle | WireRun) -> bool:
    return any(clearance.kind == "compass" for clearance in way.clearances or ())


def _records(weight: WeightChange) -> Iterator[Retest]:
    if weight.items or weight.no_weight:
        at = tuple(dict.fromkeys((*(item.ident for item in weight.items), *weight.no_weight)))
        yield Retest(
            "amend the weight and balance record and the equipment list",
            at,
            "weight or place of equipment changed",
        )
