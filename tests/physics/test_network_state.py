"""One state settled alone is, to the last bit, the column it is among many."""

from __future__ import annotations

import numpy as np
import pytest

from installcheck.physics.network_settling import Changes, settle
from installcheck.physics.network_state import settle_alone
from installcheck.physics.network_system import assemble
from installcheck.physics.networks import Branch, Draw, DrawKind, Network

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
    among = settle(system, nothing_changed(draws_on, system.count + 1))
    alone = settle_alone(system, draws_on)
    for name in ("potential", "idle", "supplied", "done", "correction", "hard_current"):
        assert getattr(alone, name).tobytes() == getattr(among, name).tobytes(), name
