"""Assemble the node equations of a network, and settle the currents of its loads on them.

The unknowns are the potentials of groups of ideally joined nodes, in rows. Each pass computes the current left over at
every row from the branch currents themselves, and corrects the potentials through the factored matrix. One loop so
serves as solution, as iterative refinement and as fixed-point iteration of constant-power loads, and it settles many
single changes of the network side by side, one column each.
"""

from dataclasses import dataclass

import numpy as np

from .network_factor import Factor
from .network_parts import DrawKind, Network
from .network_topology import BoolArray, FloatArray, IntArray, label_islands, merge_ideal

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
class System:
    """The node equations of a network: rows 0 to `count` - 1, and row `count` for every root at its own 0 V."""

    network: Network
    count: int
    group: IntArray
    root: IntArray
    island: IntArray
    referenced: int
    conflict: BoolArray
    row: IntArray
    offset: FloatArray
    ideal: BoolArray
    p: IntArray
    q: IntArray
    conductance: FloatArray
    emf: FloatArray
    draw_p: IntArray
    draw_q: IntArray
    draw_offset: FloatArray
    joined: BoolArray
    factor: Factor
    order: IntArray
    cuts: IntArray
    targets: IntArray

    def gather(self, branch: FloatArray, draw: FloatArray) -> FloatArray:
        """Current left over at each row [A], from branch and draw currents, one column per state."""
        flow = np.concatenate((branch, draw))
        out = np.zeros((self.count + 1, flow.shape[1]))
        if not len(flow):
            return out
        if flow.shape[1] == 1:
            ends = np.concatenate((self.p, self.draw_p, self.q, self.draw_q))
            signed = np.concatenate((-flow[:, 0], flow[:, 0]))
            out[:, 0] = np.bincount(ends, weights=signed, minlength=self.count + 1)
            return out
        signed = np.concatenate((-flow, flow))[self.order]
        out[self.targets] = np.add.reduceat(signed, self.cuts, axis=0)
        return out


def assemble(network: Network) -> System:
    """Merge ideally joined nodes, find the islands, ground one group of each, and factor the matrix."""
    ideal = (network.resistance == 0) & ~network.is_open
    tied = network.references[1:]
    merged = merge_ideal(
        network.node_count,
        [*network.start[ideal].tolist(), *([network.references[0]] * len(tied) if tied else [])],
        [*network.end[ideal].tolist(), *tied],
        [*network.emf[ideal].tolist(), *([0.0] * len(tied))],
    )
    groups = len(merged.conflict)
    conducting = ~network.is_open & ~ideal
    start, end = merged.group[network.start], merged.group[network.end]
    group_island = label_islands(groups, start[conducting].tolist(), end[conducting].tolist())
    islands = int(group_island.max()) + 1
    root = np.empty(islands, dtype=np.intp)
    root[group_island[::-1]] = np.arange(groups, dtype=np.intp)[::-1]
    offset = merged.offset
    referenced = -1
    if network.references:
        earth = merged.group[network.references[0]]
        referenced = int(group_island[earth])
        root[referenced] = earth
        offset = np.where(merged.group == earth, offset - offset[network.references[0]], offset)
    conflict = np.zeros(islands, dtype=bool)
    conflict[group_island[merged.conflict]] = True

    count = groups - islands
    group_row = np.full(groups, count, dtype=np.intp)
    inner = np.ones(groups, dtype=bool)
    inner[root] = False
    group_row[inner] = np.arange(count, dtype=np.intp)
    row, island = group_row[merged.group], group_island[merged.group]
    conductance = np.zeros(len(ideal))
    conductance[conducting] = 1 / network.resistance[conducting]
    p, q = row[network.start], row[network.end]
    draw_p, draw_q = row[network.draw_start], row[network.draw_end]
    ends = np.concatenate((p, draw_p, q, draw_q))
    order = np.argsort(ends, kind="stable")
    targets, cuts = np.unique(ends[order], return_index=True)
    return System(
        network=network,
        count=count,
        group=merged.group,
        root=root,
        island=island,
        referenced=referenced,
        conflict=conflict,
        row=row,
        offset=offset,
        ideal=ideal,
        p=p,
        q=q,
        conductance=conductance,
        emf=network.emf + offset[network.start] - offset[network.end],
        draw_p=draw_p,
        draw_q=draw_q,
        draw_offset=offset[network.draw_start] - offset[network.draw_end],
        joined=island[network.draw_start] == island[network.draw_end],
        factor=Factor(count, p, q, conductance),
        order=order,
        cuts=cuts.astype(np.intp),
        targets=targets,
    )


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


def unchanged(system: System, draws_on: BoolArray) -> Changes:
    """One column in which only the draws that are on may differ."""
    none, zero = np.full(1, -1, dtype=np.intp), np.zeros(1)
    still = np.zeros(1, dtype=bool)
    response = np.zeros((system.count + 1, 1))
    return Changes(none, none, none, zero, zero, zero, still, response, zero, draws_on[:, np.newaxis])


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


def draw_voltage(system: System, x: FloatArray) -> FloatArray:
    """Voltage across each draw [V], one column per state."""
    return x[system.draw_p] - x[system.draw_q] + system.draw_offset[:, np.newaxis]


def draw_current(system: System, x: FloatArray, supplied: BoolArray, power: BoolArray) -> FloatArray:
    """Current of each draw [A]; constant-power loads draw where `power` is true of their column."""
    kind = system.network.draw_kind
    value = system.network.draw_value[:, np.newaxis]
    current = np.where(supplied & (kind != DrawKind.POWER_LOAD)[:, np.newaxis], value, 0.0)
    drawing = supplied & (kind == DrawKind.POWER_LOAD)[:, np.newaxis] & power & (value > 0)
    np.divide(value, draw_voltage(system, x), out=current, where=drawing)
    return current


def branch_current(system: System, x: FloatArray) -> FloatArray:
    """Current of each branch that is not ideal [A], one column per state."""
    across = x[system.p] - x[system.q] + system.emf[:, np.newaxis]
    return np.asarray(system.conductance[:, np.newaxis] * across, dtype=np.float64)


def responses(system: System, p: IntArray, q: IntArray) -> FloatArray:
    """Potential of every row per ampere sent from row `q` to row `p` [ohm], one column per pair."""
    injected = np.zeros((system.count + 1, len(p)))
    column = np.arange(len(p))
    injected[p, column] += 1
    injected[q, column] -= 1
    out = np.zeros_like(injected)
    out[:-1] = system.factor.solve(injected[:-1])
    return out


def seen_by_loads(system: System, changes: Changes, loads: IntArray) -> FloatArray:
    """Resistance each of the `loads` sees [ohm], one column per change; 0 for every other draw."""
    p, q = system.draw_p[loads], system.draw_q[loads]
    width = block_width(system.count)
    before = np.zeros(len(loads))
    for at in range(0, len(loads), width):
        block = slice(at, at + width)
        response = responses(system, p[block], q[block])
        column = np.arange(response.shape[1])
        before[block] = response[p[block], column] - response[q[block], column]
    delta = changes.new - changes.old
    gain = delta / np.maximum(1 + delta * changes.seen, HOPELESS)
    np.divide(1.0, changes.seen, out=gain, where=changes.hard)
    seen = np.zeros((len(system.draw_p), len(changes.p)))
    seen[loads] = before[:, np.newaxis] - gain * (changes.response[p] - changes.response[q]) ** 2
    return np.maximum(seen, 0.0)


def block_width(rows: int) -> int:
    """How many columns to carry at once: enough to be quick, few enough to stay near the processor."""
    return max(32, 250_000 // (rows + 1))


def settle(system: System, changes: Changes) -> Settled:
    """Settle every column: first without constant-power loads, then with them from above.

    Coming from above, the voltages fall towards the working point if there is one, and through zero if not. A load
    without voltage is taken off: all at once while constant-power loads are off, later the constant-power load that
    collapsed furthest, or the worst quarter of many. Each of those answers for the resistance it sees itself, so that
    only what loads share takes many passes.
    """
    network = system.network
    width = len(changes.p)
    load = (network.draw_kind != DrawKind.CURRENT_SOURCE) & (network.draw_value > 0)
    is_power = load & (network.draw_kind == DrawKind.POWER_LOAD)
    watts = np.where(is_power, network.draw_value, 0.0)[:, np.newaxis]
    amps = np.where(network.draw_kind == DrawKind.POWER_LOAD, 0.0, network.draw_value)[:, np.newaxis]
    largest_emf = float(np.abs(system.emf).max(initial=0.0))
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
    delta = changes.new - changes.old
    loss = np.maximum(1 + delta * changes.seen, HOPELESS)
    for turn in range(PASSES):
        todo = np.flatnonzero(~done)
        if not len(todo):
            break
        if seen is None and power_on.any() and (turn >= PLAIN_PASSES or failing or width > len(load)):
            seen = seen_by_loads(system, changes, np.flatnonzero(is_power))
            again = todo[power_on[todo]]  # so that which load goes first does not depend on earlier passes
            all_x[:, again], all_drawn[:, again] = all_idle[:, again], 0.0
        now = changes if len(todo) == width else changes.columns(todo)
        x, supplied, power, drawn = all_x[:, todo], all_supplied[:, todo], power_on[todo], all_drawn[:, todo]
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
        size = np.abs(step).max(axis=0)
        scale = np.maximum(np.abs(x).max(axis=0), max(largest_emf, np.finfo(float).tiny))

        across = draw_voltage(system, x)
        low = supplied & load[:, np.newaxis] & (across <= DEAD * scale)
        off = low & ~power
        lacking = impossible | low
        collapsed = np.flatnonzero(power & lacking.any(axis=0))
        failing = len(collapsed) > 0
        if failing and seen is not None:
            idle = all_idle[:, todo[collapsed]]
            blamed = (lacking & drawing)[:, collapsed]
            blamed = np.where(blamed.any(axis=0), blamed, drawing[:, collapsed])
            share = np.full(blamed.shape, np.inf)
            np.divide(across[:, collapsed], draw_voltage(system, idle), out=share, where=blamed)
            rank = share.argsort(axis=0).argsort(axis=0)
            off[:, collapsed] = blamed & (rank < np.maximum(1, blamed.sum(axis=0) // 4))
            x[:, collapsed] = idle
            drawn[:, collapsed] = 0.0
        changed = off.any(axis=0)
        supplied &= ~off
        begin = ~power & ~changed & (supplied & is_power[:, np.newaxis]).any(axis=0)
        all_idle[:, todo[begin]] = x[:, begin]
        power |= begin
        stalled = (size >= last[todo]) & (size <= STALLED * scale)
        open_question = begin | lacking.any(axis=0)
        done[todo] = ~changed & ~open_question & ((size <= SETTLED * scale) | stalled)
        last[todo] = np.where(changed | begin, np.inf, size)
        all_x[:, todo], all_supplied[:, todo], all_drawn[:, todo], power_on[todo] = x, supplied, drawn, power
    return Settled(all_x, all_idle, all_supplied, done & (loss > HOPELESS), last, hard_current)


def newton(system: System, start: FloatArray, supplied: BoolArray) -> tuple[FloatArray, FloatArray, bool]:
    """Settle one column near the limit of its supply, by Newton's method from the `start` without power loads.

    Returns the potentials, the last voltages across the draws that were all positive, and whether it settled.
    """
    network = system.network
    x = start.copy()
    on = supplied[:, 0] & (network.draw_kind == DrawKind.POWER_LOAD) & (network.draw_value > 0)
    p = np.concatenate((system.p, system.draw_p[on]))
    q = np.concatenate((system.q, system.draw_q[on]))
    across = draw_voltage(system, x)[:, 0]
    everywhere = np.ones(1, dtype=bool)
    for _ in range(NEWTON_PASSES):
        drawn = draw_current(system, x, supplied, everywhere)
        rest = system.gather(branch_current(system, x), drawn)
        slope = -network.draw_value[on] / across[on] ** 2
        try:
            jacobian = Factor(
                system.count, p, q, np.concatenate((system.conductance, slope)), eliminate=False
            )
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
