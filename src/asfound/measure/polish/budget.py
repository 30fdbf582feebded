"""What may still come off an area before its floor, and in how many passes."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from scipy import special

from asfound.base import Estimate, InputError, NotEnoughEvidenceError
from asfound.measure.budget import Component, combine
from asfound.measure.polish.removal import Removal

GUESS = (
    "The floor is a guess: a gauge reads the whole film and does not see where one coat ends and "
    "the next begins. Try in a hidden place first and stop early."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Floor:
    """The film that must stay on one area, set by the user, and what it rests on.

    Parameters
    ----------
    area : str
        The area.
    film_um : float
        Total film that must stay, µm, more than zero.
    basis : {"measured", "documented", "guess"}
        Measured coat by coat (a section, a broken edge), documented, or guessed.
    """

    area: str
    film_um: float
    basis: Literal["measured", "documented", "guess"]

    def __post_init__(self) -> None:
        if not (math.isfinite(self.film_um) and self.film_um > 0):
            raise InputError(field="film_um", got=self.film_um, allowed="more than zero")
        if self.basis not in {"measured", "documented", "guess"}:
            raise InputError(field="basis", got=self.basis, allowed="measured, documented or guess")


@dataclass(frozen=True, slots=True, kw_only=True)
class SpotLeft:
    """Film over the floor at one spot; negative where the spot is already below."""

    spot: str
    over_floor_um: Estimate


@dataclass(frozen=True, slots=True, kw_only=True)
class PassesLeft:
    """Passes that an area may still have, judged at its thinnest spot.

    ``stay_probability`` is the chance of staying above the floor after ``passes_n`` passes;
    ``asked_probability`` the chance that was asked for. ``cautions`` are sentences for the page.
    """

    area: str
    thinnest_spot: str
    over_floor_um: Estimate
    passes_n: int
    stay_probability: float
    asked_probability: float
    cautions: tuple[str, ...]


def left_by_spot(film_um: Mapping[str, Estimate], *, floor: Floor) -> tuple[SpotLeft, ...]:
    """Film over the floor at each spot of an area, the thinnest first.

    Parameters
    ----------
    film_um : mapping of str to Estimate
        Present film by spot, µm, the gauge's offset included in u.
    floor : Floor
        The area's floor.

    Raises
    ------
    NotEnoughEvidenceError
        Without spots.
    """
    if not film_um:
        raise NotEnoughEvidenceError(f"No spot of film on {floor.area}; read some first.")
    left = [
        SpotLeft(
            spot=name,
            over_floor_um=Estimate(value=film.value - floor.film_um, u=film.u, dof=film.dof),
        )
        for name, film in film_um.items()
    ]
    return tuple(sorted(left, key=lambda spot: (spot.over_floor_um.value, spot.spot)))


def passes_left(
    film_um: Mapping[str, Estimate],
    *,
    floor: Floor,
    removal: Removal,
    stay_probability: float,
) -> PassesLeft:
    """The most passes that keep the thinnest spot above the floor with a stated probability.

    Parameters
    ----------
    film_um : mapping of str to Estimate
        Present film by spot of the area, µm.
    floor : Floor
        What must stay.
    removal : Removal
        What one pass takes, measured in the same manner of polishing.
    stay_probability : float
        Asked chance of staying above the floor, 0.5 to below 1.

    Raises
    ------
    NotEnoughEvidenceError
        Without spots, or where the removal is not told apart from nothing: then no number of
        passes can be given.
    InputError
        If the probability is out of range.

    Notes
    -----
    After k passes the thinnest spot holds over − k·r, with variance u² + k²·u_r² + k·s²:
    the film's doubt, the doubt of the rate (common to all passes) and the scatter of single
    passes. Student's t with Welch-Satterthwaite degrees of freedom. While film is left, more
    passes leave less of it and more doubt, so k is found by halving.
    """
    if not 0.5 <= stay_probability < 1:
        raise InputError(
            field="stay_probability", got=stay_probability, allowed="0.5 or more and below 1"
        )
    if not removal.told_apart:
        raise NotEnoughEvidenceError(
            "The passes took off no more than the gauge can tell; read more spots, or the same "
            "spots after more passes."
        )
    thinnest = left_by_spot(film_um, floor=floor)[0]
    passes_n = _most_passes(thinnest, removal=removal, asked=stay_probability)
    chance = _stays(thinnest, removal=removal, passes_n=passes_n)
    return PassesLeft(
        area=floor.area,
        thinnest_spot=thinnest.spot,
        over_floor_um=thinnest.over_floor_um,
        passes_n=passes_n,
        stay_probability=chance,
        asked_probability=stay_probability,
        cautions=_cautions(floor=floor, removal=removal, chance=chance, asked=stay_probability),
    )


def _most_passes(spot: SpotLeft, *, removal: Removal, asked: float) -> int:
    def holds(passes_n: int) -> bool:
        return _stays(spot, removal=removal, passes_n=passes_n) >= asked

    if not holds(1):
        return 0
    held, past = 1, 2
    while holds(past):
        held, past = past, 2 * past
    while past - held > 1:
        middle = (held + past) // 2
        held, past = (middle, past) if holds(middle) else (held, middle)
    return held


def _stays(spot: SpotLeft, *, removal: Removal, passes_n: int) -> float:
    over, rate = spot.over_floor_um, removal.per_pass_um
    u, dof = combine(
        [
            Component(u=over.u, dof=over.dof),
            Component(u=rate.u, sensitivity=passes_n, dof=rate.dof),
            Component(u=removal.scatter_um, sensitivity=math.sqrt(passes_n), dof=rate.dof),
        ]
    )
    left = over.value - passes_n * rate.value
    if u == 0:
        return float(left > 0)
    return float(special.ndtr(left / u) if math.isinf(dof) else special.stdtr(dof, left / u))


def _cautions(*, floor: Floor, removal: Removal, chance: float, asked: float) -> tuple[str, ...]:
    said = []
    if floor.basis == "guess":
        said.append(GUESS)
    if removal.spots_n < 5:
        spots = "spot" if removal.spots_n == 1 else "spots"
        said.append(
            f"The removal rests on {removal.spots_n} {spots} only; edges and creases go faster."
        )
    if chance < asked:
        said.append(
            f"Even unpolished, the thinnest spot is above the floor with probability {chance:.2f} "
            f"only, less than the {asked:.2f} asked for: no pass."
        )
    return tuple(said)
