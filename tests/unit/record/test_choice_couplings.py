"""Rows that tie whole pieces: seams, what comes off once, what waits, what is wrong with them."""

from __future__ import annotations

import pytest

from asfound.choose import choose, notices
from asfound.record.convert.choice import choice_problem
from asfound.record.convert.coupling_faults import coupling_faults
from asfound.record.faults import InputFaultsError
from asfound.record.folder import CarFolder, Sheet

OPTIONS = Sheet(
    columns=("subject", "option", "treatment", "kept", "grade", "cost", "hours_panel", "L"),
    rows=(
        ("door", "leave as found", "leave as found", "1", "1", "0", "", ""),
        ("door", "refinish", "refinish", "0.2", "4", "600", "20", ""),
        ("wing", "leave as found", "leave as found", "1", "2", "0", "", ""),
        ("wing", "refinish", "refinish", "0.1", "5", "700", "22", ""),
        ("lamp", "overhaul", "overhaul", "0.8", "3", "90", "5", ""),
    ),
)
TIE_COLUMNS = (
    "kind",
    "subject",
    "option",
    "other_subject",
    "other_option",
    "saves_cost",
    "saves_hours",
    "trade",
    "why",
    "most_grade_step",
    "most_colour_step",
)


def tie(**cells: str) -> tuple[str, ...]:
    return tuple(cells.get(column, "") for column in TIE_COLUMNS)


def car(*ties: tuple[str, ...], options: Sheet = OPTIONS, **sheets: Sheet) -> CarFolder:
    links = Sheet(columns=TIE_COLUMNS, rows=ties)
    return CarFolder(sheets={"options": options, "option_links": links, **sheets})


def floor(subject: str, grade: str) -> Sheet:
    return Sheet(columns=("subject", "weight", "min_grade"), rows=((subject, "1", grade),))


def test_a_seam_lets_neighbours_differ_by_no_more_than_a_step() -> None:
    seam = tie(kind="seam", subject="door", other_subject="wing", most_grade_step="1")
    apart = choose(choice_problem(car(subjects=floor("wing", "4"))))
    together = choose(choice_problem(car(seam, subjects=floor("wing", "4"))))
    assert apart.options == {"door": "leave as found", "lamp": "overhaul", "wing": "refinish"}
    assert together.options == {"door": "refinish", "lamp": "overhaul", "wing": "refinish"}


def test_a_seam_of_colour_takes_what_was_read_and_what_the_options_say() -> None:
    # Sharma, Wu, Dalal (2005), table 1, pair 1: these two colours are ΔE00 2.0425 apart.
    columns = ("panel", "x_mm", "y_mm", "L", "a", "b", "exposure")
    read = Sheet(columns=columns, rows=(("door", "1", "1", "50", "2.6772", "-79.7751", "exposed"),))
    rows = tuple((*row, "", "") for row in OPTIONS.rows)
    rows = (*rows[:3], (*OPTIONS.rows[3][:-1], "50", "0", "-82.7485"), rows[4])
    options = Sheet(columns=(*OPTIONS.columns, "a", "b"), rows=rows)
    seam = tie(kind="seam", subject="door", other_subject="wing", most_colour_step="2.05")
    problem = choice_problem(car(seam, options=options, colour=read))
    assert problem.seams[0].steps == {("leave as found", "refinish"): 2.0425}
    assert not problem.seams[0].forbids("leave as found", "refinish")
    assert notices(problem) == (
        "At the seam of door and wing the colour of 3 of 4 pairs of options is not known; those "
        "may stand.",
    )


def test_what_comes_off_once_is_paid_once() -> None:
    users = [("door", "refinish"), ("wing", "refinish"), ("lamp", "overhaul")]
    ties = [
        tie(kind="needs off", subject=s, option=o, other_subject="bumper", trade="panel")
        for s, o in users
    ]
    paid = [(*row[:5], "10", "4", *row[7:]) for row in ties]
    locked = Sheet(
        columns=("subject", "weight", "min_grade"),
        rows=(("door", "1", "4"), ("wing", "1", "4"), ("lamp", "1", "0")),
    )
    choice = choose(choice_problem(car(*paid, subjects=locked)))
    # Three need the bumper off: of 600 + 700 + 90 and 20 + 22 + 5 h it is saved twice.
    assert choice.cost == 1390 - 2 * 10
    assert choice.hours == {"panel": 47 - 2 * 4}


def test_an_option_waits_until_the_piece_it_would_blind_is_decided() -> None:
    wait = tie(kind="waits", subject="wing", option="refinish", other_subject="door")
    columns = ("subject", "weight", "min_grade", "locked_option")
    floor_only = Sheet(columns=columns, rows=(("wing", "1", "0", ""), ("door", "1", "0", "")))
    decided = Sheet(
        columns=columns, rows=(("wing", "0.1", "4", ""), ("door", "1", "0", "leave as found"))
    )
    free = choose(choice_problem(car(wait, subjects=floor_only)))
    assert free.options["wing"] == "leave as found"
    assert choose(choice_problem(car(wait, subjects=decided))).options["wing"] == "refinish"


@pytest.mark.parametrize(
    ("row", "told"),
    [
        (
            tie(kind="requires", subject="door", option="refinish", other_subject="wing"),
            "must name",
        ),
        (tie(kind="seam", subject="door", other_subject="wing"), "without a step"),
        (
            tie(kind="seam", subject="door", other_subject="door", most_grade_step="1"),
            "another than itself",
        ),
        (
            tie(kind="waits", subject="door", option="refinish", other_subject="roof"),
            "no option of it",
        ),
    ],
)
def test_a_tie_that_says_too_little_is_asked_back(row: tuple[str, ...], told: str) -> None:
    with pytest.raises(InputFaultsError, match=told):
        choice_problem(car(row))


def test_options_that_wait_for_each_other_are_named() -> None:
    ends = {"option": "refinish", "other_option": "refinish", "kind": "waits"}
    one = tie(subject="door", other_subject="wing", **ends)
    two = tie(subject="wing", other_subject="door", **ends)
    with pytest.raises(InputFaultsError) as caught:
        choice_problem(car(one, two))
    (fault,) = caught.value.faults
    assert (fault.file, fault.row) == ("option_links.csv", 3)
    assert "door 'refinish', wing 'refinish' wait for each other" in fault.rule


def test_an_amount_that_cannot_be_read_is_left_to_the_rule_of_its_cell() -> None:
    ends = {"kind": "needs off", "subject": "door", "option": "refinish", "trade": "panel"}
    ties = [tie(other_subject="bumper", saves_hours=hours, **ends) for hours in ("x", "2")]
    assert list(coupling_faults(car(*ties).sheets)) == []


@pytest.mark.parametrize(
    ("cells", "told"),
    [
        ({"saves_cost": "601"}, "saves_cost is '601'; it must be at most the cost of door"),
        (
            {"saves_hours": "20.5", "trade": "panel"},
            "the hours_panel of door 'refinish' in all, 20",
        ),
        ({"saves_hours": "1", "trade": "paint"}, "the hours_paint of door 'refinish' in all, 0"),
    ],
)
def test_opening_up_takes_no_more_than_the_option_in_all(cells: dict[str, str], told: str) -> None:
    fits = tie(kind="needs off", subject="wing", option="refinish", other_subject="lamp")
    row = tie(kind="needs off", subject="door", option="refinish", other_subject="bumper", **cells)
    with pytest.raises(InputFaultsError, match=told) as caught:
        choice_problem(car(fits, row))
    assert [fault.row for fault in caught.value.faults] == [3]


def test_options_that_require_each_other_are_told_and_chosen_together() -> None:
    ends = {"option": "refinish", "other_option": "refinish", "kind": "requires"}
    one = tie(subject="door", other_subject="wing", **ends)
    two = tie(subject="wing", other_subject="door", **ends)
    problem = choice_problem(car(one, two, subjects=floor("door", "4")))
    assert notices(problem) == (
        "door 'refinish', wing 'refinish' require each other in a circle: they are chosen "
        "together or not at all.",
    )
    assert choose(problem).options["wing"] == "refinish"


def test_an_option_without_hours_is_told() -> None:
    rows = (*OPTIONS.rows, ("roof", "repair", "repair", "0.9", "3", "10", "", ""))
    problem = choice_problem(car(options=Sheet(columns=OPTIONS.columns, rows=rows)))
    assert notices(problem) == (
        "roof 'repair' has no hours of any trade: it counts as no work at all.",
    )
