"""A published band turned into a row of a car's evidence by a person, and taken back."""

from __future__ import annotations

import math
from typing import Any

from django.db import transaction

from asfound.base import InputError
from asfound.record.actions.observation import widen_head
from asfound.record.actions.turn import take_turn
from asfound.record.actions.who import check_may_write
from asfound.record.convert.film_base import band_of
from asfound.record.log import write_entry
from asfound.record.models import Car, FilmBand, KeptSheet

UNDISTURBED = "undisturbed since built"
LATER_WORK = "carries later work"
BASES = ("data", "guess")
_TABLE = "evidence"


@transaction.atomic
def use_band_as_evidence(
    *, car: Car, row: FilmBand, subject: str, read: str, lr: float, basis: str, reason: str, by: Any
) -> dict[str, str]:
    """Row of the car's evidence that a person made of a band.

    Parameters
    ----------
    car : Car
    row : FilmBand
        A band that counts.
    subject : str
        What it speaks of: a panel, or the finish as a whole.
    read : str
        The reading that stands beside the band, in words.
    lr : float
        The person's likelihood ratio for "undisturbed since built" against "carries later
        work", above zero.
    basis : {"data", "guess"}
    reason : str
        Why that ratio.
    by : user or None

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If the band counts no longer, the ratio is not above zero, a word is missing, or the
        same item is entered already.

    Notes
    -----
    The item's cause is the band's source: items that share a cause are never multiplied with
    each other, so one source speaks once however many of its rows are used.
    """
    check_may_write(by)
    _check(row=row, subject=subject, lr=lr, basis=basis, reason=reason)
    take_turn(car)
    cells = {
        "subject": subject.strip(),
        "statement": UNDISTURBED,
        "alternative": LATER_WORK,
        "item": item_of(row, read),
        "lr": f"{lr:g}",
        "basis": basis,
        "cause": row.source,
        "by": "" if by is None else by.get_username(),
        "note": reason.strip(),
    }
    rows = _rows(car)
    if any(_is_same(cells, there) for there in rows):
        raise InputError(
            field="evidence",
            got=f"{cells['subject']}: {cells['item']}",
            allowed="an item that is not entered yet",
            remedy="Take the one that is there back first.",
        )
    widen_head(car, _TABLE, [cells])
    _write(car, [*rows, cells])
    write_entry(action="use film band as evidence", by=by, car=car, after=cells)
    return cells


@transaction.atomic
def take_back_band_evidence(*, car: Car, subject: str, item: str, reason: str, by: Any) -> None:
    """Take an item out of the car's evidence again; the log keeps it with the reason.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If there is no such item for or against "undisturbed since built", or no reason.
    """
    check_may_write(by)
    if not reason.strip():
        raise InputError(field="reason", got=reason, allowed="given, in a few words")
    take_turn(car)
    rows = _rows(car)
    meant = {"subject": subject, "item": item, "statement": UNDISTURBED}
    gone = [there for there in rows if _is_same(meant, there)]
    if not gone:
        raise InputError(field="item", got=item, allowed="one that is among the car's evidence")
    _write(car, [there for there in rows if there not in gone])
    write_entry(
        action="take film band evidence back",
        by=by,
        car=car,
        before={_TABLE: gone},
        after={"reason": reason.strip()},
    )


def item_of(row: FilmBand, read: str) -> str:
    """The item in words: the reading, and the band it stands beside."""
    band = band_of(row)
    about = {"factory": "a factory finish", "repainted": "a repaint", "filler": "filler"}
    return f"{read}; beside {band.words} for {about[band.about]} ({band.era})"


def _check(*, row: FilmBand, subject: str, lr: float, basis: str, reason: str) -> None:
    if not FilmBand.objects.current().filter(pk=row.pk).exists():
        raise InputError(
            field="band", got=str(row), allowed="one that was not corrected or withdrawn"
        )
    if not (math.isfinite(lr) and lr > 0):
        raise InputError(
            field="lr",
            got=lr,
            allowed="above zero",
            remedy="Above 1 speaks for undisturbed since built, below 1 against it.",
        )
    if basis not in BASES:
        raise InputError(field="basis", got=basis, allowed=" or ".join(BASES))
    for name, words in {"subject": subject, "reason": reason}.items():
        if not words.strip():
            raise InputError(field=name, got=words, allowed="given, in a few words")


def _is_same(cells: dict[str, str], there: dict[str, str]) -> bool:
    names = ("subject", "item", "statement")
    return all(cells[name] == there.get(name, "") for name in names)


def _rows(car: Car) -> list[dict[str, str]]:
    head = car.heads.get(_TABLE, [])
    kept = car.kept_sheets.filter(table=_TABLE).first()
    return [] if kept is None else [dict(zip(head, row, strict=True)) for row in kept.rows]


def _write(car: Car, rows: list[dict[str, str]]) -> None:
    head = car.heads[_TABLE]
    KeptSheet.objects.update_or_create(
        car=car,
        table=_TABLE,
        defaults={"rows": [[row.get(name, "") for name in head] for row in rows]},
    )
