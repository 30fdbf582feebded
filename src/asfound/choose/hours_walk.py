"""The walk along the limit of hours of one trade that could turn the decision on one piece."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import Literal

from asfound.choose.held_to import HeldTo, Reached
from asfound.choose.turn import Turn


class HoursWalk:
    """The limit of hours of a trade, raised and lowered, everything else as it is.

    Parameters
    ----------
    held : HeldTo
    mine : str
        The piece's option.
    here : Reached
        What the choice keeps and costs.
    trade : str
    limit : float
        The brief's [h].

    Notes
    -----
    The walk is that of the limit of cost (``turning``), but that a choice may also win by costing
    less once more hours may be spent: what keeps more, or as much for less money, is looked for.
    """

    def __init__(self, held: HeldTo, *, mine: str, here: Reached, trade: str, limit: float) -> None:
        self.held, self.mine, self.here, self.trade, self.limit = held, mine, here, trade, limit
        self.rivals = held.own - {mine}
        self.hours = held.ledger.by_trade[trade]

    def more(self) -> Iterator[Turn]:
        """The least limit above the brief's at which it turns."""
        mine: Reached | None = self.here
        while mine is not None:
            at = self._first_to_beat(self.rivals, mine)
            if at is None:
                return
            rival = self.held.best_in(self.rivals, hours=self.hours, most=at)
            mine = self.held.best_in({self.mine}, hours=self.hours, most=at)
            if rival is not None and rival.beats(mine):
                yield self._turn("up", at, rival.option)
                return

    def less(self) -> Iterator[Turn]:
        """The limit below which it turns; none where nothing else is possible below."""
        top = self._first_as_good({self.mine}, self.here)
        while top is not None:
            rival = self.held.best_in(self.rivals, hours=self.hours, most=top - 1)
            if rival is None:
                return
            if rival.beats(self.held.best_in({self.mine}, hours=self.hours, most=top - 1)):
                yield self._turn("down", top, rival.option)
                return
            top = self._first_as_good({self.mine}, rival)

    def _first_to_beat(self, options: Collection[str], other: Reached) -> int | None:
        """The least hours with which a choice is better than another."""
        return self._least(
            self.held.least_hours(options, hours=self.hours, kept=other.kept + 1),
            self.held.least_hours(options, hours=self.hours, kept=other.kept, cost=other.cost - 1),
        )

    def _first_as_good(self, options: Collection[str], other: Reached) -> int | None:
        """The least hours with which a choice is as good as another or better."""
        return self._least(
            self.held.least_hours(options, hours=self.hours, kept=other.kept + 1),
            self.held.least_hours(options, hours=self.hours, kept=other.kept, cost=other.cost),
        )

    @staticmethod
    def _least(*steps: int | None) -> int | None:
        return min((step for step in steps if step is not None), default=None)

    def _turn(self, way: Literal["up", "down"], steps: int, option: str) -> Turn:
        return Turn(
            what="hours_max",
            way=way,
            at=float(self.hours.value(steps)),
            reached=way == "up",
            now=self.limit,
            option=option,
            trade=self.trade,
        )
