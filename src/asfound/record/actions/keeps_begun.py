"""What a proposal may say of pieces on which work has begun."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from asfound.base import InputError
from asfound.record.convert.begun import Begun, begun_pieces
from asfound.record.convert.stored import folder_of
from asfound.record.models import Car


def changed_though_begun(car: Car, options: Mapping[str, str]) -> dict[str, Begun]:
    """Pieces that were begun under one option and are to have another."""
    held = dict(car.decisions.current().values_list("subject", "option"))
    return {
        subject: begun
        for subject, begun in begun_pieces(folder_of(car)).items()
        if subject in options and held.get(subject, options[subject]) != options[subject]
    }


def check_keeps_begun(
    *, car: Car, pieces: Iterable[Mapping[str, Any]], is_change_order: bool
) -> None:
    """Raise where a proposal changes what was begun without being a change order that tells it.

    Raises
    ------
    InputError
        If it is no change order, or it does not tell that the work has begun.
    """
    told = {piece["subject"]: piece for piece in pieces}
    changed = changed_though_begun(car, {s: piece["option"] for s, piece in told.items()})
    untold = {s: one for s, one in changed.items() if told[s].get("begun") != one.words}
    wrong = untold if is_change_order else changed
    if wrong:
        raise InputError(
            field="pieces",
            got="; ".join(f"{subject}: {one.words}" for subject, one in wrong.items()),
            allowed="as they were begun, or changed by a change order that says so",
            remedy="Make it anew."
            if is_change_order
            else "Propose them as they were begun; once that is signed, send a change order.",
        )
