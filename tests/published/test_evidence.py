"""Weights of evidence against published rules and worked numbers."""

from __future__ import annotations

import math

import numpy as np
import pytest

from asfound.weigh.evidence import Claim, Item, Weighed, posterior, weigh
from asfound.weigh.evidence.posterior import PRIORS


def _weigh(*items: tuple[float, str, str], basis: str = "data") -> Weighed:
    return weigh(
        Claim(
            subject="gearbox",
            statement="fitted when built",
            alternative="fitted later",
            items=tuple(
                Item(item=f"item {n}", lr=lr, basis=basis, cause=cause, given=given)  # type: ignore[arg-type]
                for n, (lr, cause, given) in enumerate(items)
            ),
        )
    )


@pytest.mark.source(
    "Bayes' rule in odds form, as in the RSS practitioner guide no. 1; arithmetic by hand: "
    "10 × 20 × 0.5 = 100, 100/101 = 0.990099"
)
def test_independent_items_multiply() -> None:
    weighed = _weigh((10.0, "", ""), (20.0, "", ""), (0.5, "", ""))
    assert weighed.lr == 100.0
    assert weighed.posterior[0.5] == pytest.approx(100 / 101, abs=5e-7)


@pytest.mark.source("Bayes' rule in odds form; arithmetic by hand: 20/21, 10.101/11.101, 500/1.8")
def test_priors_move_the_probability() -> None:
    assert posterior(log_lr=math.log(20), prior=0.5) == pytest.approx(0.952381, abs=5e-7)
    assert posterior(log_lr=math.log(1000), prior=0.01) == pytest.approx(0.909918, abs=5e-7)
    weighed = _weigh((50.0, "", ""), (10.0, "", ""))
    assert weighed.posterior[0.9] == pytest.approx(0.999778, abs=5e-7)
    assert weighed.posterior[0.1] == pytest.approx(0.982318, abs=5e-7)


@pytest.mark.source(
    "Chain rule of probability; the case: P(E1|H)=.95 and .2, P(E2|H)=.95 and .2, "
    "P(E2|E1) under the alternative .8; by hand 4.75 × 0.95/0.8 = 5.640625"
)
def test_items_of_one_cause() -> None:
    naive = _weigh((4.75, "", ""), (4.75, "", ""))
    assert naive.lr == 22.5625
    assert naive.words == "moderate support for fitted when built"
    conditional = _weigh((4.75, "plate", ""), (0.95 / 0.8, "plate", "item 0"))
    assert conditional.lr == 5.640625
    assert conditional.words == "weak support for fitted when built"
    strongest = _weigh((4.75, "plate", ""), (4.75, "plate", ""))
    assert strongest.lr == 4.75


@pytest.mark.source("ENFSI guideline for evaluative reporting, 2015: read from the reciprocal")
def test_below_one_supports_the_alternative() -> None:
    assert _weigh((1 / 500, "", "")).words == "moderately strong support for fitted later"
    assert _weigh((0.5, "", "")).words.startswith("neutral")


@pytest.mark.source(
    "Turing's rule P(LR > x, alternative true) <= 1/x, "
    "as the NIJ summary of likelihood ratios tells it"
)
def test_turings_rule_by_simulation() -> None:
    """Known-false cases: four independent signs drawn as the alternative has them."""
    rng = np.random.default_rng(11)
    p_true, p_false = np.array([0.95, 0.6, 0.8, 0.5]), np.array([0.2, 0.3, 0.1, 0.45])
    found = rng.random((20_000, 4)) < p_false
    ratios = np.where(found, p_true / p_false, (1 - p_true) / (1 - p_false))
    patterns, counts = np.unique(ratios, axis=0, return_counts=True)
    lrs = np.repeat([_weigh(*((lr, "", "") for lr in row)).lr for row in patterns], counts)
    assert lrs.mean() == pytest.approx(1.0, abs=5 * lrs.std() / math.sqrt(len(lrs)))
    for x in (1.5, 2.0, 5.0, 10.0, 20.0, 50.0):
        share = (lrs > x).mean()
        assert share <= 1 / x + 4 * math.sqrt(share * (1 - share) / len(lrs))


# Whether each of two signs of one plate is there, and how often under either statement.
SIGNS = [(True, True), (True, False), (False, True), (False, False)]
ALONE = {True: 0.95 / 0.2, False: 0.05 / 0.8}
GIVEN = {
    (True, True): 0.95 / 0.8,
    (True, False): 0.05 / 0.2,
    (False, True): 0.95 / 0.05,
    (False, False): 0.05 / 0.95,
}


@pytest.mark.source("Turing's rule P(LR > x | alternative) <= 1/x, on the two signs of one plate")
@pytest.mark.parametrize(
    ("cause", "condition", "keeps"),
    [("", "", False), ("plate", "", True), ("plate", "item 0", True)],
)
def test_turings_rule_finds_out_a_product_of_one_cause(
    cause: str, condition: str, keeps: bool
) -> None:
    """The product of two signs that go together breaks the rule; one cause keeps it."""
    rng = np.random.default_rng(12)
    first = rng.random(20_000) < 0.2
    second = rng.random(20_000) < np.where(first, 0.8, 0.05)
    lrs = {
        (a, b): _weigh(
            (ALONE[a], cause, ""), (GIVEN[a, b] if condition else ALONE[b], cause, condition)
        ).lr
        for a, b in SIGNS
    }
    drawn = np.array([lrs[a, b] for a, b in zip(first.tolist(), second.tolist(), strict=True)])
    kept = [(drawn > x).mean() <= 1 / x for x in (1.5, 2.0, 4.0, 5.0, 10.0, 18.0)]
    assert all(kept) is keeps


def test_priors_shown_are_the_three_that_the_words_need() -> None:
    assert PRIORS == (0.1, 0.5, 0.9)
    assert tuple(_weigh((3.0, "", "")).posterior) == PRIORS
