"""Tasks of taking pieces off and putting them on again, and the links that hold them in order."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Set
from dataclasses import dataclass
from itertools import pairwise

from asfound.plan.order import followers, ring
from asfound.plan.strip import Assembly, RebuildLink, way_to
from asfound.record.convert.begun import OFF, ON, handling_task
from asfound.record.convert.made_rows import HIGH, LOW, Cells, link_cells, task_cells
from asfound.record.convert.strip import StripQuestion
from asfound.record.convert.trades import trades_of
from asfound.record.folder import CarFolder

USUAL_HOURS = 0.5
"""Of a removal whose hours nobody gave: a guess, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Handling:
    """What comes off and goes on again for the pieces that are worked on.

    Parameters
    ----------
    tasks, links : tuple of dict
    stays_off : tuple of str
        Pieces that are off already and that no work asks for: they do not go on again either.
    left_out : tuple of RebuildLink
        What the rebuild asks for and cannot have, for the rest of it would go round in a ring.
    """

    tasks: tuple[Cells, ...] = ()
    links: tuple[Cells, ...] = ()
    stays_off: tuple[str, ...] = ()
    left_out: tuple[RebuildLink, ...] = ()


def handling(
    car: CarFolder,
    question: StripQuestion,
    touched: list[str],
    work: Mapping[str, list[Cells]],
) -> Handling:
    """What comes off and goes on again.

    Parameters
    ----------
    car : CarFolder
    question : StripQuestion
    touched : list of str
        Pieces that are worked on; each can come off, or is off.
    work : mapping of str to list of dict
        Tasks of the work on a piece, in their order.
    """
    assembly = question.assembly
    ways = [way_to(assembly, piece, off=question.off) for piece in touched]
    coming = dict.fromkeys(part for way in ways for part in (*way.first_off, way.piece))
    off = _with_what_is_off(
        question, [part for part in coming if part not in question.off], touched
    )
    waits = list(_waits(question, off))
    back, left_out = _back(question, off, waits)
    usual = trades_of(car)[0]
    trades = {row.text("part"): row.text("trade") for row in car.sheet("removals")}
    tasks, links = list[Cells](), list[Cells]()
    for part in off:
        own = work.get(part, [])
        trade = trades.get(part) or (own[0]["trade"] if own else usual)
        handled = list(_of_piece(question, part, trade))
        tasks += handled
        links += [link_cells(one, two) for one, two in pairwise((*handled[:-1], *own, handled[-1]))]
    return Handling(
        tasks=tuple(tasks),
        links=(*links, *_in_order(question, waits, back)),
        stays_off=tuple(part for part in assembly.named if part in question.off.difference(off)),
        left_out=left_out,
    )


def _of_piece(question: StripQuestion, part: str, trade: str) -> Iterator[Cells]:
    """Off and on; what is off already only on."""
    for word in (OFF, ON) if part not in question.off else (ON,):
        yield _task(question, part, word, trade)


def _in_order(
    question: StripQuestion, waits: list[tuple[str, str]], back: list[tuple[str, str]]
) -> Iterator[Cells]:
    for piece, first in waits:
        if not {piece, first} & question.off:
            yield link_cells(handling_task(first, OFF), handling_task(piece, OFF))
    for one, two in back:
        yield link_cells(handling_task(one, ON), handling_task(two, ON))


def _with_what_is_off(question: StripQuestion, coming: list[str], touched: list[str]) -> list[str]:
    """What comes off, with what is off already and stands on its way."""
    gone = question.off.union(coming)
    found = dict.fromkeys([*coming, *touched])
    for name in (ahead := list(found)):  # grows while it is read
        for first in _first_off(question.assembly, name, gone):
            if first in question.off and first not in found:
                found[first] = None
                ahead.append(first)
    return list(found)


def _first_off(assembly: Assembly, piece: str, gone: Set[str]) -> tuple[str, ...]:
    """What is off before a piece once these are off, by the shortest way that is open."""
    ways = [way for way in assembly.ways[piece].values() if gone >= set(way)]
    return (*assembly.always[piece], *min(ways, key=len, default=()))


def _task(question: StripQuestion, part: str, word: str, trade: str) -> Cells:
    removal = question.removals[part]
    hours = USUAL_HOURS if removal.hours is None else removal.hours
    verb = "Take off" if word == OFF else "Put on"
    return task_cells(
        handling_task(part, word),
        name=f"{verb}: {removal.name}",
        trade=trade,
        hours=(LOW * hours, hours, HIGH * hours),
        subject=part,
        people=removal.people,
    )


def _back(
    question: StripQuestion, off: list[str], waits: list[tuple[str, str]]
) -> tuple[list[tuple[str, str]], tuple[RebuildLink, ...]]:
    """Pairs in the order of putting on, and links of the rebuild that do not go with the others.

    On is the other way round than off, but for what the rebuild asks for by itself.
    """
    links = [k for k in question.links if {k.before, k.after} <= set(off)]
    asked = [(k.before, k.after) for k in links]
    back = [w for w in waits if w not in question.free_of and (w[1], w[0]) not in asked] + asked
    if not ring(followers(off, back)):
        return list(dict.fromkeys(back)), ()
    back = [w for w in waits if w not in question.free_of]
    left_out = list[RebuildLink]()
    for link in links:
        more = [w for w in back if w != (link.after, link.before)] + [(link.before, link.after)]
        if ring(followers(off, more)):
            left_out.append(link)
        else:
            back = more
    return list(dict.fromkeys(back)), tuple(left_out)


def _waits(question: StripQuestion, off: list[str]) -> Iterator[tuple[str, str]]:
    """(piece, what came off before it), without a ring even where pieces that are off make one."""
    assembly, gone, kept = question.assembly, set(question.off), list[tuple[str, str]]()
    left = [name for name in off if name not in gone]
    while left:
        piece = next(name for name in left if assembly.can_come_off(name, gone))
        kept += [(f, piece) for f in _first_off(assembly, piece, gone) if f in off]
        gone.add(piece)
        left.remove(piece)
    for piece in (name for name in off if name in question.off):
        for first in _first_off(assembly, piece, gone):
            if first in off and not ring(followers(off, [*kept, (first, piece)])):
                kept.append((first, piece))
    return ((piece, first) for first, piece in kept)
