"""The reading of a car's sheet metal: what is left of each sheet, and for how long."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from asfound.base import Estimate, NotEnoughEvidenceError
from asfound.measure.budget import from_limits
from asfound.measure.metal.climate import BareLoss, bare_loss
from asfound.measure.metal.life import ThicknessOnDate
from asfound.measure.metal.loss import MetalLoss, ThicknessReading, sheet_loss
from asfound.measure.metal.places import Place, PlaceLife, place_life, places_of, shortest
from asfound.measure.metal.survey import MetalSubject, MetalSurvey
from asfound.measure.statistics import mean

NO_NOMINAL = (
    "The thickness when new is not known, so no loss can be told. Write it into the table of "
    "nominals with its system."
)
NO_LEAST = "Not computed: nobody has decided how thin this sheet may become."
NO_DATES = (
    "Not computed: a rate needs one place read in two years, or dated readings and a nominal "
    "thickness of a car whose year is known."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class SubjectMetal:
    """What is left of the metal of one panel or part.

    Parameters
    ----------
    about : MetalSubject
        What was read, and what it is held against.
    places : tuple of Place
    left_mm : Estimate
        Mean over the last occasion of every place.
    thinnest_mm : Estimate
        The thinnest of those readings.
    loss : MetalLoss or None
        Against the nominal; None where there is none.
    life : PlaceLife or None
        Of the place that goes first.
    life_missing : str
        Why there is no life; empty when there is one.
    """

    about: MetalSubject
    places: tuple[Place, ...]
    left_mm: Estimate
    thinnest_mm: Estimate
    loss: MetalLoss | None
    life: PlaceLife | None
    life_missing: str

    @property
    def note(self) -> str:
        """What the method can tell of the loss, in a sentence."""
        return NO_NOMINAL if self.loss is None else self.loss.note


@dataclass(frozen=True, slots=True, kw_only=True)
class CarMetal:
    """Reading of the metal of a car, and what bare steel would have lost where it stood."""

    subjects: tuple[SubjectMetal, ...]
    bare: BareLoss | None


def read_metal(survey: MetalSurvey) -> CarMetal:
    """Loss and remaining life of every sheet that was read.

    Parameters
    ----------
    survey : MetalSurvey

    Raises
    ------
    NotEnoughEvidenceError
        If nothing was read.

    Notes
    -----
    Of each place its last occasion counts; readings without a date count at a place where there
    is no dated one. Where several instruments read one sheet, the greatest of their uncertainties
    stands for all. The life of a sheet is that of the place that goes first.
    """
    if not survey.subjects:
        raise NotEnoughEvidenceError("No reading of sheet thickness; take at least one.")
    return CarMetal(
        subjects=tuple(_read(subject, survey.built_year) for subject in survey.subjects),
        bare=bare_loss(survey.climates) if survey.climates else None,
    )


def _read(about: MetalSubject, built_year: float | None) -> SubjectMetal:
    places = places_of(about.readings)
    left = [place.last.thickness_mm for place in places]
    u_mm = max(place.last.u_mm for place in places)
    life, missing = _life(about, places, built_year)
    return SubjectMetal(
        about=about,
        places=places,
        left_mm=Estimate(value=mean(left), u=u_mm),
        thinnest_mm=Estimate(value=min(left), u=u_mm),
        loss=_loss(about, places, u_mm),
        life=life,
        life_missing=missing,
    )


def _loss(about: MetalSubject, places: Sequence[Place], u_mm: float) -> MetalLoss | None:
    if about.nominal is None:
        return None
    readings = [
        ThicknessReading(
            subject=about.subject,
            x_mm=place.x_mm,
            y_mm=place.y_mm,
            thickness_mm=place.last.thickness_mm,
        )
        for place in places
    ]
    return sheet_loss(
        readings,
        nominal=about.nominal,
        gauge_u_mm=u_mm,
        nominal_tolerance_mm=about.tolerance_mm,
    )


def _life(
    about: MetalSubject, places: Sequence[Place], built_year: float | None
) -> tuple[PlaceLife | None, str]:
    if about.least_mm is None:
        return None, NO_LEAST
    when_built = None
    if about.nominal is not None and built_year is not None:
        when_built = ThicknessOnDate(year=built_year, thickness_mm=about.nominal.thickness_mm)
    found = [
        place_life(
            place,
            least_mm=about.least_mm,
            when_built=when_built,
            u_built_mm=from_limits(about.tolerance_mm),
        )
        for place in places
    ]
    lives = [life for life in found if life is not None]
    return (shortest(lives), "") if lives else (None, NO_DATES)
