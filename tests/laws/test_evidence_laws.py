"""Laws of weighing: order, causes, caps, sides, and what one item can do."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from asfound.weigh.evidence import Claim, Item, weigh

_LAW = settings(max_examples=80, deadline=None)
_RATIOS = st.floats(-4, 4).map(lambda decades: 10**decades)
_ITEMS = st.lists(
    st.builds(
        Item,
        item=st.sampled_from(["a", "b", "c", "d"]),
        lr=_RATIOS,
        basis=st.sampled_from(["measured", "data", "experience", "guess"]),
        cause=st.sampled_from(["", "plate", "paper"]),
    ),
    max_size=7,
).map(tuple)


def claim(items: tuple[Item, ...]) -> Claim:
    return Claim(subject="x", statement="so", alternative="otherwise", items=items)


def log_of_all(items: tuple[Item, ...], cap: float = 100.0) -> float:
    """By the rule as it is told: cap what is by eye, keep the furthest of each cause, multiply."""
    held = [(i.cause, math.log(min(max(i.lr, 1 / cap), cap) if i.by_eye else i.lr)) for i in items]
    free = [log for cause, log in held if not cause]
    shared = [
        max((log for c, log in held if c == cause), key=lambda log: (round(abs(log), 12), -log))
        for cause in {c for c, _ in held if c}
    ]
    return math.fsum(free + shared)


@_LAW
@given(items=_ITEMS)
def test_as_the_rule_is_told(items: tuple[Item, ...]) -> None:
    assert weigh(claim(items)).log_lr == pytest.approx(log_of_all(items), abs=1e-9)


@_LAW
@given(items=_ITEMS, order=st.randoms())
def test_the_order_of_items_does_not_matter(items: tuple[Item, ...], order: object) -> None:
    mixed = list(items)
    order.shuffle(mixed)  # type: ignore[attr-defined]
    one, other = weigh(claim(items)), weigh(claim(tuple(mixed)))
    assert other.lr == pytest.approx(one.lr)
    assert other.words == one.words


@_LAW
@given(items=_ITEMS)
def test_the_other_way_about_is_the_reciprocal(items: tuple[Item, ...]) -> None:
    """Ties apart, for they go against whichever statement is asked."""
    logs = [round(abs(math.log(item.lr)), 9) for item in items]
    if len(set(logs)) < len(logs) or any(item.by_eye for item in items):
        return
    turned = tuple(replace(item, lr=1 / item.lr) for item in items)
    assert weigh(claim(turned)).log_lr == pytest.approx(-weigh(claim(items)).log_lr, abs=1e-9)


@_LAW
@given(items=_ITEMS)
def test_a_cause_never_counts_for_more_than_its_strongest(items: tuple[Item, ...]) -> None:
    one_cause = tuple(replace(item, cause="plate") for item in items)
    most = max((abs(math.log(item.lr)) for item in items), default=0.0)
    assert abs(weigh(claim(one_cause)).log_lr) <= most + 1e-9


@_LAW
@given(items=_ITEMS)
def test_probability_rises_with_the_prior_and_hinges_count(items: tuple[Item, ...]) -> None:
    weighed = weigh(claim(items))
    chances = list(weighed.posterior.values())
    assert chances == sorted(chances)
    counting = [w.item for w in weighed.items if not w.set_aside]
    assert all(hinge.item in counting for hinge in weighed.hinges)
    assert math.fsum(math.log(w.counts_lr) for w in weighed.items) == pytest.approx(
        weighed.log_lr, abs=1e-9
    )
