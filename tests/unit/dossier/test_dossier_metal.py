"""The sheet metal in the dossier, and the picture of a panel with its readings."""

from __future__ import annotations

import io
import json
import re
from datetime import date
from pathlib import Path

import pikepdf
import pytest
from tests.unit.dossier.test_dossier import text_of

from asfound.base import InputError
from asfound.dossier import make_dossier
from asfound.dossier.account import about_metal, about_unknowns
from asfound.dossier.computed import compute
from asfound.dossier.figures import metal_svg
from asfound.record.derived import metal_reading
from asfound.record.folder import CarFolder, Sheet

DAY = date(2031, 5, 17)
BOX = "POLYGON ((0 0, 1000 0, 1000 400, 0 400, 0 0))"


def sheet(*rows: dict[str, str]) -> Sheet:
    head = tuple(dict.fromkeys(name for row in rows for name in row))
    return Sheet(columns=head, rows=tuple(tuple(r.get(c, "") for c in head) for r in rows))


def at(thickness: str, panel: str = "sill", x: str = "100", **more: str) -> dict[str, str]:
    day = {"taken_at": "2024-03-05", "by": "trimmer", "gauge": "M3"}
    return {"panel": panel, "x_mm": x, "y_mm": "100", "thickness_mm": thickness, **day, **more}


def car(*metal: dict[str, str], **tables: Sheet) -> CarFolder:
    return CarFolder(
        sheets={
            "car": sheet(
                {"marque": "Selvany", "model": "Orla", "body_style": "van", "built": "1957"}
            ),
            "panels": sheet(
                {"panel": "sill", "section": "left", "substrate": "steel", "outline_wkt": BOX},
                {"panel": "door", "section": "left", "substrate": "steel", "outline_wkt": BOX},
            ),
            "metal": sheet(*metal),
            "sheet_nominals": sheet(
                {"panel": "sill", "nominal": "20", "system": "SWG", "tolerance_mm": "0.05"}
                | {"least_mm": "0.5", "source": "cut edge <&>"},
                {"panel": "door", "nominal": "20", "system": "MSG", "tolerance_mm": "0.05"},
            ),
            "climates": sheet({"since": "1957", "until": "2017", "category": "C3"}),
            **tables,
        }
    )


@pytest.fixture(scope="module")
def read() -> CarFolder:
    return car(at("0.60"), at("0.85", x="700"), at("0.90", panel="door"))


def test_the_section_says_what_is_left_and_what_is_in_doubt(
    read: CarFolder, tmp_path: Path
) -> None:
    pdf = make_dossier(read, made_on=DAY)
    text = text_of(pdf, tmp_path)
    for words in (
        "The sheet metal",
        "20 SWG",
        "20 MSG",
        "not certain",
        "metal lost?",
        "by the long rate",
        "cut edge <&>",
        "under local rules",
        "standard uncertainty of 0.05 mm is assumed",
        "Context, not a finding",
        "No loss of metal can be told on: door",
    ):
        assert words in text, words
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        inside = json.loads(opened.attachments["metal.json"].get_file().read_bytes())
    assert [s["told_apart"] for s in inside["subjects"]] == [True, False]


def test_only_panels_whose_loss_is_told_have_a_picture(read: CarFolder) -> None:
    assert about_metal(read, metal_reading(read))["pictures"] == ["sill"]


def test_metal_that_cannot_be_read_is_among_the_unknowns() -> None:
    broken = car(
        at("0.60"), sheet_nominals=sheet({"panel": "sill", "nominal": "99", "system": "SWG"})
    )
    computed = compute(broken, reading=None, result=None, progress=lambda _: None)
    assert computed.metal is None
    assert any("SWG has no such thickness" in said for said in about_unknowns(broken, computed))


def discs(svg: str) -> list[dict[str, str]]:
    return [
        dict(re.findall(r'([\w-]+)="([^"]*)"', one)) for one in re.findall("<circle[^>]*>", svg)
    ]


def test_the_picture_stands_where_the_reading_was(read: CarFolder) -> None:
    svg = metal_svg(read, metal_reading(read), "sill")
    root = dict(re.findall(r'(data-[\w]+)="([^"]*)"', svg))
    places = [
        float(root["data-x0"]) + float(d["cx"]) / float(root["data-scale"]) for d in discs(svg)
    ]
    assert places == pytest.approx([100, 700], abs=1)
    assert ">0.60<" in svg
    assert ">0.85<" in svg
    assert "sheet left, % of nominal" in svg


def test_a_loss_that_is_not_told_has_a_broken_edge(read: CarFolder) -> None:
    whole, thin = (
        discs(metal_svg(read, metal_reading(read), "door")),
        discs(metal_svg(read, metal_reading(read), "sill")),
    )
    assert "stroke-dasharray" in whole[0]
    assert "stroke-dasharray" not in thin[0]


def test_thinner_is_lighter_whatever_the_theme(read: CarFolder) -> None:
    thin, thick = discs(metal_svg(read, metal_reading(read), "sill", theme="print"))
    shade = {
        d["fill"]: sum(int(d["fill"][i : i + 2], 16) for i in (1, 3, 5)) for d in (thin, thick)
    }
    assert shade[thin["fill"]] > shade[thick["fill"]]


def test_a_panel_without_a_nominal_has_no_colour() -> None:
    bare = car(at("0.60"), sheet_nominals=Sheet(columns=("panel", "nominal", "system")))
    (disc,) = discs(metal_svg(bare, metal_reading(bare), "sill"))
    assert disc["fill"] == "none"


def test_before_anything_is_read_the_panel_is_drawn(read: CarFolder) -> None:
    assert discs(metal_svg(read, None, "sill")) == []


def test_a_panel_that_is_not_there_is_refused(read: CarFolder) -> None:
    with pytest.raises(InputError, match="sill, door"):
        metal_svg(read, None, "roof")
