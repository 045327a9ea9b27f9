"""The median is that of numpy, without what numpy loads for it."""

import math
import random

import numpy as np
import pytest

from installcheck.logs.numbers import at_share, median, medians


@pytest.mark.parametrize("count", [1, 2, 3, 4, 7, 50, 51])
def test_the_median_is_numpys(count):
    chance = random.Random(count)
    values = [chance.choice((chance.gauss(300, 80), 21.5)) for _ in range(count)]
    assert median(values) == np.median(values)
    assert median(np.array(values)) == np.median(values)
    assert math.isnan(median([*values, math.nan]))


@pytest.mark.parametrize("seed", range(20))
def test_medians_leave_out_what_is_not_known(seed):
    rows = np.random.default_rng(seed).normal(size=(7, 40))
    rows[np.random.default_rng(seed + 100).random(rows.shape) < 0.5] = np.nan
    rows = rows[:, np.isfinite(rows).any(axis=0)]
    assert medians(rows).tolist() == np.nanmedian(rows, axis=0).tolist()


@pytest.mark.parametrize("share", [0.0, 0.25, 0.98, 1.0])
def test_a_share_of_values_is_numpys_percentile(share):
    for count in (1, 2, 3, 50, 51):
        values = np.random.default_rng(count).normal(size=count)
        assert at_share(values, share) == pytest.approx(np.percentile(values, 100 * share), rel=1e-14)
