"""The factored matrix against numpy's own solution: trees and meshes, narrow and wide, cores on both sides of the dense limit."""

import numpy as np
import pytest

from installcheck.physics.network_factor import DENSE_CORE, SMALL, Factor, planned


@pytest.mark.parametrize(
    ("count", "extra"), [(1, 0), (2, 2), (50, 0), (50, 200), (DENSE_CORE + 100, 1500), (900, 0), (900, 60)]
)
@pytest.mark.parametrize("columns", [1, 5])
def test_solves_what_numpy_solves(count: int, extra: int, columns: int) -> None:
    rng = np.random.default_rng(count + extra)
    start = np.r_[
        [int(rng.integers(0, i)) if i else count for i in range(count)], rng.integers(0, count + 1, extra)
    ]
    end = np.r_[np.arange(count), rng.integers(0, count + 1, extra)]
    conductance = 10 ** rng.uniform(-1, 1, count + extra)
    matrix = np.zeros((count + 1, count + 1))
    for a, b, g in zip(start, end, conductance, strict=True):
        matrix[[a, b], [a, b]] += g * (a != b)
        matrix[[a, b], [b, a]] -= g * (a != b)
    injected = rng.uniform(-1, 1, (count, columns))
    expected = np.linalg.solve(matrix[:-1, :-1], injected)
    factor = Factor.of(count, start, end, conductance)
    np.testing.assert_allclose(factor.solve(injected), expected, rtol=0, atol=1e-9 * np.abs(expected).max())
    one = factor.solve_one(injected[:, 0])
    np.testing.assert_allclose(one, expected[:, 0], rtol=0, atol=1e-9 * np.abs(expected).max())


def test_no_digits_are_lost_in_a_tree() -> None:
    """1 A into a chain of 1e-6 ohm links that ends in 1e9 ohm to the reference: 1e9 V everywhere, to the last digits."""
    count = 50
    start = np.arange(count)
    factor = Factor.of(count, start, start + 1, np.r_[np.full(count - 1, 1e6), 1e-9])
    injected = np.zeros((count, 1))
    injected[0] = 1.0
    np.testing.assert_allclose(factor.solve(injected), 1e9, rtol=1e-13)


def test_further_branches() -> None:
    """Two rows of 0.5 S to the reference and 0.5 S between: 4/3 ohm alone, 2/3 between. 1 S more from the first to the reference
    makes 1/(1.5 + 0.25) = 4/7 ohm of the first; the second is at half its voltage.
    """
    factor = Factor.of(2, np.array([0, 1, 0]), np.array([2, 2, 1]), np.full(3, 0.5))
    inverse = factor.inverse()
    assert inverse is not None
    np.testing.assert_allclose(inverse.ohms, [[4 / 3, 2 / 3], [2 / 3, 4 / 3]], rtol=1e-14)
    more = inverse.with_more(np.array([0]), np.array([2]), np.array([1.0]))
    assert more is not None
    np.testing.assert_allclose(more.solve_one(np.array([1.0, 0.0])), [4 / 7, 2 / 7], rtol=1e-14)


def test_further_branches_that_would_leave_no_digits_are_refused() -> None:
    """A microohm in a part held by a gigaohm: 1e-6/1e9 lies below the last digit of any double."""
    inverse = Factor.of(2, np.array([0, 1]), np.array([2, 0]), np.array([1e-9, 1.0])).inverse()
    assert inverse is not None
    assert inverse.with_more(np.array([0]), np.array([1]), np.array([1e6])) is None
    assert (
        Factor.of(
            SMALL + 1, np.arange(SMALL + 1), np.full(SMALL + 1, SMALL + 1), np.ones(SMALL + 1)
        ).inverse()
        is None
    )


@pytest.mark.parametrize("chains", [1, 400])
def test_many_chains_on_one_node(chains: int) -> None:
    """1 A into the end of each chain of 1e-6 ohm links; they meet in 1e9 ohm to the reference: 1e9 V for each of them."""
    links, hub = 4, 4 * chains
    start = np.r_[np.arange(hub), hub]
    end = np.r_[[hub if (i + 1) % links == 0 else i + 1 for i in range(hub)], hub + 1]
    conductance = np.r_[np.full(hub, 1e6), 1e-9]
    assert bool(planned(hub + 1, start, end, conductance != 0).waves) == (chains > 1)
    injected = np.zeros((hub + 1, 1))
    injected[:hub:links] = 1.0
    factor = Factor.of(hub + 1, start, end, conductance)
    np.testing.assert_allclose(factor.solve(injected), chains * 1e9, rtol=1e-13)
