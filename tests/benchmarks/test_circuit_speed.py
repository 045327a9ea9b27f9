"""Time to play every single fault of 1,000 to 3,000 wires, and to judge the electrical rules on 1,000 and 10,000."""

import time
from collections.abc import Callable

import numpy as np
import pytest
from big_document import big_document
from pytest_benchmark.fixture import BenchmarkFixture
from scipy.sparse import coo_matrix, diags
from scipy.sparse.linalg import splu

from installcheck.analysis.circuit.solved import solve_circuit
from installcheck.analysis.study import Study
from installcheck.document import Document, loads
from installcheck.faults.play import play
from installcheck.physics.network_parts import Network
from installcheck.physics.networks import solve
from installcheck.rules.engine import judge

ELECTRICAL = (
    "voltage-drop", "feeder-drop", "lead-resistance-budget", "ground-shared", "circuit-solvable", "bonding-resistance",
    "return-path-kept",
)  # fmt: skip


def test_every_single_fault(benchmark: BenchmarkFixture) -> None:
    """In step with the wires, about: fit exponent of the processor's time from 1,000 to 3,000 of them."""
    sizes = [1000, 1700, 3000]
    documents = [loads(big_document(wires)) for wires in sizes]
    times = []

    def play_all() -> None:
        for document in documents:
            start = time.process_time()
            assert len(play(Study(document))) > 2000
            times.append(time.process_time() - start)

    benchmark.pedantic(play_all, rounds=1)
    slope = np.polyfit(np.log(sizes), np.log(times), 1)[0]
    print(f"\nseconds {[round(t, 2) for t in times]}, exponent {slope:.2f}")
    assert slope <= 1.35
    assert times[-1] < 6.0  # s, the budget of design


@pytest.mark.parametrize("wires", [1000, 10_000])
def test_electrical_rules(benchmark: BenchmarkFixture, wires: int) -> None:
    document = loads(big_document(wires))
    assert benchmark.pedantic(lambda: len(judge(Study(document), ELECTRICAL).verdicts), rounds=2) > 0


def test_cost_is_linear(benchmark: BenchmarkFixture) -> None:
    """Fit exponent from 1,000 to 10,000 wires at most 1.2; the quicker of three runs counts."""
    few, many = (loads(big_document(wires)) for wires in (1000, 10_000))
    best = min(_timed(few) for _ in range(3))
    benchmark.pedantic(lambda: judge(Study(many), ELECTRICAL), rounds=3)
    assert benchmark.stats.stats.min / best <= 10**1.2


def _bare(network: Network) -> None:
    """The conductance matrix of a network built from its arrays, factorised and solved once; nothing else."""
    closed = ~network.is_open
    start, end = network.start[closed], network.end[closed]
    siemens, count = 1 / network.resistance[closed], network.node_count
    values = np.concatenate([siemens, siemens, -siemens, -siemens])
    rows, columns = np.concatenate([start, end, start, end]), np.concatenate([start, end, end, start])
    tied = np.zeros(count)
    tied[list(network.references)] = 1e9
    matrix = coo_matrix((values, (rows, columns)), shape=(count, count)).tocsc()
    matrix = (matrix + diags(np.where(matrix.diagonal() == 0, 1.0, tied))).tocsc()
    driven = np.zeros(count)
    np.add.at(driven, end, siemens * network.emf[closed])
    np.add.at(driven, start, -siemens * network.emf[closed])
    splu(matrix, permc_spec="MMD_AT_PLUS_A").solve(driven)


@pytest.mark.parametrize("wires", [900, 9000])
def test_beside_the_bare_sparse_solve(benchmark: BenchmarkFixture, wires: int) -> None:
    """Of a circuit laid from the document and settled, and of its network alone, over the bare solve."""
    study = Study(loads(big_document(wires)))
    point = study.points[0]
    network = solve_circuit(study, point).solution.network
    bare, alone, laid = (
        min(_seconds(work) for _ in range(5))
        for work in (lambda: _bare(network), lambda: solve(network), lambda: solve_circuit(study, point))
    )
    benchmark.pedantic(lambda: solve_circuit(study, point), rounds=1)
    print(
        f"\n{len(network.start)} branches: network / bare = {alone / bare:.1f}, circuit / bare = {laid / bare:.1f}"
    )
    assert alone / bare < 2.5


def _seconds(work: Callable[[], object]) -> float:
    start = time.process_time()
    work()
    return time.process_time() - start


def _timed(document: Document) -> float:
    start = time.perf_counter()
    judge(Study(document), ELECTRICAL)
    return time.perf_counter() - start
