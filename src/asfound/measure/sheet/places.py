"""Places along the car that both the usual proportions and the drawing start from, in mm."""

from __future__ import annotations

from asfound.measure.sheet.forms import BodyForm


def unit_of(wheelbase: float) -> float:
    """One hundredth of the wheelbase: the unit of small features, so that all scale alike."""
    return wheelbase / 100


def arch_radius(wheel: float, *, separate_wings: bool) -> float:
    """Half the width of a wheel opening; a separate wing stands further off the tyre."""
    return wheel / 2 * (1.22 if separate_wings else 1.14)


def bonnet_start(
    *, front_overhang: float, wheel: float, length: float, separate_wings: bool
) -> float:
    """Where the bonnet begins: at the nose, or at the radiator just ahead of the hub."""
    if separate_wings:
        return max(front_overhang - 0.35 * wheel, 0.01 * length)
    return 0.03 * length


def door_start(
    *,
    front_overhang: float,
    wheelbase: float,
    length: float,
    wheel: float,
    bonnet: float,
    separate_wings: bool,
) -> float:
    """The shut line before the front door: behind the bonnet and clear of the wheel opening."""
    start = bonnet_start(
        front_overhang=front_overhang, wheel=wheel, length=length, separate_wings=separate_wings
    )
    unit = unit_of(wheelbase)
    behind_bonnet = start + bonnet + (6 if separate_wings else 2.5) * unit
    if separate_wings:
        return behind_bonnet
    clear = front_overhang + arch_radius(wheel, separate_wings=False) + 3 * unit
    return max(behind_bonnet, clear)


def body_end(length: float, *, separate_wings: bool) -> float:
    """Where boot lid or bed end."""
    return length * (0.955 if separate_wings else 0.985)


def boot_start(form: BodyForm, *, length: float, boot: float, separate_wings: bool) -> float:
    """The front edge of boot lid or bed; the tail itself where there is neither."""
    end = body_end(length, separate_wings=separate_wings)
    return end - boot if form.boot_lid or form.load_bed else end


def doors_limit(
    form: BodyForm, *, length: float, wheelbase: float, boot: float, separate_wings: bool
) -> float:
    """How far back the last door may reach."""
    unit = unit_of(wheelbase)
    start = boot_start(form, length=length, boot=boot, separate_wings=separate_wings)
    if form.load_bed:
        return start - 7 * unit
    return start - 6 * unit
