"""Pieces of a car, what each waits for before it comes off, and what it risks to take it off."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from heapq import heapify, heappop, heappush

from asfound.base import InputError

HARM = (0.01, 0.02, 0.05, 0.1, 0.2, 0.4)
"""Chance that a removal harms a piece, by how fragile it is, 0–5: a guess, no source."""


STEPS = 100_000
"""Steps of risk to the unit, in which the solver counts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A piece that comes off.

    Parameters
    ----------
    piece : str
    significance : float
        Of its original fabric, 0–5.
    fragile : int
        0 (a casting) to 5 (falls apart when touched).
    """

    piece: str
    significance: float = 0.0
    fragile: int = 1

    def __post_init__(self) -> None:
        if not 0 <= self.significance <= 5:
            raise InputError(field="significance", got=self.significance, allowed="0 to 5")
        if self.fragile not in range(len(HARM)):
            raise InputError(field="fragile", got=self.fragile, allowed="a whole number, 0 to 5")

    @property
    def risk(self) -> float:
        """Loss to be expected from its removal: chance of harm times (1 + significance)."""
        return HARM[self.fragile] * (1 + self.significance)

    @property
    def risk_steps(self) -> int:
        """The risk in whole steps."""
        return round(self.risk * STEPS)


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """``piece`` comes off after ``after``, which holds or hides it.

    Parameters
    ----------
    piece, after : str
    way : str
        Joints of one piece that name the same way belong together, and any one of its ways is
        enough; a joint without a way always stands.
    """

    piece: str
    after: str
    way: str = ""


@dataclass(frozen=True, kw_only=True)  # no slots: it keeps what it works out once
class Assembly:
    """Pieces with their joints.

    Parameters
    ----------
    pieces : tuple of Piece
    joints : tuple of Joint

    Raises
    ------
    InputError
        If a name is twice or not declared, or a piece waits for itself.
    """

    pieces: tuple[Piece, ...]
    joints: tuple[Joint, ...] = field(default=())

    def __post_init__(self) -> None:
        if len(self.named) != len(self.pieces):
            raise InputError(
                field="pieces", got=[p.piece for p in self.pieces], allowed="unique by name"
            )
        for joint in self.joints:
            for name in (joint.piece, joint.after):
                if name not in self.named:
                    raise InputError(field="joints", got=name, allowed="between pieces that exist")
            if joint.piece == joint.after:
                raise InputError(field="joints", got=joint.piece, allowed="between two pieces")

    @cached_property
    def named(self) -> Mapping[str, Piece]:
        """Pieces by name."""
        return {piece.piece: piece for piece in self.pieces}

    @cached_property
    def always(self) -> Mapping[str, tuple[str, ...]]:
        """What must be off before each piece, whatever the way."""
        found: dict[str, dict[str, None]] = {name: {} for name in self.named}
        for joint in self.joints:
            if not joint.way:
                found[joint.piece][joint.after] = None
        return {name: tuple(after) for name, after in found.items()}

    @cached_property
    def ways(self) -> Mapping[str, Mapping[str, tuple[str, ...]]]:
        """By piece and way what that way asks for; empty for a piece without ways."""
        found: dict[str, dict[str, dict[str, None]]] = {name: {} for name in self.named}
        for joint in self.joints:
            if joint.way:
                found[joint.piece].setdefault(joint.way, {})[joint.after] = None
        return {
            name: {way: tuple(after) for way, after in ways.items()} for name, ways in found.items()
        }

    @cached_property
    def waiting(self) -> Mapping[str, tuple[str, ...]]:
        """What waits for each piece directly, in whatever way."""
        found: dict[str, dict[str, None]] = {name: {} for name in self.named}
        for joint in self.joints:
            found[joint.after][joint.piece] = None
        return {name: tuple(others) for name, others in found.items()}

    def can_come_off(self, piece: str, off: frozenset[str] | set[str]) -> bool:
        """Whether a piece can come off once these are off."""
        ways = self.ways[piece].values()
        return off.issuperset(self.always[piece]) and (
            not ways or any(off.issuperset(way) for way in ways)
        )

    def behind(self, piece: str) -> list[str]:
        """The piece and all that it may wait for, however far."""
        found = {piece: None}
        for name in (ahead := [piece]):
            ways = self.ways[name].values()
            for first in (*self.always[name], *(f for way in ways for f in way)):
                if first not in found:
                    found[first] = None
                    ahead.append(first)
        return list(found)

    @cached_property
    def stuck(self) -> tuple[str, ...]:
        """Pieces that can never come off, in or behind a ring of joints."""
        off = set(self.sequence)
        return tuple(name for name in self.named if name not in off)

    @cached_property
    def sequence(self) -> tuple[str, ...]:
        """Every piece that can come off, in an order in which it can."""
        return self.sequence_from(frozenset())

    def sequence_from(self, gone: frozenset[str]) -> tuple[str, ...]:
        """Every piece that can come off once these are, in an order in which it can.

        Of the pieces that are free the one that stands to lose most comes off first, so that it
        is out of harm's way; among equals, the first named.
        """
        order = {name: place for place, name in enumerate(self.named)}
        off, found = set(gone), list[str]()
        free = [
            (-self.named[n].risk, order[n], n)
            for n in order
            if n not in off and self.can_come_off(n, off)
        ]
        ready = {name for _, _, name in free}
        heapify(free)
        while free:
            name = heappop(free)[-1]
            off.add(name)
            found.append(name)
            for other in self.waiting[name]:
                if other not in ready and other not in off and self.can_come_off(other, off):
                    ready.add(other)
                    heappush(free, (-self.named[other].risk, order[other], other))
        return tuple(found)

    def waves(self, off: frozenset[str] = frozenset()) -> tuple[tuple[str, ...], ...]:
        """Pieces that can come off now, those that can once these are off, and so on.

        Parameters
        ----------
        off : frozenset of str
            Pieces that are off already; they are in no wave.

        Notes
        -----
        Without ways these are the generations of a topological order. A piece with ways is in
        the wave of its quickest one. Pieces in or behind a ring are in none.
        """
        gone, found = set(off), list[tuple[str, ...]]()
        while wave := tuple(n for n in self.named if n not in gone and self.can_come_off(n, gone)):
            found.append(wave)
            gone.update(wave)
        return tuple(found)

    @cached_property
    def ring(self) -> tuple[str, ...]:
        """Pieces of one ring, each waiting for the next and the last for the first."""
        if not self.stuck:
            return ()
        stuck = set(self.stuck)
        path = [self.stuck[0]]
        while True:
            waits = self._waits_for(path[-1], stuck)
            if waits in path:
                return tuple(path[path.index(waits) :])
            path.append(waits)

    def _waits_for(self, piece: str, stuck: set[str]) -> str:
        """One piece that never comes off, for which this one waits."""
        several = [*self.always[piece], *(a for w in self.ways[piece].values() for a in w)]
        return next(name for name in several if name in stuck)
