"""Rows of evidence as claims, what the program adds to them, and their JSON."""

from __future__ import annotations

from pathlib import Path

import pytest

from asfound.demo.written import Rows, sheet
from asfound.exchange import read_folder
from asfound.record.convert.evidence import claims_of
from asfound.record.derived import weighed_evidence
from asfound.record.evidence import FINISH, all_claims
from asfound.record.faults import InputFaultsError
from asfound.record.folder import CarFolder
from asfound.record.results.evidence import DERIVED, originality_json

HEAD = "subject,statement,alternative,item,lr,basis,cause,given"
ROW = "gearbox,fitted when built,fitted later"


def car(**tables: Rows) -> CarFolder:
    return CarFolder(sheets={name: sheet(rows) for name, rows in tables.items()})


def evidence(*rows: str) -> Rows:
    names = HEAD.split(",")
    return [dict(zip(names, f"{ROW},{row}".split(","), strict=True)) for row in rows]


def on_disk(place: Path, *rows: str) -> Path:
    (place / "evidence.csv").write_text("\n".join((HEAD, *rows)) + "\n", encoding="utf-8")
    return place


@pytest.mark.parametrize(
    ("row", "column", "words"),
    [
        (f"{ROW},number,0,data,,", "lr", "lr must be above 0"),
        (f"{ROW},number,-3,data,,", "lr", "lr must be above 0"),
        (f"{ROW},number,inf,data,,", "lr", "lr must be a number"),
        (f"{ROW},number,,data,,", "lr", "lr must be filled"),
        ("gearbox,,fitted later,number,3,data,,", "statement", "statement must be filled"),
        ("gearbox,fitted later,Fitted  later,number,3,data,,", "alternative", "excludes"),
        (f"{ROW},number,3,data,plate,seal", "given", "exactly one other item"),
        (f"{ROW},number,3,data,,seal", "given", "empty where the item has no cause"),
        (f"{ROW},number,3,hearsay,,", "basis", "basis must be one of"),
    ],
)
def test_what_cannot_be_weighed_is_told_at_its_row(
    tmp_path: Path, row: str, column: str, words: str
) -> None:
    with pytest.raises(InputFaultsError) as caught:
        read_folder(on_disk(tmp_path, f"{ROW},good,3,data,,", row))
    (fault,) = caught.value.faults
    assert (fault.file, fault.row, fault.column) == ("evidence.csv", 3, column)
    assert words in fault.rule
    assert fault.remedy


def test_a_ratio_kept_before_the_rule_is_a_fault_not_a_crash() -> None:
    with pytest.raises(InputFaultsError, match="above zero"):
        claims_of(car(evidence=evidence("number,0,data,,")))


def test_one_claim_a_statement_whatever_its_capitals() -> None:
    rows = evidence("number,10,data,,", "seal,2,data,,")
    rows[1]["statement"] = "Fitted when  built"
    (claim,) = claims_of(car(evidence=rows))
    assert [item.lr for item in claim.items] == [10.0, 2.0]


def test_the_contract_of_a_weight() -> None:
    (found,) = originality_json(
        weighed_evidence(car(evidence=evidence("number,50,data,,", "seal,10,data,,")))
    )
    assert found["lr"] == 500.0
    assert found["words"] == "moderately strong support for fitted when built"
    assert found["posterior"]["0.9"] == pytest.approx(0.999778, abs=5e-7)
    assert set(found["posterior"]) == {"0.1", "0.5", "0.9"}
    assert "2015" in found["scale"]


def test_cap_and_prior_are_the_workshops() -> None:
    (found,) = originality_json(
        weighed_evidence(
            car(
                evidence=evidence("looks right,5000,guess,,"),
                weighing=[{"eye_cap": "9", "why": "burnt once"}],
                priors=[
                    {
                        "subject": "Gearbox",
                        "statement": "fitted when built",
                        "alternative": "fitted later",
                        "prior": "0.5",
                        "reason": "half of the known cars have theirs",
                    }
                ],
            )
        )
    )
    assert found["lr"] == 9.0
    assert found["items"][0]["capped"]
    assert found["declared"]["posterior"] == pytest.approx(0.9)


def film_of(panel: str, *readings_um: float) -> Rows:
    return [
        {
            "panel": panel,
            "spot": f"{n}",
            "x_mm": f"{150 * n}",
            "y_mm": "200",
            "thickness_um": f"{t}",
        }
        for n, t in enumerate(readings_um)
    ]


def test_the_film_comes_in_by_itself_and_never_times_what_shares_its_cause() -> None:
    written = {
        "subject": "door",
        "statement": FINISH.statement,
        "alternative": FINISH.alternative,
        "item": "colour seen by eye",
        "lr": "0.9",
        "basis": "experience",
        "cause": "finish",
    }
    film = film_of("roof", 118, 122, 119, 124) + film_of("door", 800, 950, 700, 1200)
    weighed = {w.claim.subject: w for w in weighed_evidence(car(film=film, evidence=[written]))}
    door = weighed["door"]
    assert [item.item.derived_from for item in door.items] == [(), ("film",)]
    assert door.lr == door.items[1].item.lr < 1
    assert originality_json([door])[0]["items"][1]["by"] == DERIVED
    assert set(weighed) == {"door", "roof"}


def test_without_readings_only_what_people_wrote() -> None:
    assert len(all_claims(car(evidence=evidence("number,3,data,,")))) == 1
    assert weighed_evidence(car()) == ()
