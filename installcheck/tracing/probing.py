"""What a hand voltmeter shows between two nodes in a world: what is held firmly, and what hangs on something nobody can answer for.

A node that hangs on the innards of a gauge whose ground is off, on a transducer without its supply, or on wires that touch with amps
flowing on, stands somewhere: what the solver gives is one of the voltages it may have.
"""

from __future__ import annotations

from math import isnan

import numpy as np

from ..analysis.circuit.measuring_inputs import Follower
from ..analysis.errors.reading import element_of
from .changes import Cut, Joins, World
from .channels import Channel
from .expected import Expect
from .lifting import is_lifted, lead_at
from .looks import Setup, Volts
from .powered import Powered, Solved
from .stirring import lead_end

_FED = 0.2
"""Share by which the supply of a transducer may differ for its output to be what its curve says by that supply."""
_FLOWING_A = 1.0
"""A through wires that touch, from which voltages hang on how firmly they do."""
_SAME_V = 0.001
"""V that tell nothing of what holds a node."""


def volts(powered: Powered, state: Solved, a: str, b: str) -> float:
    """Voltage from one node to another in V; a node that nothing holds shows nothing."""
    across = powered.potential(state.voltage, a) - powered.potential(state.voltage, b)
    return _loose(powered, state, a, b) if isnan(across) else across


def _loose(powered: Powered, state: Solved, a: str, b: str) -> float:
    """What a meter shows where nothing holds one of its ends: the voltage of a supply it is put across, else nothing."""
    ident = a.partition(".")[0]
    supply, given = powered.study.model.supplies.get(ident), powered.point.given
    dead = (given.dead_supplies or ()) if given is not None else ()
    if supply is None or supply.spec.voltage is None or ident in dead:
        return 0.0
    own = dict(state.weak).get(ident, float(supply.spec.voltage))
    return {(f"{ident}.+", f"{ident}.-"): own, (f"{ident}.-", f"{ident}.+"): -own}.get((a, b), 0.0)


def read(powered: Powered, at: Setup, look: Volts, world: World, state: Solved) -> Expect:
    """What a voltmeter shows in a world."""
    ends = [lead_at(powered.bare, at, n) for n in (look.a, look.b)]
    if ends[0] is None or ends[1] is None:
        return Expect()  # of several leads, or none: which, nobody told
    look = Volts(ends[0], ends[1])
    cut = {c.edge for c in world if isinstance(c, Cut)}
    if any({look.a, look.b} & {e.a, e.b} and (is_lifted(at, e.a) or is_lifted(at, e.b)) for e in cut):
        return Expect(0.0)  # the end of a lead that is broken on its way
    a, b = (lead_end(at, n, world) for n in (look.a, look.b))
    through = [_through_sender(powered, state, n) for n in (a, b)]
    if through != [None, None]:
        held = [
            v if v is not None else powered.potential(state.voltage, n)
            for v, n in zip(through, (a, b), strict=True)
        ]
        return Expect(0.0 if isnan(held[0] - held[1]) else held[0] - held[1], word="floats")
    value = volts(powered, state, a, b)
    firm = powered.potential(state.firm, a) - powered.potential(state.firm, b)
    opened, numbers = _opened(powered, world), [powered.net.nodes.get(n) for n in (a, b)]
    hangs = isnan(firm) or not all(n is None or _is_held(powered, n, opened) for n in numbers)
    for one in powered.net.followers:
        missing = _missing(state, one)
        if abs(missing) < _SAME_V:
            continue
        signal = _signal_of(powered, one)
        sides = [n in signal for n in numbers]
        value -= (sides[0] - sides[1]) * missing
        near = any(sides) or one.plus in numbers
        hangs = hangs or (near and not _is_fed(powered, state, one, opened))
    floats = (hangs and abs(value) > _SAME_V) or state.amps > _FLOWING_A
    return Expect(value, word="floats") if floats else Expect(value)


def flowing_through(powered: Powered, channel: Channel, world: World, amps: float) -> bool:
    """Whether amps of a live wire flow on through those of an indication: what its gauge makes of that, no curve tells."""
    own = {n for e in channel.edges for n in (e.a, e.b)}
    touching = [{c.a, c.b} for c in world if isinstance(c, Joins)]
    return amps > _FLOWING_A and any(ends & own and not _grounded(powered, ends) for ends in touching)


def _grounded(powered: Powered, nodes: set[str]) -> bool:
    return any(powered.study.graph.is_ground(n) for n in nodes)


def _through_sender(powered: Powered, state: Solved, node: str) -> float | None:
    """V of what a terminal of a sender that nothing holds hangs on through it; ``None`` for any other node."""
    ident = node.partition(".")[0]
    if ident not in powered.study.model.senders or not isnan(powered.potential(state.voltage, node)):
        return None
    own = {n for e in powered.study.graph.by_thing.get(("senders", ident), ()) for n in (e.a, e.b)}
    held = [v for n in sorted(own) if not isnan(v := powered.potential(state.voltage, n))]
    return max(held, key=abs, default=None)


def _opened(powered: Powered, world: World) -> frozenset[int]:
    """Branches that a world cuts."""
    of = powered.bare.branch_of
    return frozenset(of[c.edge] for c in world if isinstance(c, Cut) and c.edge in of)


def _is_held(powered: Powered, number: int, opened: frozenset[int]) -> bool:
    """Whether a node hangs together with ground through anything but the high resistance of an input."""
    if not opened:
        return True
    return not _together(powered, number, opened).isdisjoint(powered.net.solution.network.references)


def _together(powered: Powered, start: int, opened: frozenset[int]) -> set[int]:
    """Nodes that hang together with one through next to nothing, some branches open."""
    found, ahead = {start}, [start]
    while ahead:
        for there, branch in powered.beside[ahead.pop()]:
            if there not in found and branch not in opened:
                found.add(there)
                ahead.append(there)
    return found


def gives_volts(powered: Powered, state: Solved, source: str, world: World) -> bool:
    """Whether a sender is none that needs a supply, or has it: of another nobody can tell what its gauge makes."""
    element = element_of(powered.study, source)
    number = powered.bare.branch_of.get(element) if element is not None else None
    opened = _opened(powered, world)
    return all(_is_fed(powered, state, f, opened) for f in powered.net.followers if f.branch == number)


def _is_fed(powered: Powered, state: Solved, follower: Follower, opened: frozenset[int]) -> bool:
    across = state.voltage[follower.plus] - state.voltage[follower.minus]
    held = not np.isnan(state.firm[follower.minus]) and _is_held(powered, follower.minus, opened)
    return bool(held and abs(across - follower.nominal) <= _FED * follower.nominal)


def _missing(state: Solved, follower: Follower) -> float:
    """V that a transducer gives less than with its nominal supply, which its output follows."""
    across = float(state.voltage[follower.plus] - state.voltage[follower.minus])
    return float(state.emf[follower.branch]) * (1 - (across / follower.nominal if across > 0 else 0.0))


def _signal_of(powered: Powered, follower: Follower) -> set[int]:
    """Nodes that hang together with what a transducer gives."""
    if follower.branch not in powered.signals:
        end = int(powered.net.solution.network.end[follower.branch])
        powered.signals[follower.branch] = _together(powered, end, frozenset((follower.branch,)))
    return powered.signals[follower.branch]
