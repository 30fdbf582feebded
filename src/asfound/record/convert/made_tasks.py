"""Tasks made from the signed decisions and from what comes off first; people then edit them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise

from asfound.plan.strip import RebuildLink
from asfound.record.convert.made_handling import Handling, handling
from asfound.record.convert.made_rows import HIGH, LOW, Cells, link_cells, task_cells
from asfound.record.convert.past_hours import learned_of
from asfound.record.convert.strip import StripQuestion, strip_read
from asfound.record.convert.strip_faults import IN_FILES, RowsTold
from asfound.record.convert.trades import HOURS
from asfound.record.faults import Fault, InputFaultsError
from asfound.record.folder import CarFolder, Row, Sheet

STAYS = frozenset({"leave as found", "preventive care"})
"""Treatments for which nothing has to come off the car."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MadeTasks:
    """Rows for ``tasks`` and ``task_links``; those that people wrote come first, unchanged.

    Parameters
    ----------
    tasks, links : tuple of dict
    added : int
        How many of the tasks are new.
    is_off : tuple of str
        Pieces that are off already, and get no task of taking off.
    stays_off : tuple of str
        Those of them that no signed work asks for: they get no task of putting on either.
    held_back : mapping of str to str
        Pieces whose signed work got no task, each with why.
    left_out : tuple of RebuildLink
        What the rebuild asks for and the tasks do not keep.
    faults : tuple of Fault
        Rings in the joints or in the rebuild, each at the row to doubt first.
    """

    tasks: tuple[Cells, ...]
    links: tuple[Cells, ...]
    added: int
    is_off: tuple[str, ...] = ()
    stays_off: tuple[str, ...] = ()
    held_back: Mapping[str, str]
    left_out: tuple[RebuildLink, ...] = ()
    faults: tuple[Fault, ...] = ()


def made_tasks(car: CarFolder, *, rows: RowsTold = IN_FILES) -> MadeTasks:
    """The car's tasks with those added that its signed decisions ask for.

    Raises
    ------
    InputFaultsError
        If no decision is signed, a piece is joined to itself, or no signed piece can be worked on
        because of pieces that wait for each other.

    Notes
    -----
    Each signed option gives a task for each of its trades, one after the other in the order of
    the columns. An option that waits, because it destroys evidence of another piece, begins when
    the signed work on that piece is done. What must come off for a piece that is worked on comes
    off before, by the way of least risk, and goes on again after in the order of the rebuild. What
    is off already is only put on again. A task whose name is there already is left as it stands.

    A piece in or behind a ring of joints cannot come off; the work on it is held back, and so is
    the work that would destroy evidence there. All else is made.
    """
    signed = list(_signed(car))
    if not signed:
        raise InputFaultsError((_NOTHING_SIGNED,))
    question, faults = strip_read(car, rows=rows) if len(car.sheet("joints")) else (None, ())
    held = _held_back(car, signed, question)
    able = [row for row in signed if row.text("subject") not in held]
    if not able:
        raise InputFaultsError(faults)
    work = {row.text("subject"): _work(row) for row in able}
    apart = _apart(car, able, work, question)
    tasks = [t for several in work.values() for t in several]
    links = [link_cells(a, b) for several in work.values() for a, b in pairwise(several)]
    links += [
        link_cells(work[other][-1], work[piece][0])
        for piece, other in _evidence_first(car, able)
        if work.get(piece) and work.get(other)
    ]
    new, more = _beside(car, [*tasks, *apart.tasks], [*links, *apart.links])
    return MadeTasks(
        tasks=(*(dict(row.cells) for row in car.sheet("tasks")), *new),
        links=(*(dict(row.cells) for row in car.sheet("task_links")), *more),
        added=len(new),
        is_off=tuple(p for p in question.assembly.named if p in question.off) if question else (),
        stays_off=apart.stays_off,
        held_back=held,
        left_out=apart.left_out,
        faults=faults,
    )


_NOTHING_SIGNED = Fault(
    file="subjects.csv",
    rule="no decision is signed, so no task can be made from one",
    remedy="Lock an option of a piece, on its page or in locked_option.",
)


def _apart(
    car: CarFolder,
    signed: list[Row],
    work: Mapping[str, list[Cells]],
    question: StripQuestion | None,
) -> Handling:
    """What comes off and goes on again, where joints tell."""
    if question is None:
        return Handling()
    touched = [
        row.text("subject")
        for row in signed
        if _touches(row) and row.text("subject") in question.assembly.named
    ]
    return handling(car, question, touched, work)


def _touches(row: Row) -> bool:
    """Whether a signed option takes its piece off the car."""
    return row.text("treatment") not in STAYS


def _held_back(car: CarFolder, signed: list[Row], question: StripQuestion | None) -> dict[str, str]:
    """Pieces whose work cannot be planned yet, each with why."""
    stuck = set(question.stuck if question else ())
    held = {
        row.text("subject"): "it cannot come off, for pieces before it wait for each other"
        for row in signed
        if _touches(row) and row.text("subject") in stuck
    }
    waits = list(_evidence_first(car, signed))
    while more := [(p, o) for p, o in waits if o in held and p not in held]:
        held |= {piece: f"it destroys evidence of {other}, which waits" for piece, other in more}
    return held


def _signed(car: CarFolder) -> Iterator[Row]:
    """Options that a person has locked."""
    locked = {r.text("subject"): r.text("locked_option") for r in car.sheet("subjects")}
    for row in car.sheet("options"):
        if locked.get(row.text("subject")) == row.text("option"):
            yield row


def _evidence_first(car: CarFolder, signed: list[Row]) -> Iterator[tuple[str, str]]:
    """(piece, other) where the signed work on the piece destroys evidence of the other."""
    chosen = {row.text("subject"): row.text("option") for row in signed}
    for row in car.sheet("option_links"):
        piece, other = row.text("subject"), row.text("other_subject")
        if row.text("kind") != "waits" or chosen.get(piece) != row.text("option"):
            continue
        if other in chosen and row.text("other_option") in ("", chosen[other]):
            yield piece, other


def _work(row: Row) -> list[Cells]:
    hours = {
        column.removeprefix(HOURS): row.number(column, default=0.0)
        for column in row.cells
        if column.startswith(HOURS)
    }
    busy = {trade: value for trade, value in hours.items() if value > 0}
    subject, treatment, learned = row.text("subject"), row.text("treatment"), learned_of(row)
    return [
        task_cells(
            f"{subject}: {treatment}" + (f" ({trade})" if len(busy) > 1 else ""),
            name=f"{treatment.capitalize()}: {subject}",
            trade=trade,
            hours=(LOW * value, value, HIGH * value),
            subject=subject,
            learned=learned.get(trade, 1.0),
        )
        for trade, value in busy.items()
    ]


def _beside(
    car: CarFolder, tasks: list[Cells], links: list[Cells]
) -> tuple[list[Cells], list[Cells]]:
    """Those of the rows that are new beside what people wrote."""
    written = {row.text("task") for row in car.sheet("tasks")}
    new = {task["task"]: task for task in tasks if task["task"] not in written}
    pairs = _pairs(car.sheet("task_links"))
    more = {
        (link["before"], link["after"]): link
        for link in links
        if {link["before"], link["after"]} & set(new) or not written
    }
    return list(new.values()), [link for pair, link in more.items() if pair not in pairs]


def _pairs(links: Sheet) -> set[tuple[str, str]]:
    return {(row.text("before"), row.text("after")) for row in links}
