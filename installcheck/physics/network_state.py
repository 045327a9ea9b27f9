"""Settle the currents of loads in one state of a network: what :mod:`network_settling` does for many changes side by side."""

from math import inf

import numpy as np

from .network_parts import CURRENT_SOURCE, POWER_LOAD
from .network_settling import DEAD, PASSES, PLAIN_PASSES, SETTLED, STALLED, Settled, worst
from .network_system import Equations
from .network_topology import BoolArray, FloatArray


def settle_alone(system: Equations, draws_on: BoolArray) -> Settled:
    """Settle one state in which nothing is changed but which draws are on: as :func:`settle` does a column, in a third of the time."""
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
    last = inf
    for turn in range(PASSES):
        if seen is None and power and (turn >= PLAIN_PASSES or failing or not len(load)):
            seen = own = np.maximum(system.seen_by_draws, 0.0)
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
        rest = system.gather_one(np.concatenate((flow, drawn)))
        step = system.factor.solve_one(rest[:-1])
        x = x.copy()
        x[:-1] += step
        size = float(np.abs(step).max(initial=0.0))
        scale = max(float(np.abs(x).max()), least_scale)
        across = _across(system, x)
        low = supplied & load & (across <= DEAD * scale)
        off = low & (not power)
        lacking = impossible | low
        failing = bool(power and lacking.any())
        if failing and seen is not None:
            share = np.full(len(load), np.inf)
            np.divide(across, _across(system, idle), out=share, where=drawing)
            off = worst(*(one[:, np.newaxis] for one in (share, lacking, drawing)))[:, 0]
            x, drawn = idle.copy(), np.zeros(len(load))
        changed = bool(off.any())
        supplied = supplied & ~off
        begin = bool(not power and not changed and (supplied & is_power).any())
        if begin:
            idle = x
        power = power or begin
        stalled = size >= last and size <= STALLED * scale
        done = not (changed or begin or lacking.any()) and (size <= SETTLED * scale or stalled)
        last = inf if changed or begin else size
        if done:
            break
    return Settled(
        x[:, np.newaxis],
        idle[:, np.newaxis],
        supplied[:, np.newaxis],
        np.array([done]),
        np.array([last]),
        np.zeros(1),
    )


def _across(system: Equations, x: FloatArray) -> FloatArray:
    """Voltage across each draw [V]."""
    return np.asarray(x[system.draw_p] - x[system.draw_q] + system.draw_offset, dtype=np.float64)
