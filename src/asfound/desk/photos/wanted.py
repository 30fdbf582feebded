"""Which photographs are still missing, of the car, its numbers, its panels and parts."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils.http import urlencode
from django.views.decorators.http import require_GET

from asfound.craft.photographs import (
    OF_A_PART,
    OF_THE_CAR,
    RULES,
    WHOLE_CAR,
    WantedView,
    of_the_numbers,
)
from asfound.desk.access import open_car, show
from asfound.record.convert.stored import folder_of
from asfound.record.models import Car

PARTS_A_PAGE = 40


@dataclass(frozen=True, slots=True, kw_only=True)
class WantedLine:
    """A view that is asked for, how many photographs show it, and where to add one."""

    wanted: WantedView
    there_n: int
    add: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WantedOf:
    """Views of one thing."""

    subject: str
    words: str
    lines: tuple[WantedLine, ...]

    @property
    def missing(self) -> tuple[WantedLine, ...]:
        """Views that no photograph shows."""
        return tuple(line for line in self.lines if not line.there_n)


def wanted_of(
    car: Car, things: Iterable[tuple[str, str]], views: Sequence[WantedView]
) -> list[WantedOf]:
    """What is there and what is missing of each thing, with one question to the database."""
    named = list(things)
    rows = car.photos.current().filter(subject__in=[name for name, _ in named])
    counted: dict[tuple[str, str, str], int] = defaultdict(int)
    for subject, view, stage in rows.values_list("subject", "view", "stage"):
        counted[subject, view.strip().casefold(), stage] += 1
    address = reverse("add-photos", args=(car.slug,))
    return [
        WantedOf(
            subject=name,
            words=words,
            lines=tuple(
                WantedLine(
                    wanted=view,
                    there_n=counted[name, view.view.casefold(), view.stage],
                    add=f"{address}?{_preset(name, view)}",
                )
                for view in views
            ),
        )
        for name, words in named
    ]


def _preset(subject: str, view: WantedView) -> str:
    return urlencode({"subject": subject, "view": view.view, "stage": view.stage})


@login_required
@require_GET
def wanted(request: HttpRequest, slug: str) -> HttpResponse:
    """List of the views that are asked for; each that is missing leads to where it is sent in."""
    car = open_car(request, slug)
    kinds = [row.text("kind") for row in folder_of(car).sheet("identifiers")]
    numbers = of_the_numbers(kinds)
    panels = [(name, name) for name in car.panels.values_list("panel", flat=True)]
    parts = Paginator(car.parts.filter(fate="").values_list("part", "name"), PARTS_A_PAGE)
    page = parts.get_page(request.GET.get("page"))
    of_parts = [(number, _title(number, name)) for number, name in page]
    (whole,) = wanted_of(car, [(WHOLE_CAR, "the car")], (*OF_THE_CAR, *numbers))
    return show(
        request,
        "photos/wanted.html",
        car=car,
        room="photos",
        whole=whole,
        panels=wanted_of(car, panels, OF_A_PART),
        parts=wanted_of(car, of_parts, OF_A_PART),
        page=page,
        of_a_part=OF_A_PART,
        rules=RULES,
    )


def _title(number: str, name: str) -> str:
    """Number and name of a part; once where they are the same."""
    return name if number.casefold() == name.casefold() else f"{number} {name}"
