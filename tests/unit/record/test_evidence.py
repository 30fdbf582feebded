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


BUILT = [{"marque": "Tessivane", "model": "Meridel", "body_style": "tourer", "built": "1957"}]
GLASS = {"event": "glass made", "subject": "glass", "kind": "made", "not_before": "1981"}


def test_what_was_made_after_the_car_was_not_fitted_when_it_was_built() -> None:
    (weighed,) = weighed_evidence(car(car=BUILT, events=[GLASS]))
    assert weighed.words == "moderate support for fitted later"
    assert (
        weighed.items[0].item.item == "glass made: not before 1981-01-01, after the car was built"
    )


@pytest.mark.parametrize(
    "change", [{"kind": "other"}, {"kind": ""}, {"not_before": "1957-06"}, {"subject": ""}]
)
def test_events_that_say_nothing_of_the_age(change: dict[str, str]) -> None:
    assert weighed_evidence(car(car=BUILT, events=[GLASS | change])) == ()


def test_an_event_that_clashes_says_nothing() -> None:
    bought = {"event": "glass bought", "subject": "", "kind": "", "not_after": "1979"}
    link = {
        "id": "k1",
        "from": "glass made",
        "to": "glass bought",
        "min": "0",
        "max": "",
        "unit": "day",
    }
    rows = [{"not_before": "", "not_after": "", **event} for event in (GLASS, bought)]
    assert weighed_evidence(car(car=BUILT, events=rows)) != ()
    assert weighed_evidence(car(car=BUILT, events=rows, event_links=[link])) == ()


def test_a_panel_repainted_by_paper_shares_its_cause_with_the_film() -> None:
    painted = {**GLASS, "event": "door painted", "subject": "door", "kind": "repainted"}
    (weighed,) = weighed_evidence(car(car=BUILT, events=[painted]))
    assert (weighed.claim.alternative, weighed.items[0].item.cause) == ("later work", "finish")


WEAR = {
    "part": "pump",
    "item": "spindle",
    "wear_mm": "0.05",
    "u_mm": "0.01",
    "per": "year",
    "least_mm": "0.004",
    "most_mm": "0.02",
    "source": "own readings",
    "taken_at": "2024-03-07",
}


def test_wear_against_age_comes_in_by_itself() -> None:
    (weighed,) = weighed_evidence(car(car=BUILT, wear=[WEAR]))
    assert weighed.lr == 0.05
    assert weighed.items[0].item.note == "0.004 to 0.02 mm per year expected over 67 years"
    assert weighed_evidence(car(wear=[WEAR])) == ()


def test_wear_by_distance_needs_an_odometer_that_tells_one() -> None:
    rows = [
        {"date": f"{year}", "reading": f"{km}", "unit": "km", "source": "book"}
        for year, km in ((1960, 20_000), (1970, 90_000))
    ]
    by_km = WEAR | {"per": "1000 km", "least_mm": "0.001", "most_mm": "0.004", "wear_mm": "0.2"}
    (weighed,) = weighed_evidence(car(car=BUILT, wear=[by_km], odometer=rows))
    assert weighed.items[0].item.note.endswith("over 90 thousand km")
    assert weighed_evidence(car(car=BUILT, wear=[by_km], odometer=rows[::-1][:0])) == ()


def test_rates_that_are_no_range_are_told_at_their_row(tmp_path: Path) -> None:
    head, row = ",".join(WEAR), ",".join((WEAR | {"least_mm": "0.03"}).values())
    (tmp_path / "wear.csv").write_text(f"{head}\n{row}\n", encoding="utf-8")
    with pytest.raises(InputFaultsError) as caught:
        read_folder(tmp_path)
    (fault,) = caught.value.faults
    assert (fault.file, fault.row, fault.column) == ("wear.csv", 2, "least_mm")
