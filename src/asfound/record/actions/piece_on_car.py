"""Which panel and which part of the car a piece of the choice is."""

from __future__ import annotations

from typing import Any

from django.db import transaction

from asfound.base import InputError
from asfound.record.actions.piece_row import keep_row, row_of_piece
from asfound.record.actions.turn import take_turn
from asfound.record.actions.who import check_may_write
from asfound.record.log import write_entry
from asfound.record.models import Car


@transaction.atomic
def set_piece_on_car(*, car: Car, subject: str, panel: str, part: str, by: Any) -> None:
    """Panel and part that the piece is from now on; an empty one is its own name again.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If the car has no option for such a piece, no such panel or no such part.
    """
    check_may_write(by)
    take_turn(car)
    row = row_of_piece(car, subject)
    if panel and not car.panels.filter(panel=panel).exists():
        raise InputError(field="panel", got=panel, allowed="one of the car's panels")
    if part and not car.parts.filter(part=part).exists():
        raise InputError(field="part", got=part, allowed="one of the car's parts")
    said = {"panel": panel, "part": part}
    before = {name: row.extra.get(name, "") for name in said}
    if before == said:
        return
    rest = {name: cell for name, cell in row.extra.items() if name not in said}
    row.extra = rest | {name: cell for name, cell in said.items() if cell}
    keep_row(row, columns=tuple(said))
    write_entry(
        action="set piece on the car",
        by=by,
        car=car,
        before={"subject": subject, **before},
        after={"subject": subject, **said},
    )
