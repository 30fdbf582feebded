"""What must come off to reach a piece, with the least risk in all."""

from __future__ import annotations

from dataclasses import dataclass

from asfound.base import InputError, NoSolutionError
from asfound.plan.strip.piece import STEPS, Assembly


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """The way to a piece.

    Parameters
    ----------
    piece : str
    first_off : tuple of str
        What comes off before it, in an order in which it can.
    risk : float
        Loss to be expected from these removals; the piece itself does not count.
    risk_least : float
        No way has less; proved.
    """

    piece: str
    first_off: tuple[str, ...]
    risk: float
    risk_least: float

    @property
    def proved(self) -> bool:
        """Whether no way has less risk."""
        return self.risk_least >= self.risk


def way_to(
    assembly: Assembly,
    piece: str,
    *,
    off: frozenset[str] = frozenset(),
    work_s: float = 10.0,
) -> Way:
    """What must come off before a piece, with the least risk; then the fewest pieces.

    Parameters
    ----------
    assembly : Assembly
    piece : str
    off : frozenset of str
        Pieces that are off already; nothing comes off first for one of them.
    work_s : float
        Seconds of the solver's own clock.

    Raises
    ------
    InputError
        If there is no such piece.
    NoSolutionError
        If it can never come off; ``clash`` names a ring of pieces that wait for each other.

    Notes
    -----
    minimise Σ risk over the pieces that come off, where the piece comes off, each piece that
    comes off has all its joints off before it and all those of one of its ways, and every such
    pair agrees with one order. Without ways the answer is all that stands before it; with ways
    that share pieces the problem is NP-hard, and CP-SAT proves the best.

    Examples
    --------
    >>> from asfound.plan.strip import Joint, Piece
    >>> pieces = [("dash", 5, 4), ("column", 2, 1), ("trim", 1, 1), ("heater", 0, 0)]
    >>> car = Assembly(
    ...     pieces=tuple(Piece(piece=p, significance=s, fragile=f) for p, s, f in pieces),
    ...     joints=(
    ...         Joint(piece="heater", after="dash", way="from inside"),
    ...         Joint(piece="heater", after="column", way="from below"),
    ...         Joint(piece="heater", after="trim", way="from below"),
    ...     ),
    ... )
    >>> way_to(car, "heater").first_off
    ('column', 'trim')
    """
    if piece not in assembly.named:
        raise InputError(field="piece", got=piece, allowed="the name of a piece")
    if piece in off:
        return Way(piece=piece, first_off=(), risk=0.0, risk_least=0.0)
    sequence = assembly.sequence_from(off)
    if piece not in sequence:
        turning = " → ".join([*assembly.ring, assembly.ring[0]])
        reason = f"{piece} can never come off: {turning} wait for each other"
        raise NoSolutionError(f"There is no way: {reason}.", clash=(reason,))
    # The solver takes a second to load; who does not ask does not wait for it.
    from asfound.plan.strip.model import least_risk  # noqa: PLC0415 - see above

    found = least_risk(
        assembly,
        piece,
        off=off,
        free=frozenset(sequence),
        work_s=work_s,
    )
    if found is None:  # a lawful way without a proof, where the solver found none in its time
        before = set(sequence[: sequence.index(piece)]) & set(assembly.behind(piece))
        found = before | {piece}, 0.0
    return _way(assembly, piece, off, [n for n in sequence if n in found[0]], found[1])


def _way(
    assembly: Assembly, piece: str, off: frozenset[str], waiting: list[str], least: float
) -> Way:
    gone, order = set(off), []
    while piece not in gone:
        name = next(n for n in waiting if n not in gone and assembly.can_come_off(n, gone))
        gone.add(name)
        order.append(name)
    first_off = tuple(name for name in order if name != piece)
    risk = sum(assembly.named[name].risk_steps for name in first_off) / STEPS
    return Way(piece=piece, first_off=first_off, risk=risk, risk_least=min(least, risk))
