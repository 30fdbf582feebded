"""A number at which a decision turns, and all of them for one piece."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from asfound.choose.words import number

Number = Literal["cost_max", "hours_max", "weight", "cost", "other_cost"]
"""The limit of cost, that of hours of a trade, the piece's weight, what its option costs, what the
other option costs."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """One number at which a decision turns, everything else as it is.

    Parameters
    ----------
    what : {"cost_max", "hours_max", "weight", "cost", "other_cost"}
        The number that moves.
    way : {"up", "down"}
    at : float
        Up to here the decision holds.
    reached : bool
        True when it turns at ``at`` itself, False when only beyond it.
    now : float or None
        Where the number stands; None where there is no limit yet.
    option : str
        What the piece takes then; of several that are as good, one.
    trade : str
        Whose hours the limit is of; empty for every other number.
    """

    what: Number
    way: Literal["up", "down"]
    at: float
    reached: bool
    now: float | None
    option: str
    trade: str = ""

    @property
    def words(self) -> str:
        """The turn in words, with its number."""
        at, name = _figure(self.at, self.what), f"to '{self.option}' when "
        now = "" if self.now is None else f" (now {_figure(self.now, self.what)})"
        if self.what == "cost_max":
            return f"{name}the limit of cost {self._moved(at)}{now}"
        if self.what == "hours_max":
            now = now.replace(")", " h)")
            return f"{name}the limit of hours of {self.trade} {self._moved(f'{at} h')}{now}"
        if self.what == "weight":
            moved = "rises above" if self.way == "up" else "falls below"
            return f"{name}its weight {moved} {at}{now}"
        if self.what == "cost":
            return f"{name}this option costs more than {at}{now}"
        return f"{name}that costs {f'{at} or less' if self.reached else f'less than {at}'}{now}"

    def _moved(self, at: str) -> str:
        return f"rises to {at}" if self.way == "up" else f"falls below {at}"


def _figure(value: float, what: Number) -> str:
    """A weight to three telling digits, for it is judged by eye; money as it is."""
    return number(float(f"{value:.3g}") if what == "weight" else value)


@dataclass(frozen=True, slots=True, kw_only=True)
class Turning:
    """Every number at which the decision on one piece turns.

    Parameters
    ----------
    subject, option : str
    turns : tuple of Turn
        A number that is not here never turns it, however far it moves, if all is ``proved``.
    proved : bool
        False when time ran out before every number was found; those here are exact all the same.
    """

    subject: str
    option: str
    turns: tuple[Turn, ...]
    proved: bool
