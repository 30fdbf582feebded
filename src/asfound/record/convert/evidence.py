"""Rows of evidence become claims with their items, and the workshop's rules for weighing."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from asfound.base import InputError
from asfound.record.convert.cell_fault import cell_fault
from asfound.record.convert.standing import counts, standing_faults
from asfound.record.faults import Fault, InputFaultsError
from asfound.record.folder import CarFolder, Row
from asfound.weigh.evidence import (
    EYE_CAP,
    Claim,
    DeclaredPrior,
    Item,
    condition_faults,
    same_words,
)

FILE = "evidence.csv"
_Key = tuple[str, str, str]


def claims_of(car: CarFolder) -> tuple[Claim, ...]:
    """What people wrote down for and against and nobody doubts, in the order met.

    Raises
    ------
    InputFaultsError
        If a ratio is not above zero, two statements are one, or a condition cannot carry.
    """
    rows = [row for row in car.sheet("evidence") if counts(row)]
    faults = (*_no_ratios(rows), *evidence_faults(rows))
    if faults:
        raise InputFaultsError(faults)
    return tuple(_claim(group) for group in _by_claim(rows).values())


def eye_cap_of(car: CarFolder) -> float:
    """The most that a ratio by eye may count, as the workshop set it or as supplied."""
    rule = next(iter(car.sheet("weighing")), None)
    return EYE_CAP if rule is None else rule.number("eye_cap", default=EYE_CAP)


def priors_of(car: CarFolder) -> dict[_Key, DeclaredPrior]:
    """Priors that the workshop declares, by the claim they are for."""
    return {
        _key(row): DeclaredPrior(prior=row.number("prior"), reason=row.text("reason"))
        for row in car.sheet("priors")
    }


def evidence_faults(rows: Iterable[Row]) -> Iterator[Fault]:
    """Rows that cannot be weighed; empty and unreadable cells are told where a table is read."""
    met = list(rows)
    yield from standing_faults(met, file=FILE)
    told = (row for row in met if counts(row))
    whole = [row for row in told if _is_ratio(row.text("lr")) and all(_key(row))]
    for row in whole:
        yield from _row_faults(row)
    for group in _by_claim([row for row in whole if not list(_row_faults(row))]).values():
        for place, allowed in condition_faults([_item(row) for row in group]):
            yield cell_fault(
                FILE,
                group[place],
                "given",
                f"it must be {allowed}",
                "Name the item that the ratio is stated given, or leave the cell empty.",
            )


def _no_ratios(rows: Iterable[Row]) -> Iterator[Fault]:
    """Ratios that were kept before the rule was."""
    for row in rows:
        if not _is_ratio(row.text("lr")):
            yield cell_fault(
                FILE,
                row,
                "lr",
                "it must be above zero and finite",
                "Say how many times more probable the item is; below 1 it speaks against.",
            )


def _row_faults(row: Row) -> Iterator[Fault]:
    if _key(row)[1] == _key(row)[2]:
        yield cell_fault(
            FILE,
            row,
            "alternative",
            "it must be another statement, one that excludes the first",
            "Write what else may be true, such as “fitted later”.",
        )
        return
    try:
        _item(row)
    except InputError as error:
        rule = f"it must be {error.allowed}"
        yield cell_fault(FILE, row, error.field, rule, error.remedy or "Correct the cell.")


def _is_ratio(text: str) -> bool:
    try:
        return 0 < float(text) < math.inf
    except ValueError:
        return False


def _by_claim(rows: Iterable[Row]) -> dict[_Key, list[Row]]:
    claims: dict[_Key, list[Row]] = {}
    for row in rows:
        claims.setdefault(_key(row), []).append(row)
    return claims


def _key(row: Row) -> _Key:
    subject, statement, alternative = (
        same_words(row.text(column)) for column in ("subject", "statement", "alternative")
    )
    return subject, statement, alternative


def _claim(rows: list[Row]) -> Claim:
    return Claim(
        subject=rows[0].text("subject"),
        statement=rows[0].text("statement"),
        alternative=rows[0].text("alternative"),
        items=tuple(_item(row) for row in rows),
    )


def _item(row: Row) -> Item:
    return Item(
        item=row.text("item"),
        lr=row.number("lr"),
        basis=row.text("basis"),  # type: ignore[arg-type]  # checked on reading
        cause=row.text("cause"),
        given=row.text("given"),
        by=row.text("by"),
        note=row.text("note"),
    )
