"""States by rule, and the shares that pieces come to."""

from __future__ import annotations

import pytest

from asfound.base import InputError
from asfound.weigh.evidence import Claim, Item, Weighed, weigh
from asfound.weigh.ledger import (
    AS_WRITTEN,
    STATES,
    SUPPLIED,
    Decided,
    Piece,
    StateRule,
    account,
    decide,
)


def claim(lr: float, statement: str = "fitted when built", other: str = "fitted later") -> Weighed:
    item = Item(item="seen", lr=lr, basis="data")
    return weigh(Claim(subject="x", statement=statement, alternative=other, items=(item,)))


@pytest.mark.parametrize(
    ("lr", "state"), [(400, "O"), (10, "O"), (9.99, "U"), (1, "U"), (0.11, "U"), (0.1, "L")]
)
def test_moderate_support_decides(lr: float, state: str) -> None:
    assert decide([claim(lr)]).state == state


def test_what_it_is_made_of_comes_before_where_it_was_fitted() -> None:
    late = claim(0.01, "made in period", "made later")
    anew = claim(50, "made anew to the old pattern", "made in period")
    period = claim(50, "Made in  period", "made later")
    assert decide([claim(100), late]).state == "L"
    assert decide([claim(100), anew]).state == "R"
    assert decide([claim(0.01), period]).state == "P"
    assert decide([claim(100), period]).state == "O"


def test_nothing_weighed_is_not_known_whatever_a_person_wrote() -> None:
    found = decide([], written="original and in place")
    assert (found.state, found.because) == ("U", "nothing was weighed")
    trusting = (StateRule(statement=AS_WRITTEN, favours="statement", least_lr=1, state="U"),)
    assert decide([], rules=trusting, written="Original and in place").state == "O"
    assert decide([], rules=trusting, written="worn").state == "U"


def test_a_persons_word_is_enough_for_missing() -> None:
    assert decide([claim(500)], written="missing").state == "M"


def test_too_little_names_the_strongest_that_there_is() -> None:
    found = decide([claim(2.5), claim(0.2, "made in period", "made later")])
    assert found.because == "too little for a rule: weak support for made later"


def test_the_workshops_rule_decides() -> None:
    strict = (
        StateRule(statement="fitted when built", favours="statement", least_lr=1000, state="O"),
    )
    assert decide([claim(400)], rules=strict).state == "U"
    with pytest.raises(InputError, match="least_lr"):
        StateRule(statement="x", favours="statement", least_lr=0.5, state="O")
    with pytest.raises(InputError, match="state"):
        StateRule(statement="x", favours="statement", least_lr=2, state="Q")  # type: ignore[arg-type]


def piece(state: str, amount: float, later_share: float = 1.0) -> Piece:
    decided = Decided(state=state, because="")  # type: ignore[arg-type]
    return Piece(name=state, decided=decided, amount=amount, later_share=later_share)


def test_shares_add_up_and_not_known_is_its_own() -> None:
    found = account([piece("O", 2), piece("L", 1), piece("U", 4), piece("M", 1)])
    assert [share.state for share in found.shares] == list(STATES)
    assert sum(share.share for share in found.shares) == pytest.approx(1)
    assert (found.original, found.not_known) == (0.25, 0.5)


def test_the_rest_of_a_panel_with_local_work_is_not_known() -> None:
    found = account([piece("L", 10, later_share=0.3)])
    assert {s.state: s.share for s in found.shares if s.share} == pytest.approx(
        {"L": 0.3, "U": 0.7}
    )
    assert found.pieces_n == 1


def test_an_empty_ledger_has_no_shares() -> None:
    assert account([]).original == 0.0
    assert account([piece("O", 0)]).original == 0.0


def test_amounts_are_checked() -> None:
    with pytest.raises(InputError, match="amount"):
        piece("O", -1)
    with pytest.raises(InputError, match="later_share"):
        piece("L", 1, later_share=0)


def test_every_rule_supplied_tells_itself() -> None:
    assert all(rule.words.startswith(f"{rule.state}: “") for rule in SUPPLIED)
