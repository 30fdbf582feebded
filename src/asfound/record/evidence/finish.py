"""Film and colour of a panel as items of evidence."""

from __future__ import annotations

from collections.abc import Iterator

from asfound.measure.colour import CarColour, PanelSign
from asfound.measure.film import FilmReading, PanelReading
from asfound.record.evidence.statements import FINISH
from asfound.weigh import weight_in_words
from asfound.weigh.evidence import Claim, Item

CAUSE = "finish"
"""One coat moves both thickness and colour, so the two are never multiplied; whoever weighs the
finish of a panel by hand writes the same cause."""
SUN = "left at 1: the panel's own fade may explain the colour"


def finish_claims(*, film: FilmReading | None, colour: CarColour | None) -> Iterator[Claim]:
    """A claim for each panel whose film or colour was read, in the order of the readings."""
    found: dict[str, list[Item]] = {}
    for panel in film.panels if film else ():
        if panel.spots_n:
            found.setdefault(panel.panel, []).append(_film(panel))
    for sign in _signs(colour) if colour else ():
        found.setdefault(sign.sign.subject, []).append(_colour(sign))
    for panel_name, items in found.items():
        yield FINISH.about(panel_name, *items)


def _signs(colour: CarColour) -> Iterator[PanelSign]:
    """One sign a panel: lights are never multiplied."""
    named = dict.fromkeys(s.sign.subject for group in colour.groups for s in group.signs)
    for panel in named:
        sign = colour.sign_of(panel)
        if sign is not None:
            yield sign


def against_later_work(lr_later_work: float) -> float:
    """Ratio for the finish as built, to six digits like that of the reading it comes from."""
    return float(f"{1 / lr_later_work:.6g}")


def _film(panel: PanelReading) -> Item:
    spots = "1 spot" if panel.spots_n == 1 else f"{panel.spots_n} spots"
    return Item(
        item=f"film read at {spots}, median {panel.median_um:.0f} µm",
        lr=against_later_work(panel.lr_later_work),
        basis="measured",
        cause=CAUSE,
        derived_from=("film",),
    )


def _colour(found: PanelSign) -> Item:
    lr = found.sign.lr_later_work
    sunny = found.sun_may_explain and weight_in_words(lr).favours == "statement"
    return Item(
        item=f"colour {found.sign.away_e00.value:.1f} ΔE00 from the car's",
        lr=1.0 if sunny else against_later_work(lr),
        basis="measured",
        cause=CAUSE,
        note=SUN if sunny else "",
        derived_from=("colour",),
    )
