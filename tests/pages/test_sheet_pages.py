"""Drawing a car by tape, correcting its outlines, tracing a panel."""

from __future__ import annotations

import pytest
import shapely
from django.urls import reverse
from tests.pages.conftest import Cast

from asfound.measure.sheet import BodyForm
from asfound.record.actions import withdraw_film_reading
from asfound.record.models import Car, Entry, FilmReading

TAPE = {
    "form": "saloon",
    "wheelbase_mm": "2400",
    "length_mm": "3900",
    "width_mm": "1500",
    "height_mm": "1400",
}
IDENTITY = {"marque": "Selvany", "model": "Orla", "built": "1958~", "currency": "EUR"}
HTMX = {"HX-Request": "true"}
WIDER = "POLYGON ((0 0, 1000 0, 1000 900, 0 900, 0 0))"
# A square of 1000 mm seen straight on, 2 mm to the pixel, with a panel of 800 x 400 mm on it.
SEEN = {
    "taped_px": "0,0 500,0 500,500 0,500",
    "taped_mm": "0,0 1000,0 1000,1000 0,1000",
    "trace_px": "50,50 450,50 450,250 50,250",
    "view": "top",
    "section": "rear",
    "substrate": "steel",
}

ADDRESSES = [("outlines", ()), ("draw-again", ()), ("trace", ()), ("outline", ("bonnet",))]


@pytest.mark.parametrize(("name", "rest"), ADDRESSES)
def test_the_workshop_alone_draws(cast: Cast, name: str, rest: tuple) -> None:
    address = reverse(name, args=(cast.car.slug, *rest))
    answers = [c.get(address).status_code for c in (cast.head, cast.craft, cast.owner)]
    assert [*answers, cast.stranger.get(address).status_code] == [200, 200, 403, 404]
    assert cast.nobody.get(address).url.startswith(reverse("sign-in"))


@pytest.mark.parametrize(("name", "rest"), ADDRESSES[1:])
def test_who_may_only_read_writes_nothing(cast: Cast, name: str, rest: tuple) -> None:
    address = reverse(name, args=(cast.car.slug, *rest))
    assert cast.owner.post(address, SEEN).status_code == 403
    assert cast.stranger.post(address, SEEN).status_code == 404


def test_an_owner_begins_no_car(cast: Cast) -> None:
    assert cast.owner.get(reverse("new-car")).status_code == 403
    answer = cast.owner.post(reverse("new-car"), {**TAPE, **IDENTITY, "step": "create"})
    assert answer.status_code == 403
    assert cast.nobody.get(reverse("new-car")).status_code == 302
    assert Car.objects.count() == 1


@pytest.mark.parametrize(("name", "rest"), ADDRESSES)
def test_a_page_asks_a_bounded_number_of_queries(
    cast: Cast, name: str, rest: tuple, django_assert_max_num_queries
) -> None:
    with django_assert_max_num_queries(24):
        cast.head.get(reverse(name, args=(cast.car.slug, *rest)))


def test_four_lengths_and_a_name_begin_a_car(cast: Cast) -> None:
    answer = cast.craft.post(reverse("new-car"), {**TAPE, **IDENTITY, "step": "create"})
    car = Car.objects.get(marque="Selvany")
    assert answer.url == reverse("survey", args=(car.slug,))
    assert (car.body_style, car.currency) == ("saloon", "EUR")
    assert car.panels.filter(panel="roof").exists()
    page = cast.craft.get(f"{answer.url}?whole=1").content.decode()
    assert 'data-panel="roof"' in page
    assert "Nothing is measured yet. Choose a panel" in page
    entry = Entry.objects.filter(action="draw sheet").get()
    assert entry.after["tape"]["wheelbase_mm"] == 2400
    assert "front_overhang_mm" in entry.after["tape"]["assumed"]


def test_the_sheet_is_shown_while_lengths_come_in(cast: Cast) -> None:
    none = cast.head.post(reverse("new-car"), {"form": "van"}, headers=HTMX).content.decode()
    assert "Four lengths are enough to draw it: wheelbase, length, width, height." in none
    three = {**TAPE, "height_mm": ""}
    some = cast.head.post(reverse("new-car"), three, headers=HTMX).content.decode()
    assert "Still to measure: <b>height</b>" in some
    four = cast.head.post(reverse("new-car"), TAPE, headers=HTMX).content.decode()
    assert "front overhang, bonnet" in four.split("nobody taped it:")[1]
    assert 'hx-swap-oob="true"' in four
    assert "<html" not in four
    assert Car.objects.count() == 1


@pytest.mark.parametrize("form", [form.value for form in BodyForm])
@pytest.mark.parametrize("wings", [{}, {"separate_wings": "on"}])
def test_every_form_says_where_to_hold_the_tape(cast: Cast, form: str, wings: dict) -> None:
    answer = cast.head.post(reverse("new-car"), {"form": form, **wings, "step": "preview"})
    page = answer.content.decode()
    assert answer.status_code == 200
    drawn = page.split('class="tape-diagram"')[1].split("</svg>")[0]
    assert all(f">{letter}</text>" in drawn for letter in "ABCDEFGHJLM")


def test_a_decimal_comma_is_understood(cast: Cast) -> None:
    typed = {**TAPE, "wheel_mm": "620,5", "step": "create", **IDENTITY}
    cast.head.post(reverse("new-car"), typed)
    assert Entry.objects.get(action="draw sheet").after["tape"]["wheel_mm"] == 620.5


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"length_mm": "2000"}, "wheelbase is 2400 mm; it must be under 95 % of the length"),
        ({"length_mm": ""}, "length is still to be measured"),
        ({"width_mm": "wide"}, "width must be a number in mm"),
        ({"wheelbase_mm": "2.4"}, "wheelbase must be 800 mm or more"),
        ({"built": "last year"}, "must be a date as EDTF writes it"),
        ({"marque": ""}, "This field is required"),
        ({"form": "omnibus"}, "omnibus is not one of the available choices"),
    ],
)
def test_what_cannot_be_drawn_is_told_and_nothing_begun(
    cast: Cast, changed: dict, words: str
) -> None:
    answer = cast.head.post(reverse("new-car"), {**TAPE, **IDENTITY, **changed, "step": "create"})
    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert Car.objects.count() == 1


def test_a_car_that_is_there_is_not_begun_again(cast: Cast) -> None:
    sent = {**TAPE, **IDENTITY, "step": "create"}
    cast.head.post(reverse("new-car"), sent)
    again = cast.head.post(reverse("new-car"), sent)
    assert again.status_code == 422
    assert "has a car of this name already" in again.content.decode()


def test_a_sheet_with_readings_is_not_drawn_anew(cast: Cast) -> None:
    address = reverse("draw-again", args=(cast.car.slug,))
    answer = cast.head.post(address, {**TAPE, "step": "create"})
    assert answer.status_code == 422
    assert "Edit the outline of a single panel instead" in answer.content.decode()
    assert cast.car.panels.count() == 3


def test_a_sheet_without_readings_is_drawn_anew(cast: Cast) -> None:
    for reading in FilmReading.objects.all():
        withdraw_film_reading(reading=reading, reason="another car", by=None)
    address = reverse("draw-again", args=(cast.car.slug,))
    assert cast.head.post(address, {**TAPE, "step": "create"}).status_code == 302
    assert cast.car.panels.count() > 10


def test_outlines_are_listed_with_their_areas(cast: Cast) -> None:
    page = cast.head.get(reverse("outlines", args=(cast.car.slug,))).content.decode()
    # 1.0 x 0.8, 0.9 x 0.6 and 1.2 x 0.2 m
    assert [f'number">{m2}</td>' in page for m2 in ("0.80", "0.54", "0.24")] == [True] * 3
    assert "<b>1.58</b>" in page


def _sent(cast: Cast, wkt: str, **more: str):
    was = cast.car.panels.get(panel="bonnet").outline_wkt
    sent = {"outline_wkt": wkt, "was_wkt": was, "reason": "measured again", **more}
    return cast.craft.post(reverse("outline", args=(cast.car.slug, "bonnet")), sent, follow=True)


def test_an_outline_is_corrected_and_its_readings_stay(cast: Cast) -> None:
    page = _sent(cast, WIDER).content.decode()
    assert "The outline of bonnet is corrected: 0.90 m²" in page
    assert shapely.from_wkt(cast.car.panels.get(panel="bonnet").outline_wkt).area == 900_000
    assert FilmReading.objects.current().filter(panel="bonnet").count() == 24


def test_readings_that_lie_off_the_panel_now_are_told(cast: Cast) -> None:
    page = _sent(cast, "POLYGON ((0 0, 800 0, 800 800, 0 800, 0 0))").content.decode()
    assert "2 of its places with readings lie off the panel now" in page


@pytest.mark.parametrize(
    ("wkt", "more", "words"),
    [
        ("POLYGON ((0 0, 9 6, 9 0, 0 6, 0 0))", {}, "does not cross itself"),
        ("POLYGON", {}, "one closed polygon"),
        (WIDER, {"reason": ""}, "This field is required"),
        (WIDER, {"was_wkt": WIDER}, "corrected by somebody else meanwhile"),
    ],
)
def test_an_outline_that_cannot_be_is_refused(cast: Cast, wkt: str, more: dict, words: str) -> None:
    was = cast.car.panels.get(panel="bonnet").outline_wkt
    answer = _sent(cast, wkt, **more)
    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert cast.car.panels.get(panel="bonnet").outline_wkt == was


def test_an_outline_of_no_panel_has_no_page(cast: Cast) -> None:
    assert cast.head.get(reverse("outline", args=(cast.car.slug, "wing"))).status_code == 404


def test_a_trace_is_looked_at_and_kept_to_scale(cast: Cast) -> None:
    address = reverse("trace", args=(cast.car.slug,))
    looked = cast.head.post(address, {**SEEN, "step": "look"}, headers=HTMX).content.decode()
    assert "800 × 400 mm" in looked
    assert "0.320 m²" in looked
    assert "four: nothing is left to judge them by" in looked
    assert cast.car.panels.count() == 3
    kept = cast.head.post(address, {**SEEN, "panel": "boot lid", "step": "keep"}, headers=HTMX)
    assert kept.headers["HX-Redirect"] == reverse("outlines", args=(cast.car.slug,))
    boot = cast.car.panels.get(panel="boot lid")
    assert (boot.view, boot.section, boot.substrate) == ("top", "rear", "steel")
    assert shapely.from_wkt(boot.outline_wkt).bounds == pytest.approx((0, 0, 800, 400), abs=0.1)
    assert "boot lid" in cast.head.get(kept.headers["HX-Redirect"]).content.decode()


def test_more_than_four_taped_points_tell_how_well_they_fit(cast: Cast) -> None:
    # The fifth lies 10 mm off where the other four put it.
    fifth = {
        "taped_px": SEEN["taped_px"] + " 250,250",
        "taped_mm": SEEN["taped_mm"] + " 500,510",
    }
    address = reverse("trace", args=(cast.car.slug,))
    page = cast.head.post(address, {**SEEN, **fifth}, headers=HTMX).content.decode()
    assert "miss their places by" in page
    assert "standard uncertainty" in page


def test_a_trace_replaces_a_panel_without_readings_only(cast: Cast) -> None:
    address = reverse("trace", args=(cast.car.slug,))
    done = cast.head.post(address, {**SEEN, "replaces": "scuttle", "step": "keep"})
    assert done.status_code == 302
    scuttle = cast.car.panels.get(panel="scuttle")
    assert shapely.from_wkt(scuttle.outline_wkt).area == pytest.approx(320_000, rel=1e-3)
    held = cast.head.post(address, {**SEEN, "replaces": "bonnet", "step": "keep"})
    assert held.status_code == 422
    assert "bonnet is not one of the available choices" in held.content.decode()


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"taped_px": "0,0 500,0 500,500"}, "3 of at least four taped points are set"),
        ({"taped_mm": "0,0 1000,0 1000,1000"}, "4 points are set and 3 places given in mm"),
        ({"taped_px": "0,0 1,1 2,2 3,3"}, "no three lie in one line"),
        ({"trace_px": "50,50 450,250 450,50 50,250"}, "does not cross itself"),
        ({"trace_px": ""}, "edge is not traced yet"),
        ({"trace_px": "nan,1 2,2 3,3"}, "beyond any photograph"),
        ({"trace_px": "1 2"}, "cannot be read"),
        ({"panel": ""}, "The new panel has no name yet"),
        ({"panel": "bonnet"}, "a name that no panel of the car has"),
    ],
)
def test_a_trace_that_cannot_be_is_told(cast: Cast, changed: dict, words: str) -> None:
    address = reverse("trace", args=(cast.car.slug,))
    sent = {**SEEN, "panel": "boot lid", "step": "keep", **changed}
    answer = cast.head.post(address, sent)
    assert answer.status_code == 422
    assert words in answer.content.decode().replace("&#x27;", "'")
    assert cast.car.panels.count() == 3


def test_pages_lead_to_the_sheet(cast: Cast) -> None:
    assert reverse("new-car") in cast.head.get(reverse("cars")).content.decode()
    assert reverse("new-car") not in cast.owner.get(reverse("cars")).content.decode()
    survey = cast.head.get(reverse("survey", args=(cast.car.slug,))).content.decode()
    assert reverse("outlines", args=(cast.car.slug,)) in survey


@pytest.mark.parametrize(
    ("form", "named"),
    [
        ("saloon", {"boot lid"}),
        ("open two-seater", {"boot lid"}),
        ("pick-up", {"bed"}),
        ("estate", set()),
        ("van", set()),
    ],
)
def test_what_is_assumed_goes_by_the_name_it_has_on_that_body(
    cast: Cast, form: str, named: set[str]
) -> None:
    answer = cast.head.post(reverse("new-car"), {**TAPE, "form": form}, headers=HTMX)
    told = answer.content.decode().split("nobody taped it:")[1].split("</b>")[0]
    words = {word.strip() for word in told.removeprefix(" <b>").split(",")}
    assert words & {"boot lid", "bed", "boot lid or bed"} == named
