"""Time to solve wiring of 500 to 10,000 branches, and to play every single fault of 500 wires."""

import numpy as np
import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from installcheck.physics.network_faults import ChangeResistance, Fault, OpenBranch, Short, play_faults
from installcheck.physics.networks import Branch, Draw, DrawKind, Network, solve


def wiring(wires: int, loads: int) -> Network:
    """A battery, an alternator on the engine, a strap, and circuits of 3 to 6 wires behind breakers, some cross-tied."""
    rng = np.random.default_rng(0)
    branches = [Branch(0, 1, 0.01, 12.6), Branch(2, 1, 0.03, 14.2), Branch(2, 0, 0.002)]
    draws: list[Draw] = []
    nodes = 3
    while len(branches) < wires:
        last = 1
        for _ in range(int(rng.integers(3, 7))):
            branches.append(Branch(last, nodes, float(rng.uniform(0.01, 0.3))))
            last, nodes = nodes, nodes + 1
        back = int(rng.choice([0, 2]))
        if len(draws) < loads:
            draws.append(Draw(last, back, float(rng.uniform(0.5, 8)), DrawKind(int(rng.integers(1, 3)))))
        else:
            branches.append(Branch(last, back, float(rng.uniform(20, 300))))
        if rng.random() < 0.2:
            branches.append(Branch(last, int(rng.integers(3, nodes)), 1e6))
    return Network.of(nodes, branches, draws)


@pytest.mark.parametrize(("wires", "loads"), [(500, 50), (2000, 100), (10_000, 0), (10_000, 100)])
def test_solve(benchmark: BenchmarkFixture, wires: int, loads: int) -> None:
    network = wiring(wires, loads)
    assert benchmark(solve, network).kirchhoff_residual < 1e-8


@pytest.mark.parametrize("loads", [0, 50])
def test_every_single_fault_of_500_wires(benchmark: BenchmarkFixture, loads: int) -> None:
    network = wiring(500, loads)
    solution = solve(network)
    branches = range(len(network.start))
    faults: list[Fault] = [OpenBranch(k) for k in branches]
    faults += [Short(n, 0) for n in range(network.node_count)]
    faults += [ChangeResistance(k, 5.0) for k in branches]
    assert benchmark(lambda: sum(1 for _ in play_faults(solution, faults))) == len(faults)
