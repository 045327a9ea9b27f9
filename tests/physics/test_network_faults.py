"""Each fault by the rank-one update against a fresh solution of the faulted network, and the faults that cut or clash."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from installcheck.physics import network_faulted, network_faults, network_regions
from installcheck.physics.network_faults import (
    ChangeResistance,
    DeadSource,
    Fault,
    Faulted,
    OpenBranch,
    Short,
    play_fault,
    play_faults,
)
from installcheck.physics.networks import Branch, Draw, DrawKind, Network, Solution, solve


def random_aircraft(seed: int, nodes: int, extra: int, draws: int, ideal: int) -> Network:
    """A battery, an alternator, a tree of wires with some cross-ties, senders to ground, loads, ideal joints, spares."""
    rng = np.random.default_rng(seed)

    def node(low: int = 0) -> int:
        return int(rng.integers(low, nodes))

    branches = [Branch(0, 1, 0.02, 12.6), Branch(0, node(1), 0.05, 14.2)]
    branches += [
        Branch(int(rng.integers(max(0, i - 6), i)), i, float(10 ** rng.uniform(-3, 0)))
        for i in range(2, nodes)
    ]
    branches += [Branch(node(), node(), float(10 ** rng.uniform(-1, 3))) for _ in range(extra)]
    branches += [Branch(node(), 0, float(10 ** rng.uniform(0, 3))) for _ in range(nodes // 4)]
    branches += [Branch(node(), nodes + 1, 0.0) for _ in range(min(1, ideal))]
    branches += [Branch(nodes + 1 + i, nodes + 2 + i, 0.0) for i in range(max(0, ideal - 1))]
    spare = nodes + 1 + max(ideal, 1)
    branches.append(Branch(spare, spare + 1, 0.3, 1.5))
    kinds = [DrawKind.CURRENT_SOURCE, DrawKind.CURRENT_LOAD, DrawKind.POWER_LOAD]
    loads = [
        Draw(
            node(1),
            0 if rng.random() < 0.7 else node(),
            float(rng.uniform(0.05, 2)),
            kinds[int(rng.integers(3))],
        )
        for _ in range(draws)
    ]
    return Network.of(spare + 2, branches, loads)


def faulted_network(network: Network, fault: Fault) -> Network:
    """The fault written into the network by hand."""
    if isinstance(fault, OpenBranch):
        return network.with_open([fault.branch])
    if isinstance(fault, Short):
        return network.with_branch(Branch(fault.first, fault.second, fault.resistance))
    if isinstance(fault, ChangeResistance):
        resistance = network.resistance.copy()
        resistance[fault.branch] = fault.resistance
        return replace(network, resistance=resistance)
    emf = network.emf.copy()
    emf[fault.branch] = 0
    return replace(network, emf=emf)


def assert_same(faulted: Faulted, fresh: Solution, before: Solution) -> None:
    count = len(before.network.start)
    level = 1 + np.nanmax(np.abs(fresh.voltage), initial=0.0)
    np.testing.assert_allclose(faulted.voltage, fresh.voltage, rtol=0, atol=1e-9 * level)
    flow = 1 + np.nanmax(np.abs(fresh.current), initial=0.0)
    np.testing.assert_allclose(faulted.current, fresh.current[:count], rtol=0, atol=1e-8 * flow)
    np.testing.assert_allclose(faulted.draw_current, fresh.draw_current, rtol=0, atol=1e-8 * flow)
    assert faulted.unsupplied == fresh.unsupplied
    np.testing.assert_array_equal(
        faulted.cut_off, np.isnan(fresh.voltage) & ~np.isnan(before.voltage) & (not faulted.conflict)
    )
    if not faulted.conflict:
        assert faulted.kirchhoff_residual <= 1e-8 * flow
    joined = before.system.group
    if isinstance(faulted.fault, Short) and (
        faulted.fault.resistance > 0 or joined[faulted.fault.first] != joined[faulted.fault.second]
    ):
        assert faulted.fault_current == pytest.approx(fresh.current[-1], abs=1e-8 * flow, nan_ok=True)


def every_fault(network: Network, seed: int) -> list[Fault]:
    rng = np.random.default_rng(seed)
    branches, nodes = range(len(network.start)), range(network.node_count)
    faults: list[Fault] = [OpenBranch(k) for k in branches]
    faults += [
        ChangeResistance(k, float(rng.choice([0.0, 0.02, 50.0])))
        for k in branches
        if network.resistance[k] > 0
    ]
    faults += [DeadSource(k) for k in branches if network.emf[k]]
    faults += [Short(n, 0) for n in nodes]
    faults += [Short(n, int(rng.integers(network.node_count)), float(rng.choice([0.0, 0.5]))) for n in nodes]
    return faults


@settings(max_examples=40)
@given(st.integers(0, 10_000), st.integers(3, 25), st.integers(0, 6), st.integers(0, 8), st.integers(0, 3))
def test_every_single_fault_equals_a_fresh_solution(
    seed: int, nodes: int, extra: int, draws: int, ideal: int
) -> None:
    network = random_aircraft(seed, nodes, extra, draws, ideal)
    before = solve(network)
    faults = every_fault(network, seed)
    for fault, faulted in zip(faults, play_faults(before, faults), strict=True):
        assert faulted.fault == fault
        assert_same(faulted, solve(faulted_network(network, fault)), before)


@contextmanager
def small_regions() -> Iterator[None]:
    """Regions of some four rows, of any network, whatever they save."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(network_regions, "REGION", 4)
        patch.setattr(network_regions, "MOST_SHARED", 1.0)
        patch.setattr(network_faults, "_MANY", 1)
        patch.setattr(network_faults, "_LARGE", 1)
        yield


@settings(max_examples=60)
@example(402, 35, 0, 4, 1)  # a load elsewhere that has no voltage until the fault
@example(5039, 35, 3, 6, 1)  # two loads at one node that collapse together
@given(st.integers(0, 10_000), st.integers(3, 40), st.integers(0, 3), st.integers(0, 12), st.integers(0, 3))
def test_a_fault_in_its_region_equals_a_fresh_solution(
    seed: int, nodes: int, extra: int, draws: int, ideal: int
) -> None:
    network = random_aircraft(seed, nodes, extra, draws, ideal)
    before = solve(network)
    faults = every_fault(network, seed)
    with small_regions():
        for fault, faulted in zip(faults, play_faults(before, faults), strict=True):
            assert faulted.fault == fault
            assert_same(faulted, solve(faulted_network(network, fault)), before)


def stations(count: int, seed: int, *, strap: bool) -> Network:
    """A battery of 0.01 ohm behind a bus of 1 milliohm, and stations of a breaker, a lead, a load and a sender, some tied.

    With a strap, of 2 milliohm, all loads return through it.
    """
    rng = np.random.default_rng(seed)
    branches, draws, nodes = [Branch(0, 1, 0.01, 12.6), Branch(1, 2, 0.001), Branch(3, 0, 0.002)], [], 4
    back = 3 if strap else 0
    for i in range(count):
        breaker, load, signal, far = nodes, nodes + 1, nodes + 2, nodes + 3
        nodes += 4
        branches += [Branch(2, breaker, 0.01), Branch(breaker, load, float(rng.uniform(0.01, 0.3)))]
        branches += [
            Branch(breaker, signal, 100.0),
            Branch(signal, far, 0.05),
            Branch(far, 0, float(rng.uniform(30, 240))),
        ]
        draws += [
            Draw(load, back, float(rng.uniform(0.1, 0.8)), DrawKind(1 + (not strap and i % 40 == 7))),
            Draw(load, far, 0.001),
        ]
        if i % 9 == 5:
            branches.append(Branch(load, load - 8, 0.02))
    return Network.of(nodes, branches, draws)


@pytest.mark.parametrize("strap", [False, True])
def test_faults_of_many_stations_in_their_regions(monkeypatch: pytest.MonkeyPatch, strap: bool) -> None:
    """Most must be worked out in their region, else the answers would agree for the wrong reason."""
    network = stations(100, 1, strap=strap)
    before = solve(network)
    reached_further: list[int] = []

    def counted(solution: Solution, places: list[network_faults._Place]) -> Iterator[Faulted]:
        reached_further.append(len(places))
        return everywhere(solution, places)

    everywhere = network_faults._everywhere
    monkeypatch.setattr(network_faults, "_everywhere", counted)
    assert before.regions.worth
    assert len(before.regions.shared) < 25
    region = before.regions.region
    assert np.bincount(region[region >= 0]).max() <= 2 * network_regions.REGION
    faults = every_fault(network, 1)
    for fault, faulted in zip(faults, play_faults(before, faults), strict=True):
        if hash(fault) % 7 == 0:
            assert_same(faulted, solve(faulted_network(network, fault)), before)
    assert sum(reached_further) < len(faults) / 3


@pytest.mark.parametrize("draws", [0, 40])
def test_faults_of_a_large_network(draws: int) -> None:
    network = random_aircraft(5, 700, 30, draws, 2)
    before = solve(network)
    faults = [f for f in every_fault(network, 5) if hash(f) % 40 == 0]
    for fault, faulted in zip(faults, play_faults(before, faults), strict=True):
        assert_same(faulted, solve(faulted_network(network, fault)), before)


def test_ordinary_faults_are_not_solved_afresh(monkeypatch: pytest.MonkeyPatch) -> None:
    """Otherwise the answers would agree for the wrong reason; only loads at the limit of their supply may need it."""
    network = random_aircraft(3, 120, 10, 12, 0)
    before = solve(network)
    afresh: list[Network] = []

    def counted(faulted: Network) -> Solution:
        afresh.append(faulted)
        return solve(faulted)

    monkeypatch.setattr(network_faulted, "solve", counted)
    faults: list[Fault] = [OpenBranch(k) for k in range(len(network.start))]
    faults += [Short(n, 0) for n in range(network.node_count) if not np.isnan(before.voltage[n])]
    assert len(list(play_faults(before, faults))) == len(faults) > 250
    assert len(afresh) <= 3


def test_open_lead_cuts_a_sender_off() -> None:
    """12 V - 100 ohm - sender 90 ohm: with the sender's lead open the signal rises to 12 V and the sender hangs on its ground."""
    good = solve(
        Network.of(4, [Branch(0, 1, 0, 12.0), Branch(1, 2, 100.0), Branch(2, 3, 0.1), Branch(3, 0, 90.0)])
    )
    lead = play_fault(good, OpenBranch(2))
    np.testing.assert_allclose(lead.voltage, [0, 12, 12, 0], atol=1e-12)
    assert not lead.cut_off.any()
    ground = play_fault(good, OpenBranch(3))
    np.testing.assert_allclose(ground.voltage, [0, 12, 12, 12], atol=1e-12)
    assert not ground.cut_off.any()


def test_part_cut_off_has_no_voltage_and_its_loads_stop() -> None:
    """The only feed of node 2 opens: node 2 floats, its load stops, and node 1 sees no more drop."""
    good = solve(Network.of(3, [Branch(0, 1, 1.0, 12.0), Branch(1, 2, 1.0)], [Draw(2, 0, 2.0)]))
    assert good.voltage.tolist() == pytest.approx([0, 10, 8])
    faulted = play_fault(good, OpenBranch(1))
    assert faulted.voltage[1] == pytest.approx(12.0)
    assert np.isnan(faulted.voltage[2])
    assert faulted.cut_off.tolist() == [False, False, True]
    assert faulted.unsupplied == (0,)
    assert faulted.current.tolist() == [0.0, 0.0]


def test_part_held_by_megohms_is_not_floating() -> None:
    """An open lead of 0.001 ohm leaves the node on 1 Gohm: 12 V x 1e9 / (1e9 + 1e9)."""
    good = solve(
        Network.of(3, [Branch(0, 1, 0, 12.0), Branch(1, 2, 0.001), Branch(1, 2, 1e9), Branch(2, 0, 1e9)])
    )
    faulted = play_fault(good, OpenBranch(1))
    assert faulted.voltage[2] == pytest.approx(6.0, rel=1e-9)
    assert not faulted.cut_off.any()


def test_short_circuit_current() -> None:
    """12 V behind 0.01 ohm and 0.05 ohm of lead: 12 / 0.06 = 200 A; through 0.06 ohm more, 100 A."""
    good = solve(Network.of(3, [Branch(0, 1, 0.01, 12.0), Branch(1, 2, 0.05), Branch(2, 0, 6.0)]))
    assert play_fault(good, Short(2, 0)).fault_current == pytest.approx(200.0)
    assert play_fault(good, OpenBranch(2)).voltage[2] == pytest.approx(12.0)
    # 6 ohm beside 0.06 ohm is 0.0594059; 12 / 0.1194059 = 100.49751 A, of which 6/6.06 through the short.
    assert play_fault(good, Short(2, 0, 0.06)).fault_current == pytest.approx(99.50249, abs=1e-5)


def test_short_across_an_ideal_source_is_a_conflict() -> None:
    good = solve(Network.of(2, [Branch(0, 1, 0, 12.0), Branch(1, 0, 5.0)]))
    faulted = play_fault(good, Short(1, 0))
    assert faulted.conflict
    assert np.isnan(faulted.voltage).all()
    assert np.isnan(faulted.fault_current)


def test_short_gives_a_floating_part_its_reference() -> None:
    good = solve(Network.of(3, [Branch(1, 2, 1.0, 12.0), Branch(2, 1, 5.0)]))
    faulted = play_fault(good, Short(1, 0))
    assert faulted.voltage.tolist() == pytest.approx([0, 0, 10])
    assert not faulted.conflict


def test_a_part_that_floats_takes_the_potential_of_what_touches_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """6 V behind 3 ohm and 3 ohm hang on nothing: 1 A, 3 V across. Node 4 put on the 8 V of node 1 stands at 8, node 3 at 5.

    A load there would draw from what touches it: then it is no longer so simple.
    """
    branches = [Branch(0, 1, 1.0, 12.0), Branch(1, 0, 2.0), Branch(3, 4, 3.0, 6.0), Branch(4, 3, 3.0)]
    good = solve(Network.of(5, branches))
    with monkeypatch.context() as patch:
        patch.delattr(network_faults.Afresh, "of")  # nothing needs to be solved for it
        for short in (Short(4, 1), Short(1, 4, 0.5)):
            joined = play_fault(good, short)
            np.testing.assert_allclose(joined.voltage, [0, 8, np.nan, 5, 8], atol=1e-12)
            assert joined.current.tolist() == pytest.approx([4, 4, 1, 1])
            assert joined.fault_current == 0.0
        # Node 2 hangs on nothing either: who touches it has no potential from it.
        assert np.isnan(play_fault(good, Short(2, 3)).voltage[2:]).all()
    loaded = solve(Network.of(5, branches, [Draw(4, 0, 1.0)]))
    assert loaded.unsupplied == (0,)
    # 1 A less through 2 ohm and 1 ohm, 2/3 ohm together: 8 - 2/3 V.
    assert play_fault(loaded, Short(4, 1)).voltage[1] == pytest.approx(8 - 2 / 3)


def test_lost_engine_ground_lifts_the_engine() -> None:
    """The strap opens: 10 A cannot return through sender and pull-up, so the load stops and the signal rises to 12 V."""
    branches = [Branch(0, 1, 0.01, 12.0), Branch(1, 2, 100.0), Branch(2, 3, 90.0), Branch(3, 0, 0.002)]
    good = solve(Network.of(4, branches, [Draw(1, 3, 10.0)]))
    assert good.voltage[3] == pytest.approx(0.0201, abs=2e-4)  # (10 + 0.06) A x 0.002 ohm
    lost = play_fault(good, OpenBranch(3))
    assert lost.unsupplied == (0,)
    assert lost.voltage[2] == pytest.approx(12.0)


def test_open_and_unknown_branches() -> None:
    good = solve(
        Network.of(2, [Branch(0, 1, 1.0, 12.0), Branch(1, 0, 5.0), Branch(1, 0, 5.0)]).with_open([2])
    )
    assert play_fault(good, OpenBranch(2)).voltage[1] == pytest.approx(10.0)
    assert play_fault(good, ChangeResistance(2, 5.0)).voltage[1] == pytest.approx(12 * 2.5 / 3.5)
    with pytest.raises(ValueError, match="names a branch outside"):
        play_fault(good, OpenBranch(3))
    with pytest.raises(ValueError, match="names a node outside"):
        play_fault(good, Short(0, 2))
    with pytest.raises(ValueError, match="must have a resistance"):
        play_fault(good, Short(0, 1, float("nan")))
    with pytest.raises(ValueError, match="must have a resistance"):
        play_fault(good, ChangeResistance(0, -1.0))


def test_no_faults() -> None:
    assert list(play_faults(solve(Network.of(1, [])), [])) == []
