"""What the workshop's table offers, with what its own finished work says of the hours."""

from __future__ import annotations

from dataclasses import dataclass

from asfound.plan import Past
from asfound.record.convert.past_hours import PastHours, past_hours, with_past_hours
from asfound.record.convert.proposed_options import ProposedOption, as_proposed
from asfound.record.folder import CarFolder


@dataclass(frozen=True, slots=True)
class Offer:
    """An option as the table makes it, and its hours as the past says."""

    option: ProposedOption
    past: tuple[PastHours, ...]

    @property
    def learned(self) -> dict[str, str]:
        """The row with the hours of the past where there are any."""
        return with_past_hours(self.option.cells, self.past) if self.past else self.option.cells


def untouched_offers(folder: CarFolder, past: Past) -> list[Offer]:
    """Options of the record that still have the table's hours, with what the past says of them."""
    return [Offer(one, past_hours(one.cells, past)) for one in as_proposed(folder)]
