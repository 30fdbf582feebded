"""One group of readings, and film beside colour, ready to be shown."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from urllib.parse import urlencode

from django.urls import reverse

from asfound.base import AsfoundError, Estimate
from asfound.dossier.figures import seams_svg, swatch_svg
from asfound.measure.colour import Fade, PanelSign, PlaceColour, Seam, ViewedColour
from asfound.record.convert.colour import thresholds_of
from asfound.record.folder import CarFolder
from asfound.record.models import Car
from asfound.record.results.colour_words import (
    BothSigns,
    Judged,
    fade_words,
    judged,
    lr_figure,
    lr_words,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceLine:
    """Mean colour of a subject, exposed or hidden."""

    subject: str
    exposure: str
    swatch: str
    lab: tuple[Estimate, Estimate, Estimate]
    readings_n: int


@dataclass(frozen=True, slots=True, kw_only=True)
class FadeLine:
    """Fade of a subject in numbers and words, its two colours beside it."""

    fade: Fade
    words: str
    hidden: str
    exposed: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SeamLine:
    """A seam, and what each source says of it."""

    seam: Seam
    said: tuple[Judged, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SignLine:
    """A panel off the car's colour, in figures and words."""

    found: PanelSign
    figure: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BothLine:
    """Film and colour of one panel and what they give together."""

    panel: str
    film: str
    film_words: str
    colour: str
    colour_words: str
    together: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupView:
    """Everything that one light and observer tell."""

    group: ViewedColour
    figure: str
    places: list[PlaceLine]
    fades: list[FadeLine]
    seams: list[SeamLine]
    signs: list[SignLine]


def group_view(group: ViewedColour, car: Car, folder: CarFolder, *, may_write: bool) -> GroupView:
    """Group with its figure and lines; a panel leads to where its readings are entered."""
    places: dict[tuple[str, str], PlaceLine] = {
        (p.subject, p.exposure): _place(p) for p in group.places
    }
    thresholds = thresholds_of(folder)
    return GroupView(
        group=group,
        figure=_figure(group, car, folder, may_write=may_write),
        places=list(places.values()),
        fades=[_fade(fade, places) for fade in group.fades],
        seams=[SeamLine(seam=s, said=judged(s.change, thresholds)) for s in group.seams],
        signs=[_sign(found) for found in group.signs],
    )


def both_lines(both: Iterable[BothSigns]) -> list[BothLine]:
    """Lines of film beside colour, those that colour moves most first."""
    ordered = sorted(both, key=lambda signs: -signs.colour_lr)
    return [_both(signs) for signs in ordered]


def _figure(group: ViewedColour, car: Car, folder: CarFolder, *, may_write: bool) -> str:
    """The sheet where seams can be shown on it; the tables tell the same without."""
    if not group.seams or "panels" not in folder.sheets:
        return ""
    enter = reverse("enter-colour", args=(car.slug,))

    def link(name: str) -> str:
        asked = urlencode({"panel": name})
        return f"{enter}?{asked}" if may_write else reverse("panel", args=(car.slug, name))

    try:
        return seams_svg(folder, group, links=link)
    except AsfoundError:
        return ""


def _place(place: PlaceColour) -> PlaceLine:
    mean = place.mean
    return PlaceLine(
        subject=place.subject,
        exposure=place.exposure,
        swatch=swatch_svg(mean.lab, words=f"{place.subject}, {place.exposure}"),
        lab=(mean.l_star, mean.a_star, mean.b_star),
        readings_n=mean.readings_n,
    )


def _fade(fade: Fade, places: dict[tuple[str, str], PlaceLine]) -> FadeLine:
    return FadeLine(
        fade=fade,
        words=fade_words(fade),
        hidden=places[fade.subject, "hidden"].swatch,
        exposed=places[fade.subject, "exposed"].swatch,
    )


def _sign(found: PanelSign) -> SignLine:
    lr = found.sign.lr_later_work
    return SignLine(found=found, figure=lr_figure(lr), words=lr_words(lr))


def _both(signs: BothSigns) -> BothLine:
    joint = signs.joint_lr
    return BothLine(
        panel=signs.panel,
        film=lr_figure(signs.film_lr),
        film_words=lr_words(signs.film_lr),
        colour=lr_figure(signs.colour_lr),
        colour_words=lr_words(signs.colour_lr),
        together="" if joint is None else lr_figure(joint),
        words=f"not taken together: {signs.why_not}" if joint is None else lr_words(joint),
    )
