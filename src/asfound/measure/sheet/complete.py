"""The full set of lengths that a sheet needs, with the names of those nobody measured."""

from __future__ import annotations

from dataclasses import dataclass

from asfound.measure.sheet.forms import BodyForm
from asfound.measure.sheet.places import door_start, doors_limit
from asfound.measure.sheet.shares import Shares, usual_shares
from asfound.measure.sheet.tape import TapeMeasurements


@dataclass(frozen=True, slots=True, kw_only=True)
class Lengths:
    """Every length a sheet is drawn from, in mm, with the names of those nobody measured."""

    wheelbase: float
    length: float
    width: float
    height: float
    front_overhang: float
    bonnet: float
    bonnet_width: float
    boot: float
    front_door: float
    rear_door: float
    sill: float
    wheel: float
    glass: float
    assumed: tuple[str, ...]


def complete(form: BodyForm, tape: TapeMeasurements, *, separate_wings: bool) -> Lengths:
    """All lengths of a car: those taken as they are, the others from usual proportions.

    Parameters
    ----------
    form : BodyForm
    tape : TapeMeasurements
    separate_wings : bool
        Whether the wings are panels of their own, beside bonnet and body.

    Examples
    --------
    >>> tape = TapeMeasurements(
    ...     wheelbase_mm=2500, length_mm=4200, width_mm=1600, height_mm=1400, rear_overhang_mm=980
    ... )
    >>> lengths = complete(BodyForm.SALOON, tape, separate_wings=False)
    >>> lengths.front_overhang, "front_overhang_mm" in lengths.assumed
    (720, False)
    """
    shares = usual_shares(form, separate_wings=separate_wings)
    usual = _usual(shares, tape)
    if not form.closed:
        usual["glass_mm"] = 0.0
    full = {name: _taken_or(tape, name, value) for name, value in usual.items()}
    full |= _doors(form, tape, shares, full, separate_wings=separate_wings)
    closed_sum = {"front_overhang_mm"} if tape.rear_overhang_mm is not None else set()
    assumed = tuple(
        name for name in full if _is_assumed(tape, name, full[name]) and name not in closed_sum
    )
    return Lengths(
        wheelbase=tape.wheelbase_mm,
        length=tape.length_mm,
        width=tape.width_mm,
        height=tape.height_mm,
        assumed=assumed,
        **{name.removesuffix("_mm"): value for name, value in full.items()},
    )


def _taken_or(tape: TapeMeasurements, name: str, usual: float) -> float:
    taken: float | None = getattr(tape, name)
    return usual if taken is None else taken


def _is_assumed(tape: TapeMeasurements, name: str, value: float) -> bool:
    return getattr(tape, name) is None and value > 0


def _usual(shares: Shares, tape: TapeMeasurements) -> dict[str, float]:
    spare_mm = tape.length_mm - tape.wheelbase_mm
    front_mm = shares.front_overhang * spare_mm
    if tape.rear_overhang_mm is not None:
        front_mm = spare_mm - tape.rear_overhang_mm
    wheel_mm = _taken_or(tape, "wheel_mm", shares.wheel * tape.wheelbase_mm)
    return {
        "front_overhang_mm": front_mm,
        "bonnet_mm": shares.bonnet * tape.length_mm,
        "bonnet_width_mm": shares.bonnet_width * tape.width_mm,
        "boot_mm": shares.boot * tape.length_mm,
        "sill_mm": shares.sill * wheel_mm,
        "wheel_mm": wheel_mm,
        "glass_mm": shares.glass * tape.height_mm,
    }


def _doors(
    form: BodyForm,
    tape: TapeMeasurements,
    shares: Shares,
    full: dict[str, float],
    *,
    separate_wings: bool,
) -> dict[str, float]:
    """Door lengths: as taken, else the usual share of the wheelbase as far as there is room."""
    start = door_start(
        front_overhang=full["front_overhang_mm"],
        wheelbase=tape.wheelbase_mm,
        length=tape.length_mm,
        wheel=full["wheel_mm"],
        bonnet=full["bonnet_mm"],
        separate_wings=separate_wings,
    )
    limit = doors_limit(
        form,
        length=tape.length_mm,
        wheelbase=tape.wheelbase_mm,
        boot=full["boot_mm"],
        separate_wings=separate_wings,
    )
    room_mm = min(shares.door * tape.wheelbase_mm, 0.97 * (limit - start))
    if not form.rear_doors:
        return {"front_door_mm": _taken_or(tape, "front_door_mm", room_mm), "rear_door_mm": 0.0}
    front_mm, rear_mm = tape.front_door_mm, tape.rear_door_mm
    if front_mm is None:
        front_mm = shares.front_door * room_mm if rear_mm is None else room_mm - rear_mm
    return {
        "front_door_mm": front_mm,
        "rear_door_mm": room_mm - front_mm if rear_mm is None else rear_mm,
    }
