"""A run written from the other end is the same run."""

from __future__ import annotations

from collections.abc import Mapping

from pydantic import BaseModel

from ..model.fluid import FluidLine
from ..model.quantities import Quantity
from ..model.routes import RouteStep
from ..model.wiring import Conductor, WireRun
from .differences import Pair
from .matching import Names, canonical


def turned_like(was: BaseModel, run: BaseModel, pair: Pair) -> BaseModel:
    """The new run turned end for end if that is how it lies beside the old one; anything else as it is."""
    if isinstance(was, WireRun) and isinstance(run, WireRun):
        old, new = _wire_ends(was), _wire_ends(run)
        shared = [name for name in old if name in new]
        if shared and all(_turned(old[name], new[name], pair) for name in shared):
            return _turn_wire(run)
    if isinstance(was, FluidLine) and isinstance(run, FluidLine):
        return _turn_line(run) if _turned((was.from_, was.to), (run.from_, run.to), pair) else run
    return run


def _wire_ends(run: WireRun) -> Mapping[str, tuple[str, str]]:
    if run.conductors:
        return {name: (one.from_, one.to) for name, one in run.conductors.items()}
    return {"": (run.from_ or "", run.to or "")}


def _turned(old: tuple[str, str], new: tuple[str, str], pair: Pair) -> bool:
    """Whether more ends meet with the new run turned than without."""
    a, b = (canonical("to", end, pair.old, pair.names) for end in old)
    c, d = (canonical("to", end, pair.new, Names()) for end in new)
    return (a == d) + (b == c) > (a == c) + (b == d)


def _turn_wire(run: WireRun) -> WireRun:
    update: dict[str, object] = {"route": _reversed(run.route), "from_": run.to, "to": run.from_}
    if run.conductors:
        update["conductors"] = {name: _turn_conductor(one) for name, one in run.conductors.items()}
    if run.terminations:
        update["terminations"] = (run.terminations[1], run.terminations[0])
    if run.shield:
        update["shield"] = run.shield.model_copy(update={"from_": run.shield.to, "to": run.shield.from_})
    return run.model_copy(update=update)


def _turn_line(run: FluidLine) -> FluidLine:
    rise = run.rise
    return run.model_copy(
        update={
            "from_": run.to,
            "to": run.from_,
            "route": _reversed(run.route),
            "rise": None if rise is None else Quantity(-rise, f"{-rise:g} m", "m", rise.kind),
        }
    )


def _turn_conductor(one: Conductor) -> Conductor:
    return one.model_copy(update={"from_": one.to, "to": one.from_})


def _reversed(route: list[RouteStep] | None) -> list[RouteStep] | None:
    return None if route is None else route[::-1]
