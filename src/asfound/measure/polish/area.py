"""One area against its floor: what is left at each spot and how many passes may follow."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from scipy import special

from asfound.base import Estimate, NotEnoughEvidenceError
from asfound.measure.polish.budget import GUESS, PassesLeft, left_by_spot, passes_left
from asfound.measure.polish.present import PresentSpot
from asfound.measure.polish.removal import Removal
from asfound.measure.polish.survey import PanelFloor

NO_FLOOR = (
    "No floor is set for this area, so nothing is said of what may still come off. Set one, and "
    "say what it rests on."
)
NO_SPOT = "The film of this area was not read, so what is left is not known."
UNMEASURED = "What a pass takes was not measured; read spots before and after."


@dataclass(frozen=True, slots=True, kw_only=True)
class SpotBudget:
    """A spot now, its film over the floor, and the chance that it is above it at all.

    The last two are ``None`` where the area has no floor.
    """

    present: PresentSpot
    over_floor_um: Estimate | None = None
    above_probability: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ProcessBudget:
    """Passes of one process that may follow, the fewest over the spots of the area.

    ``by_spot`` are the passes at each spot; ``worst`` is the spot that allows fewest. Both are
    empty where ``refusal`` says why there is no number.
    """

    process: str
    measured_here: bool
    removal: Removal
    by_spot: Mapping[str, int]
    worst: PassesLeft | None
    refusal: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class AreaBudget:
    """One area of a panel: floor, spots with the thinnest first, processes, cautions."""

    panel: str
    area: str
    floor: PanelFloor | None
    spots: tuple[SpotBudget, ...]
    processes: tuple[ProcessBudget, ...]
    cautions: tuple[str, ...]


def area_budget(
    *,
    panel: str,
    area: str,
    floor: PanelFloor | None,
    spots: tuple[PresentSpot, ...],
    own: Mapping[str, Removal],
    elsewhere: Mapping[str, Removal],
    stay_probability: float,
) -> AreaBudget:
    """The budget of one area.

    Parameters
    ----------
    panel, area : str
    floor : PanelFloor or None
        Without one nothing is said of what may come off; none is made up.
    spots : tuple of PresentSpot
    own, elsewhere : mapping of str to Removal
        What a pass took by process: on this area, and over the car; of the latter only what is
        told from nothing is used.
    stay_probability : float
        Asked chance of staying above the floor, 0.5 to below 1.
    """
    held = _spots(spots, floor)
    processes = (
        tuple(
            _process(name, own.get(name), removal, floor, spots, stay_probability)
            for name, removal in elsewhere.items()
            if name in own or removal.told_apart
        )
        if floor and spots
        else ()
    )
    return AreaBudget(
        panel=panel,
        area=area,
        floor=floor,
        spots=held,
        processes=processes,
        cautions=tuple(_cautions(floor, spots, processes)),
    )


def _spots(spots: tuple[PresentSpot, ...], floor: PanelFloor | None) -> tuple[SpotBudget, ...]:
    if floor is None or not spots:
        return tuple(SpotBudget(present=s) for s in sorted(spots, key=lambda s: s.film_um.value))
    by_name = {s.spot: s for s in spots}
    left = left_by_spot({s.spot: s.film_um for s in spots}, floor=floor.floor)
    return tuple(
        SpotBudget(
            present=by_name[found.spot],
            over_floor_um=found.over_floor_um,
            above_probability=_above(found.over_floor_um),
        )
        for found in left
    )


def _above(over: Estimate) -> float:
    t = over.value / over.u
    return float(special.ndtr(t) if math.isinf(over.dof) else special.stdtr(over.dof, t))


def _process(
    name: str,
    own: Removal | None,
    elsewhere: Removal,
    floor: PanelFloor,
    spots: tuple[PresentSpot, ...],
    asked: float,
) -> ProcessBudget:
    removal = own or elsewhere
    try:
        each = {
            s.spot: passes_left(
                {s.spot: s.film_um}, floor=floor.floor, removal=removal, stay_probability=asked
            )
            for s in spots
        }
    except NotEnoughEvidenceError as error:
        by_spot: dict[str, int] = {}
        worst, refusal = None, str(error)
    else:
        by_spot = {spot: left.passes_n for spot, left in each.items()}
        worst = min(each.values(), key=lambda left: (left.passes_n, left.over_floor_um.value))
        refusal = ""
    return ProcessBudget(
        process=name,
        measured_here=own is not None,
        removal=removal,
        by_spot=by_spot,
        worst=worst,
        refusal=refusal,
    )


def _cautions(
    floor: PanelFloor | None,
    spots: tuple[PresentSpot, ...],
    processes: tuple[ProcessBudget, ...],
) -> list[str]:
    if not spots:
        return [NO_SPOT] if floor else [NO_FLOOR, NO_SPOT]
    if floor is None:
        return [NO_FLOOR]
    said = [GUESS] if floor.floor.basis == "guess" else []
    if not processes:
        return [*said, UNMEASURED]
    for process in processes:
        told = process.worst.cautions if process.worst else ()
        said += [words for words in told if words not in said]
    if any(process.worst and not process.measured_here for process in processes):
        said.append(
            "What a pass takes was measured on another area; edges, creases and thin or curved "
            "metal go faster. Read a spot here before and after."
        )
    return said
