"""Rows of ``option_links.csv`` whose cells do not make the tie that they name."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from asfound.record.faults import Fault
from asfound.record.folder import Row, Sheet

FILE = "option_links.csv"
_ENDS = {
    "requires": ("option", "other_option"),
    "excludes": ("option", "other_option"),
    "shares": ("option", "other_option"),
    "needs off": ("option",),
    "waits": ("option",),
    "seam": (),
}
"""Cells that each kind of tie must fill."""


def coupling_faults(sheets: Mapping[str, Sheet]) -> Iterator[Fault]:
    """Faults of ties that name too little, or a piece without options."""
    none = Sheet(columns=())
    options = {
        (row.text("subject"), row.text("option")): row for row in sheets.get("options", none)
    }
    with_options = {subject for subject, _ in options}
    openings: dict[tuple[str, str], Row] = {}
    for row in sheets.get("option_links", none):
        kind = row.text("kind")
        yield from _empty_ends(row, kind)
        if kind == "seam" or (kind == "waits" and not row.text("other_option")):
            yield from _pieces(row, with_options)
        if kind == "seam" and not (row.text("most_grade_step") or row.text("most_colour_step")):
            yield _fault(
                row,
                "most_grade_step",
                "a seam without a step binds nothing",
                "Give most_grade_step, most_colour_step (ΔE00) or both.",
            )
        if kind == "needs off":
            yield from _other_amount(row, openings)
            yield from _too_much(row, options.get((row.text("subject"), row.text("option"))))


def _empty_ends(row: Row, kind: str) -> Iterator[Fault]:
    for column in _ENDS.get(kind, ()):
        if not row.text(column):
            yield _fault(row, column, f"a tie that {kind} must name it", "Name the option.")


def _pieces(row: Row, with_options: set[str]) -> Iterator[Fault]:
    if row.text("subject") == row.text("other_subject"):
        yield _fault(row, "other_subject", "a piece meets another than itself", "Name the other.")
    for column in ("subject", "other_subject"):
        if with_options and row.text(column) not in with_options:
            yield _fault(
                row, column, "options.csv has no option of it", "Correct the name, or add options."
            )


def _other_amount(row: Row, openings: dict[tuple[str, str], Row]) -> Iterator[Fault]:
    """One thing comes off in one way: all who need it off name the same work."""
    first = openings.setdefault((row.text("other_subject"), row.text("trade")), row)
    for column in ("saves_cost", "saves_hours"):
        amounts = _amount(row, column), _amount(first, column)
        if None not in amounts and amounts[0] != amounts[1]:
            yield _fault(
                row,
                column,
                f"row {first.number_in_file} says {first.text(column) or 'nothing'} for taking "
                f"{row.text('other_subject')} off",
                "Write the same work in every row that needs it off.",
            )


def _too_much(row: Row, option: Row | None) -> Iterator[Fault]:
    """What an option takes in all includes the work of opening up."""
    if option is None:
        return
    own = {"saves_cost": "cost", "saves_hours": f"hours_{row.text('trade')}"}
    for column, whole in own.items():
        amount, most = _amount(row, column), _amount(option, whole)
        if amount is not None and most is not None and amount > most:
            yield _fault(
                row,
                column,
                f"it must be at most the {whole} of {option.text('subject')} "
                f"'{option.text('option')}' in all, {most:g}",
                "Lower it, or add the work of opening up to the option in options.csv.",
            )


def _amount(row: Row, column: str) -> float | None:
    """Amount in a cell, zero where it is empty; None where it is no number, told elsewhere."""
    try:
        return row.number(column, default=0.0)
    except ValueError:
        return None


def _fault(row: Row, column: str, rule: str, remedy: str) -> Fault:
    return Fault(
        file=FILE,
        row=row.number_in_file,
        column=column,
        value=row.text(column),
        rule=rule,
        remedy=remedy,
    )
