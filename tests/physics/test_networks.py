"""Kirchhoff's laws against an independent solution, and every state in which a voltage must not be given."""

import subprocess
import sys
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.sparse import coo_matrix, vstack
from scipy.sparse.linalg import spsolve

from installcheck.physics.network_faults import OpenBranch, play_fault
from installcheck.physics.networks import (
    Branch,
    Draw,
    DrawKind,
    IslandStatus,
    Network,
    Solution,
    solve,
    solve_with_resistors,
)


def random_network(seed: int, nodes: int, extra: int, draws: int = 0) -> Network:
    """A tree of `nodes` with `extra` more branches, resistances 0.01 to 100 ohm, some with 14 V in series."""
    rng = np.random.default_rng(seed)

    def branch(a: int, b: int) -> Branch:
        return Branch(a, b, float(10 ** rng.uniform(-2, 2)), float(rng.choice([0, 0, 0, 14.0])))

    branches = [branch(int(rng.integers(max(0, i - 12), i)), i) for i in range(1, nodes)]
    branches += [branch(*(int(n) for n in rng.integers(0, nodes, 2))) for _ in range(extra)]
    sources = [
        Draw(int(rng.integers(nodes)), int(rng.integers(nodes)), rng.uniform(-1, 1), DrawKind.CURRENT_SOURCE)
        for _ in range(draws)
    ]
    return Network.of(nodes, branches, sources)


def kirchhoff_system(network: Network) -> tuple[coo_matrix, np.ndarray]:
    """Every law as it is written, unknowns node voltages then branch currents: V0 = 0, V_a - V_b - R I = -E, sum I = 0."""
    n, b = network.node_count, len(network.start)
    k = np.arange(b)
    ones = np.ones(b)
    ohm = coo_matrix(
        (np.r_[ones, -ones, -network.resistance], (np.r_[k, k, k], np.r_[network.start, network.end, n + k])),
        shape=(b, n + b),
    )
    node = coo_matrix(
        (np.r_[ones, -ones], (np.r_[network.start, network.end], np.r_[n + k, n + k])), shape=(n, n + b)
    )
    reference = coo_matrix(([1.0], ([0], [0])), shape=(1, n + b))
    injected = np.zeros(n)
    np.add.at(injected, network.draw_start, -network.draw_value)
    np.add.at(injected, network.draw_end, network.draw_value)
    return vstack([reference, ohm, node]).tocoo(), np.r_[0.0, -network.emf, injected]


@pytest.mark.parametrize(
    ("seed", "nodes", "extra", "draws"),
    [
        (1, 2, 0, 0),
        (2, 2, 3, 1),
        (3, 3, 1, 2),
        (4, 10, 4, 3),
        (5, 40, 40, 5),
        (6, 150, 20, 8),
        (7, 400, 60, 9),
    ],
)
def test_agrees_with_least_squares_on_the_full_set_of_laws(
    seed: int, nodes: int, extra: int, draws: int
) -> None:
    network = random_network(seed, nodes, extra, draws)
    matrix, right = kirchhoff_system(network)
    expected = np.linalg.lstsq(matrix.toarray(), right, rcond=None)[0]
    assert_close(solve(network), expected)


@pytest.mark.parametrize(("seed", "nodes", "extra"), [(11, 1000, 120), (12, 2000, 200), (13, 2000, 2200)])
def test_agrees_with_a_sparse_solution_of_the_full_set_of_laws(seed: int, nodes: int, extra: int) -> None:
    """The same laws for networks too large for dense least squares: drop the node law of node 0, implied by the rest."""
    network = random_network(seed, nodes, extra, 10)
    matrix, right = kirchhoff_system(network)
    implied = 1 + len(network.start)
    keep = np.delete(np.arange(matrix.shape[0]), implied)
    assert_close(solve(network), spsolve(matrix.tocsr()[keep].tocsc(), right[keep]))


def assert_close(solution: Solution, expected: np.ndarray) -> None:
    n = solution.network.node_count
    scale = np.abs(expected[:n]).max() + 1e-4
    np.testing.assert_allclose(solution.voltage, expected[:n], rtol=0, atol=1e-9 * scale)
    scale = np.abs(expected[n:]).max() + 1e-4
    np.testing.assert_allclose(solution.current, expected[n:], rtol=0, atol=1e-9 * scale)
    assert solution.kirchhoff_residual <= 1e-9 * scale


@settings(max_examples=60)
@given(st.integers(0, 10_000), st.integers(2, 30), st.integers(0, 15), st.integers(0, 5), st.floats(-3, 3))
def test_superposition(seed: int, nodes: int, extra: int, draws: int, share: float) -> None:
    """The sum of two sets of sources gives the sum of the two answers."""
    one = random_network(seed, nodes, extra, draws)
    rng = np.random.default_rng(seed + 1)
    emf, value = rng.uniform(-20, 20, len(one.emf)), rng.uniform(-2, 2, draws)
    two = replace(one, emf=emf, draw_value=value)
    both = replace(one, emf=one.emf + share * emf, draw_value=one.draw_value + share * value)
    a, b, c = solve(one), solve(two), solve(both)
    scale = 1 + np.abs(a.voltage).max() + 3 * np.abs(b.voltage).max()
    np.testing.assert_allclose(c.voltage, a.voltage + share * b.voltage, rtol=0, atol=1e-10 * scale)


@settings(max_examples=60)
@given(st.integers(0, 10_000), st.integers(2, 60), st.integers(0, 60), st.integers(0, 5), st.integers(0, 12))
def test_current_is_kept_at_every_node(seed: int, nodes: int, extra: int, draws: int, ideal: int) -> None:
    network = random_network(seed, nodes, extra, draws)
    rng = np.random.default_rng(seed)
    resistance, emf = network.resistance.copy(), network.emf.copy()
    chosen = rng.integers(0, len(resistance), ideal)
    resistance[chosen], emf[chosen] = 0.0, 0.0
    solution = solve(replace(network, resistance=resistance, emf=emf))
    assert solution.kirchhoff_residual <= 1e-9 * (1 + np.abs(solution.current).max())
    across = solution.voltage[network.start] - solution.voltage[network.end] + emf
    np.testing.assert_allclose(across, resistance * solution.current, rtol=0, atol=1e-8)


def test_one_wire_sender_with_a_lifted_ground() -> None:
    """12 V through 100 ohm into 90 ohm to a case 0.20 V up: I = 11.8/190 = 62.105 mA, Vm = 0.2 + 90 I = 5.7895 V.

    Read back against the true supply: 100 x 5.7895 / (12 - 5.7895) = 93.22 ohm.
    """
    solution = solve(
        Network.of(4, [Branch(0, 1, 0, 12.0), Branch(1, 2, 100.0), Branch(2, 3, 90.0), Branch(0, 3, 0, 0.2)])
    )
    assert solution.current[2] == pytest.approx(0.0621053, abs=1e-7)
    measured = solution.voltage[2]
    assert measured == pytest.approx(5.7895, abs=5e-5)
    assert 100 * measured / (12 - measured) == pytest.approx(93.22, abs=0.005)


@pytest.mark.parametrize(("joint", "offset"), [(0.003, 0.12), (0.005, 0.20)])
def test_alternator_current_through_one_joint(joint: float, offset: float) -> None:
    """40 A through 0.003 and 0.005 ohm (AC 43.13-1B 11-189): 0.12 and 0.20 V, like 10 ohm at 20 mA."""
    solution = solve(Network.of(2, [Branch(1, 0, joint)], [Draw(0, 1, 40.0, DrawKind.CURRENT_SOURCE)]))
    assert solution.voltage[1] == pytest.approx(offset, abs=1e-12)
    if joint == 0.005:
        assert solution.voltage[1] / 0.020 == pytest.approx(10.0)


def test_floating_part_has_currents_but_no_voltage() -> None:
    solution = solve(
        Network.of(
            4, [Branch(0, 1, 1.0, 12.0), Branch(1, 0, 5.0), Branch(2, 3, 1.0, 12.0), Branch(3, 2, 5.0)]
        )
    )
    assert solution.status_of(2) is solution.status_of(3) is IslandStatus.FLOATING
    assert np.isnan(solution.voltage[2:]).all()
    np.testing.assert_allclose(solution.current, [2.0, 2.0, 2.0, 2.0])
    assert solution.voltage[1] == pytest.approx(10.0)
    assert solution.status_of(1) is IslandStatus.SOLVED


def test_no_reference_at_all() -> None:
    solution = solve(Network.of(2, [Branch(0, 1, 1.0, 12.0), Branch(1, 0, 5.0)], references=()))
    assert solution.status == (IslandStatus.FLOATING,)
    np.testing.assert_allclose(solution.current, [2.0, 2.0])


def test_lone_node() -> None:
    assert solve(Network.of(1, [])).voltage.tolist() == [0.0]
    assert solve(Network.of(2, [])).status == (IslandStatus.NO_SOURCE, IslandStatus.FLOATING)


def test_no_source() -> None:
    solution = solve(
        Network.of(
            3, [Branch(0, 1, 1.0), Branch(1, 2, 2.0)], [Draw(2, 0, 3.0), Draw(1, 0, 5, DrawKind.POWER_LOAD)]
        )
    )
    assert solution.status == (IslandStatus.NO_SOURCE,)
    assert solution.voltage.tolist() == [0, 0, 0]
    assert solution.unsupplied == (0, 1)


@pytest.mark.parametrize("second", [Branch(0, 1, 0, 28.0), Branch(1, 0, 0, 0.0), Branch(1, 0, 0, 14.0)])
def test_sources_in_conflict(second: Branch) -> None:
    solution = solve(Network.of(3, [Branch(0, 1, 0, 14.0), second, Branch(1, 2, 1.0)]))
    assert solution.status == (IslandStatus.CONFLICT,)
    assert np.isnan(solution.voltage).all()
    assert np.isnan(solution.current).all()


def test_conflict_elsewhere_leaves_the_rest_solved() -> None:
    branches = [Branch(0, 1, 1.0, 12.0), Branch(1, 0, 5.0), Branch(2, 3, 0, 12.0), Branch(2, 3, 0, 14.0)]
    solution = solve(Network.of(4, branches))
    assert solution.status_of(2) is IslandStatus.CONFLICT
    assert solution.voltage[1] == pytest.approx(10.0)
    assert solution.kirchhoff_residual < 1e-12


def test_equal_ideal_sources_side_by_side_share() -> None:
    solution = solve(Network.of(2, [Branch(0, 1, 0, 14.0), Branch(0, 1, 0, 14.0), Branch(1, 0, 7.0)]))
    np.testing.assert_allclose(solution.current, [1.0, 1.0, 2.0])
    assert solution.status == (IslandStatus.SOLVED,)


def test_unequal_sources_with_resistance_are_no_conflict() -> None:
    """14 and 12 V, 0.1 ohm each, no load: (14 - 12) / 0.2 = 10 A round, 13 V between."""
    solution = solve(Network.of(2, [Branch(0, 1, 0.1, 14.0), Branch(0, 1, 0.1, 12.0)]))
    np.testing.assert_allclose(solution.current, [10.0, -10.0])
    assert solution.voltage[1] == pytest.approx(13.0)


def test_ideal_branches_carry_what_the_rest_leaves_over() -> None:
    """14 V feeds three 7 ohm lamps along an ideal bus: 6, 4 and 2 A in its pieces."""
    branches = [Branch(0, 1, 0, 14.0), Branch(1, 2, 0), Branch(2, 3, 0)]
    branches += [Branch(node, 0, 7.0) for node in (1, 2, 3)]
    solution = solve(Network.of(4, branches))
    np.testing.assert_allclose(solution.current, [6, 4, 2, 2, 2, 2])


def test_two_references_are_one_metal() -> None:
    solution = solve(Network.of(3, [Branch(0, 1, 1.0, 12.0), Branch(1, 2, 5.0)], references=(0, 2)))
    assert solution.voltage[1] == pytest.approx(10.0)
    assert solution.kirchhoff_residual == pytest.approx(
        2.0
    )  # it returns through the metal, not through a branch


def test_constant_power_load_settles_at_the_upper_working_point() -> None:
    """12 V, 1 ohm, 20 W: V^2 - 12 V + 20 = 0, so 10 V and 2 A (the lower root, 2 V, is unstable)."""
    solution = solve(Network.of(2, [Branch(0, 1, 1.0, 12.0)], [Draw(1, 0, 20.0, DrawKind.POWER_LOAD)]))
    assert solution.voltage[1] == pytest.approx(10.0, abs=1e-10)
    assert solution.draw_current[0] == pytest.approx(2.0, abs=1e-10)


@pytest.mark.parametrize("power", [35.0, 35.99, 35.9999])
def test_constant_power_load_close_to_the_limit(power: float) -> None:
    """The most 12 V behind 1 ohm can give is 144/4 = 36 W; below it V = 6 + sqrt(36 - P)."""
    solution = solve(Network.of(2, [Branch(0, 1, 1.0, 12.0)], [Draw(1, 0, power, DrawKind.POWER_LOAD)]))
    assert solution.unsupplied == ()
    assert solution.voltage[1] == pytest.approx(6 + (36 - power) ** 0.5, abs=1e-8)


def test_constant_power_load_beyond_the_limit() -> None:
    solution = solve(Network.of(2, [Branch(0, 1, 1.0, 12.0)], [Draw(1, 0, 36.01, DrawKind.POWER_LOAD)]))
    assert solution.status == (IslandStatus.UNSUPPLIED,)
    assert solution.unsupplied == (0,)
    assert solution.voltage[1] == pytest.approx(12.0)


def test_only_the_impossible_load_is_taken_off() -> None:
    """The 5 W load behind 1 ohm stays: V = 6 + sqrt(31); the 50 W load behind 2 ohm more could get 144/12 = 12 W."""
    branches = [Branch(0, 1, 1.0, 12.0), Branch(1, 2, 2.0)]
    loads = [Draw(1, 0, 5.0, DrawKind.POWER_LOAD), Draw(2, 0, 50.0, DrawKind.POWER_LOAD)]
    solution = solve(Network.of(3, branches, loads))
    assert solution.unsupplied == (1,)
    assert solution.voltage[1] == pytest.approx(6 + 31**0.5, abs=1e-9)


@settings(max_examples=40)
@given(st.integers(0, 10_000), st.integers(2, 40), st.integers(1, 12))
def test_constant_power_loads_draw_their_power(seed: int, nodes: int, loads: int) -> None:
    rng = np.random.default_rng(seed)
    branches = [Branch(0, 1, 0.01, 14.0)]
    branches += [Branch(int(rng.integers(1, i)), i, float(rng.uniform(0.005, 0.1))) for i in range(2, nodes)]
    draws = [
        Draw(int(rng.integers(1, nodes)), 0, float(rng.uniform(0, 5)), DrawKind.POWER_LOAD)
        for _ in range(loads)
    ]
    solution = solve(Network.of(nodes, branches, draws))
    for draw, current in zip(draws, solution.draw_current, strict=True):
        if solution.unsupplied == ():
            assert current * solution.voltage[draw.start] == pytest.approx(draw.value, rel=1e-9)
    assert solution.kirchhoff_residual < 1e-9


def test_constant_current_load_on_a_dead_bus_draws_nothing() -> None:
    """A load cannot pull a bus below ground: with the feed open, the lamp's resistance must not see its current."""
    network = Network.of(
        3, [Branch(0, 1, 0.1, 14.0), Branch(1, 2, 0.1), Branch(2, 0, 7.0)], [Draw(2, 0, 2.0)]
    )
    solution = solve(network.with_open([1]))
    assert solution.voltage[2] == 0.0
    assert solution.unsupplied == (0,)


def test_load_without_a_circuit_is_unsupplied() -> None:
    solution = solve(Network.of(3, [Branch(0, 1, 1.0, 12.0)], [Draw(2, 0, 1.0)]))
    assert solution.unsupplied == (0,)
    assert solution.voltage[1] == pytest.approx(12.0)


def test_ohmmeter_between_nodes() -> None:
    """A ring of 1, 2 and 3 ohm: across the 1 ohm side 1 x 5 / 6; a part apart reads open; the source is dead."""
    solution = solve(Network.of(4, [Branch(0, 1, 1.0, 6.0), Branch(1, 2, 2.0), Branch(2, 0, 3.0)]))
    seen = solution.thevenin(1, 0)
    assert seen.resistance == pytest.approx(5 / 6)
    assert seen.voltage == pytest.approx(5.0)  # 6 V x (2 + 3) / 6
    assert solution.thevenin(2, 2).resistance == 0.0
    assert solution.thevenin(1, 3).resistance == np.inf
    np.testing.assert_allclose(solution.resistance_between([0, 1], [2, 2]), [1.5, 4 / 3])


def test_ohmmeter_on_a_part_that_floats() -> None:
    solution = solve(Network.of(4, [Branch(1, 2, 2.0), Branch(2, 3, 3.0)]))
    assert solution.thevenin(1, 3).resistance == pytest.approx(5.0)


def test_thevenin_predicts_an_added_load() -> None:
    network = random_network(21, 60, 20)
    seen = solve(network).thevenin(40, 7)
    loaded = solve(network.with_branch(Branch(40, 7, 3.0)))
    assert loaded.current[-1] == pytest.approx(seen.voltage / (seen.resistance + 3.0), rel=1e-10)


@settings(max_examples=60)
@given(st.integers(0, 10_000), st.integers(1, 5), st.sampled_from([20, 60, 400]))
def test_further_resistors_as_from_nothing(seed: int, count: int, nodes: int) -> None:
    network = random_network(seed, nodes, 20, draws=6)
    rng = np.random.default_rng(seed)
    drawn = network.draw_value * rng.choice([0.0, 1.0], len(network.draw_value))
    more = [
        Branch(int(a), int(b), float(ohms))
        for a, b, ohms in zip(
            *rng.integers(0, nodes, (2, count)), 10 ** rng.uniform(-2, 6, count), strict=True
        )
    ]
    told = solve_with_resistors(solve(network), more, drawn)
    fresh = solve(network.with_figures(draw_value=drawn).with_branches(more))
    assert (told.unsupplied, told.status) == (fresh.unsupplied, fresh.status)
    np.testing.assert_allclose(told.voltage, fresh.voltage, rtol=1e-9, atol=1e-9)
    np.testing.assert_allclose(told.current, fresh.current, rtol=1e-7, atol=1e-9)
    for branch in range(len(network.start), len(told.network.start)):
        fault = OpenBranch(branch)
        np.testing.assert_allclose(
            play_fault(told, fault).voltage, play_fault(fresh, fault).voltage, rtol=1e-8, atol=1e-8
        )


def test_a_resistor_in_parallel_and_one_between_parts() -> None:
    """12 V through 100 ohm into 90 ohm beside another 90 ohm: 12 x 45/145 V. Between parts it is laid afresh."""
    before = solve(Network.of(4, [Branch(0, 1, 0, 12.0), Branch(1, 2, 100.0), Branch(2, 0, 90.0)]))
    nothing = before.network.draw_value
    assert solve_with_resistors(before, [Branch(2, 0, 90.0)], nothing).voltage[2] == pytest.approx(
        12 * 45 / 145
    )
    assert solve_with_resistors(before, [Branch(2, 3, 90.0)], nothing).voltage[3] == pytest.approx(
        12 * 90 / 190
    )


def test_no_digits_are_lost_between_milliohms_and_megohms() -> None:
    """Ten joints of 0.1 milliohm between two resistors of 100 megohm: 60 nA, half of 12 V +/- 5 x 60 nA x 0.1 milliohm."""
    joints = [Branch(a, b, 1e-4) for a, b in pairwise(range(2, 13))]
    solution = solve(Network.of(13, [Branch(0, 1, 0, 12.0), Branch(1, 2, 1e8), *joints, Branch(12, 0, 1e8)]))
    np.testing.assert_allclose(solution.voltage[2:] - 6.0, np.linspace(3e-11, -3e-11, 11), rtol=0, atol=5e-15)
    assert solution.current[1] == pytest.approx(6e-8, rel=1e-12)


@pytest.mark.parametrize(
    ("branches", "draws", "message"),
    [
        ([Branch(0, 5, 1.0)], [], "branch 0 ends at no node"),
        ([Branch(-1, 1, 1.0)], [], "branch 0 starts at no node"),
        ([Branch(0, 1, 1.0), Branch(0, 1, -1.0)], [], "branch 1 must have a resistance"),
        ([Branch(0, 1, float("nan"))], [], "branch 0 must have a resistance"),
        ([Branch(0, 1, float("inf"))], [], "branch 0 must have a resistance"),
        ([Branch(0, 1, 1e-9)], [], "branch 0 must have a resistance"),
        ([Branch(0, 1, 1.0, float("inf"))], [], "branch 0 must have a finite emf"),
        ([], [Draw(0, 1, float("nan"))], "draw 0 must take a finite"),
        ([], [Draw(0, 1, -1.0)], "draw 0 is a load and must take 0 or more"),
        ([], [Draw(0, 9, 1.0)], "draw 0 ends at no node"),
    ],
)
def test_impossible_networks_are_refused(branches: list[Branch], draws: list[Draw], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        Network.of(2, branches, draws)


def test_impossible_references_are_refused() -> None:
    with pytest.raises(ValueError, match="reference node 7"):
        Network.of(2, [], references=[7])
    with pytest.raises(ValueError, match="at least one node"):
        Network.of(0, [], references=[])


def test_importing_the_electrical_physics_and_solving_wiring_does_not_import_scipy() -> None:
    code = (
        "import sys\n"
        "from installcheck.physics import ampacity, conductors, network_faults, sources, synchros\n"
        "from installcheck.physics.networks import Branch, Network, solve\n"
        "solve(Network.of(900, [Branch(max(0, i - 3), i, 0.01) for i in range(1, 900)]))\n"
        "sys.exit('scipy' in sys.modules)\n"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
