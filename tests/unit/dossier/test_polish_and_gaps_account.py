"""The dossier's sections on polishing and gaps."""

from __future__ import annotations

import io
import json
from datetime import date

import pikepdf
import pytest
from tests.unit.dossier.conftest import sheets

from asfound.dossier import make_dossier
from asfound.dossier.account import about_cautions, about_unknowns
from asfound.dossier.account.gaps import about_gaps, edge_figures
from asfound.dossier.account.polish import about_polish, wedge_figures
from asfound.dossier.computed import compute
from asfound.record.derived import gaps_reading, polish_reading
from asfound.record.folder import CarFolder, Sheet

DAY = date(2031, 5, 17)


def sheet(head: str, *rows: tuple[str, ...]) -> Sheet:
    return Sheet(columns=tuple(head.split(",")), rows=rows)


@pytest.fixture(scope="module")
def polished() -> CarFolder:
    """A door polished twice over its floor, a panel that nobody drew, and two edges."""
    return CarFolder(
        sheets={
            "panels": sheets()["panels"],
            "polish": sheet(
                "panel,area,spot,x_mm,y_mm,before_um,after_um,passes,process",
                *(
                    (
                        "left door",
                        "edge",
                        f"P{i}",
                        f"{200 * i}",
                        "300",
                        f"{150 + 10 * i}",
                        f"{142 + 10 * i}",
                        "2",
                        "soft pad",
                    )
                    for i in range(1, 5)
                ),
            ),
            "polish_floors": sheet(
                "panel,area,floor_um,basis", ("left door", "edge", "120", "guess")
            ),
            "edges": sheet(
                "edge,twin,least_mm,most_mm,source",
                ("left door, rear", "right door, rear", "3", "5", "card"),
                ("right door, rear", "", "", "", ""),
                ("lid", "", "", "", ""),
            ),
            "gaps": sheet(
                "edge,along_mm,gap_mm,flush_mm",
                *(("left door, rear", f"{200 * i}", f"{4 + i}", "0.5") for i in range(3)),
                *(("right door, rear", f"{200 * i}", "4", "0.5") for i in range(3)),
                ("lid", "0", "3", ""),
            ),
        }
    )


def test_polishing_is_told_by_panel_with_its_guess(polished: CarFolder) -> None:
    said = about_polish(polished, polish_reading(polished))
    (row,) = said["passes"]
    assert row[:2] == ["left door, edge", "soft pad"]
    assert row[2].startswith("4.0 ±")
    (panel,) = said["panels"]
    assert panel["figure"] in wedge_figures(polished, polish_reading(polished))
    (area,) = panel["areas"]
    assert area["floor"] == "floor 120 µm, guess"
    assert any("guess" in words for words in area["cautions"])
    assert [spot[0] for spot in area["spots"]] == ["P1", "P2", "P3", "P4"]


def test_a_panel_that_nobody_drew_keeps_its_numbers(polished: CarFolder) -> None:
    bare = CarFolder(sheets={k: v for k, v in polished.sheets.items() if k != "panels"})
    (panel,) = about_polish(bare, polish_reading(bare))["panels"]
    assert panel["figure"] == ""
    assert panel["areas"][0]["spots"]


def test_edges_pairs_and_assumptions_are_told(polished: CarFolder) -> None:
    result = gaps_reading(polished)
    said = about_gaps(polished, result)
    assert [row[0] for row in said["edges"]] == ["left door, rear", "right door, rear", "lid"]
    assert "too wide at its end" in said["edges"][0][4]
    assert said["limits"] == [["left door, rear", "card"]]
    assert len(said["assumed"]) == 3
    assert [p["title"] for p in said["pictures"]] == ["left door, rear and right door, rear", "lid"]
    assert any("clearly differs" in words for words in said["pictures"][0]["said"])
    assert len(edge_figures(result)) == len(said["pictures"])


def test_what_is_guessed_is_among_what_is_not_known(polished: CarFolder) -> None:
    computed = compute(polished, reading=None, result=None, progress=lambda _: None)
    assert any("is a guess on: left door, edge" in s for s in about_unknowns(polished, computed))
    assert "dust of polishing and sanding" in [r[0] for r in about_cautions(polished)["rows"]]
    spoiled = CarFolder(
        sheets={
            **polished.sheets,
            "polish_floors": sheet("panel,floor_um,basis", ("left door", "0", "guess")),
        }
    )
    computed = compute(spoiled, reading=None, result=None, progress=lambda _: None)
    assert computed.polish is None
    assert any("more than zero" in said for said in about_unknowns(spoiled, computed))


def test_the_pdf_sets_and_carries_both_results(polished: CarFolder) -> None:
    pdf = pikepdf.open(io.BytesIO(make_dossier(polished, made_on=DAY)))
    assert {"polish.json", "gaps.json", "polish.csv", "gaps.csv"} <= set(pdf.attachments)
    content = json.loads(pdf.attachments["polish.json"].get_file().read_bytes())
    assert content["areas"][0]["floor"]["basis"] == "guess"
