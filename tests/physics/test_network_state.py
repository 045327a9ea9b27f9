"""One state settled alone is, to the last bit, the column it is among many."""

from __future__ import annotations

import numpy as np
import pytest

from installcheck.physics.network_faults import (
    ChangeResistance,
    DeadSource,
    Fault,
    OpenBranch,
    Short,
    play_fault,
    play_faults,
)
from installcheck.physics.network_settling import Changes, settle
from installcheck.physics.network_state import settle_alone
from installcheck.physics.network_system import assemble
from installcheck.physics.networks import Branch, Draw, DrawKind, Network, solve

SUPPLY = [Branch(0, 1, 0.05, 14.0), Branch(1, 2, 0.2), Branch(2, 3, 0.4)]


def nothing_changed(draws_on: np.ndarray, rows: int) -> Changes:
    none, zero = np.full(1, -1, dtype=np.intp), np.zeros(1)
    still = np.zeros(1, dtype=bool)
    return Changes(
        none, none, none, zero, zero, zero, still, np.zeros((rows, 1)), zero, draws_on[:, np.newaxis]
    )


@pytest.mark.parametrize(
    ("branches", "draws", "on"),
    [
        (SUPPLY, [], []),
        (SUPPLY, [Draw(2, 0, 30.0, DrawKind.POWER_LOAD)], [True]),
        (SUPPLY, [Draw(2, 0, 30.0, DrawKind.POWER_LOAD)], [False]),
        # 14 V behind 0.65 ohm gives 14**2 / (4 * 0.65) = 75 W at most: the second load collapses
        (
            SUPPLY,
            [Draw(2, 0, 20.0, DrawKind.POWER_LOAD), Draw(3, 0, 90.0, DrawKind.POWER_LOAD)],
            [True, True],
        ),
        (SUPPLY, [Draw(3, 0, 74.0, DrawKind.POWER_LOAD)], [True]),
        (
            SUPPLY,
            [Draw(3, 0, 2.0, DrawKind.CURRENT_LOAD), Draw(0, 2, 0.5, DrawKind.CURRENT_SOURCE)],
            [True, True],
        ),
        ([*SUPPLY, Branch(4, 5, 1.0)], [Draw(4, 5, 2.0, DrawKind.POWER_LOAD)], [True]),
    ],
)
def test_it_is_a_column_of_many(branches: list[Branch], draws: list[Draw], on: list[bool]) -> None:
    system = assemble(Network.of(6, branches, draws))
    draws_on = np.array(on, dtype=bool)
    nothing = nothing_changed(draws_on, system.count + 1)
    among, alone = settle(system, nothing), settle_alone(system, draws_on, nothing)
    for name in ("potential", "idle", "supplied", "done", "correction", "hard_current"):
        assert getattr(alone, name).tobytes() == getattr(among, name).tobytes(), name
    plain = settle_alone(
        system, draws_on
    )  # by the factors instead of the inverse: the same but for the last digits
    for name in ("supplied", "done"):
        assert getattr(plain, name).tobytes() == getattr(among, name).tobytes(), name
    for name in ("potential", "idle"):
        assert getattr(plain, name) == pytest.approx(getattr(among, name), rel=1e-12, abs=1e-12), name


@pytest.mark.parametrize(
    "draws",
    [
        [],
        [Draw(2, 0, 30.0, DrawKind.POWER_LOAD), Draw(3, 0, 2.0)],
        # behind a short at its plus the second load collapses
        [Draw(2, 0, 20.0, DrawKind.POWER_LOAD), Draw(3, 0, 50.0, DrawKind.POWER_LOAD)],
    ],
)
@pytest.mark.parametrize(
    "fault",
    [
        OpenBranch(1),
        OpenBranch(3),
        ChangeResistance(1, 0.9),
        ChangeResistance(2, 0.0),
        DeadSource(0),
        Short(2, 0),
        Short(2, 0, 0.3),
        Short(3, 1),
    ],
)
def test_a_fault_played_alone_is_what_it_is_among_others(fault: Fault, draws: list[Draw]) -> None:
    good = solve(Network.of(4, [*SUPPLY, Branch(3, 0, 40.0)], draws))
    alone, (among, _) = play_fault(good, fault), play_faults(good, [fault, OpenBranch(0)])
    assert alone.unsupplied == among.unsupplied
    for name in ("voltage", "current", "draw_current", "cut_off"):
        assert getattr(alone, name).tobytes() == getattr(among, name).tobytes(), name
    assert alone.fault_current == among.fault_current
