"""What must come off to reach a piece, with the least risk in all."""

from __future__ import annotations

from dataclasses import dataclass

from ortools.sat.python import cp_model

from asfound.base import InputError, NoSolutionError
from asfound.plan.plan import Progress
from asfound.plan.search import Effort, run
from asfound.plan.strip.piece import Assembly

_STEPS = 100_000
"""Steps of risk to the unit; risks of pieces are whole hundredths times 1 + significance."""


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
    seed: int = 0,
    work_s: float = 10.0,
    progress: Progress | None = None,
) -> Way:
    """What must come off before a piece, with the least risk; then the fewest pieces.

    Parameters
    ----------
    assembly : Assembly
    piece : str
    off : frozenset of str
        Pieces that are off already.
    seed : int
    work_s : float
        Seconds of the solver's own clock.
    progress : callable or None
        Called with the share done, 0–1; raise ``StoppedError`` in it to stop.

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
    if piece in assembly.stuck:
        turning = " → ".join([*assembly.ring, assembly.ring[0]])
        reason = f"{piece} can never come off: {turning} wait for each other"
        raise NoSolutionError(f"There is no way: {reason}.", clash=(reason,))
    model, taken = _model(assembly, piece, off)
    solver, status = run(model, Effort(work_s=work_s, seed=seed, wide=False), progress=progress)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return _plainly(assembly, piece, off)
    needed = {name for name, literal in taken.items() if solver.value(literal)}
    return _way(assembly, piece, off, needed, least=_least(solver, len(assembly.pieces)))


def _model(
    assembly: Assembly, piece: str, off: frozenset[str]
) -> tuple[cp_model.CpModel, dict[str, cp_model.IntVar]]:
    cp = cp_model.CpModel()
    names = [n for n in _behind(assembly, piece) if n not in off and n not in assembly.stuck]
    taken = {name: cp.new_bool_var(f"{name} off") for name in names}
    place = {name: cp.new_int_var(0, len(names), f"place of {name}") for name in names}
    cp.add(taken[piece] == 1)

    def before(literal: cp_model.IntVar, name: str, first: str) -> None:
        """If the literal holds, ``first`` is off before ``name``."""
        if first in off:
            return
        if first not in taken:
            cp.add(literal == 0)
            return
        cp.add_implication(literal, taken[first])
        cp.add(place[first] + 1 <= place[name]).only_enforce_if(literal)

    for name in names:
        for first in assembly.always[name]:
            before(taken[name], name, first)
        chosen = []
        for asked in assembly.ways[name].values():
            way = cp.new_bool_var("")
            chosen.append(way)
            for first in asked:
                before(way, name, first)
        if chosen:
            cp.add_bool_or(*chosen).only_enforce_if(taken[name])
    fewest = len(assembly.pieces) + 1
    cp.minimize(
        sum(
            (_steps(assembly, name) * fewest + 1) * literal
            for name, literal in taken.items()
            if name != piece
        )
    )
    return cp, taken


def _steps(assembly: Assembly, name: str) -> int:
    return round(assembly.named[name].risk * _STEPS)


def _behind(assembly: Assembly, piece: str) -> list[str]:
    """The piece and all that it may wait for, however far."""
    found = {piece: None}
    for name in (ahead := [piece]):
        ways = assembly.ways[name].values()
        for first in (*assembly.always[name], *(f for way in ways for f in way)):
            if first not in found:
                found[first] = None
                ahead.append(first)
    return list(found)


def _least(solver: cp_model.CpSolver, count: int) -> float:
    return float(max(0, round(solver.best_objective_bound)) // (count + 1)) / _STEPS


def _plainly(assembly: Assembly, piece: str, off: frozenset[str]) -> Way:
    """A lawful way without a proof, where the solver found none in its time."""
    sequence = assembly.sequence
    needed = set(sequence[: sequence.index(piece)]) & set(_behind(assembly, piece))
    return _way(assembly, piece, off, needed | {piece}, least=0.0)


def _way(
    assembly: Assembly, piece: str, off: frozenset[str], needed: set[str], *, least: float
) -> Way:
    gone, order = set(off), []
    waiting = [name for name in assembly.sequence if name in needed and name not in off]
    while piece not in gone:
        name = next(n for n in waiting if n not in gone and assembly.can_come_off(n, gone))
        gone.add(name)
        order.append(name)
    first_off = tuple(name for name in order if name != piece)
    risk = sum(_steps(assembly, name) for name in first_off) / _STEPS
    return Way(piece=piece, first_off=first_off, risk=risk, risk_least=min(least, risk))
