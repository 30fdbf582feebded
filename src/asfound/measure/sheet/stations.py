"""Where things stand along the car and above the ground, from the completed lengths."""

from __future__ import annotations

from dataclasses import dataclass

from asfound.base import InputError
from asfound.measure.sheet.character import Character, character
from asfound.measure.sheet.complete import Lengths
from asfound.measure.sheet.forms import BodyForm
from asfound.measure.sheet.places import (
    arch_radius,
    body_end,
    bonnet_start,
    boot_start,
    door_start,
    doors_limit,
    unit_of,
)

GAP = 0.26  # width of a shut line in hundredths of the wheelbase: 6.5 mm at 2.5 m


@dataclass(frozen=True, slots=True, kw_only=True)
class Stations:
    """Positions in the side view, in mm: x from the nose rearward, z up from the ground.

    Parameters
    ----------
    form : BodyForm
    lengths : Lengths
    lines : Character
    separate_wings : bool
    gap : float
        Width of a shut line.
    hub_front, hub_rear, arch : float
        Positions of the hubs, and half the width of a wheel opening.
    bonnet_front, bonnet_rear, boot_front, boot_rear : float
        Ends of bonnet and boot lid along the middle.
    door_front, pillar, door_end : float
        Middle of the shut lines: before the front door, behind it, behind the last door.
    screen_foot, screen_top, rear_top, rear_foot : float
        Corners of the part above the waist (closed forms).
    waist, gutter, rail : float
        Heights of the waist and of the roof's gutter, and of the rail between gutter and glass.
    """

    form: BodyForm
    lengths: Lengths
    lines: Character
    separate_wings: bool
    gap: float
    hub_front: float
    hub_rear: float
    arch: float
    bonnet_front: float
    bonnet_rear: float
    boot_front: float
    boot_rear: float
    door_front: float
    pillar: float
    door_end: float
    screen_foot: float
    screen_top: float
    rear_top: float
    rear_foot: float
    waist: float
    gutter: float
    rail: float

    @property
    def unit(self) -> float:
        """One hundredth of the wheelbase: the unit of small features, so that all scale alike."""
        return unit_of(self.lengths.wheelbase)

    @property
    def tail_z(self) -> float:
        """Height of the tail's upper edge."""
        return self.lines.tail * self.waist

    @property
    def bed_half(self) -> float:
        """Half the width of a load bed; it stands narrower between separate wings."""
        return (0.36 if self.separate_wings else 0.43) * self.lengths.width

    @property
    def sill_top(self) -> float:
        """Height of the lower edge of the doors."""
        return self.lengths.sill + 4.4 * self.unit


def stations(form: BodyForm, lengths: Lengths, *, separate_wings: bool) -> Stations:
    """All positions of a car.

    Raises
    ------
    InputError
        If doors, bonnet and boot do not fit between nose and tail.
    """
    lines = character(form, separate_wings=separate_wings)
    along = _along(form, lengths, separate_wings=separate_wings)
    up = _heights(form, lengths)
    upper = _upper(form, lengths, lines, along, up, separate_wings=separate_wings)
    placed = Stations(
        form=form,
        lengths=lengths,
        lines=lines,
        separate_wings=separate_wings,
        gap=GAP * unit_of(lengths.wheelbase),
        **along,
        **up,
        **upper,
    )
    _check(placed)
    return placed


def _along(form: BodyForm, lengths: Lengths, *, separate_wings: bool) -> dict[str, float]:
    gap = GAP * unit_of(lengths.wheelbase)
    bonnet_front = bonnet_start(
        front_overhang=lengths.front_overhang,
        wheel=lengths.wheel,
        length=lengths.length,
        separate_wings=separate_wings,
    )
    door_front = door_start(
        front_overhang=lengths.front_overhang,
        wheelbase=lengths.wheelbase,
        length=lengths.length,
        wheel=lengths.wheel,
        bonnet=lengths.bonnet,
        separate_wings=separate_wings,
    )
    pillar = door_front + lengths.front_door + gap
    return {
        "hub_front": lengths.front_overhang,
        "hub_rear": lengths.front_overhang + lengths.wheelbase,
        "arch": arch_radius(lengths.wheel, separate_wings=separate_wings),
        "bonnet_front": bonnet_front,
        "bonnet_rear": bonnet_front + lengths.bonnet,
        "boot_front": boot_start(
            form, length=lengths.length, boot=lengths.boot, separate_wings=separate_wings
        ),
        "boot_rear": body_end(lengths.length, separate_wings=separate_wings),
        "door_front": door_front,
        "pillar": pillar,
        "door_end": pillar + (lengths.rear_door + gap if form.rear_doors else 0),
    }


def _heights(form: BodyForm, lengths: Lengths) -> dict[str, float]:
    rail = 2.3 * lengths.wheelbase / 100
    if not form.closed:
        waist = lengths.height
        return {"waist": waist, "gutter": waist, "rail": rail}
    gutter = 0.97 * lengths.height
    return {"waist": gutter - rail - lengths.glass, "gutter": gutter, "rail": rail}


def _upper(
    form: BodyForm,
    lengths: Lengths,
    lines: Character,
    along: dict[str, float],
    up: dict[str, float],
    *,
    separate_wings: bool,
) -> dict[str, float]:
    unit, rise = lengths.wheelbase / 100, up["gutter"] - up["waist"]
    screen_foot = max(along["bonnet_rear"] + 0.042 * lengths.length, along["door_front"] + unit)
    tail = along["boot_rear"] + 0.6 * unit if separate_wings else lengths.length
    rear_foot = {
        BodyForm.ESTATE: tail - 0.4 * unit,
        BodyForm.VAN: tail - 0.2 * unit,
        BodyForm.PICK_UP: min(along["pillar"] + 9 * unit, along["boot_front"] - 1.2 * unit),
    }.get(form, along["boot_front"] - 2.5 * unit)
    return {
        "screen_foot": screen_foot,
        "screen_top": screen_foot + lines.screen_rake * rise,
        "rear_top": rear_foot - lines.rear_rake * rise,
        "rear_foot": rear_foot,
    }


def _check(placed: Stations) -> None:
    _check_doors(placed)
    if placed.form.closed and placed.rear_top - placed.screen_top < 10 * placed.unit:
        raise InputError(
            field="boot_mm" if placed.form.boot_lid else "bonnet_mm",
            got=round(placed.lengths.boot if placed.form.boot_lid else placed.lengths.bonnet),
            allowed="such that a roof is left between windscreen and rear end",
            remedy="Measure bonnet, boot and overhangs again.",
        )
    if placed.waist < 0.8 * placed.lengths.wheel + 4 * placed.unit:
        raise InputError(
            field="wheel_mm",
            got=round(placed.lengths.wheel),
            allowed=f"under a waist that stands {placed.waist:.0f} mm above the ground",
            remedy="Measure height, glass and wheel again.",
        )
    if placed.sill_top > 0.75 * placed.waist:
        raise InputError(
            field="sill_mm",
            got=round(placed.lengths.sill),
            allowed="well below the waist",
            remedy="Measure height, glass and sill again.",
        )


def _check_doors(placed: Stations) -> None:
    lengths = placed.lengths
    limit = doors_limit(
        placed.form,
        length=lengths.length,
        wheelbase=lengths.wheelbase,
        boot=lengths.boot,
        separate_wings=placed.separate_wings,
    )
    doors = {"front_door_mm": lengths.front_door}
    if placed.form.rear_doors:
        doors["rear_door_mm"] = lengths.rear_door
    name = min(doors, key=lambda key: doors[key])
    if placed.door_end > limit or doors[name] < 8 * placed.unit:
        raise InputError(
            field=name,
            got=round(doors[name]),
            allowed=(
                f"such that all doors fit between {placed.door_front:.0f} and {limit:.0f} mm "
                "behind the nose"
            ),
            remedy="Measure bonnet, doors, boot and overhangs again.",
        )
