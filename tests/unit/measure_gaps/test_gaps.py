"""Edges that taper, sides that mirror, and what cannot be told."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import stats

from asfound.base import InputError, NotEnoughEvidenceError
from asfound.measure.gaps import EdgeFit, EdgeReading, mirror, read_edge

PLACES_MM = (0.0, 200.0, 400.0, 600.0, 800.0)


def edge(
    gaps_mm: list[float], *, name: str = "left door, rear", flush_mm: list[float] | None = None
) -> EdgeFit:
    rows = [
        EdgeReading(
            edge=name, along_mm=x, gap_mm=g, flush_mm=None if flush_mm is None else flush_mm[i]
        )
        for i, (x, g) in enumerate(zip(PLACES_MM, gaps_mm, strict=False))
    ]
    return read_edge(rows, instrument_u_mm=0.1)


def test_taper_is_found_with_the_textbook_uncertainty() -> None:
    """Against scipy's own regression, where the scatter is larger than the tool's."""
    gaps = [4.0, 4.9, 5.0, 6.1, 6.0]
    found = edge(gaps)
    book = stats.linregress(PLACES_MM, gaps)
    assert found.gap.run_out_mm.value == pytest.approx(book.slope * 800)
    assert found.gap.run_out_mm.u == pytest.approx(book.stderr * 800)
    assert found.gap.run_out_mm.dof == 3
    assert found.gap.middle_mm.value == pytest.approx(np.mean(gaps))
    assert found.gap.tapers
    assert found.span_mm == 800


def test_lucky_scatter_does_not_beat_the_tool() -> None:
    found = edge([4.0] * 5)
    assert found.gap.middle_mm.u == pytest.approx(0.1 / math.sqrt(5))
    assert math.isinf(found.gap.middle_mm.dof)
    assert not found.gap.tapers


def test_two_places_are_enough_and_flush_is_optional() -> None:
    found = edge([4.0, 5.0])
    assert found.gap.run_out_mm.value == pytest.approx(1.0)
    assert found.gap.run_out_mm.u == pytest.approx(0.1 * math.sqrt(2))
    assert found.flush is None


def test_sides_that_mirror_and_sides_that_do_not() -> None:
    right = edge([4.0, 4.1, 4.0, 4.1, 4.0], name="right door, rear", flush_mm=[0.0] * 5)
    same = mirror(left=edge([4.1, 4.0, 4.1, 4.0, 4.1], flush_mm=[0.0] * 5), right=right)
    assert same.gap_middle.p > 0.05
    assert "no difference told" in same.gap_middle.words
    off = mirror(left=edge([5.0, 5.1, 5.0, 5.1, 5.0], flush_mm=[1.0] * 5), right=right)
    assert off.gap_middle.difference_mm.value == pytest.approx(1.0)
    assert "clearly differs" in off.gap_middle.words
    assert off.gap_run_out.p > 0.05
    assert off.flush_middle is not None
    assert off.flush_middle.difference_mm.value == pytest.approx(1.0)


def test_symmetry_agrees_with_the_z_test() -> None:
    """Two known doubts of 0.1/√5 mm: the two-sided p of 0.1 mm is that of z = 1.58."""
    left, right = edge([4.1] * 5), edge([4.0] * 5, name="right door, rear")
    p = mirror(left=left, right=right).gap_middle.p
    assert p == pytest.approx(2 * stats.norm.sf(0.1 / (0.1 * math.sqrt(2 / 5))))


def test_false_alarms_stay_at_their_rate() -> None:
    rng = np.random.default_rng(3)
    alarms = 0
    for _ in range(1000):
        left, right = (edge(list(4 + rng.normal(0, 0.1, 5)), name=n) for n in ("left", "right"))
        alarms += mirror(left=left, right=right).gap_middle.p < 0.05
    assert 15 < alarms < 75


def test_swapping_the_sides_turns_the_sign_only() -> None:
    left, right = edge([4, 5, 4, 5, 4]), edge([3, 3, 4, 4, 4], name="right")
    one, two = mirror(left=left, right=right), mirror(left=right, right=left)
    assert one.gap_middle.difference_mm.value == -two.gap_middle.difference_mm.value
    assert one.gap_middle.p == two.gap_middle.p


def test_refusals() -> None:
    with pytest.raises(NotEnoughEvidenceError, match="both ends"):
        edge([4.0])
    with pytest.raises(NotEnoughEvidenceError):
        read_edge([], instrument_u_mm=0.1)
    with pytest.raises(InputError, match="overlap"):
        EdgeReading(edge="lid", along_mm=0, gap_mm=-1)
    two = [EdgeReading(edge=e, along_mm=x, gap_mm=4) for e, x in (("lid", 0), ("door", 9))]
    with pytest.raises(InputError, match="one edge"):
        read_edge(two, instrument_u_mm=0.1)
    with pytest.raises(InputError):
        read_edge(two[:1], instrument_u_mm=0)
