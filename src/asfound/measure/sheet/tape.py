"""Tape measurements of a car."""

from __future__ import annotations

import math
from dataclasses import dataclass, fields

from asfound.base import InputError

_LENGTH_TOLERANCE = 0.01
_UNDER_WHEELBASE = {"bonnet_mm", "front_door_mm", "rear_door_mm", "wheel_mm"}


@dataclass(frozen=True, slots=True, kw_only=True)
class TapeMeasurements:
    """What a tape says of a car; four lengths are needed, the others may wait.

    Parameters
    ----------
    wheelbase_mm : float
        Hub to hub along one side, more than zero.
    length_mm : float
        Overall without bumpers, more than the wheelbase.
    width_mm : float
        Over the wings.
    height_mm : float
        Ground to the top of the roof; of an open car, to the top of the scuttle.
    front_overhang_mm, rear_overhang_mm : float or None
        Hub to the body's front and rear end. With both, they and the wheelbase must add up to
        the length within 1 %; the wheelbase and the front overhang are then drawn as taken, and
        the rear one closes the sum.
    bonnet_mm, bonnet_width_mm : float or None
        Length along the middle, and width at the rear edge.
    boot_mm : float or None
        Boot lid along the middle; of a pick-up, the bed.
    front_door_mm, rear_door_mm : float or None
        Greatest length of the panel, edge to edge.
    sill_mm : float or None
        Ground to the underside of the sill or running board.
    wheel_mm : float or None
        Outer diameter over the tyre.
    glass_mm : float or None
        Height of the front door's glass opening; not used for open cars.

    Raises
    ------
    InputError
        If a length is not positive and finite, or contradicts another.
    """

    wheelbase_mm: float
    length_mm: float
    width_mm: float
    height_mm: float
    front_overhang_mm: float | None = None
    rear_overhang_mm: float | None = None
    bonnet_mm: float | None = None
    bonnet_width_mm: float | None = None
    boot_mm: float | None = None
    front_door_mm: float | None = None
    rear_door_mm: float | None = None
    sill_mm: float | None = None
    wheel_mm: float | None = None
    glass_mm: float | None = None

    def __post_init__(self) -> None:
        for name, value in self._taken().items():
            if not (math.isfinite(value) and value > 0):
                raise InputError(field=name, got=value, allowed="a finite length above zero, in mm")
        self._below("wheelbase_mm", 0.95 * self.length_mm, "under 95 % of length_mm")
        for name in _UNDER_WHEELBASE:
            self._below(name, self.wheelbase_mm, "shorter than wheelbase_mm")
        self._below("bonnet_width_mm", self.width_mm, "narrower than width_mm")
        for name in ("sill_mm", "glass_mm"):
            self._below(name, 0.6 * self.height_mm, "under 60 % of height_mm")
        self._check_sum()

    def _taken(self) -> dict[str, float]:
        values = {f.name: getattr(self, f.name) for f in fields(self)}
        return {name: value for name, value in values.items() if value is not None}

    def _below(self, name: str, limit_mm: float, rule: str) -> None:
        value = self._taken().get(name)
        if value is not None and not value < limit_mm:
            raise InputError(field=name, got=value, allowed=rule, remedy="Measure both again.")

    def _check_sum(self) -> None:
        spare_mm = self.length_mm - self.wheelbase_mm
        for name in ("front_overhang_mm", "rear_overhang_mm"):
            self._below(name, spare_mm, "under length_mm less wheelbase_mm")
        if self.front_overhang_mm is None or self.rear_overhang_mm is None:
            return
        total_mm = self.front_overhang_mm + self.wheelbase_mm + self.rear_overhang_mm
        if abs(total_mm - self.length_mm) > _LENGTH_TOLERANCE * self.length_mm:
            raise InputError(
                field="length_mm",
                got=self.length_mm,
                allowed=f"within 1 % of overhangs and wheelbase together ({total_mm:g} mm)",
                remedy="Measure the overhangs again, from hub to body, without bumpers.",
            )
