"""The dossier's section on what is original, and what is attached to it."""

from __future__ import annotations

import io
import json
from datetime import date

import pikepdf
import pytest

from asfound.demo.written import sheet
from asfound.dossier import make_dossier
from asfound.dossier.account.car import about_car
from asfound.dossier.account.limits import about_unknowns
from asfound.dossier.account.originality import about_originality, originality_figures
from asfound.dossier.computed import Computed, compute
from asfound.record.folder import CarFolder

DAY = date(2031, 5, 17)
ITEM = {
    "subject": "gearbox",
    "statement": "fitted when built",
    "alternative": "fitted later",
    "item": "works paint across the joint",
    "lr": "2500",
    "basis": "data",
    "cause": "",
}
MARK = {
    "kind": "gearbox",
    "text_as_read": "G4 O931",
    "method": "stamped",
    "where": "casing",
    "expected": "G4 0931",
    "expected_source": "works build sheet",
}


@pytest.fixture
def car() -> CarFolder:
    tables = {
        "car": [{"marque": "Orvelle", "model": "Tansy", "body_style": "tourer", "built": "1957"}],
        "parts": [{"part": "gearbox", "name": "Gearbox"}, {"part": "pump", "name": "Pump"}],
        "identifiers": [MARK],
        "evidence": [ITEM],
        "odometer": [
            {"date": day, "reading": shown, "unit": "mile", "source": "book", "digits": "5"}
            for day, shown in (("1966", "41870"), ("1971", "38905"))
        ],
    }
    return CarFolder(sheets={name: sheet(rows) for name, rows in tables.items()})


def computed(car: CarFolder) -> Computed:
    return compute(car, reading=None, result=None, progress=lambda _: None)


def test_what_is_told(car: CarFolder) -> None:
    found = computed(car).originality
    assert found is not None
    told = about_originality(found, car)
    (claim,) = told["claims"]
    assert claim["words"] == "very strong support for fitted when built"
    assert claim["chances"][-1] == ["0.9", "over 99\N{NARROW NO-BREAK SPACE}%"]
    assert [row[2] for row in claim["items"]] == ["2500", "10"]
    assert told["pieces"][0][:2] == ["gearbox", "original and in place"]
    assert told["silent_n"] == 1
    assert told["numbers"][0][3] == "consistent with the factory build record"
    assert "1966: 41870 mile (book)" in told["odometer"]["clashes"][0]
    assert set(originality_figures(found)) == {"balance-0.svg", "shares.svg"}


def test_the_results_travel_in_the_dossier(car: CarFolder) -> None:
    with pikepdf.open(io.BytesIO(make_dossier(car, made_on=DAY))) as pdf:
        names = set(pdf.attachments)
        told = json.loads(pdf.attachments["evidence.json"].get_file().read_bytes())
    assert {"evidence.json", "ledger.json", "numbers.json", "odometer.json"} <= names
    assert told["originality"][0]["lr"] == 25_000


def test_evidence_that_cannot_be_weighed_is_said_and_stops_nothing(car: CarFolder) -> None:
    broken = {**car.sheets, "evidence": sheet([ITEM | {"lr": "0"}])}
    odd = CarFolder(sheets=broken)
    found = computed(odd)
    assert found.originality is None
    assert any("evidence cannot be weighed" in line for line in about_unknowns(odd, found))
    assert make_dossier(odd, made_on=DAY)


def test_nothing_written_has_no_section() -> None:
    assert (
        computed(CarFolder(sheets={"parts": sheet([{"part": "a", "name": "A"}])})).originality
        is None
    )


def test_what_is_doubted_stands_apart_with_its_reason(car: CarFolder) -> None:
    doubted = ITEM | {
        "item": "hearsay",
        "lr": "9",
        "standing": "doubted",
        "standing_why": "he was not there",
    }
    plate = MARK | {
        "character_style": "serifs",
        "fixing": "two rivets",
        "photo": "a.jpg",
        "scale_in_photo": "yes",
        "standing": "withdrawn",
        "standing_why": "another casing",
    }
    tables = {**car.sheets, "evidence": sheet([ITEM, doubted]), "identifiers": sheet([plate])}
    changed = CarFolder(sheets=tables)
    found = computed(changed).originality
    assert found is not None
    told = about_originality(found, changed)
    said = "hearsay (fitted when built, or fitted later?)"
    assert told["aside"] == [["gearbox", said, "9", "doubted: he was not there"]]
    assert told["numbers"] == []
    (number,) = about_car(changed)["identifiers"]
    how = "stamped, casing; serifs; fixing: two rivets; photographed with a scale"
    assert number["how"] == how
    assert number["surface"] == "withdrawn: another casing"
    pikepdf.open(io.BytesIO(make_dossier(changed, made_on=DAY)))
