"""The list of cars, loading a folder, and the car's sheet."""

from __future__ import annotations

import io
import zipfile

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse
from tests.pages.conftest import PASSWORD, Cast
from tests.pages.small_car import small_car

from asfound.exchange import csv_bytes, table_files
from asfound.record.actions import load_car
from asfound.record.folder import CarFolder, Sheet
from asfound.record.models import Car

TAKE_IN = (
    *("numbers", "add-event", "wanted-photos", "add-finding", "enter-assembly", "draw-again"),
    *("survey", "edit-brief", "offered-options"),
)
"""Pages that a car of which nothing is known leads to, in the order of a take-in."""


def bare() -> CarFolder:
    car = Sheet(columns=("marque", "model"), rows=(("Norrandel", "Ask"),))
    return CarFolder(sheets={"car": car})


def zipped(**changed: bytes) -> SimpleUploadedFile:
    files = {**table_files(small_car()), **{f"{k}.csv": v for k, v in changed.items()}}
    data = io.BytesIO()
    with zipfile.ZipFile(data, "w") as archive:
        for name, content in files.items():
            archive.writestr(f"car/{name}", content)
    return SimpleUploadedFile("car.zip", data.getvalue())


def test_signing_in_leads_to_the_cars_and_out_again(cast: Cast) -> None:
    client = Client()
    wrong = client.post(reverse("sign-in"), {"username": "head", "password": "no"})
    assert "do not fit together" in wrong.content.decode()
    right = client.post(reverse("sign-in"), {"username": "head", "password": PASSWORD})
    assert right.url == reverse("cars")
    assert client.post(reverse("sign-out")).url == reverse("sign-in")
    assert client.get(reverse("cars")).status_code == 302


def test_the_list_counts_without_a_query_per_car(cast: Cast, django_assert_max_num_queries) -> None:
    # Five for who asks and the cars, and one for each kind of thing that may wait for somebody.
    counted = []
    for slug in ("one-more", "two-more", "three-more"):
        with django_assert_max_num_queries(5 + 4) as queries:
            page = cast.head.get(reverse("cars")).content.decode()
        counted.append(len(queries))
        Car.objects.create(slug=slug, marque="Orvelle", model=slug)
    assert len(set(counted)) == 1
    assert "<b>3</b> panels" in page
    assert "<b>48</b> readings" in page


@pytest.mark.parametrize(
    ("name", "rest", "most"),
    [
        ("car", (), 22),
        ("survey", (), 22),
        ("panel", ("bonnet",), 24),
        ("decisions", (), 8),
        ("piece", ("seats",), 24),
        ("dossier", (), 24),
    ],
)
def test_a_page_asks_a_bounded_number_of_queries(
    cast: Cast, name: str, rest: tuple, most: int, django_assert_max_num_queries
) -> None:
    with django_assert_max_num_queries(most):
        cast.head.get(reverse(name, args=(cast.car.slug, *rest)))


def test_a_car_folder_is_loaded_by_the_head(cast: Cast) -> None:
    another = csv_bytes(small_car().sheet("car")).replace(b"KV 417", b"KV 418")
    answer = cast.head.post(reverse("load-car"), {"folder": zipped(car=another)})
    assert answer.status_code == 302
    assert Car.objects.filter(registration="KV 418", is_invented=True).count() == 1


def test_a_car_that_is_there_is_loaded_again_only_when_asked(cast: Cast) -> None:
    refused = cast.head.post(reverse("load-car"), {"folder": zipped()})
    assert refused.status_code == 422
    page = refused.content.decode()
    assert "tick “Load it again over the car of that name”" in page
    assert "--replace" not in page
    again = cast.head.post(reverse("load-car"), {"folder": zipped(), "replace": "on"})
    assert again.url == reverse("car", args=(cast.car.slug,))
    assert Car.objects.count() == 1
    assert cast.owner.get(again.url).status_code == 200


def test_every_fault_is_told_and_nothing_written(cast: Cast) -> None:
    film = b"panel,spot,x_mm,y_mm,thickness_um\nroof,R1,1,1,500\nbonnet,B1,x,1,-3\n"
    answer = cast.head.post(reverse("load-car"), {"folder": zipped(film=film)})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "3 faults to mend first" in page
    assert "cannot be negative" in page
    assert Car.objects.count() == 1


def test_a_file_that_is_no_zip_is_refused(cast: Cast) -> None:
    answer = cast.head.post(
        reverse("load-car"), {"folder": SimpleUploadedFile("car.zip", b"not a zip")}
    )
    assert answer.status_code == 422
    assert "not a zip file" in answer.content.decode()


def test_a_folder_beyond_the_limit_is_refused_by_its_size(cast: Cast, settings) -> None:
    settings.MAX_CAR_UPLOAD_BYTES = 100
    answer = cast.head.post(reverse("load-car"), {"folder": zipped()})
    assert answer.status_code == 422
    assert "512 MB at most" in answer.content.decode()


def test_the_sheet_tells_numbers_apart_from_what_was_expected(cast: Cast) -> None:
    page = cast.owner.get(reverse("car", args=(cast.car.slug,))).content.decode()
    assert "OT 2417 9" in page
    assert "expected <code>OT 2417 8</code> (works card)" in page
    assert "no photograph" in page
    assert "no reading on scuttle" in page


def test_what_a_new_car_lacks_leads_to_where_it_is_entered(cast: Cast) -> None:
    new = load_car(folder=bare(), by=cast.head_person.user)
    page = cast.head.get(reverse("car", args=(new.slug,))).content.decode()
    part = page[page.index("What is missing") :]
    ways = [part.find(f'href="{reverse(name, args=(new.slug,))}"') for name in TAKE_IN]
    assert -1 not in ways
    assert ways == sorted(ways)
    for name in TAKE_IN:
        assert cast.head.get(reverse(name, args=(new.slug,))).status_code == 200


def test_a_reader_is_told_what_is_missing_and_not_where_to_enter_it(cast: Cast) -> None:
    page = cast.owner.get(reverse("car", args=(cast.car.slug,))).content.decode()
    assert "no photograph" in page
    assert reverse("wanted-photos", args=(cast.car.slug,)) not in page


def test_a_car_without_options_asks_for_the_brief_first(cast: Cast) -> None:
    new = load_car(folder=bare(), by=cast.head_person.user)
    page = cast.head.get(reverse("decisions", args=(new.slug,))).content.decode()
    assert page.index(reverse("edit-brief", args=(new.slug,))) < page.index("Have ways offered")


def test_the_sheet_fills_in_the_finish_and_the_choice(cast: Cast) -> None:
    finish = cast.owner.get(reverse("car-finish", args=(cast.car.slug,))).content.decode()
    assert "<svg" in finish
    chosen = cast.owner.get(reverse("car-choice", args=(cast.car.slug,))).content.decode()
    assert "88.3" in chosen
