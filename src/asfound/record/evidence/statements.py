"""The pairs of statements that the program itself weighs."""

from __future__ import annotations

from dataclasses import dataclass

from asfound.weigh.evidence import Claim, Item


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """A statement and the alternative that it is weighed against."""

    statement: str
    alternative: str

    def about(self, subject: str, *items: Item) -> Claim:
        """The claim on that subject."""
        return Claim(
            subject=subject, statement=self.statement, alternative=self.alternative, items=items
        )


FINISH = Pair(statement="undisturbed since built", alternative="later work")
"""What film and colour of a panel speak to."""
FITTED = Pair(statement="fitted when built", alternative="fitted later")
"""What numbers, date marks and wear of a part speak to."""
