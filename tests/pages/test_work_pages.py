"""Work cards: today's, one card from beginning to end, what it came to; closed to owners."""

from __future__ import annotations

import io
from datetime import timedelta
from html import unescape
from urllib.parse import urlencode

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse
from django.utils import timezone
from PIL import Image
from tests.pages.conftest import Cast
from tests.unit.record.test_worked import PEOPLE, TASKS

from asfound.record.actions import add_parts, lock_option, set_sheet
from asfound.record.actions.worked import start_work
from asfound.record.convert.cards import cards_of
from asfound.record.convert.stored import folder_of
from asfound.record.convert.worked import stretch_of
from asfound.record.derived import plan_result
from asfound.record.models import Car

ISSY = "Issy Corrand"


def url(cast: Cast, name: str, **query: str) -> str:
    return f"{reverse(name, args=(cast.car.slug,))}?{urlencode(query)}"


def text(answer) -> str:
    return unescape(answer.content.decode())


def jpeg() -> SimpleUploadedFile:
    out = io.BytesIO()
    Image.new("RGB", (64, 48), (120, 90, 60)).save(out, "JPEG")
    return SimpleUploadedFile("seat.jpg", out.getvalue(), content_type="image/jpeg")


@pytest.fixture
def planned(cast: Cast) -> Cast:
    set_sheet(car=cast.car, table="tasks", rows=TASKS, by=None)
    set_sheet(car=cast.car, table="task_links", rows=[{"before": "S1", "after": "T1"}], by=None)
    set_sheet(car=cast.car, table="people", rows=PEOPLE, by=None)
    lock_option(car=cast.car, subject="brakes", option="overhaul", reason="safe", by=None)
    lock_option(car=cast.car, subject="door finish", option="keep", reason="old", by=None)
    return cast


def be(client: Client, name: str) -> None:
    client.post(reverse("work-as"), {"name": name})


def test_a_person_picks_who_they_are_and_sees_the_cards_of_their_trade(planned: Cast) -> None:
    page = text(planned.craft.get(reverse("todays-cards")))
    assert "No one called trimmer" in page
    be(planned.craft, ISSY)
    page = text(planned.craft.get(reverse("todays-cards")))
    assert "Re-sew the seats" in page
    assert "Overhaul the brakes" not in page
    be(planned.craft, "Bram Ostler")
    page = text(planned.craft.get(reverse("todays-cards")))
    assert page.index("Overhaul the brakes") < page.index("Waiting for other work")
    assert page.index("Waiting for other work") < page.index("Try the car")


def test_a_plan_at_hand_says_whose_the_cards_are_and_for_which_day(planned: Cast) -> None:
    ahead = (timezone.localdate() + timedelta(days=40)).isoformat()
    rows = [{**row, "earliest": ahead if row["task"] == "B1" else ""} for row in TASKS]
    set_sheet(car=planned.car, table="tasks", rows=rows, by=None)
    result = plan_result(folder_of(Car.objects.get(pk=planned.car.pk)))
    assert result.plan is not None
    (theirs,) = next(one.people for one in result.plan.placed if one.task == "B1")
    (other,) = {"Bram Ostler", "Bram Tolk"} - {theirs}
    be(planned.craft, theirs)
    page = text(planned.craft.get(reverse("todays-cards")))
    assert page.index("Planned for later") < page.index("Overhaul the brakes")
    be(planned.craft, other)
    assert "Overhaul the brakes" not in text(planned.craft.get(reverse("todays-cards")))


def test_a_name_that_nobody_has_is_not_taken(planned: Cast) -> None:
    be(planned.craft, "Nobody at all")
    assert "No one called trimmer" in text(planned.craft.get(reverse("todays-cards")))


def test_brakes_are_begun_with_cautions_read_and_a_photograph(planned: Cast) -> None:
    be(planned.craft, "Bram Ostler")
    page = text(planned.craft.get(url(planned, "card", task="B1")))
    assert page.index("Asbestos.") < page.index("Leave alone" if "Leave alone" in page else "Begin")
    refused = planned.craft.post(url(planned, "begin-work", task="B1"))
    assert refused.status_code == 422
    assert "Read the cautions" in text(refused)
    refused = planned.craft.post(url(planned, "begin-work", task="B1"), {"read": "on"})
    assert refused.status_code == 422
    assert "say why there is none" in text(refused)
    assert not planned.car.observations.filter(table="worked").exists()
    planned.craft.post(url(planned, "begin-work", task="B1"), {"read": "on", "photo": jpeg()})
    row = planned.car.observations.get(table="worked")
    assert "asbestos" in row.cells["cautions_read"].split(";")
    assert row.cells["person"] == "Bram Ostler"
    photo = planned.car.photos.get()
    assert (photo.subject, photo.stage) == ("brakes", "before")


def test_a_reason_serves_where_no_photograph_can_be_taken(planned: Cast) -> None:
    be(planned.craft, "Bram Ostler")
    sent = {"read": "on", "no_photo": "under the car, no light"}
    planned.craft.post(url(planned, "begin-work", task="B1"), sent)
    row = planned.car.observations.get(table="worked")
    assert row.cells["no_photo"] == "under the car, no light"


def test_pause_go_on_and_done(planned: Cast) -> None:
    be(planned.craft, ISSY)
    planned.craft.post(url(planned, "begin-work", task="S1"))
    assert "Your time runs" in text(planned.craft.get(url(planned, "card", task="S1")))
    planned.craft.post(url(planned, "pause-work", task="S1"))
    assert "Paused" in text(planned.craft.get(url(planned, "card", task="S1")))
    planned.craft.post(url(planned, "begin-work", task="S1"))
    assert planned.car.decisions.current().get(subject="seats").reason == "work began: S1"
    planned.craft.post(url(planned, "work-done", task="S1"), {"no_photo": "camera is flat"})
    assert "1 of 3 tasks done" in text(planned.craft.get(url(planned, "work")))
    be(planned.craft, "Bram Ostler")
    assert "Waiting for other work" not in text(planned.craft.get(reverse("todays-cards")))


def test_what_gives_pause_is_said_when_a_card_is_called_done(planned: Cast) -> None:
    """A minute where hours were thought, and a torque below what it is to be."""
    be(planned.craft, "Bram Ostler")
    planned.craft.post(url(planned, "begin-work", task="B1"), {"read": "on", "photo": jpeg()})
    torque = {"kind": "torque", "value": "48", "unit": "Nm", "tool": "wrench 3", "least": "50"}
    planned.craft.post(url(planned, "keep-result", task="B1"), {**torque, "key": "b"})
    card = text(planned.craft.get(url(planned, "card", task="B1")))
    assert "Stand where this was taken from" in card.partition("photograph after")[0]
    sent = {"no_photo": "camera is flat"}
    told = text(planned.craft.post(url(planned, "work-done", task="B1"), sent, follow=True))
    assert "outside of that" in told
    assert "Look at it again before it is used." in told
    assert "0 min worked, where" in told


def test_materials_and_results_are_checked_kept_and_told(planned: Cast) -> None:
    bad = planned.craft.post(url(planned, "use-material", task="S1"), {"material": "thread"})
    assert bad.status_code == 422
    sent = {"material": "linen thread", "batch": "L 77", "amount": "40", "unit": "m", "key": "a"}
    for _ in range(2):
        planned.craft.post(url(planned, "use-material", task="S1"), sent)
    torque = {"kind": "torque", "value": "52", "unit": "Nm", "tool": "wrench 3", "most": "50"}
    planned.craft.post(url(planned, "keep-result", task="B1"), {**torque, "key": "b"})
    assert planned.car.observations.filter(table="materials_used").count() == 1
    assert "linen thread, 40 m, batch L 77" in text(
        planned.craft.get(url(planned, "card", task="S1"))
    )
    page = text(planned.craft.get(url(planned, "treatment-record", subject="brakes")))
    assert "torque 52 Nm (to be 50 or less Nm), outside of that, with wrench 3" in page
    assert "Overhaul" in page
    csv = planned.craft.get(reverse("work-csv", args=(planned.car.slug, "results")))
    assert b"brakes,torque,52" in csv.content


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"value": "tight"}, "number"),
        ({"least": "60", "most": "50"}, "60 or more"),
        ({"tool": ""}, ""),
    ],
)
def test_a_bad_result_is_named_and_not_kept(
    planned: Cast, changed: dict[str, str], said: str
) -> None:
    torque = {"kind": "torque", "value": "52", "unit": "Nm", "tool": "wrench 3", "key": "b"}
    answer = planned.craft.post(url(planned, "keep-result", task="B1"), torque | changed)
    assert answer.status_code == 422
    assert said in text(answer)
    assert not planned.car.observations.filter(table="results").exists()


def test_a_stretch_is_corrected_with_a_reason_and_the_old_one_stays(planned: Cast) -> None:
    at = timezone.now() - timedelta(hours=3)
    cells = {"task": "S1", "subject": "seats", "person": ISSY}
    row = start_work(car=planned.car, cells=cells, by=None, at=at)
    assert row is not None
    page = reverse("correct-work", args=(planned.car.slug, row.pk))
    local = timezone.localtime(at)
    sent = {
        "step": "correct",
        "person": ISSY,
        "from_at": local.strftime("%Y-%m-%dT%H:%M"),
        "to_at": (local + timedelta(minutes=90)).strftime("%Y-%m-%dT%H:%M"),
        "done": "",
    }
    assert planned.craft.post(page, sent).status_code == 422, "without a reason"
    back = {**sent, "reason": "forgot to stop", "to_at": "2020-01-01T10:00"}
    assert planned.craft.post(page, back).status_code == 422, "an end before the beginning"
    assert planned.craft.post(page, {**sent, "reason": "forgot to stop"}).status_code == 302
    told = text(planned.craft.get(url(planned, "card", task="S1")))
    assert "1 h 30 min" in told
    assert planned.car.observations.filter(table="worked").count() == 2


def test_time_that_was_forgotten_is_asked_about(planned: Cast) -> None:
    be(planned.craft, ISSY)
    cells = {"task": "S1", "subject": "seats", "person": ISSY}
    start_work(car=planned.car, cells=cells, by=None, at=timezone.now() - timedelta(hours=14))
    page = text(planned.craft.get(url(planned, "card", task="S1")))
    assert "It has run for 14 h" in page


def test_a_finding_begins_with_the_piece_of_the_card(planned: Cast) -> None:
    page = text(planned.craft.get(url(planned, "card", task="B1")))
    assert f"{reverse('add-finding', args=(planned.car.slug,))}?subject=brakes" in page


def test_an_unknown_task_or_piece_is_not_there(planned: Cast) -> None:
    assert planned.craft.get(url(planned, "card", task="Z9")).status_code == 404
    assert planned.craft.get(url(planned, "treatment-record", subject="Z9")).status_code == 404
    assert (
        planned.craft.get(reverse("work-csv", args=(planned.car.slug, "film"))).status_code == 404
    )


def test_a_car_without_tasks_and_a_workshop_without_plans_say_so(cast: Cast) -> None:
    assert "No task is written down yet" in text(cast.craft.get(url(cast, "work")))
    assert "Nothing to begin today" in text(cast.craft.get(reverse("todays-cards")))


def test_owners_and_strangers_see_no_cards(planned: Cast) -> None:
    assert planned.owner.get(reverse("todays-cards")).status_code == 403
    for name, query in (("work", {}), ("card", {"task": "S1"})):
        assert planned.owner.get(url(planned, name, **query)).status_code in {403, 404}
        assert planned.stranger.get(url(planned, name, **query)).status_code == 404
        assert planned.nobody.get(url(planned, name, **query)).status_code == 302
    assert planned.owner.post(url(planned, "begin-work", task="S1")).status_code in {403, 404}
    assert not Car.objects.get(pk=planned.car.pk).observations.filter(table="worked").exists()


def press(cast: Cast, name: str, waited_s: int, **sent: str) -> dict:
    """A press that waited on a device without a network, as its script sends it."""
    sent = {**sent, "waited_s": str(waited_s)}
    address = url(cast, name, task="S1")
    answer = cast.craft.post(address, sent, headers={"Accept": "application/json"})
    return {"status": answer.status_code, **answer.json()}


def test_what_waited_counts_from_when_it_was_pressed_and_once(planned: Cast) -> None:
    be(planned.craft, ISSY)
    car, hour = planned.car, 3600
    begun = {"read": "on", "no_photo": "no light", "key": "k1"}
    for _ in range(2):
        assert press(planned, "begin-work", 3 * hour, **begun)["next"].endswith("task=S1")
    for _ in range(2):
        assert press(planned, "pause-work", hour, key="k2")["status"] == 200
    (one,) = (stretch_of(row.cells) for row in car.observations.current())
    assert one.hours(timezone.now()) == pytest.approx(2, abs=0.01)
    for _ in range(2):
        told = press(planned, "work-done", 0, no_photo="no light", key="k3")
        assert told["next"] == reverse("todays-cards")
    assert press(planned, "begin-work", 0, read="on", key="k4")["status"] == 422


def test_a_pause_that_was_pressed_before_a_later_beginning_does_not_end_it(planned: Cast) -> None:
    be(planned.craft, ISSY)
    press(planned, "begin-work", 60, read="on", no_photo="no light", key="k1")
    press(planned, "pause-work", 3600, key="k2")
    (one,) = (stretch_of(row.cells) for row in planned.car.observations.current())
    assert one.is_open


def test_what_a_script_sends_wrong_comes_back_in_words(planned: Cast) -> None:
    told = press(
        planned, "keep-result", 0, kind="torque", value="tight", unit="Nm", tool="wrench 2"
    )
    assert told["status"] == 422
    assert any("tight" in one for one in told["faults"])
    assert not planned.car.observations.exists()


def test_a_material_used_before_is_offered_with_its_batch(planned: Cast) -> None:
    press(planned, "use-material", 0, material="glue", batch="G 4", key="k1")
    assert '"batch": "G 4"' in text(planned.craft.get(url(planned, "card", task="S1")))


def test_a_piece_that_is_worked_on_is_not_among_those_to_leave_alone(planned: Cast) -> None:
    within = {"parent": "trim", "significance": "5"}
    rows = [
        {"part": "trim", "name": "trim"},
        *({"part": name, "name": name, **within} for name in ("seats", "door cards")),
    ]
    add_parts(car=planned.car, rows=rows, by=None)
    cards = cards_of(folder_of(Car.objects.get(pk=planned.car.pk)), now=timezone.now())
    (card,) = (one for one in cards if one.task == "S1")
    assert [one.subject for one in card.near] == ["door cards"]
