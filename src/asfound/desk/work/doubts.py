"""What gives pause when a card is called done: a result that lies outside, a clock that slept."""

from __future__ import annotations

from collections.abc import Iterator

from asfound.desk.work.card import Opened
from asfound.plan import Hours
from asfound.plan.pert import mean_of
from asfound.record.convert.past import is_far
from asfound.record.convert.work_words import hours_words, is_out, result_words
from asfound.record.reads.worked import on_card


def doubts_of(here: Opened) -> Iterator[str]:
    """Each in a sentence; none where all is as it was thought to be."""
    card = here.card
    for row in on_card(here.car, "results", card.task):
        if row.counts and is_out(row.cells):
            yield f"{card.name}: {result_words(row.cells)}. Look at it again before it is used."
    thought = mean_of(Hours(low=card.low, likely=card.likely, high=card.high)) * card.people
    if thought > 0 and is_far(worked_h=card.work.hours, estimate_h=thought):
        yield (
            f"{card.name}: {hours_words(card.work.hours)} worked, where {thought:.0f} h were "
            "thought. If the clock did not run, correct the time on the card; until then "
            "estimates do not learn from it."
        )
