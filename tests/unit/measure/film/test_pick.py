"""Draws of one column a row, in proportion to its share."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import chisquare

from asfound.measure.film.search import BLOCK_N, pick


@pytest.mark.parametrize("columns_n", [2, 7, BLOCK_N, BLOCK_N + 1, 3 * BLOCK_N - 5])
def test_columns_are_drawn_in_proportion(columns_n: int) -> None:
    # Pearson's chi-square test (Philosophical Magazine 50, 1900), by SciPy.
    rng = np.random.Generator(np.random.PCG64(5))
    share = rng.random(columns_n) + 0.1
    draws_n = 40_000
    drawn = pick(np.repeat(share[None], draws_n, axis=0).astype(np.float32), rng)
    expected = draws_n * share / share.sum()
    assert chisquare(np.bincount(drawn, minlength=columns_n), expected).pvalue > 1e-3


def test_a_column_without_share_is_not_drawn() -> None:
    rng = np.random.Generator(np.random.PCG64(6))
    share = np.zeros((500, 2 * BLOCK_N))
    share[:, [BLOCK_N - 1, 2 * BLOCK_N - 1]] = 0.5
    assert set(pick(share, rng)) == {BLOCK_N - 1, 2 * BLOCK_N - 1}
