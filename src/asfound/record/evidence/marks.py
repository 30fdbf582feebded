"""The numbers check of a part as items of evidence."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from asfound.record.convert.number_weights import Weights
from asfound.record.convert.numbers import CarMark
from asfound.record.convert.standing import row_mark
from asfound.record.evidence.statements import FITTED
from asfound.weigh.evidence import Claim, Item
from asfound.weigh.numbers import Check, verdict_words

NUMBER, DATES = "number", "dates"


def mark_claims(marks: Iterable[CarMark], *, weights: Weights) -> Iterator[Claim]:
    """A claim for each mark that is on a part and says something of it.

    Notes
    -----
    All numbers of a part share a cause, and so do all its dates. Whoever weighs the same by hand
    writes the same cause, "number" or "dates".
    """
    for mark in marks:
        items = tuple(_items(mark, weights)) if mark.part else ()
        if items:
            yield FITTED.about(mark.part, *items)


def _items(mark: CarMark, weights: Weights) -> Iterator[Item]:
    for check in mark.judged.checks:
        lr = weights.get((check.verdict, check.against))
        if lr is not None:
            yield _item(mark, check, lr)


def _item(mark: CarMark, check: Check, lr: float) -> Item:
    kind = mark.judged.reading.kind
    about = DATES if check.against == "dates only" else NUMBER
    return Item(
        item=f"{kind} {about} {verdict_words(check.verdict, check.against)}",
        lr=lr,
        basis="guess",
        cause=about,
        note=check.why,
        derived_from=("identifiers",),
        derived_row=row_mark(mark.row.cells),
    )
