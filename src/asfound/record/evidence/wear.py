"""Wear of a part against the car's age as an item of evidence."""

from __future__ import annotations

from collections.abc import Iterator

from asfound.record.convert.standing import row_mark
from asfound.record.convert.wear import PartWear, wears_of
from asfound.record.evidence.statements import FITTED
from asfound.record.folder import CarFolder
from asfound.weigh.evidence import Claim, Item
from asfound.weigh.wear import wear_lr

CAUSE = "wear"
"""One use wears all of a part; whoever weighs its wear by hand writes the same cause."""


def wear_claims(car: CarFolder) -> Iterator[Claim]:
    """A claim for each wear whose exposure is known."""
    for wear in wears_of(car):
        if wear.exposure is not None:
            yield FITTED.about(wear.part, _item(wear, wear.exposure))


def _item(wear: PartWear, exposure: float) -> Item:
    unit = "years" if wear.per == "year" else "thousand km"
    ratio = wear_lr(wear=wear.wear_mm, exposure=exposure, rate=wear.rate)
    return Item(
        item=f"{wear.item}: {wear.wear_mm.value:g} mm worn",
        lr=float(f"{ratio:.6g}"),
        basis="measured",
        cause=CAUSE,
        note=f"{wear.rate.least:g} to {wear.rate.most:g} mm per {wear.per} expected over "
        f"{exposure:.0f} {unit}",
        derived_from=("wear",),
        derived_row=row_mark(wear.row.cells),
    )
