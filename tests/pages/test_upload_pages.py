"""Uploading a file: sheets to choose from, what is remembered, what is asked back, every table."""

from __future__ import annotations

import io

import openpyxl
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from tests.pages.conftest import Cast

from asfound.record.actions import remember_file_match
from asfound.record.models import Entry, FileMatch, FilmReading, Observation

ODD = "Point;Across;Down;Layer\nN1;300;80;498,5\nN1;301;80;501\n"
AS_MEANT = {"spot": "0", "x_mm": "1", "y_mm": "2", "thickness_um": "3", "all-panel": "scuttle"}


def upload(cast: Cast, data: str | bytes, *, table: str = "film", name: str = "gauge.csv") -> str:
    """Address at which the file is matched."""
    content = data.encode() if isinstance(data, str) else data
    address = reverse("load-table", args=(cast.car.slug, table))
    answer = cast.craft.post(address, {"file": SimpleUploadedFile(name, content)})
    assert answer.status_code == 302, answer.content.decode()
    return answer.url


def write(cast: Cast, address: str, **said: str) -> str:
    """Page that answers the confirmation."""
    answer = cast.craft.post(address, {**said, "step": "write"}, follow=True)
    return answer.content.decode()


def book(**sheets: list[list[object]]) -> bytes:
    made = openpyxl.Workbook()
    made.remove(made.active)
    for name, rows in sheets.items():
        sheet = made.create_sheet(name)
        for row in rows:
            sheet.append(row)
    file = io.BytesIO()
    made.save(file)
    return file.getvalue()


def test_of_several_sheets_one_is_chosen(cast: Cast) -> None:
    head = ["panel", "spot", "x_mm", "y_mm", "thickness_um"]
    data = book(
        Front=[head, ["bonnet", "N1", 10, 20, 500.5]], Left=[head, ["door left", "N2", 30, 20, 510]]
    )
    address = upload(cast, data, name="gauge.xlsx")
    page = cast.craft.get(address).content.decode()
    assert "Front · 1 row" in page
    assert "sheet “Front”" in page
    assert "sheet “Left”" in cast.craft.get(f"{address}?sheet=1").content.decode()
    places = {name: str(i) for i, name in enumerate(head)}
    assert "1 reading of gauge.xlsx is written" in write(cast, f"{address}?sheet=1", **places)
    assert FilmReading.objects.get(spot="N2").thickness_um == 510
    assert not FilmReading.objects.filter(spot="N1").exists()


def test_a_sheet_that_was_matched_before_is_taken_first(cast: Cast) -> None:
    head, notes = ["Point", "Across", "Down", "Layer"], [["Where", "Who"], ["hall", "A. Invented"]]
    first = book(Notes=notes, Readings=[head, ["N1", 300, 80, 498.5]])
    write(cast, upload(cast, first, name="a.xlsx"), sheet="1", **AS_MEANT, remember_as="blue")
    assert FilmReading.objects.filter(spot="N1").count() == 1
    second = book(Notes=notes, Readings=[head, ["N2", 300, 80, 498.5]])
    page = cast.craft.get(upload(cast, second, name="b.xlsx")).content.decode()
    assert "sheet “Readings”" in page
    assert '<input type="hidden" name="sheet" value="1">' in page


def test_one_gauge_person_and_day_hold_for_the_whole_file(cast: Cast) -> None:
    said = {"all-gauge": "blue", "all-taken_at": "2026-05-12", "all-by": "A. Invented"}
    page = write(cast, upload(cast, ODD), **AS_MEANT, **said, remember_as="files like gauge.csv")
    assert "2 readings of gauge.csv are written" in page
    reading = FilmReading.objects.filter(spot="N1").latest("pk")
    assert (reading.panel, reading.gauge) == ("scuttle", "blue")
    assert (reading.taken_at, reading.by) == ("2026-05-12", "A. Invented")
    match = FileMatch.objects.get()
    assert match.name == "blue"
    assert match.fixed == {"panel": "scuttle", "gauge": "blue", "by": "A. Invented"}
    assert match.by is not None
    assert match.by.get_username() == "trimmer"


def test_a_matching_is_offered_for_the_same_head_and_forgotten_when_told(cast: Cast) -> None:
    write(cast, upload(cast, ODD), **AS_MEANT, remember_as="blue gauge")
    address = upload(cast, ODD.replace("N1", "N2").replace("Point", "POINT"))
    page = cast.craft.get(address).content.decode()
    assert "Matched as for <b>blue gauge</b>" in page
    assert "Write all 2 readings" in page
    other = cast.craft.get(upload(cast, ODD.replace("Layer", "Film2"))).content.decode()
    assert "blue gauge</b>" not in other
    match = FileMatch.objects.get()
    answer = cast.craft.post(address, {"step": "forget", "match": str(match.pk)}, follow=True)
    assert "is forgotten" in answer.content.decode()
    assert not FileMatch.objects.exists()
    assert list(Entry.objects.order_by("-pk").values_list("action", flat=True)[:1]) == [
        "forget file"
    ]


def test_of_two_matchings_for_one_head_either_can_be_taken(cast: Cast) -> None:
    for name, panel in (("red", "bonnet"), ("blue", "scuttle")):
        remember_file_match(
            name=name,
            table="film",
            head=ODD.splitlines()[0].split(";"),
            places={"spot": 0, "x_mm": 1, "y_mm": 2, "thickness_um": 3},
            fixed={"panel": panel},
            by=None,
        )
    address = upload(cast, ODD)
    red = FileMatch.objects.get(name="red")
    assert "Match as for red" in cast.craft.get(address).content.decode()
    assert "Matched as for <b>red</b>" in (
        cast.craft.get(f"{address}?sheet=0&as={red.pk}").content.decode()
    )


def test_the_gauges_of_the_car_are_offered(cast: Cast) -> None:
    page = cast.craft.get(upload(cast, ODD)).content.decode()
    assert 'list="known-gauge"' in page
    assert '<datalist id="known-gauge"><option value="gauge A"></datalist>' in page


def test_an_emptied_name_keeps_no_matching(cast: Cast) -> None:
    write(cast, upload(cast, ODD), **AS_MEANT, remember_as="")
    assert not FileMatch.objects.exists()


def test_places_off_the_panel_are_asked_back_and_taken_when_meant(cast: Cast) -> None:
    address = upload(cast, ODD.replace("300;80", "3000;80").replace("301;80", "3001;80"))
    page = write(cast, address, **AS_MEANT)
    assert "the place lies 1800 mm off the panel scuttle" in page
    assert "Take places that lie off their panel all the same" in page
    assert not FilmReading.objects.filter(spot="N1").exists()
    write(cast, address, **AS_MEANT, takes_off_panel="on")
    assert FilmReading.objects.filter(spot="N1").count() == 2


@pytest.mark.parametrize(("decimal", "film"), [(",", 1234.0), (".", 1.234)])
def test_a_film_that_could_be_thousands_waits_for_the_decimal_mark(
    cast: Cast, decimal: str, film: float
) -> None:
    address = upload(cast, "Point;Across;Down;Layer\nN1;300;80;1.234\n")
    assert "Write 1234 for thousands" in write(cast, address, **AS_MEANT)
    write(cast, address, **AS_MEANT, decimal=decimal)
    assert FilmReading.objects.get(spot="N1").thickness_um == film


def test_refusals_speak_of_the_car_and_not_of_its_files(cast: Cast) -> None:
    said = {**AS_MEANT, "all-panel": "", "panel": "0"}
    page = write(cast, upload(cast, ODD), **said)
    assert "the car has no panel of this name" in page
    assert ".csv" not in page.replace("gauge.csv", "")


def test_titles_above_the_head_of_a_text_are_passed_over(cast: Cast) -> None:
    page = cast.craft.get(upload(cast, f"Gauge 7, batch 3\n\n{ODD}")).content.decode()
    assert "semicolon between the columns, decimal comma, the head in row 3" in page


@pytest.mark.parametrize(
    ("table", "text"),
    [
        ("metal", "panel,x,y,wall\nbonnet,10,20,0.91\n"),
        ("colour", "panel,x,y,L*,a*,b*,exposure\nbonnet,10,20,41.2,-3.5,7.75,hidden\n"),
        ("polish", "panel,spot,before,after,passes\nbonnet,P1,498.5,497,2\n"),
        ("gaps", "edge,along,gap [mm],flush\nbonnet to scuttle,120,4.25,-0.5\n"),
    ],
)
def test_every_observed_table_takes_a_file(cast: Cast, table: str, text: str) -> None:
    address = upload(cast, text, table=table)
    page = cast.craft.get(address)
    form = page.context["form"]
    said = {name: str(place) for name, place in form.match().places.items()}
    assert len(said) == len(text.splitlines()[0].split(","))
    assert "is written" in write(cast, address, **said)
    observed = Observation.objects.get(table=table)
    assert observed.car == cast.car
    assert set(text.splitlines()[1].split(",")) <= set(observed.cells.values())
    again = upload(cast, text, table=table)
    assert "1 of these readings stand in the record already" in (
        cast.craft.get(again).content.decode()
    )


def test_no_other_table_has_an_upload(cast: Cast) -> None:
    for table in ("panels", "nothing"):
        assert cast.craft.get(reverse("load-table", args=(cast.car.slug, table))).status_code == 404


@pytest.mark.parametrize("table", ["film", "metal"])
def test_who_may_not_write_may_not_upload(cast: Cast, table: str) -> None:
    address = reverse("load-table", args=(cast.car.slug, table))
    assert cast.owner.get(address).status_code == 403
    assert cast.stranger.get(address).status_code == 404
    assert cast.nobody.get(address).status_code == 302
