"""Significance on the pages and in the choice.

By hand: the small car weighs seats 3, brakes 1, door finish 2 and keeps (2.7 + 0.7 + 1.9) / 6 =
88.3 %. With the seats graded exceptional (5) in one criterion and their typed weight taken away
the same options keep (5 x 0.9 + 0.7 + 1.9) / 8 = 88.75 %.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from tests.pages.conftest import Cast
from tests.pages.small_car import small_car
from tests.pages.test_variants_and_proposals import at, send, text_of

from asfound.__main__ import app
from asfound.cli.app import run
from asfound.dossier.account import about_choice
from asfound.exchange import read_folder, write_folder
from asfound.record.actions import load_car, set_sheet, sheet_rows
from asfound.record.convert.choice import choice_problem
from asfound.record.convert.stored import folder_of
from asfound.record.derived import choice_result, chosen_now
from asfound.record.faults import InputFaultsError
from asfound.record.folder import CarFolder, Sheet
from asfound.record.models import Entry

REASON = "the first hide, sewn by the works"
GRADES = Sheet(
    columns=("subject", "criterion", "grade", "reason", "by"),
    rows=(("seats", "historic", "exceptional", REASON, "Issy"),),
)


def grade(cast: Cast, who: str = "head", **sent: str):
    data = {"grade-0": "exceptional", "reason-0": REASON, "weight": "3", "seen": "[]", **sent}
    answer = getattr(cast, who).post(at(cast, "grade-piece", "seats"), data)
    cast.car.refresh_from_db()
    return answer


def test_a_typed_weight_wins_and_says_so_until_it_is_taken_away(cast: Cast) -> None:
    assert grade(cast).status_code == 302
    page = text_of(cast.owner.get(at(cast, "piece", "seats")))
    assert REASON in page
    assert "Weight 3, typed by hand; its criteria would make (1 × 5) / (1) = 5." in page
    assert f"{chosen_now(folder_of(cast.car)).kept:.4f}" == "0.8833"
    (row,) = sheet_rows(cast.car, "significance")
    assert row["by"] == "head"
    seen = json.dumps([row])
    assert grade(cast, "craft", weight="", seen=seen).status_code == 302
    page = text_of(cast.owner.get(at(cast, "piece", "seats")))
    assert "Weight (1 × 5) / (1) = 5." in page
    assert f"{chosen_now(folder_of(cast.car)).kept:.4f}" == "0.8875"
    (row,) = sheet_rows(cast.car, "significance")
    assert row["by"] == "head"  # who changed only the weight did not grade
    told = Entry.objects.get(action="set weight")
    assert (told.before["weight"], told.after["weight"]) == (3, None)


def test_criteria_and_their_weights_are_seen_and_can_be_the_cars_own(cast: Cast) -> None:
    grade(cast, weight="", **{"grade-5": "some", "reason-5": "many are left"})
    page = text_of(cast.owner.get(at(cast, "significance")))
    assert "Significance 2.0 (2009), primary criteria" in page
    assert "Weight (1 × 5 + 1 × 1) / (1 + 1) = 3." in page
    assert "1 graded, 2 with a weight typed by hand, of 3" in page
    assert cast.owner.post(at(cast, "own-criteria")).status_code == 403
    assert cast.head.post(at(cast, "own-criteria")).status_code == 302
    cast.car.refresh_from_db()
    rows = sheet_rows(cast.car, "criteria")
    assert len(rows) == 8
    changed = [{**row, "weight": "3"} if row["criterion"] == "historic" else row for row in rows]
    set_sheet(car=cast.car, table="criteria", rows=changed, by=None)
    page = text_of(cast.owner.get(at(cast, "piece", "seats")))
    assert "Weight (3 × 5 + 1 × 1) / (3 + 1) = 4." in page


def test_a_grade_wants_a_reason_and_a_change_meanwhile_is_not_written_over(cast: Cast) -> None:
    refused = grade(cast, **{"reason-0": " "})
    assert refused.status_code == 422
    assert "Say why historic is graded so" in text_of(refused)
    grade(cast)
    late = grade(cast, **{"grade-0": "none"})
    assert late.status_code == 422
    assert "somebody else changed meanwhile" in text_of(late)
    assert sheet_rows(cast.car, "significance")[0]["grade"] == "exceptional"
    assert grade(cast, "owner").status_code == 403
    assert grade(cast, "stranger").status_code == 404
    assert cast.head.get(at(cast, "grade-piece", "gearbox")).status_code == 404


def test_it_comes_back_from_the_folder_and_stands_in_dossier_and_command_line(
    cast: Cast, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    grade(cast, weight="")
    folder = folder_of(cast.car)
    told = about_choice(folder, choice_problem(folder), choice_result(folder))["significance"]
    assert told["pieces"][0]["grades"] == [["historic", "exceptional", REASON, "head"]]
    write_folder(folder, tmp_path / "car")
    came = folder_of(load_car(folder=read_folder(tmp_path / "car"), by=None, slug="again"))
    assert came.sheet("significance") == folder.sheet("significance")
    with pytest.raises(SystemExit):
        run(app, ["choose", str(tmp_path / "car")])
    assert "seats: weight (1 × 5) / (1) = 5" in capsys.readouterr().out


def test_the_owner_reads_why_a_piece_matters_before_signing(cast: Cast) -> None:
    grade(cast)
    sent = send(cast)
    page = text_of(cast.owner.get(at(cast, "proposal", sent.number)))
    assert f"Why it matters: historic, exceptional: {REASON}." in page


def test_a_criterion_that_is_none_is_a_fault_with_its_row(tmp_path: Path) -> None:
    grades = Sheet(columns=GRADES.columns, rows=(("seats", "smell", "some", "x", "Issy"),))
    own = Sheet(columns=("criterion", "weight"), rows=(("historic", "1"),))
    for name, more in (("supplied", {}), ("own", {"criteria": own})):
        sheets = {**small_car().sheets, **more, "significance": grades}
        write_folder(CarFolder(sheets=sheets), tmp_path / name)
        with pytest.raises(InputFaultsError, match=r"significance\.csv, row 2"):
            read_folder(tmp_path / name)


def test_a_piece_that_no_subject_lists_is_weighed_too(cast: Cast) -> None:
    cast.car.subjects.all().delete()
    cast.car.heads = {k: v for k, v in cast.car.heads.items() if k != "subjects"}
    cast.car.save()
    assert grade(cast, weight="2.5").status_code == 302
    problem = choice_problem(folder_of(cast.car))
    assert {s.subject: s.weight for s in problem.subjects}["seats"] == 2.5
