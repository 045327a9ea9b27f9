"""Settle the currents of loads on the node equations, many single changes of a network side by side.

Each pass computes the current left over at every row from the branch currents themselves, and corrects the potentials
through the factored matrix. One loop so serves as solution, as iterative refinement and as fixed-point iteration of
constant-power loads. A change of one branch is a rank-one change of the matrix.
"""

from collections.abc import Callable

import numpy as np

from ..dataclass import dataclass
from .network_factor import Factor
from .network_parts import CURRENT_SOURCE, POWER_LOAD
from .network_system import Equations, branch_current, draw_current, draw_voltage
from .network_topology import BoolArray, FloatArray, IntArray

PASSES = 200
"""Passes before a column is left to Newton's method; a healthy network settles in fewer than 15."""

NEWTON_PASSES = 40
"""Passes of Newton's method, which doubles the digits in each, before a load is given up."""

PLAIN_PASSES = 15
"""Passes before the resistances that loads see are worth computing for a single column."""

SETTLED = 1e-12
"""Last correction, as a share of the largest voltage, at which a column has settled [-]."""

STALLED = 1e-7
"""Correction that no longer shrinks and is below this share has met the rounding of the data [-]."""

DEAD = 1e-9
"""Share of the largest voltage below which a load has no voltage [-]."""

HOPELESS = 1e-9
"""Share of a branch's current that has another way round, below which a rank-one change keeps too few digits [-]."""


@dataclass(frozen=True, slots=True)
class Changes:
    """Single changes of a system, one per column: between rows `p` and `q` a branch is replaced, or added (-1).

    The branch had `old` [S] and now has `new` [S] and `emf` [V]. Where `hard`, an ideal branch of that emf was laid
    beside it, and `old` and `new` are equal.
    `response` is the potential of each row per ampere from `q` to `p`, `seen` [ohm] the resistance between them.
    `draws_on` says which draws still have a circuit.
    """

    branch: IntArray
    p: IntArray
    q: IntArray
    old: FloatArray
    new: FloatArray
    emf: FloatArray
    hard: BoolArray
    response: FloatArray
    seen: FloatArray
    draws_on: BoolArray

    def columns(self, chosen: IntArray) -> "Changes":
        """The changes of the `chosen` columns."""
        return Changes(
            self.branch[chosen],
            self.p[chosen],
            self.q[chosen],
            self.old[chosen],
            self.new[chosen],
            self.emf[chosen],
            self.hard[chosen],
            self.response[:, chosen],
            self.seen[chosen],
            self.draws_on[:, chosen],
        )


@dataclass(frozen=True, slots=True)
class Settled:
    """Potentials of the rows [V], also without the constant-power loads; draws supplied; last correction [V].

    `hard_current` [A] flows from `p` to `q` through a branch that became ideal.
    """

    potential: FloatArray
    idle: FloatArray
    supplied: BoolArray
    done: BoolArray
    correction: FloatArray
    hard_current: FloatArray


def seen_by_loads(system: Equations, changes: Changes) -> FloatArray:
    """Resistance each constant-power load sees [ohm], one column per change; 0 for every other draw."""
    gain = (changes.new - changes.old) / np.maximum(1 + (changes.new - changes.old) * changes.seen, HOPELESS)
    np.divide(1.0, changes.seen, out=gain, where=changes.hard)
    loads = np.flatnonzero(system.draw_kind == POWER_LOAD)
    across = changes.response[system.draw_p[loads]] - changes.response[system.draw_q[loads]]
    seen = np.repeat(system.seen_by_draws[:, np.newaxis], len(changes.p), axis=1)
    seen[loads] -= gain * across**2
    return np.maximum(seen, 0.0)


def settle(
    system: Equations, changes: Changes, goes_on: Callable[[FloatArray, IntArray], BoolArray] | None = None
) -> Settled:
    """Settle every column: first without constant-power loads, then with them from above.

    Coming from above, the voltages fall towards the working point if there is one, and through zero if not. A load
    without voltage is taken off: all at once while constant-power loads are off, later the constant-power load that
    collapsed furthest, or the worst quarter of many. Each of those answers for the resistance it sees itself, so that
    only what loads share takes many passes. A column is not done if in any pass `goes_on` is false of its potentials; it is
    asked of some columns, by number.
    """
    kind, value = system.draw_kind, system.draw_value
    width = len(changes.p)
    load = (kind != CURRENT_SOURCE) & (value > 0)
    is_power = load & (kind == POWER_LOAD)
    watts = np.where(is_power, value, 0.0)[:, np.newaxis]
    amps = np.where(kind == POWER_LOAD, 0.0, value)[:, np.newaxis]
    largest_emf = system.largest_emf
    all_x = np.zeros((system.count + 1, width))
    all_idle = all_x.copy()
    all_drawn = np.zeros((len(load), width))
    all_supplied = changes.draws_on & system.joined[:, np.newaxis]
    seen: FloatArray | None = None
    done = np.zeros(width, dtype=bool)
    power_on = np.zeros(width, dtype=bool)
    last = np.full(width, np.inf)
    hard_current = np.zeros(width)
    failing = False
    lost = np.zeros(width, dtype=bool)
    delta = changes.new - changes.old
    loss = np.maximum(1 + delta * changes.seen, HOPELESS)
    for turn in range(PASSES):
        todo = np.flatnonzero(~done)
        if not len(todo):
            break
        if seen is None and power_on.any() and (turn >= PLAIN_PASSES or failing or width > len(load)):
            seen = seen_by_loads(system, changes)
            again = todo[power_on[todo]]  # so that which load goes first does not depend on earlier passes
            all_x[:, again], all_drawn[:, again] = all_idle[:, again], 0.0
        if everywhere := len(todo) == width:
            now, x, supplied, power, drawn = changes, all_x, all_supplied, power_on, all_drawn
        else:
            now = changes.columns(todo)
            x, supplied, power, drawn = (
                all_x[:, todo],
                all_supplied[:, todo],
                power_on[todo],
                all_drawn[:, todo],
            )
        column = np.arange(len(todo))

        drawing = supplied & is_power[:, np.newaxis] & power
        own = np.zeros((len(load), 1)) if seen is None else seen[:, todo]
        unloaded = draw_voltage(system, x) + own * drawn
        room = unloaded**2 - 4 * own * watts
        impossible = drawing & (room < 0)
        drawn = np.where(supplied, amps, 0.0)
        np.divide(2 * watts, unloaded + np.sqrt(np.maximum(room, 0.0)), out=drawn, where=drawing)

        flow = branch_current(system, x)
        across_change = x[now.p, column] - x[now.q, column] + now.emf
        added = now.branch < 0
        flow[now.branch[~added], column[~added]] = (now.new * across_change)[~added]
        rest = system.gather(flow, drawn)
        extra = np.where(added, now.new * across_change, 0.0)
        hard_current[todo] = np.where(now.hard, rest[now.p, column], 0.0)
        rest[now.p, column] -= extra
        rest[now.q, column] += extra
        step = np.zeros_like(x)
        step[:-1] = system.factor.solve(rest[:-1])
        stepped = step[now.p, column] - step[now.q, column]
        pull = -delta[todo] * stepped / loss[todo]
        np.divide(-(across_change + stepped), now.seen, out=pull, where=now.hard)
        step += now.response * pull
        x += step
        if goes_on is not None:
            lost[todo] |= ~goes_on(x, todo)
        size = np.abs(step).max(axis=0)
        scale = np.maximum(np.abs(x).max(axis=0), max(largest_emf, np.finfo(float).tiny))

        across = draw_voltage(system, x)
        low = supplied & load[:, np.newaxis] & (across <= DEAD * scale)
        off = low & ~power
        lacking = impossible | low
        lacks = lacking.any(axis=0)
        collapsed = np.flatnonzero(power & lacks)
        failing = len(collapsed) > 0
        if failing and seen is not None:
            idle = all_idle[:, todo[collapsed]]
            share = np.full((len(load), len(collapsed)), np.inf)
            kept = drawing[:, collapsed]
            np.divide(across[:, collapsed], draw_voltage(system, idle), out=share, where=kept)
            off[:, collapsed] = worst(share, lacking[:, collapsed], kept)
            x[:, collapsed] = idle
            drawn[:, collapsed] = 0.0
        changed = off.any(axis=0)
        supplied &= ~off
        begin = ~power & ~changed & (supplied & is_power[:, np.newaxis]).any(axis=0)
        all_idle[:, todo[begin]] = x[:, begin]
        power |= begin
        stalled = (size >= last[todo]) & (size <= STALLED * scale)
        open_question = begin | lacks
        done[todo] = ~changed & ~open_question & ((size <= SETTLED * scale) | stalled)
        last[todo] = np.where(changed | begin, np.inf, size)
        if everywhere:
            all_drawn = drawn
        else:
            all_x[:, todo], all_supplied[:, todo], all_drawn[:, todo], power_on[todo] = (
                x,
                supplied,
                drawn,
                power,
            )
    return Settled(all_x, all_idle, all_supplied, done & ~lost & (loss > HOPELESS), last, hard_current)


def worst(share: FloatArray, lacking: BoolArray, drawing: BoolArray) -> BoolArray:
    """Which constant-power loads to take off: of those that lack, or else of all, the worst quarter, at least one.

    Of loads at one node the first goes, whatever the last digits of their shares.
    """
    blamed = lacking & drawing
    blamed = np.where(blamed.any(axis=0), blamed, drawing)
    rank = np.where(blamed, share.round(9), np.inf).argsort(axis=0, kind="stable").argsort(axis=0)
    return np.asarray(blamed & (rank < np.maximum(1, blamed.sum(axis=0) // 4)))


def newton(system: Equations, start: FloatArray, supplied: BoolArray) -> tuple[FloatArray, FloatArray, bool]:
    """Settle one column near the limit of its supply, by Newton's method from the `start` without power loads.

    Returns the potentials, the last voltages across the draws that were all positive, and whether it settled.
    """
    value = system.draw_value
    x = start.copy()
    on = supplied[:, 0] & (system.draw_kind == POWER_LOAD) & (value > 0)
    p = np.concatenate((system.p, system.draw_p[on]))
    q = np.concatenate((system.q, system.draw_q[on]))
    across = draw_voltage(system, x)[:, 0]
    everywhere = np.ones(1, dtype=bool)
    for _ in range(NEWTON_PASSES):
        drawn = draw_current(system, x, supplied, everywhere)
        rest = system.gather(branch_current(system, x), drawn)
        slope = -value[on] / across[on] ** 2
        try:
            jacobian = Factor.of(system.count, p, q, np.concatenate((system.conductance, slope)))
        except (np.linalg.LinAlgError, RuntimeError):
            return x, across, False
        step = jacobian.solve(rest[:-1])
        x[:-1] += step
        new = draw_voltage(system, x)[:, 0]
        if not np.isfinite(new).all() or (new[on] <= 0).any():
            return x, across, False
        across = new
        if np.abs(step).max(initial=0.0) <= SETTLED * max(float(np.abs(x).max()), 1e-300):
            return x, across, True
    return x, across, False
