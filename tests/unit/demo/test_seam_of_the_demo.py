"""The respray on the invented car stays only beside the finish it was read with."""

from __future__ import annotations

from dataclasses import replace

from asfound.choose import choose
from asfound.demo.car import demo_folder
from asfound.record.convert.choice import choice_problem

WING, QUARTER = "right rear wing", "right rear quarter"


def test_the_respray_stays_while_its_neighbour_stays() -> None:
    problem = choice_problem(demo_folder())
    (seam,) = problem.seams
    assert {seam.subject, seam.other_subject} == {WING, QUARTER}
    stays = choose(problem).options
    assert "let it stay" in stays[WING]
    touched = tuple(
        replace(s, locked_option="touch in losses") if s.subject == QUARTER else s
        for s in problem.subjects
    )
    assert "let it stay" not in choose(replace(problem, subjects=touched)).options[WING]
