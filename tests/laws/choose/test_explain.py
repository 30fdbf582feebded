"""Every reason agrees with choosing again by brute force."""

from __future__ import annotations

import pytest
from tests.laws.choose.cases import feasible, make_problem

from asfound.base import NoSolutionError, StoppedError
from asfound.choose import choose, explain


@pytest.mark.parametrize("block", range(4))
def test_runner_up_is_what_choosing_again_gives(block: int) -> None:
    seen = 0
    for i in range(15):
        problem = make_problem(40_000 + block * 100 + i, tight=1.0, calm=i % 2 == 0)
        try:
            choice = choose(problem)
        except NoSolutionError:
            continue
        every = feasible(problem)
        for why in explain(problem, choice):
            assert why.option == choice.options[why.subject]
            assert why.because
            assert why.flips_when
            others = [s for s in every if (why.subject, why.option) not in s.options]
            if not why.runner_up:
                assert why.kept_lost is None
                assert others == []
                continue
            best = max(others, key=lambda s: (s.kept, -s.cost))
            mine = next(s for s in every if s.options == tuple(sorted(choice.options.items())))
            ties = [s for s in others if (s.kept, s.cost) == (best.kept, best.cost)]
            assert (why.subject, why.runner_up) in {pair for s in ties for pair in s.options}
            told = {**choice.options, **why.with_it, why.subject: why.runner_up}
            assert tuple(sorted(told.items())) in {s.options for s in ties}
            assert all(choice.options[other] != option for other, option in why.with_it.items())
            assert why.kept_lost == float(mine.kept - best.kept)
            assert why.cost_change == float(best.cost - mine.cost)
            seen += 1
    assert seen > 10


def test_contested_pieces_come_first() -> None:
    problem = make_problem(3, subjects=6, calm=True)
    whys = explain(problem, choose(problem))
    losses = [w.kept_lost for w in whys if w.kept_lost is not None]
    assert losses == sorted(losses)
    assert [w.kept_lost is None for w in whys] == sorted(w.kept_lost is None for w in whys)


def test_limit_cuts_the_list_short() -> None:
    problem = make_problem(3, subjects=6, calm=True)
    assert len(explain(problem, choose(problem), limit=2)) == 2


def test_two_who_search_beside_each_other_find_what_one_finds() -> None:
    problem = make_problem(3, subjects=6, calm=True)
    choice, kept = choose(problem), []
    alone = explain(problem, choice)
    beside = explain(
        problem, choice, workers=2, keep=kept.append, known={alone[1].subject: alone[1]}
    )
    told = [(w.subject, w.kept_lost, w.cost_change, w.proved) for w in beside]
    assert told == [(w.subject, w.kept_lost, w.cost_change, w.proved) for w in alone]
    assert sorted(why.subject for why in kept) == sorted(choice.options)


def test_a_stop_ends_those_who_search_beside_each_other() -> None:
    problem = make_problem(3, subjects=6, calm=True)

    def stop(_: float) -> None:
        raise StoppedError

    with pytest.raises(StoppedError):
        explain(problem, choose(problem), workers=2, progress=stop)
