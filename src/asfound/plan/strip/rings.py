"""Pieces that wait for each other: the joints that make each ring, and which to doubt first."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from asfound.plan.strip.piece import Assembly, Joint


@dataclass(frozen=True, slots=True, kw_only=True)
class Ring:
    """One ring of joints.

    Parameters
    ----------
    pieces : tuple of str
        Each waits for the next, and the last for the first.
    joints : tuple of Joint
        Those by which they wait, in the same order.
    doubt : Joint
        The one without which most pieces come off; among equals, the one entered last.
    frees_n : int
        How many more pieces come off without it.
    stuck_n : int
        How many could not come off with it.
    """

    pieces: tuple[str, ...]
    joints: tuple[Joint, ...]
    doubt: Joint
    frees_n: int
    stuck_n: int


def rings_of(assembly: Assembly) -> tuple[Ring, ...]:
    """Rings one after the other, each with the joint to doubt, until every piece can come off.

    Parameters
    ----------
    assembly : Assembly

    Notes
    -----
    Each ring is looked for without the joints that are doubted in those before it. The joints to
    doubt free everything, but they need not be the fewest that would.

    Examples
    --------
    >>> from asfound.plan.strip import Joint, Piece
    >>> pairs = [("lid", "hinge"), ("hinge", "lid"), ("lamp", "lid")]
    >>> car = Assembly(
    ...     pieces=tuple(Piece(piece=name) for name in ("lid", "hinge", "lamp")),
    ...     joints=tuple(Joint(piece=one, after=two) for one, two in pairs),
    ... )
    >>> [(ring.pieces, ring.doubt.piece, ring.frees_n) for ring in rings_of(car)]
    [(('lid', 'hinge'), 'hinge', 3)]
    """
    found = []
    left = assembly
    while left.stuck:
        joints = tuple(_joints_along(left))
        freed = {joint: len(left.stuck) - len(_without(left, joint).stuck) for joint in joints}
        place = {joint: i for i, joint in enumerate(left.joints)}
        doubt = max(joints, key=lambda joint: (freed[joint], place[joint]))
        found.append(
            Ring(
                pieces=left.ring,
                joints=joints,
                doubt=doubt,
                frees_n=freed[doubt],
                stuck_n=len(left.stuck),
            )
        )
        left = _without(left, doubt)
    return tuple(found)


def _joints_along(assembly: Assembly) -> Iterator[Joint]:
    """The joint behind each step of the ring."""
    ring = assembly.ring
    for piece, after in pairwise((*ring, ring[0])):
        yield next(j for j in assembly.joints if (j.piece, j.after) == (piece, after))


def _without(assembly: Assembly, joint: Joint) -> Assembly:
    return replace(assembly, joints=tuple(j for j in assembly.joints if j != joint))
