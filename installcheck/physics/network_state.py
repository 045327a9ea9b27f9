"""Settle the currents of loads in one state of a network: what :mod:`network_settling` does for many changes side by side."""

from math import inf

import numpy as np

from .network_parts import CURRENT_SOURCE, POWER_LOAD
from .network_settling import (
    DEAD,
    HOPELESS,
    PASSES,
    PLAIN_PASSES,
    SETTLED,
    STALLED,
    Changes,
    Settled,
    seen_by_loads,
    worst,
)
from .network_system import Equations
from .network_topology import BoolArray, FloatArray


def settle_alone(system: Equations, draws_on: BoolArray, changes: Changes | None = None) -> Settled:
    """Settle one state: as :func:`settle` does a column, in a third of the time.

    ``changes``: the one change that makes it; without, nothing is changed but which draws are on.
    """
    kind, value = system.draw_kind, system.draw_value
    load = (kind != CURRENT_SOURCE) & (value > 0)
    is_power = load & (kind == POWER_LOAD)
    watts = np.where(is_power, value, 0.0)
    amps = np.where(kind == POWER_LOAD, 0.0, value)
    least_scale = max(system.largest_emf, float(np.finfo(float).tiny))
    x = np.zeros(system.count + 1)
    idle, drawn, own = x, np.zeros(len(load)), np.zeros(len(load))
    supplied, nowhere = draws_on & system.joined, np.zeros(len(load), dtype=bool)
    power = failing = done = False
    seen: FloatArray | None = None
    change = None if changes is None else _Change(changes)
    last = inf
    for turn in range(PASSES):
        if seen is None and power and (turn >= PLAIN_PASSES or failing or not len(load)):
            if changes is None:
                seen = own = np.maximum(system.seen_by_draws, 0.0)
            else:
                seen = own = seen_by_loads(system, changes)[:, 0]
            x, drawn = idle.copy(), np.zeros(len(load))
        before, drawn = drawn, np.where(supplied, amps, 0.0)
        drawing = impossible = nowhere
        if power:
            drawing = supplied & is_power
            unloaded = _across(system, x) + own * before
            room = unloaded**2 - 4 * own * watts
            impossible = drawing & (room < 0)
            np.divide(2 * watts, unloaded + np.sqrt(np.maximum(room, 0.0)), out=drawn, where=drawing)

        flow = system.conductance * (x[system.p] - x[system.q] + system.emf)
        if change is not None:
            change.carries(flow, x)
        rest = system.gather_one(np.concatenate((flow, drawn)))
        if change is not None:
            change.adds(rest)
        step = np.zeros_like(x)
        if change is None:
            step[:-1] = system.factor.solve_one(rest[:-1])
        else:  # as :func:`settle` does it
            step[:-1] = system.factor.solve(rest[:-1, np.newaxis])[:, 0]
        if change is not None:
            change.pulls(step)
        x = x + step
        size = float(np.abs(step).max())
        scale = max(float(np.abs(x).max()), least_scale)
        across = _across(system, x)
        low = supplied & load & (across <= DEAD * scale)
        lacking = impossible | low if power else low
        lacks = bool(lacking.any())
        failing = power and lacks
        changed = False
        if failing and seen is not None:
            share = np.full(len(load), np.inf)
            np.divide(across, _across(system, idle), out=share, where=drawing)
            off = worst(*(one[:, np.newaxis] for one in (share, lacking, drawing)))[:, 0]
            x, drawn = idle.copy(), np.zeros(len(load))
            changed = bool(off.any())
            supplied = supplied & ~off
        elif lacks and not power:
            changed = True
            supplied = supplied & ~low
        begin = bool(not power and not changed and (supplied & is_power).any())
        if begin:
            idle = x
        power = power or begin
        stalled = size >= last and size <= STALLED * scale
        done = not (changed or begin or lacks) and (size <= SETTLED * scale or stalled)
        last = inf if changed or begin else size
        if done:
            break
    return Settled(
        x[:, np.newaxis],
        idle[:, np.newaxis],
        supplied[:, np.newaxis],
        np.array([done and (change is None or change.loss > HOPELESS)]),
        np.array([last]),
        np.array([0.0 if change is None else change.hard_current]),
    )


class _Change:
    """What one change does in a pass, as plain figures; see :class:`Changes`."""

    def __init__(self, changes: Changes) -> None:
        self.branch, self.p, self.q = int(changes.branch[0]), int(changes.p[0]), int(changes.q[0])
        self.new, self.emf = float(changes.new[0]), float(changes.emf[0])
        self.seen = changes.seen[0]  # a number of numpy, for it may be zero
        self.delta = self.new - float(changes.old[0])
        self.loss = max(1 + self.delta * self.seen, HOPELESS)
        self.hard, self.response = bool(changes.hard[0]), changes.response[:, 0]
        self.across = self.hard_current = 0.0

    def carries(self, flow: FloatArray, x: FloatArray) -> None:
        """Let the branch carry what it does as it is now."""
        self.across = float(x[self.p] - x[self.q] + self.emf)
        if self.branch >= 0:
            flow[self.branch] = self.new * self.across

    def adds(self, rest: FloatArray) -> None:
        """Take what an added branch carries from what is left over at the rows."""
        extra = self.new * self.across if self.branch < 0 else 0.0
        self.hard_current = float(rest[self.p]) if self.hard else 0.0
        rest[self.p] -= extra
        rest[self.q] += extra

    def pulls(self, step: FloatArray) -> None:
        """Correct a step made with the matrix as it was."""
        stepped = float(step[self.p] - step[self.q])
        pull = -(self.across + stepped) / self.seen if self.hard else -self.delta * stepped / self.loss
        step += self.response * pull


def _across(system: Equations, x: FloatArray) -> FloatArray:
    """Voltage across each draw [V]."""
    return np.asarray(x[system.draw_p] - x[system.draw_q] + system.draw_offset, dtype=np.float64)
