"""Sheet gauges, corrosion categories and remaining life against printed values."""

from __future__ import annotations

import pytest

from asfound.measure.metal import (
    ThicknessOnDate,
    category_of_rate,
    depth_after,
    nominal,
    remaining_life,
)


@pytest.mark.source("BS 3737 standard wire gauge, as restated in public tables (secondary source)")
@pytest.mark.parametrize(
    ("gauge", "mm"), [(16, 1.626), (18, 1.219), (19, 1.016), (20, 0.914), (22, 0.711), (14, 2.032)]
)
def test_standard_wire_gauge(gauge: int, mm: float) -> None:
    assert nominal(system="SWG", gauge=gauge).thickness_mm == pytest.approx(mm, abs=5e-4)


@pytest.mark.source("US manufacturers' standard gauge for steel, public table (secondary source)")
@pytest.mark.parametrize(
    ("gauge", "inch"), [(16, 0.0598), (18, 0.0478), (20, 0.0359), (22, 0.0299)]
)
def test_manufacturers_standard_gauge(gauge: int, inch: float) -> None:
    assert nominal(system="MSG", gauge=gauge).thickness_mm == pytest.approx(inch * 25.4, abs=1e-9)


@pytest.mark.source("ISO 9223 categories, carbon steel, two restatements (secondary source)")
@pytest.mark.parametrize(
    ("um", "name"),
    [
        *((0, "C1"), (1.3, "C1"), (1.4, "C2"), (25, "C2"), (26, "C3"), (50, "C3")),
        *((51, "C4"), (80, "C4"), (81, "C5"), (200, "C5"), (201, "CX"), (700, "CX")),
    ],
)
def test_categories(um: float, name: str) -> None:
    assert category_of_rate(first_year_um_a=um).name == name


@pytest.mark.from_memory
@pytest.mark.source(
    "ISO 9224 upper limits at 1, 2, 5, 10, 15, 20 years: recomputed elsewhere from the restated "
    "formula; the standard's annex itself from memory"
)
@pytest.mark.parametrize(
    ("rate", "depths"),
    [
        (25, (25, 36, 58, 83, 103, 120)),
        (50, (50, 72, 116, 167, 206, 240)),
        (80, (80, 115, 186, 267, 330, 383)),
        (200, (200, 287, 464, 667, 824, 958)),
    ],
)
def test_loss_over_years(rate: float, depths: tuple[int, ...]) -> None:
    found = [round(depth_after(years=t, first_year_um_a=rate)) for t in (1, 2, 5, 10, 15, 20)]
    assert found == list(depths)


@pytest.mark.source("ISO 9224, linear after 20 years, 25 years recomputed (secondary source)")
@pytest.mark.parametrize(("rate", "um"), [(25, 135.4), (50, 270.9), (200, 1083.5), (700, 3792.3)])
def test_loss_is_linear_after_twenty_years(rate: float, um: float) -> None:
    assert depth_after(years=25, first_year_um_a=rate) == pytest.approx(um, abs=0.05)


@pytest.mark.source("API 570 worked example in a public text (secondary source)")
def test_rate_of_a_worked_example() -> None:
    """7.8 mm to 3.24 mm in 15 years is printed as 0.304 mm a year."""
    seen = (
        ThicknessOnDate(year=0, thickness_mm=7.8),
        ThicknessOnDate(year=15, thickness_mm=3.24),
    )
    found = remaining_life(seen, least_thickness_mm=0.37)
    assert found.long_rate_mm_a == pytest.approx(0.304, abs=5e-4)


@pytest.mark.source(
    "API 570 worked example in a public text (secondary source): it rounds the rate up to "
    "0.34 mm a year before the life, 8.441 years"
)
def test_life_of_a_worked_example() -> None:
    seen = (
        ThicknessOnDate(year=0, thickness_mm=3.24 + 0.34),
        ThicknessOnDate(year=1, thickness_mm=3.24),
    )
    assert remaining_life(seen, least_thickness_mm=0.37).years == pytest.approx(8.441, abs=5e-4)


@pytest.mark.source("Inspection training text: 5 mm remaining at 0.5 mm a year (secondary source)")
def test_life_in_round_numbers() -> None:
    seen = (ThicknessOnDate(year=0, thickness_mm=7), ThicknessOnDate(year=2, thickness_mm=6))
    assert remaining_life(seen, least_thickness_mm=1).years == pytest.approx(10)
