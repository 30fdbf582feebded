"""The character of each form's lines, as shares of the car's own lengths.

Drawn freely as generic shapes; none is taken from a particular car.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from asfound.measure.sheet.forms import BodyForm


@dataclass(frozen=True, slots=True, kw_only=True)
class Character:
    """How a body's lines run.

    Parameters
    ----------
    nose, over_front, scuttle, door, door_rear, haunch, tail : float
        Height of the upper line of wings and doors along the car, as a share of the waist.
    screen_rake, rear_rake : float
        Lean of windscreen and rear end, sideways for each unit of height.
    tail_lean : float
        How far the tail's foot draws in, as a share of the length.
    arch_flat : float
        Rise of the rear arch as a share of its half-width; below 1 it covers part of the wheel.
    """

    nose: float = 0.85
    over_front: float = 0.955
    scuttle: float = 1.0
    door: float = 1.0
    door_rear: float = 1.0
    haunch: float = 0.985
    tail: float = 0.90
    screen_rake: float = 0.62
    rear_rake: float = 0.50
    tail_lean: float = 0.018
    arch_flat: float = 0.93


_ONE_PIECE: dict[BodyForm, Character] = {
    BodyForm.SALOON: Character(),
    BodyForm.COUPE: Character(
        nose=0.82, screen_rake=0.85, rear_rake=1.3, haunch=1.0, tail=0.88, tail_lean=0.03
    ),
    BodyForm.OPEN_TWO_SEATER: Character(
        nose=0.80, over_front=0.98, scuttle=0.99, door=0.93, door_rear=0.95, haunch=0.98, tail=0.80
    ),
    BodyForm.OPEN_FOUR_SEATER: Character(
        nose=0.86, over_front=0.98, scuttle=1.0, door=0.965, door_rear=0.97, haunch=0.975, tail=0.86
    ),
    BodyForm.ESTATE: Character(haunch=1.0, tail=0.985, rear_rake=0.26),
    BodyForm.VAN: Character(
        nose=0.80, over_front=0.93, screen_rake=0.55, rear_rake=0.03, haunch=1.0, tail=1.0
    ),
    BodyForm.PICK_UP: Character(rear_rake=0.03, haunch=1.0, tail=0.99, tail_lean=0.004),
}


def character(form: BodyForm, *, separate_wings: bool) -> Character:
    """The lines of a form; with separate wings they stand more upright and run level."""
    lines = _ONE_PIECE[form]
    if not separate_wings:
        return lines
    return replace(
        lines,
        nose=0.93,
        over_front=0.96,
        screen_rake=0.30,
        rear_rake=min(lines.rear_rake, 0.9),
        haunch=min(lines.haunch, 0.97),
        tail=lines.tail if form.upright_tail else 0.78,
    )
