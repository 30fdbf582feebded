"""The states that a piece may be in as it was found, and the rules that tell them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from asfound.base import InputError
from asfound.weigh.evidence import Weighed, same_words

State = Literal["O", "P", "L", "R", "U", "M"]
STATES: Mapping[str, str] = MappingProxyType(
    {
        "O": "original and in place",
        "P": "period",
        "L": "later",
        "R": "reproduction",
        "U": "undetermined",
        "M": "missing",
    }
)
"""O: held to have been fitted when built. P: right specification and age, not shown to be fitted
when built. L: later than the period. R: new-made to the old specification. U: the evidence is
neutral, too weak for the rule, or there is none. M: absent."""
AS_WRITTEN = "as written"
"""A rule with these words in the place of a statement takes the state that a person wrote."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StateRule:
    """When a piece is in a state: a statement on it that has at least so much support.

    Parameters
    ----------
    statement : str
        Statement of a claim, whatever its alternative; ``AS_WRITTEN`` for what a person wrote.
    favours : {"statement", "alternative"}
        Which of the two must have the support.
    least_lr : float
        The least support, as a ratio of 1 or more in favour of that side.
    state : str
        One of ``STATES``.
    why : str
        The reason in words, or whose rule it is.
    """

    statement: str
    favours: Literal["statement", "alternative"]
    least_lr: float
    state: State
    why: str = ""

    def __post_init__(self) -> None:
        if not (math.isfinite(self.least_lr) and self.least_lr >= 1):
            raise InputError(field="least_lr", got=self.least_lr, allowed="1 or more and finite")
        if self.state not in STATES:
            raise InputError(field="state", got=self.state, allowed=", ".join(STATES))

    @property
    def words(self) -> str:
        """The rule in words."""
        if self.statement == AS_WRITTEN:
            return f"{self.state}: as a person wrote it"
        side = "has" if self.favours == "statement" else "is opposed by"
        return f"{self.state}: “{self.statement}” {side} support of {self.least_lr:g} or more"


_MODERATE = 10.0
"""Below moderate support nothing is decided (a choice of ours, no source)."""


def _rule(state: State, favours: str, *statements: str) -> tuple[StateRule, ...]:
    return tuple(
        StateRule(statement=s, favours=favours, least_lr=_MODERATE, state=state)  # type: ignore[arg-type]  # one of the two words, below
        for s in statements
    )


_AS_BUILT = (
    "fitted when built",
    "covered when built",
    "finished when built",
    "undisturbed since built",
)
SUPPLIED: tuple[StateRule, ...] = (
    *_rule("R", "statement", "made anew to the old pattern"),
    *_rule("L", "alternative", "made in period"),
    *_rule("O", "statement", *_AS_BUILT),
    *_rule("P", "statement", "made in period"),
    *_rule("L", "alternative", *_AS_BUILT),
)
"""The rules where a workshop has none of its own, the first that holds deciding: what a piece is
made of comes before where it was fitted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Decided:
    """State of a piece, the rule that gave it and the weighed claim that it rests on.

    ``rule`` and ``claim`` are ``None`` where no rule holds, or the piece is not there.
    """

    state: State
    because: str
    rule: StateRule | None = None
    claim: Weighed | None = None


def decide(
    claims: Sequence[Weighed], *, rules: Iterable[StateRule] = SUPPLIED, written: str = ""
) -> Decided:
    """State of a piece from the weights of what is claimed of it.

    Parameters
    ----------
    claims : sequence of Weighed
        Those on the piece.
    rules : iterable of StateRule
        In order; the first that holds decides.
    written : str
        State that a person wrote down, as a word or a letter of ``STATES``; empty for none.

    Notes
    -----
    That a piece is missing is seen, not weighed, so a person's word is enough for it alone.
    """
    written_state = state_of_words(written)
    if written_state == "M":
        return Decided(state="M", because="a person found it absent")
    for rule in rules:
        if rule.statement == AS_WRITTEN:
            if written_state is not None:
                return Decided(state=written_state, because="as a person wrote it", rule=rule)
            continue
        for weighed in claims:
            if _holds(rule, weighed):
                return Decided(state=rule.state, because=weighed.words, rule=rule, claim=weighed)
    if not claims:
        return Decided(state="U", because="nothing was weighed")
    strongest = max(claims, key=lambda weighed: abs(weighed.log_lr))
    return Decided(state="U", because=f"too little for a rule: {strongest.words}", claim=strongest)


def state_of_words(text: str) -> State | None:
    """State that a word or letter names; ``None`` for none of them.

    Examples
    --------
    >>> state_of_words("Original and in place"), state_of_words("L"), state_of_words("worn")
    ('O', 'L', None)
    """
    words = same_words(text)
    found = (code for code, name in STATES.items() if words in (name, code.casefold()))
    return next(found, None)  # type: ignore[arg-type]  # keys are the letters of State


def _holds(rule: StateRule, weighed: Weighed) -> bool:
    if same_words(weighed.claim.statement) != same_words(rule.statement):
        return False
    support = weighed.lr if rule.favours == "statement" else 1 / weighed.lr
    return support >= rule.least_lr * (1 - 1e-12)
