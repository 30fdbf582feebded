"""What a person reads: the clash, the reasons, the refusals."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace

import pytest

from asfound.base import InputError, NoSolutionError
from asfound.choose import (
    Brief,
    Choice,
    Link,
    Option,
    Problem,
    Subject,
    Why,
    choose,
    explain,
    find_clash,
    relaxations,
)


def option(subject: str, name: str, kept: float, grade: float, cost: float, hours: float) -> Option:
    return Option(
        subject=subject,
        option=name,
        treatment=name,
        kept=kept,
        grade=grade,
        cost=cost,
        hours={"trimmer": hours},
    )


def car(brief: Brief | None = None, links: tuple[Link, ...] = (), **lock: str) -> Problem:
    """Two invented pieces: a bonnet in the zone exterior and a seat."""
    return Problem(
        subjects=(
            Subject(
                subject="bonnet", weight=3, zone="exterior", locked_option=lock.get("bonnet", "")
            ),
            Subject(subject="seat", weight=2, locked_option=lock.get("seat", "")),
        ),
        options=(
            option("bonnet", "leave as found", 1.0, 1, 0, 0),
            option("bonnet", "repair", 0.7, 3, 400, 2),
            option("bonnet", "refinish", 0.1, 5, 900, 4),
            option("seat", "stabilise", 0.9, 3, 200, 10),
            option("seat", "replace with new", 0.0, 5, 350, 6),
        ),
        links=links,
        brief=brief or Brief(),
    )


def clash_of(problem: Problem) -> tuple[str, ...]:
    with pytest.raises(NoSolutionError) as refused:
        choose(problem)
    return refused.value.clash


def why_of(problem: Problem, subject: str) -> Why:
    return next(w for w in explain(problem, choose(problem)) if w.subject == subject)


def test_a_clash_names_cost_and_floor_with_what_the_floor_costs() -> None:
    words = clash_of(car(Brief(cost_max=500, min_grade={"exterior": 3})))
    assert words == (
        "cost at most 500 (a choice that meets the others named here, all other limits lifted, "
        "costs 600 at least)",
        "floor 3 on zone exterior (bonnet)",
    )


def test_a_lock_that_forbids_is_named() -> None:
    words = clash_of(car(Brief(min_grade={"exterior": 2}), bonnet="leave as found"))
    assert words == (
        "floor 2 on zone exterior (bonnet)",
        "bonnet is locked to 'leave as found'",
    )


def test_links_are_named_with_their_reason() -> None:
    tie = Link(
        kind="requires",
        subject="bonnet",
        option="repair",
        other_subject="seat",
        other_option="replace with new",
        why="the seat must come out",
    )
    words = clash_of(car(links=(tie,), bonnet="repair", seat="stabilise"))
    assert words == (
        "bonnet is locked to 'repair'",
        "seat is locked to 'stabilise'",
        "bonnet 'repair' requires seat 'replace with new': the seat must come out",
    )


def test_a_single_limit_says_the_least_that_is_possible() -> None:
    assert clash_of(car(Brief(hours_max={"trimmer": 4}))) == (
        "hours of trimmer at most 4 (a choice that is safe, every other limit lifted, takes 6 at "
        "least)",
    )


def test_a_subject_without_a_safe_option_is_the_clash() -> None:
    problem = car()
    unsafe = tuple(replace(o, safe=o.subject != "seat") for o in problem.options)
    assert clash_of(replace(problem, options=unsafe)) == ("seat has no safe option",)


def test_relaxations_say_what_each_number_would_have_to_be() -> None:
    problem = car(Brief(cost_max=500, min_grade={"exterior": 3}))
    clash = find_clash(problem)
    assert clash is not None
    found = {way.words: (way.now, way.enough) for way in relaxations(problem, clash)}
    assert found == {
        "cost at most 500": (500, 600),
        "floor 3 on zone exterior (bonnet)": (3, 1),
    }


def test_an_option_without_which_nothing_fits_is_told() -> None:
    problem = car(Brief(hours_max={"trimmer": 7.5}))
    why = why_of(problem, "seat")
    assert why.option == "replace with new"
    assert why.because == (
        "'stabilise' would keep more here, but it takes 4 h more of trimmer and only 1.5 of 7.5 h "
        "is left; no choice within the brief does without 'replace with new'"
    )
    assert why.flips_when == "to 'stabilise' when the limit of hours of trimmer rises by 2.5"


def test_a_floor_that_leaves_one_option_is_told() -> None:
    why = why_of(car(Brief(min_grade={"exterior": 4})), "bonnet")
    assert why.because == "the only option that meets floor 4"
    assert why.flips_when == "when its floor falls to 3"


def test_a_lock_is_told() -> None:
    why = why_of(car(bonnet="repair"), "bonnet")
    assert why.because == "locked to 'repair'"
    assert why.flips_when == "when the lock is lifted"
    assert why.runner_up == ""


def test_the_best_kept_says_what_changing_it_would_lose() -> None:
    # Bonnet kept 1.0 against 0.7, weight 3 of 5: 0.3 · 3 / 5 = 18 % of the car.
    why = why_of(car(), "bonnet")
    assert why.because == (
        "best kept within the brief; changing it would lose 18 % of original fabric over the "
        "whole car"
    )
    assert why.runner_up == "repair"
    assert why.kept_lost == pytest.approx(0.18)
    assert why.cost_change == 400
    assert why.hours_change == {"trimmer": 2}


def test_money_that_holds_back_is_told() -> None:
    problem = car(Brief(cost_max=220))
    cheaper = option("seat", "clean", 0.5, 2, 90, 3)
    better = option("bonnet", "stabilise", 0.8, 2, 30, 1)
    floor = replace(problem.brief, min_grade={"exterior": 2})
    problem = replace(problem, options=(*problem.options, cheaper, better), brief=floor)
    why = why_of(problem, "seat")
    assert why.option == "clean"
    assert why.flips_when == "to 'stabilise' when the limit of cost rises by 10"
    assert (
        why.because == "'stabilise' would keep more here, but it costs 110 more and only "
        "100 of 220 is left; no choice within the brief does without 'clean'"
    )


def test_weights_of_nothing_are_refused() -> None:
    problem = car()
    nothing = tuple(replace(s, weight=0.0) for s in problem.subjects)
    with pytest.raises(InputError, match=r"weight is 0\.0; it must be more than zero"):
        choose(replace(problem, subjects=nothing))


def test_a_weight_that_drowns_in_arithmetic_is_refused() -> None:
    with pytest.raises(InputError, match="weight is 1e-320; it must be 0, or from"):
        Subject(subject="door", weight=1e-320)


def test_a_time_limit_of_nothing_is_refused() -> None:
    with pytest.raises(InputError, match="time_limit_s"):
        choose(car(), time_limit_s=0)


def test_shared_work_saves_once_a_row() -> None:
    tie = Link(
        kind="shares",
        subject="bonnet",
        option="leave as found",
        other_subject="seat",
        other_option="stabilise",
        saves_cost=30,
        saves_hours=1.5,
        trade="trimmer",
    )
    choice: Choice = choose(car(links=(tie, tie)))
    assert choice.cost == 200 - 2 * 30
    assert choice.hours == {"trimmer": 10 - 2 * 1.5}


def test_nothing_is_written_on_standard_output() -> None:
    code = (
        "from asfound.choose import *\n"
        "o = Option(subject='a', option='x', treatment='clean', kept=1, grade=1, cost=1)\n"
        "p = Problem(subjects=(Subject(subject='a'),), options=(o,))\n"
        "explain(p, choose(p)); front(p); find_clash(p)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        check=True,
        env={"PYTHONPATH": "src"},
    )
    assert (done.stdout, done.stderr) == ("", "")


def test_a_car_on_which_no_option_may_be_chosen_is_refused_with_the_reason() -> None:
    unsafe = Option(
        subject="brakes",
        option="leave",
        treatment="leave as found",
        kept=1,
        grade=2,
        cost=0,
        safe=False,
    )
    problem = Problem(subjects=(Subject(subject="brakes"),), options=(unsafe,))
    with pytest.raises(NoSolutionError) as refused:
        choose(problem)
    assert refused.value.clash == ("brakes has no safe option",)
