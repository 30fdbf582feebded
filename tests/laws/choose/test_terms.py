"""What must not be touched and what needs evidence, against looking at every choice in turn."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from tests.laws.choose.cases import ZONES, Sums, feasible, make_problem
from tests.laws.choose.test_brute_force import best_of

from asfound.base import NoSolutionError
from asfound.choose import Problem, choose, find_clash

TREATMENTS = ("leave as found", "preventive care", "repair", "refinish")


def with_terms(seed: int) -> Problem:
    """A small choice whose brief says what must not be touched and what needs evidence."""
    plain, draw = make_problem(seed, tight=1.2, calm=seed % 2 == 0), random.Random(seed + 7)
    named = draw.sample([s.subject for s in plain.subjects], draw.randint(0, 1))
    return replace(
        plain,
        subjects=tuple(
            replace(s, vital=draw.random() < 0.2, has_evidence=draw.random() < 0.5)
            for s in plain.subjects
        ),
        options=tuple(replace(o, treatment=draw.choice(TREATMENTS)) for o in plain.options),
        brief=replace(
            plain.brief,
            untouched=frozenset([*named, *draw.sample(ZONES[:2], draw.randint(0, 2))]),
            needs_evidence=frozenset(draw.sample(TREATMENTS[2:], draw.randint(0, 2))),
        ),
    )


def breaks_terms(problem: Problem, chosen: Sums) -> bool:
    """The rule as docs/explanation/choice.md tells it, written anew."""
    treatments = {(o.subject, o.option): o.treatment for o in problem.options}
    brief = problem.brief
    for subject, option in chosen.options:
        piece = next(s for s in problem.subjects if s.subject == subject)
        treatment = treatments[subject, option]
        touches = treatment in ("repair", "refinish")
        if touches and subject in brief.untouched:
            return True
        if piece.vital or piece.locked_option:
            continue
        if touches and piece.zone in brief.untouched and piece.min_grade == 0:
            return True
        if treatment in brief.needs_evidence and not piece.has_evidence:
            return True
    return False


@pytest.mark.parametrize("block", range(4))
def test_the_choice_is_the_best_of_those_that_keep_the_terms(block: int) -> None:
    bound = possible_n = 0
    for i in range(10):
        problem = with_terms(block * 100 + i)
        everything = feasible(problem)
        lawful = [chosen for chosen in everything if not breaks_terms(problem, chosen)]
        best = best_of(lawful)
        bound += best != best_of(everything)
        if best is None:
            with pytest.raises(NoSolutionError):
                choose(problem)
            assert find_clash(problem) is not None
            continue
        possible_n += 1
        choice = choose(problem)
        assert (choice.kept, choice.cost) == (float(best.kept), float(best.cost))
        assert find_clash(problem) is None
    assert bound
    assert possible_n
