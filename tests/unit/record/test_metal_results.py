"""Sheet metal from the tables of a car: grounds, assumptions that are told, and refusals."""

from __future__ import annotations

from typing import Any

import pytest

from asfound.record.convert.metal import metal_survey
from asfound.record.derived import metal_reading
from asfound.record.faults import InputFaultsError
from asfound.record.folder import CarFolder, Sheet
from asfound.record.results.metal import metal_json

Rows = list[dict[str, str]]
BOX = "POLYGON ((0 0, 900 0, 900 600, 0 600, 0 0))"
U: Rows = [
    {"instrument": "M3", "kind": "sheet thickness", "u": "0.02", "unit": "mm", "source": "trial"}
]


def sheet(rows: Rows) -> Sheet:
    head = tuple(dict.fromkeys(name for row in rows for name in row))
    return Sheet(columns=head, rows=tuple(tuple(r.get(c, "") for c in head) for r in rows))


def at(thickness: str, subject: str = "sill", **more: str) -> dict[str, str]:
    place = {"panel": subject, "part": "", "x_mm": "100", "y_mm": "50"}
    return {**place, "thickness_mm": thickness, "gauge": "M3", **more}


def car(**tables: Rows) -> CarFolder:
    usual: dict[str, Rows] = {
        "car": [{"marque": "Orvelle", "built": "1957"}],
        "panels": [{"panel": "sill", "outline_wkt": BOX, "nominal_mm": "0.9"}],
        "instruments": U,
    }
    return CarFolder(sheets={name: sheet(rows) for name, rows in {**usual, **tables}.items()})


def told(folder: CarFolder) -> dict[str, Any]:
    return metal_json(metal_reading(folder), folder)


def new(**more: str) -> dict[str, str]:
    return {"panel": "sill", "part": "", "nominal": "20", "system": "SWG", **more}


def test_a_row_of_nominals_comes_before_the_panels_own_thickness() -> None:
    (found,) = told(car(metal=[at("0.80")], sheet_nominals=[new(source="cut edge")]))["subjects"]
    assert found["nominal"]["system"] == "SWG"
    assert found["nominal"]["gauge"] == 20
    assert found["nominal"]["source"] == "cut edge"
    assert found["mean_loss_mm"]["value"] == pytest.approx(0.9144 - 0.8)


def test_without_a_row_the_panels_own_millimetres_serve() -> None:
    (found,) = told(car(metal=[at("0.80")]))["subjects"]
    assert found["nominal"]["system"] == "mm"
    assert found["mean_loss_mm"]["value"] == pytest.approx(0.1)


def test_what_nobody_stated_is_told_with_its_remedy() -> None:
    result = told(car(metal=[at("0.80", gauge="other"), at("0.8", gauge="")], instruments=U))
    whats = [row["what"] for row in result["assumed"]]
    assert any(what.startswith("other: a standard uncertainty of 0.05 mm") for what in whats)
    assert any(what.startswith("The gauge that nobody named") for what in whats)
    assert any("± 10%" in what for what in whats)
    assert all(row["remedy"] for row in result["assumed"])
    assert [gauge["assumed"] for gauge in result["gauges"]] == [True, True]


def test_what_is_stated_is_not_assumed() -> None:
    result = told(car(metal=[at("0.80")], sheet_nominals=[new(tolerance_mm="0.05")]))
    assert result["assumed"] == []
    assert result["subjects"][0]["mean_loss_mm"]["u"] == pytest.approx(
        (0.02**2 + 0.05**2 / 3) ** 0.5, abs=5e-5
    )


def test_an_instrument_of_another_kind_does_not_speak_for_the_gauge() -> None:
    film = [{**U[0], "kind": "gap"}]
    assert told(car(metal=[at("0.8")], instruments=film))["gauges"][0]["assumed"]


def test_error_above_loss_is_said() -> None:
    (found,) = told(car(metal=[at("0.87")]))["subjects"]
    assert found["told_apart"] is False
    assert "no loss can be told" in found["note"]


def test_life_from_built_to_the_least_thickness() -> None:
    """0.9144 - 0.6 mm in 2017.5 - 1957.5 years; 0.1 mm above the least."""
    result = told(car(metal=[at("0.6", taken_at="2017")], sheet_nominals=[new(least_mm="0.5")]))[
        "subjects"
    ][0]
    assert result["life"]["years"] == pytest.approx(0.1 / (0.3144 / 60), abs=0.05)
    assert result["life"]["from_nominal"] is True
    assert 0 < result["life"]["years_low"] < result["life"]["years"]
    assert "nominal when built" in result["life_in_words"]


def test_no_loss_between_readings_has_no_end() -> None:
    folder = car(
        metal=[at("0.90", taken_at="2010"), at("0.95", taken_at="2020")],
        sheet_nominals=[{**new(least_mm="0.5"), "nominal": "0.9", "system": "mm"}],
    )
    result = told(folder)["subjects"][0]
    assert result["life"]["years"] is None
    assert "No loss was seen" in result["life_in_words"]


def test_parts_and_panels_of_one_name_stay_apart() -> None:
    rows = [at("0.8"), {**at("2.4"), "panel": "", "part": "sill"}]
    found = told(car(metal=rows))["subjects"]
    assert [(row["kind"], row["readings_n"]) for row in found] == [("panel", 1), ("part", 1)]
    assert found[1]["nominal"] is None
    assert found[1]["mean_loss_mm"] is None


def climate(since: str, until: str = "", **more: str) -> dict[str, str]:
    return {"since": since, "until": until, "category": "C3", "first_year_um": "", **more}


def test_a_climate_without_end_runs_to_the_last_reading() -> None:
    folder = car(metal=[at("0.8", taken_at="2017")], climates=[climate("1957")])
    assert told(folder)["bare_steel"]["years"] == pytest.approx(60)


def test_a_climate_that_nothing_ends_is_left_out_and_told() -> None:
    result = told(car(metal=[at("0.8")], climates=[climate("1957")]))
    assert result["bare_steel"] is None
    assert any("left out" in row["what"] for row in result["assumed"])


def test_a_measured_first_year_loss_comes_before_the_category() -> None:
    folder = car(metal=[at("0.8")], climates=[climate("1957", "1958", first_year_um="30")])
    bare = told(folder)["bare_steel"]
    assert bare["low_um"] == bare["high_um"] == pytest.approx(30, abs=0.1)


@pytest.mark.parametrize(
    ("tables", "words"),
    [
        ({}, "no reading of sheet thickness"),
        ({"metal": [at("0")]}, "a thickness is more than zero"),
        (
            {"metal": [at("0.8")], "sheet_nominals": [{**new(), "nominal": "15", "system": "MSG"}]},
            "MSG has no such thickness",
        ),
        ({"metal": [at("0.8")], "sheet_nominals": [{**new(), "nominal": "thin"}]}, "SWG"),
        ({"metal": [at("0.8")], "climates": [climate("1990", "1980")]}, "must end later"),
    ],
)
def test_what_cannot_be_read_is_a_fault_with_its_row(tables: dict[str, Rows], words: str) -> None:
    with pytest.raises(InputFaultsError, match=words) as told_faults:
        metal_survey(car(**tables))
    assert all(fault.row == 2 for fault in told_faults.value.faults if tables)
