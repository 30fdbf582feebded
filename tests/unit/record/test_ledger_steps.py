"""The ledger's three steps, worked out by hand; and what is asked before a piece is left alone."""

from __future__ import annotations

import pytest

from asfound.record.convert.doubts import doubt_of
from asfound.record.convert.ledger_steps import ledger_steps
from asfound.record.convert.safety import passed_tests, safety_kind, untested_pieces
from asfound.record.convert.weeks import weeks_of
from asfound.record.folder import CarFolder, Sheet
from asfound.weigh.evidence import Claim, Item, weigh
from asfound.weigh.ledger import Decided, Piece


def piece(name: str, state: str, amount: float, later_share: float = 1.0) -> Piece:
    decided = Decided(state=state, because="made up")  # type: ignore[arg-type]
    return Piece(name=name, decided=decided, amount=amount, later_share=later_share)


PIECES = (
    piece("Wing", "O", 4.0),
    piece("door", "O", 2.0),
    piece("roof", "L", 3.0, later_share=0.5),
    piece("seat", "U", 1.0),
)


def test_what_is_kept_is_taken_from_what_was_found() -> None:
    steps = ledger_steps(PIECES, decided={"wing": 0.25, "seat": 0.5}, left={"door": 0.9})
    # Of 10 in all, 6 are original; half of the roof was not weighed, and the seat is not known.
    assert (steps.found.original, steps.found.not_known) == (0.6, 0.25)
    # 4 · 0.25 + 2 = 3; the seat keeps half of its 1 beside the roof's 1.5.
    assert (steps.decided.original, steps.decided.not_known) == (0.3, 0.2)
    # 4 + 2 · 0.9 = 5.8.
    assert steps.left.original == pytest.approx(0.58)
    assert steps.left.not_known == 0.25
    assert [(line.name, line.decided, line.left) for line in steps.pieces][:2] == [
        ("Wing", 0.25, None),
        ("door", None, 0.9),
    ]


def test_a_ledger_of_nothing_is_nothing() -> None:
    assert ledger_steps((), decided={}, left={}).found.original == 0


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("brake drums", "brakes"),
        ("Steering box", "steering"),
        ("fuel tank", "fuel"),
        ("spare wheel and tyre", "tyres"),
        ("front seat belts", "seat belts"),
        ("lifting eyes of the engine", "lifting eyes"),
        ("wiring loom", "wiring"),
        ("seat trim", ""),
        ("wheelarch carpet", ""),
    ],
)
def test_pieces_on_which_lives_hang_are_known_by_their_names(name: str, kind: str) -> None:
    assert safety_kind(CarFolder(), name) == kind


def test_a_part_marked_as_safety_is_one_and_the_last_test_counts() -> None:
    parts = Sheet(columns=("part", "name", "safety"), rows=(("P1", "hood hinge", "yes"),))
    columns = ("subject", "test", "passed", "tested_on", "by")
    tests = Sheet(
        columns=columns,
        rows=(
            ("hood hinge", "pull", "yes", "2026-01-02", "A"),
            ("hood hinge", "pull", "no", "2026-03-02", "A"),
        ),
    )
    car = CarFolder(sheets={"parts": parts, "safety_tests": tests})
    treatments = {("hood hinge", "leave"): "leave as found", ("hood hinge", "mend"): "repair"}
    assert passed_tests(car) == frozenset()
    found = untested_pieces(car, {"hood hinge": "leave"}, treatments)
    assert [(p.subject, p.kind) for p in found] == [("hood hinge", "marked as safety")]
    assert untested_pieces(car, {"hood hinge": "mend"}, treatments) == ()


def test_weeks_are_those_of_the_trade_that_takes_longest() -> None:
    columns = ("person", "trades", "hours_per_day", "days")
    rows = (
        ("A", "mechanic;painter", "8", ""),
        ("B", "painter", "6", "Mon;Tue;Wed"),
    )
    car = CarFolder(sheets={"people": Sheet(columns=columns, rows=rows)})
    # Mechanic 40 h a week, painter 40 + 18 h.
    assert weeks_of(car, {"mechanic": 60, "painter": 58}) == 1.5
    assert weeks_of(car, {"trimmer": 1}) is None
    assert weeks_of(car, {"trimmer": 0}) == 0


def test_doubt_comes_from_the_row_its_source_and_the_evidence() -> None:
    columns = ("subject", "option", "source", "doubt")
    rows = (
        ("door", "a", "quote", ""),
        ("door", "b", "guess", "0.05"),
        ("wing", "c", "", ""),
    )
    rules = Sheet(
        columns=("order", "statement", "favours", "least_lr", "state", "why"),
        rows=(
            ("1", "original finish", "statement", "10", "O", ""),
            ("2", "later work", "statement", "10", "L", ""),
        ),
    )
    car = CarFolder(sheets={"options": Sheet(columns=columns, rows=rows), "state_rules": rules})
    item = Item(item="film", lr=4.0, basis="measured")
    claims = (
        Claim(subject="door", statement="original finish", alternative="renewed", items=(item,)),
        Claim(subject="wing", statement="later work", alternative="untouched", items=(item,)),
    )
    doubt = doubt_of(car, weighed=[weigh(claim) for claim in claims])
    assert doubt.work == {("door", "a"): 0.10, ("door", "b"): 0.05, ("wing", "c"): 0.25}
    # A ratio of 4 at even odds is 4 / 5.
    assert doubt.original == {"door": pytest.approx(0.8), "wing": pytest.approx(0.2)}
