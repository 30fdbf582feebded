"""The ledger over time as a table to keep."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from asfound.record.convert.ledger_days import LedgerDay
from asfound.record.convert.ledger_steps import Stage
from asfound.record.folder import Sheet

COLUMNS = (
    *("measure", "day", "what", "signed_original", "signed_not_known"),
    *("left_original", "left_not_known"),
)


def ledger_days_sheet(ways: Mapping[str, Sequence[LedgerDay]]) -> Sheet:
    """Every point of every way to count, as a row; shares 0–1, empty before anything is signed."""
    return Sheet(
        columns=COLUMNS,
        rows=tuple(
            (name, f"{day.day}", "; ".join(day.events), *_shares(day.signed), *_shares(day.left))
            for name, days in ways.items()
            for day in days
        ),
    )


def _shares(stage: Stage | None) -> tuple[str, str]:
    return ("", "") if stage is None else (f"{stage.original:.6f}", f"{stage.not_known:.6f}")
