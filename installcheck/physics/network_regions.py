"""A settled network in regions, so that a fault is worked out where its current can change something.

A row that is eliminated with at most two neighbours takes with it all that was eliminated into it: a region that hangs on
the rest by two rows at most, its rim. Seen from there it is a star of conductances, and inside it every potential follows
the rim by fixed positive shares. So a change in one region is settled in that region and the few rows that all share, with
every other region as the star it is; what the others come to follows from the rows they hang on.
"""

from functools import cached_property

import numpy as np

from ..dataclass import dataclass
from .network_factor import Factor, between_rows, eliminated, planned
from .network_parts import CURRENT_SOURCE, POWER_LOAD
from .network_settling import DEAD
from .network_system import Equations, System
from .network_topology import BoolArray, FloatArray, IntArray, gathering, label_islands

REGION = 100
"""Rows of a region, about: fewer cost more calls, more cost more arithmetic for each fault (measured)."""
BUSY = 16
"""Draws at one row beyond which all regions share it: else they would hang together by it, and be one."""
MOST_SHARED = 0.25
"""Share of the rows that all regions may hang on before working by regions saves nothing [-]."""


@dataclass(frozen=True)
class Region(Equations):
    """The equations of the rows all regions share and of those of one, the others as stars; the rest as in `Equations`.

    Attributes:
        rows: of the whole that are here, the shared ones first.
        here: of each row of the whole its row here; -1 for one that is not.
        branches, draws: of the whole that are here, ascending; stars follow the branches, what they hold follows the draws.
        elsewhere: which draws of the whole are not here.
    """

    rows: IntArray
    here: IntArray
    branches: IntArray
    draws: IntArray
    elsewhere: BoolArray


@dataclass(frozen=True)
class _Stars:
    """What regions are to the rows they hang on: of each arm its region, the two rows it joins, and its conductance [S]."""

    region: IntArray
    a: IntArray
    b: IntArray
    conductance: FloatArray


class Regions:
    """A settled network in regions.

    Args:
        system: its equations.
        potential: of each row [V], as settled.
        drawn: current of each draw [A].
        off: draws that get nothing.
    """

    def __init__(self, system: System, potential: FloatArray, drawn: FloatArray, off: BoolArray) -> None:
        self.system, self.potential, self.drawn, self.off = system, potential, drawn, off
        above, arms, totals = self._eliminated()
        self.shared = self._shared(above)
        self.worth = len(self.shared) <= MOST_SHARED * system.count
        self._of: dict[int, Region] = {}
        if self.worth:
            self._divide(above, arms, totals)

    def _eliminated(self) -> tuple[list[int], list[list[float]], list[float]]:
        """Of each row the one it was eliminated into, -1 without any; the arms it had and their sum, in the order of steps."""
        system = self.system
        turn = {row: i for i, (row, *_) in enumerate(system.plan.steps)}
        last = len(turn)
        above = [-1] * (system.count + 1)
        for row, _, others, _ in system.plan.steps:
            above[row] = min((other for other, _ in others), key=lambda o: turn.get(o, last), default=-1)
        arms, totals = [], []
        for some, total in eliminated(system.plan, between_rows(system.plan, system.conductance)):
            arms.append(some)
            totals.append(total)
        return above, arms, totals

    def _shared(self, above: list[int]) -> IntArray:
        """Rows that belong to no region: too much hangs on them, or a load whose current follows its voltage or that has none."""
        system = self.system
        size = [1] * (system.count + 1)
        kept = bytearray(system.count + 1)
        apart = ((system.draw_kind == POWER_LOAD) & (system.draw_value > 0)) | self.off
        ends = np.bincount(np.concatenate((system.draw_p, system.draw_q)), minlength=system.count + 1)
        busy = np.flatnonzero(ends > BUSY)
        for row in (*system.draw_p[apart], *system.draw_q[apart], *busy, *system.plan.core):
            kept[row] = 1
        for row, *_ in system.plan.steps:
            kept[row] = kept[row] or size[row] > REGION
            if above[row] >= 0:
                size[above[row]] += size[row]
                kept[above[row]] = kept[above[row]] or kept[row]
        return np.flatnonzero(np.frombuffer(kept, dtype=np.uint8)[: system.count])

    def _divide(self, above: list[int], arms: list[list[float]], totals: list[float]) -> None:
        system, none = self.system, self.system.count
        is_shared = np.zeros(none + 1, dtype=bool)
        is_shared[self.shared] = is_shared[none] = True
        shared: list[bool] = is_shared.tolist()
        twig, twigs = [-1] * (none + 1), 0
        rim: list[list[int]] = [[none, none] for _ in range(none + 1)]
        weight = [[0.0, 0.0] for _ in range(none + 1)]
        for (row, _, others, _), some, total in zip(
            reversed(system.plan.steps), reversed(arms), reversed(totals), strict=True
        ):
            if shared[row]:
                continue
            if above[row] < 0 or shared[above[row]]:
                twig[row], twigs = twigs, twigs + 1
                for k, (other, i) in enumerate(others):
                    rim[row][k], weight[row][k] = other, some[i] / total
                continue
            twig[row], rim[row] = twig[above[row]], rim[above[row]]
            for other, i in others:
                share = some[i] / total
                if shared[other]:
                    weight[row][rim[row].index(other)] += share
                else:
                    weight[row][0] += share * weight[other][0]
                    weight[row][1] += share * weight[other][1]
        region = self._gathered(np.array(twig, dtype=np.intp), twigs)
        self.region = region
        place = np.full(none + 1, len(self.shared), dtype=np.intp)
        place[self.shared] = np.arange(len(self.shared))
        self.rim = place[np.array(rim, dtype=np.intp).T]
        self.weight = np.array(weight, dtype=np.float64).T.copy()
        self.rim[0, self.shared], self.weight[0, self.shared] = place[self.shared], 1.0
        self._stars = self._arms_of_stars(shared, region, arms, totals)

    def _gathered(self, twig: IntArray, twigs: int) -> IntArray:
        """The region of each row: what hangs together by draws, some of it to a region; -1 where all share it."""
        if not twigs:
            return twig
        system = self.system
        a, b = twig[system.draw_p], twig[system.draw_q]
        across = (a >= 0) & (b >= 0)
        together = label_islands(twigs, a[across].tolist(), b[across].tolist())
        sizes = np.bincount(together[twig[twig >= 0]]).tolist()
        numbers, number, held = [], 0, 0
        for size in sizes:
            if held and held + size > REGION:
                number, held = number + 1, 0
            held += size
            numbers.append(number)
        return np.where(twig >= 0, np.array(numbers, dtype=np.intp)[together[twig]], -1)

    def _arms_of_stars(
        self, shared: list[bool], region: IntArray, arms: list[list[float]], totals: list[float]
    ) -> _Stars:
        of: list[int] = region.tolist()
        where, a, b, g = [], [], [], []
        for (row, _, others, added), some, total in zip(self.system.plan.steps, arms, totals, strict=True):
            if shared[row]:
                continue
            end = [self.system.count] * len(some)
            for other, i in others:
                end[i] = other
            for _, i, j in added:
                if shared[end[i]] and shared[end[j]]:
                    where.append(of[row])
                    a.append(end[i])
                    b.append(end[j])
                    g.append(some[i] * (some[j] / total))
        whole, figures = np.array([where, a, b], dtype=np.intp), np.array(g, dtype=np.float64)
        return _Stars(whole[0], np.minimum(whole[1], whole[2]), np.maximum(whole[1], whole[2]), figures)

    def number(self, p: int, q: int) -> int | None:
        """The region in which what joins two rows is worked out; ``None`` where they are of different ones.

        What all share may be worked out in any.
        """
        a, b = int(self.region[p]), int(self.region[q])
        return max(a, b, 0) if a < 0 or b < 0 or a == b else None

    def of(self, number: int) -> Region:
        """A region by its number."""
        if number not in self._of:
            self._of[number] = self._made(number)
        return self._of[number]

    def _made(self, number: int) -> Region:
        system, x = self.system, self.potential
        rows = np.concatenate((self.shared, np.flatnonzero(self.region == number)))
        count = len(rows)
        here = np.full(system.count + 1, -1, dtype=np.intp)
        here[rows] = np.arange(count)
        here[system.count] = count
        p, q = here[system.p], here[system.q]
        branches = np.flatnonzero((p >= 0) & (q >= 0) & (p != q))
        draws = np.flatnonzero((here[system.draw_p] >= 0) & (here[system.draw_q] >= 0))
        elsewhere = np.ones(len(system.draw_p), dtype=bool)
        elsewhere[draws] = False

        stars = self._stars
        others = (stars.region != number) & (stars.conductance > 0)
        code, place = np.unique(stars.a[others] * (system.count + 1) + stars.b[others], return_inverse=True)
        star_a, star_b = code // (system.count + 1), code % (system.count + 1)
        star_g: FloatArray = np.bincount(place, stars.conductance[others], len(code)).astype(np.float64)
        p = np.concatenate((p[branches], here[star_a]))
        q = np.concatenate((q[branches], here[star_b]))
        conductance = np.concatenate((system.conductance[branches], star_g))
        emf = np.concatenate((system.emf[branches], x[star_b] - x[star_a]))

        # What the other regions carry at the shared rows as settled: what would be left over there without them.
        held = np.zeros(count + 1)
        flow = system.conductance[branches] * (
            x[system.p[branches]] - x[system.q[branches]] + system.emf[branches]
        )
        drawn = self.drawn[draws]
        for ends, amps in (
            (here[system.q[branches]], flow),
            (here[system.p[branches]], -flow),
            (here[system.draw_q[draws]], drawn),
            (here[system.draw_p[draws]], -drawn),
        ):
            np.add.at(held, ends, amps)
        sources = np.arange(len(self.shared))
        draw_p = np.concatenate((here[system.draw_p[draws]], sources))
        draw_q = np.concatenate((here[system.draw_q[draws]], np.full(len(sources), count)))
        order, cuts, targets = gathering(np.concatenate((p, draw_p, q, draw_q)))
        nothing, always = np.zeros(len(sources)), np.ones(len(sources), dtype=bool)
        return Region(
            rows=rows,
            here=here,
            branches=branches,
            draws=draws,
            elsewhere=elsewhere,
            count=count,
            p=p,
            q=q,
            draw_p=draw_p,
            draw_q=draw_q,
            draw_offset=np.concatenate((system.draw_offset[draws], nothing)),
            draw_value=np.concatenate((system.draw_value[draws], held[sources])),
            draw_kind=np.concatenate((system.draw_kind[draws], np.full(len(sources), CURRENT_SOURCE))),
            joined=np.concatenate((system.joined[draws], always)),
            order=order,
            cuts=cuts,
            targets=targets,
            conductance=conductance,
            emf=emf,
            largest_emf=system.largest_emf,
            factor=Factor(planned(count, p, q, conductance != 0.0), conductance),
        )

    def whole(self, region: Region, settled: FloatArray) -> FloatArray:
        """The potential of every row [V] when those of a region and what all share come to `settled`, one state."""
        moved = self._moved(settled[:, np.newaxis])[:, 0]
        x = self.potential + self.weight[0] * moved[self.rim[0]] + self.weight[1] * moved[self.rim[1]]
        x[region.rows] = settled[:-1]
        return np.asarray(x)

    def _moved(self, settled: FloatArray) -> FloatArray:
        """By how much the rows all share have moved [V], one column a state; the last stands for the reference."""
        shared = len(self.shared)
        moved = np.zeros((shared + 1, settled.shape[1]))
        moved[:shared] = settled[:shared] - self.potential[self.shared, np.newaxis]
        return moved

    def holds(self, region: Region, settled: FloatArray) -> BoolArray:
        """In which states, one a column, every load elsewhere goes on as it did, for it has voltage."""
        system = self.system
        moved = self._moved(settled)
        most = 2 * np.abs(moved).max(axis=0)
        room = np.where(region.elsewhere, self._room, np.inf)
        good = np.asarray(most < room.min(initial=np.inf))
        asked = np.flatnonzero(~good)
        if len(asked):
            near = np.flatnonzero(room <= most.max())
            p, q, moved = system.draw_p[near], system.draw_q[near], moved[:, asked]
            change = sum(
                self.weight[k][p][:, np.newaxis] * moved[self.rim[k][p]]
                - self.weight[k][q][:, np.newaxis] * moved[self.rim[k][q]]
                for k in (0, 1)
            )
            good[asked] = (room[near, np.newaxis] + change > 0).all(axis=0)
        return good

    @cached_property
    def _room(self) -> FloatArray:
        """By how much the voltage across each load may fall until it has none [V]; infinite for other draws."""
        system, x = self.system, self.potential
        across = x[system.draw_p] - x[system.draw_q] + system.draw_offset
        nothing = DEAD * max(float(np.abs(x).max(initial=0.0)), system.largest_emf)
        load = system.joined & (system.draw_kind != CURRENT_SOURCE) & (system.draw_value > 0)
        return np.where(load, across - 2 * nothing, np.inf)
