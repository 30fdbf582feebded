"""The PDF: the same bytes twice, the tables inside it, its words, and the marks of PDF/A-3b."""

from __future__ import annotations

import hashlib
import io
import json
import os
import shutil
import subprocess
import sys
from datetime import date
from pathlib import Path

import pikepdf
import pytest
from tests.unit.dossier.conftest import car_of, sheets

import asfound
from asfound.dossier import make_dossier
from asfound.dossier.account import about_unknowns
from asfound.dossier.computed import compute
from asfound.exchange import table_files
from asfound.measure.film import FilmReading
from asfound.record.convert.film import film_survey
from asfound.record.folder import CarFolder, Sheet
from asfound.record.results.film import panel_words
from asfound.weigh import SCALE

DAY = date(2031, 5, 17)


@pytest.fixture(scope="module")
def made(car: CarFolder) -> bytes:
    return make_dossier(car, made_on=DAY)


@pytest.fixture(scope="module")
def pdf(made: bytes) -> pikepdf.Pdf:
    return pikepdf.open(io.BytesIO(made))


def text_of(pdf: bytes, tmp_path: Path) -> str:
    if shutil.which("pdftotext") is None:
        pytest.skip("pdftotext (poppler) is not installed")
    place = tmp_path / "dossier.pdf"
    place.write_bytes(pdf)
    shown = subprocess.run(
        ["pdftotext", "-layout", str(place), "-"], capture_output=True, check=True
    )
    return " ".join(shown.stdout.decode().split())


def test_same_car_and_date_give_the_same_bytes(car: CarFolder, made: bytes) -> None:
    again = make_dossier(car, made_on=DAY)
    assert hashlib.sha256(again).digest() == hashlib.sha256(made).digest()


def test_another_date_gives_other_bytes(car: CarFolder, made: bytes) -> None:
    assert make_dossier(car, made_on=date(2031, 5, 18)) != made


def test_tables_travel_inside_byte_for_byte(car: CarFolder, pdf: pikepdf.Pdf) -> None:
    inside = {name: spec.get_file().read_bytes() for name, spec in pdf.attachments.items()}
    tables = table_files(car)
    assert tables
    assert {name: inside[name] for name in tables} == tables
    results = {"film.json", "choice.json", "evidence.json", "ledger.json"}
    assert set(inside) - set(tables) == {*results, "SHA512SUMS"}


def test_check_sums_inside_hold_for_every_file(pdf: pikepdf.Pdf) -> None:
    inside = {name: spec.get_file().read_bytes() for name, spec in pdf.attachments.items()}
    lines = inside.pop("SHA512SUMS").decode().splitlines()
    sums = {name: digest for digest, name in (line.split("  ") for line in lines)}
    assert sums == {name: hashlib.sha512(data).hexdigest() for name, data in inside.items()}


def test_check_sums_hold_in_a_shell_as_the_dossier_says(made: bytes, tmp_path: Path) -> None:
    if shutil.which("pdfdetach") is None or shutil.which("sha512sum") is None:
        pytest.skip("pdfdetach (poppler) or sha512sum is not installed")
    (tmp_path / "dossier.pdf").write_bytes(made)
    subprocess.run(["pdfdetach", "-saveall", "dossier.pdf"], cwd=tmp_path, check=True)
    subprocess.run(["sha512sum", "-c", "--strict", "SHA512SUMS"], cwd=tmp_path, check=True)


def test_results_inside_are_those_of_the_contract(pdf: pikepdf.Pdf) -> None:
    film = json.loads(pdf.attachments["film.json"].get_file().read_bytes())
    choice = json.loads(pdf.attachments["choice.json"].get_file().read_bytes())
    spots = {p["panel"]: p["spots_n"] for p in film["panels"]}
    assert spots == {"bonnet": 12, "left door": 12, "left wing": 5, "boot & lid": 0}
    # Weights 4 + 3 + 1; bonnet 1, door 0.9 (its floor is 2), brakes 0.6: 7.3 / 8.
    assert choice["chosen"]["kept"] == pytest.approx(7.3 / 8)
    assert choice["chosen"]["options"]["left door"] == "tone it in"


@pytest.mark.source("ISO 19005-3:2012, 6.6.4 identification, 6.2.3 output intent, 6.8 attachments")
def test_pdf_bears_the_marks_of_pdf_a_3b(pdf: pikepdf.Pdf) -> None:
    with pdf.open_metadata() as meta:
        assert (meta["pdfaid:part"], meta["pdfaid:conformance"]) == ("3", "B")
    assert [str(i.S) for i in pdf.Root.OutputIntents] == ["/GTS_PDFA1"]
    assert not pdf.is_encrypted
    assert "/OpenAction" not in pdf.Root
    assert {str(spec.AFRelationship) for spec in pdf.Root.AF} == {"/Data", "/Supplement"}
    for spec in pdf.Root.AF:
        assert str(spec.EF.F.Subtype) in {"/text/csv", "/application/json", "/text/plain"}
    assert len(pdf.Root.AF) == len(pdf.attachments)


@pytest.mark.source("ISO 19005-3:2012, 6.2.11.4: font programs are embedded")
def test_every_font_is_embedded(pdf: pikepdf.Pdf) -> None:
    descriptors = [
        obj
        for obj in pdf.objects
        if isinstance(obj, pikepdf.Dictionary) and obj.get("/Type") == "/FontDescriptor"
    ]
    assert descriptors
    for descriptor in descriptors:
        assert {"/FontFile", "/FontFile2", "/FontFile3"} & set(descriptor.keys())


def test_it_says_what_was_found_and_what_is_proposed(
    made: bytes, reading: FilmReading, tmp_path: Path
) -> None:
    text = text_of(made, tmp_path)
    door = next(p for p in reading.panels if p.panel == "left door")
    assert panel_words(door).split(":")[0] in text.lower()
    assert SCALE in text
    assert "91.2" in text, "7.3 / 8 of the fabric kept, in percent"
    assert "Orla <&> Ø" in text, "a name is set as written, never as markup"
    assert "No readings were taken on: boot & lid" in text
    assert "sha512sum -c SHA512SUMS" in text


def test_every_page_of_an_invented_car_says_so(
    made: bytes, pdf: pikepdf.Pdf, tmp_path: Path
) -> None:
    assert text_of(made, tmp_path).count("INVENTED CAR") == len(pdf.pages)
    real = CarFolder(sheets={"car": sheets()["car"]})
    assert "INVENTED" not in text_of(make_dossier(real, made_on=DAY), tmp_path)


def test_cautions_stand_with_their_source(made: bytes, tmp_path: Path) -> None:
    text = text_of(made, tmp_path)
    for word in ("asbestos", "OSHA 29 CFR", "isocyanates", "HSE, lead at work"):
        assert word in text, word
    assert "radium" not in text, "no word of this car calls for it"
    assert "Follow the local rules" in text


def test_a_car_with_nothing_but_its_name_has_a_dossier(tmp_path: Path) -> None:
    bare = CarFolder(sheets={"car": sheets()["car"]})
    pdf = make_dossier(bare, made_on=DAY)
    text = text_of(pdf, tmp_path)
    assert "The finish was not measured" in text
    assert "No options were proposed" in text
    assert set(pikepdf.open(io.BytesIO(pdf)).attachments) == {
        "car.csv",
        "datapackage.json",
        "SHA512SUMS",
    }


def test_what_clashes_is_named_when_nothing_can_be_chosen(tmp_path: Path) -> None:
    high = Sheet(columns=("subject", "weight", "min_grade"), rows=(("bonnet", "1", "5"),))
    car = CarFolder(
        sheets={"car": sheets()["car"], "options": sheets()["options"], "subjects": high},
        brief={"cost_max": 500},
    )
    text = text_of(make_dossier(car, made_on=DAY), tmp_path)
    assert "No choice satisfies the brief" in text
    assert "bonnet" in text.split("cannot hold together")[1].split("Lift or loosen")[0]


def test_given_results_are_used_as_they_are(car: CarFolder, reading: FilmReading) -> None:
    seen: list[float] = []
    given = compute(car, reading=reading, result=None, progress=seen.append)
    assert given.reading is reading
    assert seen == sorted(seen)


def test_a_gauge_without_shims_is_among_the_unknowns() -> None:
    car = car_of(shims=None)
    computed = compute(car, reading=None, result=None, progress=lambda _: None)
    assert any(
        "No shim readings are there for: A" in line for line in about_unknowns(car, computed)
    )
    with_shims = car_of()
    computed = compute(with_shims, reading=None, result=None, progress=lambda _: None)
    lines = about_unknowns(with_shims, computed)
    assert not any("shim" in line for line in lines)
    assert any("from one undisturbed since built" in line for line in lines)


def test_survey_of_the_fixture_is_what_the_tests_believe(car: CarFolder) -> None:
    assert len(film_survey(car).readings) == 3 * (12 + 12 + 5)


def test_a_folder_needs_no_database_for_its_dossier() -> None:
    """The command reads a folder on a machine where Django was never set up."""
    program = (
        "import sys, asfound.dossier; "
        "sys.exit(any(name.startswith('asfound.record.models') for name in sys.modules))"
    )
    source = Path(asfound.__file__).parents[1]
    environ = {k: v for k, v in os.environ.items() if k != "DJANGO_SETTINGS_MODULE"}
    environ["PYTHONPATH"] = str(source)
    ran = subprocess.run(
        [sys.executable, "-c", program], env=environ, capture_output=True, check=False
    )
    assert ran.returncode == 0, ran.stderr.decode()


@pytest.mark.parametrize("sign", ["鶴", "🚗", "\u0e01"])
def test_a_sign_that_the_faces_lack_is_spelled_and_kept(sign: str, tmp_path: Path) -> None:
    columns = ("marque", "model", "body_style", "built", "note")
    row = ("Selvany", f"Orla {sign}", "tourer", "1957", f"found {sign} on the dash")
    car = CarFolder(sheets={"car": Sheet(columns=columns, rows=(row,))})
    pdf = make_dossier(car, made_on=DAY)
    assert f"[U+{ord(sign):04X}]" in text_of(pdf, tmp_path)
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        inside = opened.attachments["car.csv"].get_file().read_bytes()
    assert sign in inside.decode()
