"""The page of the ledger: three steps, down to the piece."""

from __future__ import annotations

from django.urls import reverse
from tests.pages.conftest import Cast

from asfound.record.actions import add_observations, lock_option, set_sheet, sheet_rows
from asfound.record.models import Brief, Car


def page(cast: Cast, who: str = "head") -> str:
    answer = getattr(cast, who).get(reverse("ledger-steps", args=(cast.car.slug,)))
    return answer.content.decode().replace("\N{NARROW NO-BREAK SPACE}", " ")


def test_the_ledger_shows_three_steps_and_every_piece(cast: Cast) -> None:
    shown = page(cast, "owner")
    for step in ("as found", "as decided", "as left so far"):
        assert shown.count(f'<th scope="row">{step}</th>') == 1
    assert '<th scope="row">door left</th>' in shown
    assert "The table “as left”" not in shown
    assert "not finished" in shown


def test_finished_work_stands_in_it_and_over_time(cast: Cast) -> None:
    row = {"subject": "bonnet", "done_on": "2026-03-01", "kept": "0.5", "by": "A", "note": ""}
    set_sheet(car=cast.car, table="as_left", rows=[row], by=cast.head_person.user)
    shown = page(cast)
    assert "Over time" in shown
    assert "1 Mar 2026" in shown
    assert "50 %" in shown


def test_the_ledger_over_time_is_a_line_a_table_and_a_file(cast: Cast) -> None:
    assert "there is only the day of as found" in page(cast)
    row = {"subject": "bonnet", "done_on": "2026-03-01", "kept": "0.5", "by": "A", "note": ""}
    set_sheet(car=cast.car, table="as_left", rows=[row], by=cast.head_person.user)
    shown = page(cast)
    assert "Only 1 date so far" in shown
    assert 'class="ledger-line"' not in shown
    rows = [row, row | {"subject": "door left", "done_on": "2026-04-01"}]
    set_sheet(car=cast.car, table="as_left", rows=rows, by=cast.head_person.user)
    shown = page(cast)
    assert "Only 2 dates so far" in shown
    assert "finished: bonnet" in shown
    assert 'class="ledger-line"' in shown
    answer = cast.owner.get(reverse("ledger-days-csv", args=(cast.car.slug,)))
    assert answer.content.decode().startswith("measure,day,what,signed_original")
    assert "by area of finish,2026-03-01,finished: bonnet,,," in answer.content.decode()


def test_the_page_of_the_car_leads_from_its_shares_to_the_ledger(cast: Cast) -> None:
    address = reverse("car-fabric", args=(cast.car.slug,))
    assert address in cast.head.get(reverse("car", args=(cast.car.slug,))).content.decode()
    for who in ("head", "owner"):
        shown = getattr(cast, who).get(address).content.decode()
        for step in ("as found", "as decided", "as left so far"):
            assert shown.count(f'<th scope="row">{step}</th>') == 1
        assert reverse("ledger-steps", args=(cast.car.slug,)) in shown
    assert cast.stranger.get(address).status_code == 404


def test_the_owner_sees_no_shares_before_the_decisions_are_released(cast: Cast) -> None:
    cast.car.releases.filter(room="decisions").delete()
    address = reverse("car-fabric", args=(cast.car.slug,))
    assert cast.owner.get(address).status_code in {403, 404}
    assert address not in cast.owner.get(reverse("car", args=(cast.car.slug,))).content.decode()


def test_without_a_choice_nothing_is_decided(cast: Cast) -> None:
    Brief.objects.create(car=cast.car, content={"cost_max": 1})
    assert "No choice stands, so nothing is decided" in page(cast)


def test_strangers_see_no_ledger(cast: Cast) -> None:
    answer = cast.stranger.get(reverse("ledger-steps", args=(cast.car.slug,)))
    assert answer.status_code == 404


def test_what_is_finished_is_neither_locked_anew_nor_released(cast: Cast) -> None:
    head = cast.head_person.user
    lock_option(car=cast.car, subject="seats", option="mend", reason="agreed", by=head)
    row = {"subject": "seats", "done_on": "2026-03-01", "kept": "0.8", "by": "A", "note": ""}
    set_sheet(car=cast.car, table="as_left", rows=[row], by=head)
    address = reverse("lock", args=(cast.car.slug, "seats"))
    again = cast.head.post(address, {"option": "renew", "reason": "after all"})
    assert again.status_code == 422
    assert "seats: work was finished on 2026-03-01" in again.content.decode()
    release = reverse("release", args=(cast.car.slug, "seats"))
    told = cast.head.post(release, {"reason": "after all"}, follow=True).content.decode()
    assert "finished on 2026-03-01" in told
    assert cast.car.decisions.current().get(subject="seats").option == "mend"


def test_a_finished_piece_asks_what_is_left_of_it(cast: Cast) -> None:
    """Its work is done and nobody has looked; a task of taking off asks for nothing."""
    tasks = [
        {**row, "trade": "trimmer", "hours_low": "1", "hours_likely": "2", "hours_high": "3"}
        for row in ({"task": "S1", "subject": "seats"}, {"task": "seats: off", "subject": "seats"})
    ]
    set_sheet(car=cast.car, table="tasks", rows=tasks, by=None)
    lock_option(car=cast.car, subject="seats", option="mend", reason="they hold", by=None)
    assert "say what is left" not in page(cast, "craft")
    times = {"from_at": "2026-03-02T08:00:00Z", "to_at": "2026-03-02T10:00:00Z", "done": "yes"}
    row = {"task": "S1", "subject": "seats", "person": "Issy", **times}
    add_observations(car=cast.car, table="worked", rows=[row], by=None)
    shown = page(cast, "craft")
    assert "finished 2 March 2026 · decided to keep 90" in shown
    assert "say what is left" not in page(cast, "owner")
    assert "say what is left" in text(cast, "treatment-record", "?subject=seats")
    address = reverse("keep-as-left", args=(cast.car.slug,))
    for wrong in ("", "120", "some"):
        cast.craft.post(address, {"subject": "seats", "still": wrong})
    assert sheet_rows(cast.car, "as_left") == []
    assert cast.owner.post(address, {"subject": "seats", "still": "85"}).status_code == 403
    assert cast.stranger.post(address, {"subject": "seats", "still": "85"}).status_code == 404
    assert cast.craft.post(address, {"subject": "brakes", "still": "85"}).status_code == 404
    answer = cast.craft.post(address, {"subject": "seats", "still": "87,5 %"}, follow=True)
    assert "Kept: 87.5 % of seats is left." in answer.content.decode()
    (left,) = sheet_rows(Car.objects.get(pk=cast.car.pk), "as_left")
    told = {"subject": "seats", "done_on": "2026-03-02", "kept": "0.875", "by": "trimmer"}
    assert left == {**told, "note": ""}
    assert "say what is left" not in page(cast, "craft")


def text(cast: Cast, name: str, query: str) -> str:
    return cast.craft.get(reverse(name, args=(cast.car.slug,)) + query).content.decode()
