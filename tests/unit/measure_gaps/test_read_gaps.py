"""The gaps of a whole car: limits, twins, and edges that say too little."""

from __future__ import annotations

import pytest

from asfound.base import Estimate, NotEnoughEvidenceError
from asfound.measure.gaps import (
    ASSUMED_U_MM,
    EdgeGround,
    EdgeReading,
    GapSurvey,
    read_edge,
    read_gaps,
)
from asfound.measure.gaps.read import stand


def rows(edge: str, gaps_mm: list[float]) -> tuple[EdgeReading, ...]:
    return tuple(
        EdgeReading(edge=edge, along_mm=200.0 * i, gap_mm=gap) for i, gap in enumerate(gaps_mm)
    )


LEFT, RIGHT = "left door, rear", "right door, rear"


def survey(left: list[float], right: list[float], **limits: float) -> GapSurvey:
    return GapSurvey(
        edges=(EdgeGround(edge=RIGHT, twin=LEFT, **limits), EdgeGround(edge=LEFT, twin=RIGHT)),
        readings=(*rows(RIGHT, right), *rows(LEFT, left)),
        instrument_u_mm={LEFT: 0.1},
    )


def test_left_comes_first_and_a_pair_once() -> None:
    found = read_gaps(survey([4, 5, 6, 7], [4, 4, 4, 4]))
    (twins,) = found.twins
    assert (twins.left, twins.right) == (LEFT, RIGHT)
    assert twins.pair is not None
    assert twins.pair.gap_run_out.difference_mm.value == pytest.approx(3.0)


def test_the_doubt_is_the_instrument_s_or_said_to_be_assumed() -> None:
    right, left = read_gaps(survey([4, 5, 6, 7], [4, 4, 4, 4])).edges
    assert (left.instrument_u_mm, left.u_is_assumed) == (0.1, False)
    assert (right.instrument_u_mm, right.u_is_assumed) == (ASSUMED_U_MM, True)


def test_each_end_stands_against_the_limits_for_itself() -> None:
    right = read_gaps(survey([4, 4], [3.8, 4.6, 5.4, 6.2], least_mm=3.0, most_mm=5.5)).edges[0]
    assert [(a.place, a.stand) for a in right.against] == [
        ("start", "within"),
        ("middle", "within"),
        ("end", "too wide"),
    ]
    left = read_gaps(survey([4, 4], [4, 4])).edges[1]
    assert left.against == ()


@pytest.mark.parametrize(
    ("gap_mm", "said"),
    [(2.0, "too narrow"), (3.1, "cannot be told"), (4.0, "within"), (5.2, "too wide")],
)
def test_the_interval_decides(gap_mm: float, said: str) -> None:
    """± 0.196 mm about each gap, limits 3 and 5."""
    assert stand(Estimate(value=gap_mm, u=0.1), least_mm=3.0, most_mm=5.0) == said


def test_one_place_gives_a_sentence_and_no_line() -> None:
    found = read_gaps(survey([4.0], [4.0, 4.1]))
    assert found.edges[1].fit is None
    assert "two places" in found.edges[1].refusal
    assert found.twins[0].pair is None
    assert LEFT in found.twins[0].refusal
    assert RIGHT not in found.twins[0].refusal


def test_an_edge_that_names_itself_or_nobody_has_no_twin() -> None:
    alone = GapSurvey(
        edges=(EdgeGround(edge="lid", twin="lid"), EdgeGround(edge="door", twin="gone")),
        readings=(),
        instrument_u_mm={},
    )
    assert read_gaps(alone).twins == ()


def test_nothing_named_is_refused() -> None:
    with pytest.raises(NotEnoughEvidenceError):
        read_gaps(GapSurvey(edges=(), readings=(), instrument_u_mm={}))


def test_the_line_is_surest_where_the_readings_are() -> None:
    crowded = [EdgeReading(edge="lid", along_mm=x, gap_mm=4.0) for x in (0, 10, 20, 30, 600)]
    run = read_edge(crowded, instrument_u_mm=0.1).gap
    assert run.at(0.0).u < run.at(0.5).u < run.at(1.0).u
    assert run.at(0.5) == run.middle_mm
    assert run.at(1.0).value - run.at(0.0).value == pytest.approx(run.run_out_mm.value)
