"""Joints, removals and links of the rebuild become an assembly to take apart."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from asfound.craft.cautions import Caution, cautions_for
from asfound.plan.strip import Assembly, Joint, Piece, Rebuild, RebuildLink, rebuild_order
from asfound.record.convert.strip_faults import (
    IN_FILES,
    RowsTold,
    joined_to_itself,
    ring_faults,
)
from asfound.record.convert.strip_groups import groups_of
from asfound.record.faults import Fault, InputFaultsError
from asfound.record.folder import CarFolder, Row
from asfound.record.tables.strip import is_off

USUAL_SIGNIFICANCE = 2.0
"""Of a piece whose significance nobody gave: the middle, so that it is neither spared nor spent."""
USUAL_FRAGILE = 1
ALONE_KG = 25.0
"""Heavier pieces are marked for two people; the guideline for lifting at waist height close to the
body in HSE L23, from memory, not a limit that makes lifting safe."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Removal:
    """How a piece comes off, for the person who does it.

    Parameters
    ----------
    part, name : str
    hours : float or None
    people : int
        Two or more where the table says so or the piece is heavy.
    mass_kg : float or None
    single_use : bool
        Its fixings or seals are used once, and new ones are needed when it goes on.
    cautions : tuple of Caution
    note : str
        Such as a fluid to drain, or a mark to make first.
    off_on, on_again : str
        The days it came off and went on again, EDTF; empty while it did not.
    """

    part: str
    name: str
    hours: float | None
    people: int
    mass_kg: float | None
    single_use: bool
    cautions: tuple[Caution, ...]
    note: str
    off_on: str
    on_again: str


@dataclass(frozen=True, kw_only=True)  # no slots: it keeps what it works out once
class StripQuestion:
    """An assembly with all that belongs to its rebuild.

    Parameters
    ----------
    assembly : Assembly
    off : frozenset of str
        Pieces that are off now.
    links : tuple of RebuildLink
    benches : mapping of str to str
        Sub-assembly by piece.
    free_of : frozenset of (str, str)
        Joints that do not bind the rebuild.
    removals : mapping of str to Removal
    groups : mapping of str to str
        Name of the assembly that each piece is drawn with.
    because : mapping of (str, str) to str
        Why a piece comes off after another, where somebody said so.
    """

    assembly: Assembly
    off: frozenset[str]
    links: tuple[RebuildLink, ...]
    benches: Mapping[str, str]
    free_of: frozenset[tuple[str, str]]
    removals: Mapping[str, Removal]
    groups: Mapping[str, str]
    because: Mapping[tuple[str, str], str]

    @cached_property
    def rebuild(self) -> Rebuild:
        """How it goes together again."""
        return rebuild_order(
            self.assembly, links=self.links, benches=self.benches, free_of=self.free_of
        )

    @cached_property
    def going_on(self) -> tuple[str, ...]:
        """Pieces and sub-assemblies that are off and can go on now."""
        still = self.rebuild.still_off(self.off)
        return tuple(name for name in still if not self.rebuild.waits_for(name, self.off))

    @cached_property
    def left(self) -> tuple[str, ...]:
        """Pieces that can still come off, in an order in which they can."""
        return self.assembly.sequence_from(self.off)

    @cached_property
    def stuck(self) -> tuple[str, ...]:
        """Pieces that are not off and can never come off, in or behind a ring."""
        there = {*self.left, *self.off}
        return tuple(name for name in self.assembly.named if name not in there)

    @cached_property
    def waves(self) -> tuple[tuple[str, ...], ...]:
        """What can come off now, what once that is off, and so on."""
        return self.assembly.waves(self.off)


def strip_question(car: CarFolder) -> StripQuestion:
    """What is to be taken apart and put together.

    Raises
    ------
    InputFaultsError
        If the car has no joint, or pieces wait for each other.
    """
    question, faults = strip_read(car)
    if faults:
        raise InputFaultsError(faults)
    return question


def strip_read(
    car: CarFolder, *, rows: RowsTold = IN_FILES
) -> tuple[StripQuestion, tuple[Fault, ...]]:
    """What is to be taken apart, and the rings in it; all else still has its order.

    ``rows`` says how a reader finds the rows that faults name: in the files, or on pages.

    Raises
    ------
    InputFaultsError
        If the car has no joint, or a piece is joined to itself.
    """
    if not len(car.sheet("joints")):
        raise InputFaultsError(
            (
                Fault(
                    file=rows.file("joints"),
                    rule="the car has no joint, so nothing is known of what comes off first",
                    remedy="Add joints.csv with part and comes_off_after.",
                ),
            )
        )
    faults = tuple(joined_to_itself(car, rows))
    if faults:
        raise InputFaultsError(faults)
    question = _question(car)
    return question, tuple(ring_faults(car, question.assembly, question.rebuild, rows))


def _question(car: CarFolder) -> StripQuestion:
    parts = {row.text("part"): row for row in car.sheet("parts")}
    how = {row.text("part"): row for row in car.sheet("removals")}
    joints = list(car.sheet("joints"))
    links = list(car.sheet("rebuild_links"))
    names = dict.fromkeys(
        [row.text(column) for row in joints for column in ("part", "comes_off_after")]
        + list(how)
        + [row.text(column) for row in links for column in ("before", "after")]
    )
    return StripQuestion(
        assembly=Assembly(
            pieces=tuple(_piece(name, parts.get(name), how.get(name)) for name in names),
            joints=tuple(
                Joint(piece=r.text("part"), after=r.text("comes_off_after"), way=r.text("way"))
                for r in joints
            ),
        ),
        off=frozenset(name for name, row in how.items() if is_off(row.cells)),
        links=tuple(
            RebuildLink(
                before=r.text("before"),
                after=r.text("after"),
                why=r.text("why"),
                note=r.text("note"),
            )
            for r in links
        ),
        benches={name: row.text("bench") for name, row in how.items() if row.text("bench")},
        free_of=frozenset(
            (r.text("part"), r.text("comes_off_after"))
            for r in joints
            if not r.flag("binds_rebuild", default=True)
        ),
        removals={name: _removal(name, parts.get(name), how.get(name)) for name in names},
        groups=groups_of(parts, list(names)),
        because={(r.text("part"), r.text("comes_off_after")): r.text("because") for r in joints},
    )


def _piece(name: str, part: Row | None, how: Row | None) -> Piece:
    return Piece(
        piece=name,
        significance=part.number("significance", default=USUAL_SIGNIFICANCE)
        if part
        else USUAL_SIGNIFICANCE,
        fragile=int(how.number("fragile", default=USUAL_FRAGILE)) if how else USUAL_FRAGILE,
    )


def _removal(name: str, part: Row | None, how: Row | None) -> Removal:
    mass_kg = part.number("mass_kg") if part and part.text("mass_kg") else None
    said = int(how.number("people", default=1)) if how else 1
    words = [
        name,
        *(part.text(c) for c in ("name", "note") if part),
        how.text("note") if how else "",
    ]
    return Removal(
        part=name,
        name=(part.text("name") if part else "") or name,
        hours=how.number("hours") if how and how.text("hours") else None,
        people=max(said, people_for(mass_kg or 0.0)),
        mass_kg=mass_kg,
        single_use=bool(how and how.flag("single_use", default=False)),
        cautions=tuple(c for c in cautions_for(words) if c.called_by),
        note=how.text("note") if how else "",
        off_on=how.text("off_on") if how else "",
        on_again=how.text("on_again") if how else "",
    )


def people_for(mass_kg: float) -> int:
    """How many people a mass takes at least; a reminder, not a limit."""
    return 2 if mass_kg > ALONE_KG else 1
