"""Causes, caps, conditions and hinges of a claim."""

from __future__ import annotations

import math

import pytest

from asfound.base import InputError
from asfound.weigh.evidence import (
    Claim,
    DeclaredPrior,
    Item,
    Weighed,
    base_rate_warning,
    weigh,
)


def item(words: str, lr: float, **more: str) -> Item:
    return Item(item=words, lr=lr, **{"basis": "data", **more})  # type: ignore[arg-type]


def weighed(*items: Item, **more: object) -> Weighed:
    claim = Claim(
        subject="engine block",
        statement="fitted when built",
        alternative="fitted later",
        items=items,
    )
    return weigh(claim, **more)  # type: ignore[arg-type]


def test_a_claim_without_items_is_neutral() -> None:
    assert weighed().lr == 1.0
    assert weighed().words.startswith("neutral")


def test_of_one_cause_the_strongest_counts_whatever_its_side() -> None:
    result = weighed(item("a", 6, cause="number"), item("b", 0.05, cause=" Number "))
    assert result.lr == 0.05
    assert [i.counts_lr for i in result.items] == [1.0, 0.05]
    assert result.items[0].set_aside == "shares its cause with “b”, which is stronger"


def test_equally_strong_against_comes_first_in_any_order() -> None:
    items = [item("a", 20, cause="x"), item("b", 1 / 20, cause="x")]
    assert weighed(*items).lr == weighed(*reversed(items)).lr == 0.05


def test_a_ratio_by_eye_is_capped_and_a_measured_one_is_not() -> None:
    assert weighed(item("a", 5000, basis="experience")).lr == 100.0
    assert weighed(item("a", 1 / 5000, basis="guess")).lr == 0.01
    assert weighed(item("a", 5000, basis="measured")).lr == 5000.0
    assert weighed(item("a", 5000, basis="guess"), eye_cap=20.0).lr == 20.0
    assert weighed(item("a", 5000, basis="guess")).items[0].is_capped


def test_the_cap_comes_before_the_choice_within_a_cause() -> None:
    result = weighed(item("seen", 5000, basis="guess", cause="x"), item("read", 200, cause="x"))
    assert result.lr == 200.0


def test_a_chain_counts_as_one_ratio_among_its_cause() -> None:
    chain = (item("a", 4, cause="x"), item("b", 3, cause="x", given="a"))
    assert weighed(*chain, item("c", 10, cause="x")).lr == 12.0
    assert weighed(*chain, item("c", 15, cause="x")).lr == 15.0


@pytest.mark.parametrize(
    "items",
    [
        (item("b", 3, cause="x", given="a"),),
        (item("a", 3, cause="y"), item("b", 3, cause="x", given="a")),
        (
            item("a", 3, cause="x"),
            item("b", 3, cause="x", given="a"),
            item("c", 3, cause="x", given="a"),
        ),
        (item("a", 3, cause="x", given="b"), item("b", 3, cause="x", given="a")),
    ],
)
def test_a_condition_that_cannot_carry_is_refused(items: tuple[Item, ...]) -> None:
    with pytest.raises(InputError, match="given"):
        weighed(*items)


def test_hinges_are_items_whose_loss_changes_the_words() -> None:
    result = weighed(item("a", 12), item("b", 20), item("c", 1.1))
    assert [(h.item.item, h.words_without) for h in result.hinges] == [
        ("a", "moderate support for fitted when built"),
        ("b", "moderate support for fitted when built"),
    ]


def test_the_next_of_its_cause_steps_in_for_a_hinge() -> None:
    safe = weighed(item("a", 30, cause="x"), item("b", 20, cause="x"))
    assert safe.hinges == ()
    alone = weighed(item("a", 30, cause="x"), item("b", 3, cause="x"))
    assert [h.words_without for h in alone.hinges] == ["weak support for fitted when built"]


def test_an_item_stated_given_a_lost_one_goes_with_it() -> None:
    result = weighed(item("a", 40, cause="x"), item("b", 4, cause="x", given="a"))
    assert {h.item.item: h.words_without.split(" support")[0] for h in result.hinges} == {
        "a": "neutral: does not",
        "b": "moderate",
    }


def test_ten_times_ten_stands_on_the_edge_of_its_band() -> None:
    assert weighed(*(item(f"{n}", 10) for n in range(3))).words.startswith("strong support")


def test_what_no_number_can_hold_is_told_at_its_limit() -> None:
    result = weighed(*(item(f"{n}", 1e200) for n in range(3)))
    assert result.lr == 1e300
    assert result.posterior[0.1] == 1.0
    assert result.words.startswith("extremely strong")


@pytest.mark.parametrize("lr", [0.0, -2.0, math.inf, math.nan])
def test_no_ratio(lr: float) -> None:
    with pytest.raises(InputError, match="lr"):
        item("a", lr)


def test_two_statements_must_differ() -> None:
    with pytest.raises(InputError, match="alternative"):
        Claim(subject="x", statement="Fitted later", alternative="fitted  later")


def test_a_declared_prior_needs_a_reason_and_is_shown_beside() -> None:
    with pytest.raises(InputError, match="reason"):
        DeclaredPrior(prior=0.3, reason=" ")
    with pytest.raises(InputError, match="prior"):
        DeclaredPrior(prior=1.0, reason="sure")
    prior = DeclaredPrior(prior=0.75, reason="three of the four known cars have theirs")
    result = weighed(item("a", 3), declared=prior)
    assert result.declared_posterior == pytest.approx(9 / 10)


def test_the_warning_speaks_of_the_side_that_has_support() -> None:
    assert "“fitted later” is then 91 %" in base_rate_warning(weighed(item("a", 1 / 1000)))
