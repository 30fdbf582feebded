"""The presets against what the charters say of their terms."""

from __future__ import annotations

from dataclasses import replace

import pytest

from asfound.base import NoSolutionError
from asfound.choose import PRESETS, Brief, Option, Problem, Subject, choose, fill_in

WAYS = (
    ("leave as found", 1.0, 1.0),
    ("stabilise", 0.98, 2.0),
    ("repair", 0.9, 2.6),
    ("refinish", 0.1, 5.0),
)


def chosen(name: str, *, evidence: bool = False, asked: float = 0.0) -> str:
    """What a preset does with a wing; ``asked`` is a finish that the owner wants besides."""
    limits = fill_in(PRESETS[name], zones=["outside"])
    brief = Brief(
        min_grade={"outside": max(asked, limits.min_grade.get("outside", 0.0))},
        untouched=frozenset(limits.untouched),
        needs_evidence=frozenset(limits.needs_evidence),
    )
    wing = Subject(subject="wing", zone="outside", has_evidence=evidence)
    options = tuple(
        Option(subject="wing", option=way, treatment=way, kept=kept, grade=grade, cost=1)
        for way, kept, grade in WAYS
    )
    return choose(Problem(subjects=(wing,), options=options, brief=brief)).options["wing"]


@pytest.mark.from_memory
@pytest.mark.source(
    "Venice Charter 1964, Art. 9: restoration must stop at the point where conjecture begins"
)
def test_restoration_stops_where_conjecture_begins() -> None:
    assert chosen("restore with evidence") == "repair"
    with pytest.raises(NoSolutionError, match="cannot hold together"):
        chosen("restore with evidence", asked=4)
    assert chosen("restore with evidence", asked=4, evidence=True) == "refinish"


@pytest.mark.source(
    "FIVA Turin Charter 2012, draft text: preservation keeps the present condition; conservation "
    "secures and stabilises as long as historic substance is not altered"
)
def test_preservation_changes_nothing_and_conservation_stabilises() -> None:
    assert chosen("preserve") == "leave as found"
    with pytest.raises(NoSolutionError):
        chosen("preserve", asked=2)
    assert chosen("conserve", asked=2) == "stabilise"
    with pytest.raises(NoSolutionError):
        chosen("conserve", asked=4)


@pytest.mark.source(
    "FIVA Turin Charter 2012, draft text: renovation seeks a factory-new look at the expense of "
    "historic substance"
)
def test_renewal_goes_at_the_expense_of_substance() -> None:
    assert chosen("renew") == "refinish"


def test_a_zone_is_given_no_floor_that_a_piece_cannot_reach() -> None:
    wing = Subject(subject="wing", zone="outside")
    badge = Subject(subject="badge", zone="outside")
    ways = {"wing": (1.0, 4.5), "badge": (1.0, 1.5)}
    problem = Problem(
        subjects=(wing, badge),
        options=tuple(
            Option(subject=name, option=f"{grade}", treatment="repair", kept=1, grade=grade, cost=1)
            for name, grades in ways.items()
            for grade in grades
        ),
    )
    limits = fill_in(PRESETS["renew"], zones=["outside", "cabin"], problem=problem)
    assert limits.min_grade == {"outside": 1.5, "cabin": 4.0}
    assert limits.held_down == {"outside": "badge"}
    brief = Brief(min_grade={"outside": limits.min_grade["outside"]})
    assert set(choose(replace(problem, brief=brief)).options) == {"wing", "badge"}


def test_a_floor_that_lives_hang_on_is_not_lowered() -> None:
    limits = fill_in(PRESETS["preserve"], zones=["brakes", "cabin"], least={"brakes": 3.0})
    assert limits.min_grade == {"brakes": 3.0}
