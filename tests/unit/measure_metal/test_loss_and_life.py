"""Loss of sheet: what the method can tell, which rate governs, what is refused."""

from __future__ import annotations

import math

import pytest

from asfound.base import InputError, NotEnoughEvidenceError
from asfound.measure.metal import (
    MetalLoss,
    Nominal,
    ThicknessOnDate,
    ThicknessReading,
    category_of_rate,
    depth_after,
    nominal,
    nominal_in_mm,
    remaining_life,
    sheet_loss,
)


def sill(*thicknesses_mm: float, u: float = 0.03, tolerance: float = 0.06) -> MetalLoss:
    rows = [
        ThicknessReading(subject="left sill", x_mm=40 * i, y_mm=0, thickness_mm=t)
        for i, t in enumerate(thicknesses_mm)
    ]
    return sheet_loss(
        rows,
        nominal=nominal(system="SWG", gauge=20),
        gauge_u_mm=u,
        nominal_tolerance_mm=tolerance,
    )


def test_loss_keeps_the_system_and_combines_the_doubts() -> None:
    found = sill(0.60, 0.70, 0.80)
    assert (found.nominal.system, found.nominal.gauge) == ("SWG", 20)
    assert found.mean_loss_mm.value == pytest.approx(0.2144)
    assert found.mean_loss_mm.u == pytest.approx(math.sqrt(0.03**2 + 0.06**2 / 3))
    assert found.worst_loss_mm.value == pytest.approx(0.3144)
    assert found.told_apart


def test_more_readings_do_not_shrink_what_the_instrument_shares() -> None:
    assert sill(0.7).mean_loss_mm.u == sill(0.7, 0.7, 0.7, 0.7).mean_loss_mm.u


def test_error_larger_than_loss_is_said() -> None:
    found = sill(0.85, u=0.6)
    assert not found.told_apart
    assert "no loss can be told" in found.note


def test_a_thin_place_is_told_though_the_mean_is_not() -> None:
    found = sill(0.91, 0.92, 0.92, 0.92, 0.60)
    assert found.mean_loss_mm.value < found.mean_loss_mm.expanded(coverage=0.95)
    assert found.told_apart


def test_thicker_than_nominal_is_not_cut_to_zero() -> None:
    assert sill(1.3).mean_loss_mm.value == pytest.approx(0.9144 - 1.3)
    assert "excess" in sill(1.3).note


def test_same_number_is_another_sheet_in_another_system() -> None:
    british, american = (nominal(system=s, gauge=22) for s in ("SWG", "MSG"))
    assert american.thickness_mm - british.thickness_mm == pytest.approx(0.0019 * 25.4)


@pytest.mark.parametrize("system", ["SWG", "MSG"])
def test_unknown_number(system: str) -> None:
    with pytest.raises(InputError, match="thickness in mm"):
        nominal(system=system, gauge=77)  # type: ignore[arg-type]


def test_number_and_thickness_must_agree() -> None:
    with pytest.raises(InputError, match=r"1\.2192"):
        Nominal(system="SWG", gauge=18, thickness_mm=1.27)
    with pytest.raises(InputError, match="millimetres"):
        Nominal(system="mm", gauge=18, thickness_mm=1.2)


def test_refusals() -> None:
    with pytest.raises(NotEnoughEvidenceError):
        sheet_loss([], nominal=nominal_in_mm(1), gauge_u_mm=0.1, nominal_tolerance_mm=0)
    with pytest.raises(InputError, match="hole"):
        ThicknessReading(subject="sill", x_mm=0, y_mm=0, thickness_mm=0)
    two = [ThicknessReading(subject=s, x_mm=0, y_mm=0, thickness_mm=1) for s in ("sill", "floor")]
    with pytest.raises(InputError, match="one panel or part"):
        sheet_loss(two, nominal=nominal_in_mm(1), gauge_u_mm=0.1, nominal_tolerance_mm=0)
    with pytest.raises(InputError):
        category_of_rate(first_year_um_a=701)
    with pytest.raises(InputError):
        depth_after(years=-1, first_year_um_a=10)


def history(*pairs: tuple[float, float]) -> tuple[ThicknessOnDate, ...]:
    return tuple(ThicknessOnDate(year=y, thickness_mm=t) for y, t in pairs)


def test_the_greater_rate_governs() -> None:
    short = remaining_life(history((0, 1.0), (10, 0.9), (12, 0.8)), least_thickness_mm=0.5)
    assert short.governing == "short"
    assert short.years == pytest.approx(0.3 / 0.05)
    long = remaining_life(history((0, 1.0), (10, 0.8), (20, 0.75)), least_thickness_mm=0.5)
    assert long.governing == "long"
    assert long.years == pytest.approx(0.25 / 0.0125)


def test_no_loss_seen_and_already_below() -> None:
    assert math.isinf(remaining_life(history((0, 1), (5, 1)), least_thickness_mm=0.5).years)
    below = remaining_life(history((0, 1), (5, 0.4)), least_thickness_mm=0.5)
    assert (below.years, below.below_least) == (0.0, True)


def test_life_refuses_one_date_and_dates_out_of_order() -> None:
    with pytest.raises(NotEnoughEvidenceError):
        remaining_life(history((0, 1)), least_thickness_mm=0.5)
    with pytest.raises(InputError, match="rising"):
        remaining_life(history((5, 1), (5, 0.9)), least_thickness_mm=0.5)
