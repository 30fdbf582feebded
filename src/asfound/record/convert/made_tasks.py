"""Tasks made from the signed decisions and from what comes off first; people then edit them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise

from asfound.plan.order import followers, ring
from asfound.plan.strip import Assembly, way_to
from asfound.record.convert.begun import OFF, ON, handling_task
from asfound.record.convert.past_hours import learned_of
from asfound.record.convert.strip import StripQuestion, strip_question
from asfound.record.convert.trades import HOURS, trades_of
from asfound.record.faults import Fault, InputFaultsError
from asfound.record.folder import CarFolder, Row, Sheet

LOW, HIGH = 0.75, 2.0
"""Low and high hours as shares of what was quoted: a guess, no source."""
USUAL_HOURS = 0.5
"""Of a removal whose hours nobody gave: a guess, no source."""
STAYS = frozenset({"leave as found", "preventive care"})
"""Treatments for which nothing has to come off the car."""

Cells = dict[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class MadeTasks:
    """Rows for ``tasks`` and ``task_links``; those that people wrote come first, unchanged."""

    tasks: tuple[Cells, ...]
    links: tuple[Cells, ...]
    added: int


def made_tasks(car: CarFolder) -> MadeTasks:
    """The car's tasks with those added that its signed decisions ask for.

    Raises
    ------
    InputFaultsError
        If no decision is signed, or pieces wait for each other.

    Notes
    -----
    Each signed option gives a task for each of its trades, one after the other in the order of
    the columns. An option that waits, because it destroys evidence of another piece, begins when
    the signed work on that piece is done. What must come off for a piece that is worked on comes
    off before, by the way of least risk, and goes on again after in the order of the rebuild. What
    is off already is only put on again. A task whose name is there already is left as it stands.
    """
    signed = list(_signed(car))
    if not signed:
        raise InputFaultsError(
            (
                Fault(
                    file="subjects.csv",
                    rule="no decision is signed, so no task can be made from one",
                    remedy="Lock an option of a piece, on its page or in locked_option.",
                ),
            )
        )
    work = {row.text("subject"): _work(row) for row in signed}
    tasks: dict[str, Cells] = {t["task"]: t for several in work.values() for t in several}
    links = [_link(a, b) for several in work.values() for a, b in pairwise(several)]
    links += _evidence_first(car, signed, work)
    if len(car.sheet("joints")):
        question = strip_question(car)
        for row in _off_and_on(car, question, signed, work):
            if "task" in row:
                tasks[row["task"]] = row
            else:
                links.append(row)
    return _beside(car, tasks, links)


def _signed(car: CarFolder) -> Iterator[Row]:
    """Options that a person has locked."""
    locked = {r.text("subject"): r.text("locked_option") for r in car.sheet("subjects")}
    for row in car.sheet("options"):
        if locked.get(row.text("subject")) == row.text("option"):
            yield row


def _evidence_first(
    car: CarFolder, signed: list[Row], work: Mapping[str, list[Cells]]
) -> Iterator[Cells]:
    """Links from the work on evidence to the work that destroys it."""
    chosen = {row.text("subject"): row.text("option") for row in signed}
    for row in car.sheet("option_links"):
        piece, other = row.text("subject"), row.text("other_subject")
        asked = row.text("other_option")
        if row.text("kind") != "waits" or chosen.get(piece) != row.text("option"):
            continue
        if asked in ("", chosen.get(other)) and work.get(piece) and work.get(other):
            yield _link(work[other][-1], work[piece][0])


def _work(row: Row) -> list[Cells]:
    hours = {
        column.removeprefix(HOURS): row.number(column, default=0.0)
        for column in row.cells
        if column.startswith(HOURS)
    }
    busy = {trade: value for trade, value in hours.items() if value > 0}
    subject, treatment, learned = row.text("subject"), row.text("treatment"), learned_of(row)
    return [
        _task(
            f"{subject}: {treatment}" + (f" ({trade})" if len(busy) > 1 else ""),
            name=f"{treatment.capitalize()}: {subject}",
            trade=trade,
            hours=(LOW * value, value, HIGH * value),
            subject=subject,
            learned=learned.get(trade, 1.0),
        )
        for trade, value in busy.items()
    ]


def _task(
    task: str,
    *,
    name: str,
    trade: str,
    hours: tuple[float, float, float],
    subject: str,
    people: int = 1,
    learned: float = 1.0,
) -> Cells:
    low, likely, high = (f"{value:.4g}" for value in hours)
    in_them = {} if learned == 1 else {"learned": f"{learned:.4g}"}
    return {
        "task": task,
        "name": name,
        "trade": trade,
        "hours_low": low,
        "hours_likely": likely,
        "hours_high": high,
        "people": "" if people == 1 else f"{people}",
        "subject": subject,
        **in_them,
    }


def _link(before: Cells | str, after: Cells | str) -> Cells:
    one, two = (end if isinstance(end, str) else end["task"] for end in (before, after))
    return {"before": one, "after": two}


def _off_and_on(
    car: CarFolder, question: StripQuestion, signed: list[Row], work: Mapping[str, list[Cells]]
) -> Iterator[Cells]:
    """Tasks of taking off and putting on again, and the links that hold them in order."""
    touched = [
        row.text("subject")
        for row in signed
        if row.text("treatment") not in STAYS and row.text("subject") in question.assembly.named
    ]
    ways = [way_to(question.assembly, piece) for piece in touched]
    off = dict.fromkeys(part for way in ways for part in (*way.first_off, way.piece))
    usual = trades_of(car)[0]
    trades = {row.text("part"): row.text("trade") for row in car.sheet("removals")}
    for part in off:
        own = work.get(part, [])
        trade = trades.get(part) or (own[0]["trade"] if own else usual)
        off_task, on_task = (handling_task(part, word) for word in (OFF, ON))
        if part not in question.off:
            yield _handling(question, part, OFF, trade)
            yield _link(off_task, own[0] if own else on_task)
        yield _handling(question, part, ON, trade)
        if own:
            yield _link(own[-1], on_task)
    yield from _kept_in_order(question, list(off))


def _handling(question: StripQuestion, part: str, word: str, trade: str) -> Cells:
    removal = question.removals[part]
    hours = USUAL_HOURS if removal.hours is None else removal.hours
    verb = "Take off" if word == OFF else "Put on"
    return _task(
        handling_task(part, word),
        name=f"{verb}: {removal.name}",
        trade=trade,
        hours=(LOW * hours, hours, HIGH * hours),
        subject=part,
        people=removal.people,
    )


def _kept_in_order(question: StripQuestion, off: list[str]) -> Iterator[Cells]:
    """Off as the joints ask; on the other way round, but for what the rebuild asks by itself."""
    waits = list(_waits(question.assembly, off))
    for piece, first in waits:
        if not {piece, first} & question.off:
            yield _link(handling_task(first, OFF), handling_task(piece, OFF))
    asked = [(k.before, k.after) for k in question.links if {k.before, k.after} <= set(off)]
    back = [w for w in waits if w not in question.free_of and (w[1], w[0]) not in asked] + asked
    if ring(followers(off, back)):
        # The ways taken here and the rebuild do not go together: keep to the order of stripping.
        back = waits
    for one, two in dict.fromkeys(back):
        yield _link(handling_task(one, ON), handling_task(two, ON))


def _waits(assembly: Assembly, off: list[str]) -> Iterator[tuple[str, str]]:
    """(piece, what came off before it) along one order in which all of these come off."""
    gone: set[str] = set()
    left = list(off)
    while left:
        piece = next(name for name in left if assembly.can_come_off(name, gone))
        ways = [way for way in assembly.ways[piece].values() if gone.issuperset(way)]
        for first in (*assembly.always[piece], *min(ways, key=len, default=())):
            yield piece, first
        gone.add(piece)
        left.remove(piece)


def _beside(car: CarFolder, tasks: Mapping[str, Cells], links: list[Cells]) -> MadeTasks:
    written = [dict(row.cells) for row in car.sheet("tasks")]
    known = {row["task"] for row in written}
    new = [task for name, task in tasks.items() if name not in known]
    pairs = _pairs(car.sheet("task_links"))
    ends = {task["task"] for task in new}
    more = {
        (link["before"], link["after"]): link
        for link in links
        if {link["before"], link["after"]} & ends or not written
    }
    return MadeTasks(
        tasks=(*written, *new),
        links=(
            *(dict(row.cells) for row in car.sheet("task_links")),
            *(link for pair, link in more.items() if pair not in pairs),
        ),
        added=len(new),
    )


def _pairs(links: Sheet) -> set[tuple[str, str]]:
    return {(row.text("before"), row.text("after")) for row in links}
