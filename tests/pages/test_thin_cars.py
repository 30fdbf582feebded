"""Cars of which little is known still have their pages, and every error has a page of its own."""

from __future__ import annotations

import pytest
from django.test import Client
from django.urls import reverse
from tests.pages.conftest import Cast
from tests.pages.small_car import small_car

from asfound.record.actions import load_car
from asfound.record.folder import CarFolder, Sheet

FRAGMENT = {"HX-Request": "true"}
PAGES = ("car", "car-finish", "car-choice", "survey", "survey-svg", "decisions", "dossier")


def load(slug: str, *tables: str):
    whole = small_car()
    sheets = {name: whole.sheet(name) for name in tables}
    return load_car(folder=CarFolder(sheets=sheets), by=None, slug=slug)


@pytest.mark.parametrize(
    "tables",
    [
        ("car",),
        ("car", "panels"),
        ("car", "film"),
        ("car", "panels", "film"),
        ("car", "options"),
        ("panels", "film", "options"),
    ],
)
def test_a_car_with_few_tables_has_every_page(cast: Cast, tables: tuple[str, ...]) -> None:
    car = load("thin", *tables)
    for name in PAGES:
        assert cast.head.get(reverse(name, args=(car.slug,))).status_code == 200, name
    for name in ("survey", "decisions"):
        whole = cast.head.get(reverse(name, args=(car.slug,)) + "?whole=1")
        assert whole.status_code == 200, name
    for name in ("survey-map", "choice"):
        fragment = cast.head.get(reverse(name, args=(car.slug,)), headers=FRAGMENT)
        assert fragment.status_code == 200, name
    assert cast.head.post(reverse("dossier", args=(car.slug,))).status_code == 302


def test_what_cannot_be_computed_says_what_is_missing(cast: Cast) -> None:
    load("thin", "car", "panels")
    finish = cast.head.get(reverse("car-finish", args=("thin",))).content.decode()
    assert "Nothing is measured yet" in finish
    panel = cast.head.get(reverse("panel", args=("thin", "bonnet"))).content.decode()
    assert "Nothing is measured yet" in panel
    assert cast.head.get(reverse("survey-json", args=("thin",))).status_code == 404


def test_a_first_spot_can_be_entered_on_a_car_without_readings(cast: Cast) -> None:
    load("thin", "car", "panels")
    typed = {"x_mm": "100", "y_mm": "90", "thickness_um": ["510"]}
    cast.head.post(reverse("panel", args=("thin", "bonnet")), typed)
    page = cast.head.get(reverse("survey-csv", args=("thin",))).content.decode()
    assert "bonnet,1,100,90,510" in page


def test_a_spot_can_be_entered_on_a_car_whose_panels_nobody_drew(cast: Cast) -> None:
    load("thin", "car", "film")
    typed = {"x_mm": "100", "y_mm": "90", "thickness_um": ["510"]}
    assert cast.head.post(reverse("panel", args=("thin", "bonnet")), typed).status_code == 302


def test_names_with_odd_signs_have_their_pages(cast: Cast) -> None:
    odd = "door 1/2 & <left>?"
    outline = "POLYGON ((0 0, 900 0, 900 600, 0 600, 0 0))"
    panels = Sheet(
        columns=("panel", "section", "substrate", "outline_wkt"),
        rows=((odd, "left", "steel", outline),),
    )
    car = small_car().sheet("car")
    load_car(folder=CarFolder(sheets={"car": car, "panels": panels}), by=None, slug="odd")
    address = reverse("panel", args=("odd", odd))
    page = cast.head.get(address).content.decode()
    assert "door 1/2 &amp; &lt;left&gt;?" in page
    survey = cast.head.get(reverse("survey-map", args=("odd",)), headers=FRAGMENT)
    for written in (page, survey.content.decode()):
        assert "<left>" not in written.lower()
    typed = {"x_mm": "100", "y_mm": "90", "thickness_um": ["510"]}
    assert cast.head.post(address, typed).status_code == 302


def test_a_fault_of_the_program_has_a_page(cast: Cast, monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(user: object) -> None:
        raise RuntimeError("on purpose")

    monkeypatch.setattr("asfound.desk.cars.views.cars_for", fail)
    cast.head.raise_request_exception = False
    answer = cast.head.get(reverse("cars"))
    assert answer.status_code == 500
    assert "Nothing was half-written" in answer.content.decode()


def test_a_form_that_is_not_ours_has_a_page(cast: Cast) -> None:
    client = Client(enforce_csrf_checks=True)
    answer = client.post(reverse("sign-in"), {"username": "head", "password": "x"})
    assert answer.status_code == 403
    assert "load the page again" in answer.content.decode()


def test_a_lock_is_not_released_without_a_reason(cast: Cast) -> None:
    lock = reverse("lock", args=(cast.car.slug, "brakes"))
    cast.head.post(lock, {"option": "renew", "reason": "worn"})
    release = reverse("release", args=(cast.car.slug, "brakes"))
    page = cast.head.post(release, {"reason": " "}, follow=True).content.decode()
    assert "Say why it is released" in page
    assert "Locked: renew" in page


def test_a_placement_in_other_words_is_laid_out_by_view(cast: Cast) -> None:
    whole = small_car()
    drawn = whole.sheet("panels")
    panels = Sheet(
        columns=(*drawn.columns, "placement"),
        rows=tuple((*row, "somewhere") for row in drawn.rows),
    )
    sheets = {**whole.sheets, "panels": panels}
    load_car(folder=CarFolder(sheets=sheets), by=None, slug="askew")
    for name in ("survey-map", "car-finish"):
        answer = cast.head.get(reverse(name, args=("askew",)), headers=FRAGMENT)
        assert answer.status_code == 200
        assert "<svg" in answer.content.decode()
    assert cast.head.get(reverse("survey-svg", args=("askew",))).status_code == 200
