"""The bands of film, evidence made from one, and the workshop's base."""

from __future__ import annotations

import csv
import io
import re
from datetime import date

import pytest
from django.urls import reverse
from tests.pages.conftest import Cast
from tests.pages.small_car import small_car

from asfound.base import Estimate
from asfound.record.actions import contribute_film_build, load_car
from asfound.record.convert.stored import folder_of
from asfound.record.models import Car, Entry, FilmBand, FilmBuild
from asfound.record.reads import bands_beside

ROW = {
    "about": "factory",
    "era": "1950s, finished by hand",
    "marque": "Orvelle",
    "first_year": "1950",
    "last_year": "1959",
    "low_um": "420,5",
    "high_um": "",
    "source": "three invented cars of this workshop",
    "note": "",
    "status": "measured in this workshop",
}
EVIDENCE = {"subject": "bonnet", "lr": "0,02", "basis": "guess", "reason": "thicker than most"}
FRAGMENT = {"HX-Request": "true"}


def at(cast: Cast, name: str, *rest: object) -> str:
    return reverse(name, args=(cast.car.slug, *rest))


def text_of(html: bytes) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", html.decode()))


def first_band() -> FilmBand:
    return FilmBand.objects.get(era="older, when new")


def other_car(level_um: float = 480) -> Car:
    car = load_car(folder=small_car(), slug="another-tansy", by=None, open_file=lambda kept: None)  # type: ignore[arg-type,return-value]
    contribute_film_build(
        car=car,
        kind="open four-seater",
        year=1956,
        level_um=Estimate(value=level_um, u=20),
        consent_by="Miss Ardel Voss",
        consent_on=date(2026, 5, 2),
        by=None,
    )
    return car


def test_the_table_is_the_workshops_and_the_heads_to_keep(cast: Cast) -> None:
    addresses = {
        reverse("film-bands"): (200, 200, 403, 403),
        reverse("film-band-add"): (200, 403, 403, 403),
        reverse("film-band", args=(first_band().pk,)): (200, 403, 403, 403),
    }
    for address, wanted in addresses.items():
        people = (cast.head, cast.craft, cast.owner, cast.stranger)
        assert tuple(client.get(address).status_code for client in people) == wanted
        assert cast.nobody.get(address).url.startswith(reverse("sign-in"))
    assert cast.craft.post(reverse("film-band-add"), ROW).status_code == 403
    assert cast.head.get(reverse("film-band", args=(10_000,))).status_code == 404
    assert not FilmBand.objects.filter(marque="Orvelle").exists()


def test_the_list_of_cars_leads_to_the_table(cast: Cast) -> None:
    assert reverse("film-bands") in cast.craft.get(reverse("cars")).content.decode()
    assert reverse("film-bands") not in cast.owner.get(reverse("cars")).content.decode()


def test_every_row_of_the_table_shows_its_source(cast: Cast, django_assert_max_num_queries) -> None:
    with django_assert_max_num_queries(10):
        page = text_of(cast.head.get(reverse("film-bands")).content)
    for row in FilmBand.objects.all():
        assert row.source.replace("'", "&#x27;") in page
    assert "came with the program" in page
    assert "The sources disagree with one another" in page


def test_the_table_can_be_taken_away(cast: Cast) -> None:
    cast.head.post(reverse("film-band-add"), ROW)
    answer = cast.craft.get(reverse("film-bands-csv"))
    rows = list(csv.DictReader(io.StringIO(answer.content.decode())))
    assert len(rows) == FilmBand.objects.current().count()
    ours = next(row for row in rows if row["marque"] == "Orvelle")
    assert ours == {**ROW, "low_um": "420.5"}
    assert cast.owner.get(reverse("film-bands-csv")).status_code == 403


def test_a_band_is_added_corrected_and_withdrawn(cast: Cast) -> None:
    page = text_of(cast.head.post(reverse("film-band-add"), ROW, follow=True).content)
    assert "1950s, finished by hand Orvelle" in page
    assert "more than 420 µm" in page
    row = FilmBand.objects.get(marque="Orvelle")
    assert (row.low_um, row.high_um, row.entered_by.get_username()) == (420.5, None, "head")
    address = reverse("film-band", args=(row.pk,))
    changed = {**ROW, "high_um": "620", "reason": "a fourth car", "step": "correct"}
    page = text_of(cast.head.post(address, changed, follow=True).content)
    assert "corrected to factory, 1950s, finished by hand: 420.5 to 620 µm: “a fourth car”" in page
    new = FilmBand.objects.current().get(marque="Orvelle")
    address = reverse("film-band", args=(new.pk,))
    cast.head.post(address, {"reason": "the gauge was off", "step": "withdraw"})
    assert not FilmBand.objects.current().filter(marque="Orvelle").exists()
    stale = text_of(cast.head.get(address, follow=True).content)
    assert "corrected or withdrawn already" in stale
    actions = list(Entry.objects.filter(action__contains="film band").values_list("action", "who"))
    assert actions == [
        ("add film band", "head"),
        ("correct film band", "head"),
        ("withdraw film band", "head"),
    ]


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"source": " "}, "This field is required"),
        ({"low_um": "600", "high_um": "500"}, "more at its high end"),
        ({"low_um": "thin"}, "Enter a number"),
        ({"first_year": "1960", "last_year": "1950"}, "the earlier year first"),
        ({"about": "rust"}, "not one of the available choices"),
    ],
)
def test_a_row_that_cannot_be_is_told(cast: Cast, changed: dict, words: str) -> None:
    answer = cast.head.post(reverse("film-band-add"), {**ROW, **changed})
    assert answer.status_code == 422
    assert words in text_of(answer.content)
    assert not FilmBand.objects.filter(marque="Orvelle").exists()


def test_the_same_row_is_not_added_twice(cast: Cast) -> None:
    cast.head.post(reverse("film-band-add"), ROW)
    again = cast.head.post(reverse("film-band-add"), ROW)
    assert again.status_code == 422
    assert "exactly this row already" in text_of(again.content)


def test_bands_of_the_cars_year_stand_beside_the_map(cast: Cast) -> None:
    """The car was built in 1957: rows on modern works, 1967 and 1977 do not speak of it."""
    page = text_of(cast.head.get(at(cast, "survey-map"), headers=FRAGMENT).content)
    beside = page.split("Beside the reading")[1]
    for row in bands_beside(cast.car):
        assert row.era in beside
    assert "older, when new" in beside
    assert "modern, East Asian" not in beside
    assert "1977, North American" not in beside
    assert "The sources disagree with one another" in beside
    assert "above it" in beside
    assert "it rests on no car, only on the program&#x27;s wide starting guess" in beside
    assert "A band below becomes evidence only when a person makes it so" in beside


def test_bands_and_levels_never_enter_the_reading(cast: Cast) -> None:
    before = cast.head.get(at(cast, "survey-json")).content
    other_car(level_um=90)
    cast.head.post(reverse("film-band-add"), {**ROW, "low_um": "1", "high_um": "2"})
    cast.head.post(at(cast, "band-evidence", first_band().pk), EVIDENCE)
    assert cast.head.get(at(cast, "survey-json")).content == before


def test_a_panel_shows_its_median_beside_the_bands(cast: Cast) -> None:
    page = text_of(cast.craft.get(at(cast, "panel", "bonnet")).content)
    assert "the broken line the median of bonnet" in page
    unread = text_of(cast.craft.get(at(cast, "panel", "scuttle")).content)
    assert "upright line is the car's level" in unread


def test_an_owner_sees_the_bands_and_uses_none(cast: Cast) -> None:
    page = cast.owner.get(at(cast, "survey") + "?whole=1").content.decode()
    assert "older, when new" in page
    assert "Use as evidence" not in page
    assert reverse("film-bands") not in page
    pk = first_band().pk
    for client, status in ((cast.owner, 403), (cast.stranger, 404)):
        assert client.get(at(cast, "band-evidence", pk)).status_code == status
        assert client.post(at(cast, "band-evidence", pk), EVIDENCE).status_code == status
        assert client.post(at(cast, "band-evidence-back"), {}).status_code == status
    assert "evidence" not in folder_of(Car.objects.get(slug=cast.car.slug)).sheets


def test_a_band_becomes_evidence_by_a_person_and_is_taken_back(cast: Cast) -> None:
    address = at(cast, "band-evidence", first_band().pk)
    form = text_of(cast.craft.get(address + "?panel=bonnet").content)
    assert re.search(r"bonnet 49\d µm in 8 spots", form)
    assert "152 to 203 µm" in form
    done = cast.craft.post(address, EVIDENCE)
    assert done.url == at(cast, "survey") + "?whole=1#beside"
    page = text_of(cast.craft.get(at(cast, "survey") + "?whole=1").content)
    assert "Entered as evidence on bonnet: moderate support for later work." in page
    assert "likelihood ratio 0.02, guess" in page
    assert "“thicker than most”, trimmer" in page
    (row,) = folder_of(Car.objects.get(slug=cast.car.slug)).sheet("evidence")
    assert re.match(r"median of bonnet, 49\d µm in 8 spots; beside", row.text("item"))
    assert row.text("cause") == "a trade weekly, 2010"
    again = cast.craft.post(address, EVIDENCE)
    assert again.status_code == 422
    assert "not entered yet" in text_of(again.content)
    back = {"subject": "bonnet", "item": row.text("item"), "reason": "guessed too boldly"}
    page = text_of(cast.craft.post(at(cast, "band-evidence-back"), back, follow=True).content)
    assert "It is no longer among the evidence" in page
    assert len(folder_of(Car.objects.get(slug=cast.car.slug)).sheet("evidence")) == 0


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"lr": "0"}, "greater than or equal to"),
        ({"lr": "nan"}, "Enter a number"),
        ({"basis": "measured"}, "not one of the available choices"),
        ({"reason": ""}, "This field is required"),
        ({"subject": "scuttle"}, "not one of the available choices"),
    ],
)
def test_evidence_that_cannot_be_is_told(cast: Cast, changed: dict, words: str) -> None:
    answer = cast.craft.post(at(cast, "band-evidence", first_band().pk), {**EVIDENCE, **changed})
    assert answer.status_code == 422
    assert words in text_of(answer.content)
    assert "evidence" not in folder_of(Car.objects.get(slug=cast.car.slug)).sheets


def test_a_level_is_given_with_consent_and_taken_out(cast: Cast) -> None:
    address = at(cast, "film-base")
    given = {
        "step": "give",
        "kind": "open four-seater",
        "consent_by": "Mr Tolm Greave",
        "consent_on": "2026-05-02",
    }
    page = text_of(cast.craft.post(address, given, follow=True).content)
    assert "Mr Tolm Greave, 2 May 2026" in page
    row = FilmBuild.objects.get()
    assert (row.kind, row.year, row.entered_by.get_username()) == (
        "open four-seater",
        1957,
        "trimmer",
    )
    assert 490 < row.level_um < 515
    out = {"step": "withdraw", "reason": "the owner wants it out"}
    page = text_of(cast.craft.post(address, out, follow=True).content)
    assert "It is not in the base" in page
    assert "“the owner wants it out”, trimmer" in page


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"consent_by": ""}, "This field is required"),
        ({"consent_on": "2999-01-01"}, "still to come"),
        ({"kind": ""}, "This field is required"),
    ],
)
def test_without_consent_nothing_is_given(cast: Cast, changed: dict, words: str) -> None:
    given = {"kind": "k", "consent_by": "Mr Tolm Greave", "consent_on": "2026-05-02"}
    answer = cast.head.post(at(cast, "film-base"), {"step": "give", **given, **changed})
    assert answer.status_code == 422
    assert words in text_of(answer.content)
    assert not FilmBuild.objects.exists()


def test_the_expectation_says_on_how_many_cars_it_rests(cast: Cast) -> None:
    other = other_car()
    page = text_of(cast.head.get(at(cast, "survey") + "?whole=1").content)
    assert "it rests on 1 car of this workshop, 1 of this kind" in page
    assert "1 car; expected, 90" in page
    assert re.search(r"Its own level lies (within|above|below) it", page)
    # The other car itself is left out of what is expected of it.
    its_page = text_of(cast.head.get(reverse("film-base", args=(other.slug,))).content)
    assert "it rests on no car" in its_page
    as_kind = text_of(cast.head.get(at(cast, "film-base") + "?kind=van").content)
    assert "it rests on 1 car of this workshop, 0 of this kind" in as_kind


def test_an_owner_reads_their_own_consent_and_nobody_elses(cast: Cast) -> None:
    other = other_car()
    page = cast.owner.get(at(cast, "film-base")).content.decode()
    assert "it rests on 1 car" in page
    assert other.slug not in page
    assert "Miss Ardel Voss" not in page
    assert cast.owner.get(reverse("film-base", args=(other.slug,))).status_code == 404
    assert cast.stranger.get(at(cast, "film-base")).status_code == 404
    step = {"step": "withdraw", "reason": "x"}
    assert cast.owner.post(at(cast, "film-base"), step).status_code == 403


def test_a_car_without_readings_shows_what_to_expect_first(cast: Cast) -> None:
    folder = small_car()
    sheets = {name: sheet for name, sheet in folder.sheets.items() if name not in ("film", "shims")}
    bare = load_car(
        folder=type(folder)(sheets=sheets, package=folder.package),
        slug="bare",
        by=None,
    )
    other_car()
    page = text_of(cast.head.get(reverse("survey", args=("bare",)) + "?whole=1").content)
    assert "Nothing is measured yet" in page
    assert "it rests on 1 car of this workshop" in page
    assert "older, when new" in page
    base = text_of(cast.head.get(reverse("film-base", args=("bare",))).content)
    assert "It cannot be given yet: nothing is measured" in base
    answer = cast.head.get(reverse("band-evidence", args=("bare", first_band().pk)), follow=True)
    assert "Nothing is measured yet" in text_of(answer.content)
    given = {"step": "give", "kind": "k", "consent_by": "M", "consent_on": "2026-05-02"}
    assert cast.head.post(reverse("film-base", args=("bare",)), given).status_code == 422
    assert not FilmBuild.objects.filter(car=bare).exists()
