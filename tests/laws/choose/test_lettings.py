"""What is let go to make a brief possible, against looking at every choice in turn."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from tests.laws.choose.cases import Sums, feasible
from tests.laws.choose.test_terms import breaks_terms, with_terms

from asfound.choose import Letting, Problem, Subject, find_clash, lettings
from asfound.choose.arithmetic import open_ledger
from asfound.choose.clash import Clash
from asfound.choose.requirement import gathered, requirements_of


def hold_hard(seed: int) -> Problem:
    """A small car of which much must not be touched, though the finish is to be good."""
    problem = with_terms(seed)
    floors = dict.fromkeys(problem.brief.min_grade, 3.0) or {"exterior": 2.0}
    return replace(problem, brief=replace(problem.brief, min_grade=floors))


def possible(problem: Problem) -> list[Sums]:
    return [chosen for chosen in feasible(problem) if not breaks_terms(problem, chosen)]


def freed_of(problem: Problem, kind: str, name: str) -> Problem:
    brief = problem.brief
    if kind == "untouched":
        return replace(problem, brief=replace(brief, untouched=brief.untouched - {name}))
    if kind == "evidence":
        return replace(problem, brief=replace(brief, needs_evidence=brief.needs_evidence - {name}))

    def without(piece: Subject) -> Subject:
        return replace(piece, locked_option="") if piece.subject == name else piece

    return replace(problem, subjects=tuple(map(without, problem.subjects)))


def gentlest(freed: Problem, bars: frozenset[tuple[str, str]]) -> tuple[int, Fraction, Fraction]:
    """Fewest pieces against it, then the most kept, then the least cost, of every choice."""
    count, lost, cost = min(
        (len(bars.intersection(one.options)), -one.kept, one.cost) for one in possible(freed)
    )
    return count, -lost, cost


@pytest.mark.parametrize("block", range(4))
def test_each_letting_is_the_gentlest_of_every_choice(block: int) -> None:
    seen = helped = 0
    for seed in range(1000 * block, 1000 * block + 25):
        problem = hold_hard(seed)
        clash = None if possible(problem) else find_clash(problem)
        if clash is None:
            continue
        found: dict[str, Letting] = {one.words: one for one in lettings(problem, clash)}
        for requirement in clash.requirements:
            if requirement.kind not in ("untouched", "evidence", "lock"):
                assert requirement.words not in found
                continue
            seen += 1
            freed = freed_of(problem, requirement.kind, requirement.name)
            if not possible(freed):
                assert requirement.words not in found
                continue
            helped += 1
            one = found[requirement.words]
            count, kept, cost = gentlest(freed, requirement.bars)
            assert (len(one.pieces), one.kept, one.cost) == (count, float(kept), float(cost))
            assert set(one.pieces) <= requirement.bars
    assert seen
    assert helped


def test_a_lock_on_what_was_begun_is_never_let_go() -> None:
    for seed in range(200):
        problem = hold_hard(seed)
        clash = None if possible(problem) else find_clash(problem)
        if clash and any(let.kind == "lock" for let in lettings(problem, clash)):
            begun = tuple(replace(s, begun="work began") for s in problem.subjects)
            again = find_clash(held := replace(problem, subjects=begun))
            assert again is not None
            assert not any(let.kind == "lock" for let in lettings(held, again))
            return
    raise AssertionError("no seed in which lifting a lock helps")


@pytest.mark.parametrize(("of", "seeds"), [("lock", 120), ("floor", 30)])
def test_a_group_is_let_go_as_gently_as_every_choice_allows(of: str, seeds: int) -> None:
    """Where a clash is told as groups, all locks or all floors of pieces are one requirement."""
    helped = 0
    for seed in range(seeds):
        problem = hold_hard(seed)
        if possible(problem):
            continue
        groups = gathered(requirements_of(problem, open_ledger(problem)))
        clash = Clash(requirements=groups, smallest=False)
        found = {one.words: one for one in lettings(problem, clash)}
        for group in groups:
            if group.kind != "group" or group.name != of:
                continue
            free = {"locked_option": ""} if of == "lock" else {"min_grade": 0.0}
            freed = replace(problem, subjects=tuple(replace(s, **free) for s in problem.subjects))
            if not possible(freed):
                assert group.words not in found
                continue
            helped += 1
            one = found[group.words]
            count, kept, cost = gentlest(freed, group.bars)
            assert (one.kind, len(one.pieces)) == (of, count)
            assert (one.kept, one.cost) == (float(kept), float(cost))
            assert set(one.pieces) <= group.bars
    assert helped
