"""The balance of a claim and the bars of the ledger: told apart without colour."""

from __future__ import annotations

import re

import pytest

from asfound.dossier.figures import balance_svg, lean_svg, shares_svg
from asfound.dossier.figures.balance_bar import MIDDLE, SPAN, Scale
from asfound.weigh.evidence import Claim, Item, Weighed, weigh
from asfound.weigh.ledger import Decided, Piece, account


def weighed(*items: tuple[str, float, str]) -> Weighed:
    return weigh(
        Claim(
            subject="wing <left>",
            statement="fitted when built",
            alternative="fitted later",
            items=tuple(Item(item=w, lr=lr, basis="data", cause=c) for w, lr, c in items),
        )
    )


def rects(svg: str) -> list[tuple[float, float]]:
    """Place and width of every bar, without the neutral band."""
    found = re.findall(r'<rect x="([\d.]+)" y="[\d.]+" width="([\d.]+)" height="13"', svg)
    return [(float(x), float(w)) for x, w in found]


def test_bars_begin_where_the_one_before_ended_and_add_as_ratios_multiply() -> None:
    svg = balance_svg(weighed(("a", 10, ""), ("b", 10, ""), ("c", 0.1, "")))
    decade = SPAN / 2
    assert rects(svg) == [
        pytest.approx((MIDDLE, decade)),
        pytest.approx((MIDDLE + decade, decade)),
        pytest.approx((MIDDLE + decade, decade)),
    ]


def test_against_is_striped_and_aside_is_dashed() -> None:
    assert "dasharray" not in balance_svg(weighed(("a", 10, "")))
    striped = re.compile(r"M[\d.]+ [\d.]+v13M")
    assert striped.search(balance_svg(weighed(("a", 0.1, ""))))
    assert not striped.search(balance_svg(weighed(("a", 10, ""))))
    aside = balance_svg(weighed(("a", 10, "x"), ("b", 3, "x")))
    assert "dasharray" in aside
    assert "3, set aside" in aside


def test_words_are_escaped_and_tell_the_result() -> None:
    svg = balance_svg(weighed(("seen", 30, "")))
    assert "wing &lt;left&gt;: moderate support for fitted when built" in svg
    assert "style=" not in svg


def test_what_is_beyond_the_drawing_stands_at_its_edge() -> None:
    scale = Scale.of([12.0])
    assert scale.x(12.0) == scale.x(6.0) == MIDDLE + SPAN
    assert scale.is_beyond(12.0)
    assert 'class="lean"' in lean_svg(weighed(("a", 1e12, "")))


def test_shares_fill_the_bar_each_with_a_pattern_of_its_own() -> None:
    pieces = [
        Piece(name=s, decided=Decided(state=s, because=""), amount=1.0)  # type: ignore[arg-type]
        for s in "OPLRUM"
    ]
    svg = shares_svg([("by part", account(pieces))])
    # A letter where the name has no room.
    words = ["original", "period", "later", "R", "not known", "missing"]
    assert [word for word in words if f">{word}</text>" in svg] == words
    assert "by part" in svg
