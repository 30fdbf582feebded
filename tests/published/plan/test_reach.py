"""The way of least risk on graphs of 300 pieces, held against another solver's plain model."""

from __future__ import annotations

import pytest
from benchmarks.strip import drawn_assembly, risk_by_milp
from benchmarks.strip_car import strip_car

from asfound.plan.strip import Assembly, way_to
from asfound.record.convert.strip import strip_question


def is_as_little_as_the_other_solver_says(assembly: Assembly, piece: str) -> None:
    risk, bound = risk_by_milp(assembly, piece, limit_s=60.0)
    assert bound == pytest.approx(risk, abs=1e-6)  # proved there too
    way = way_to(assembly, piece, work_s=30.0)
    assert way.proved
    assert way.risk == pytest.approx(risk, abs=1e-4)  # risks are counted in steps of 1e-5


@pytest.mark.source("scipy.optimize.milp (HiGHS): optimum of the same rules as a plain model")
@pytest.mark.parametrize("piece", ["heater", "wiper spindle left", "starter", "bulkhead plate"])
def test_the_way_on_the_invented_car_has_the_least_risk(piece: str) -> None:
    is_as_little_as_the_other_solver_says(strip_question(strip_car()).assembly, piece)


@pytest.mark.source("scipy.optimize.milp (HiGHS): optimum of the same rules as a plain model")
def test_the_way_on_a_graph_full_of_ways_has_the_least_risk() -> None:
    is_as_little_as_the_other_solver_says(drawn_assembly(0, pieces_n=300), "P150")
