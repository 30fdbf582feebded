"""Secret addresses of the plan: calendars and the wall, made, made anew, withdrawn."""

from __future__ import annotations

from django.urls import reverse
from icalendar import Calendar
from tests.pages.conftest import Cast
from tests.pages.test_shop_pages import adopt, in_little_time, made, shop

from asfound.record.models import PlanAddress

__all__ = ["in_little_time", "shop"]


def address(cast: Cast, of: str) -> str:
    page = cast.head.post(reverse("plan-addresses"), {"of": of}).content.decode()
    return page.split('<code class="long">http://testserver')[1].split("</code>")[0]


def test_a_calendar_follows_the_adopted_plan_and_keeps_its_uids(shop: Cast) -> None:
    made(shop.head)
    adopt(shop.head)
    here = address(shop, "person:Ann Rook")
    key = here.split("/")[-1].removesuffix(".ics")
    assert not PlanAddress.objects.filter(key_sha256__contains=key).exists()
    answer = shop.nobody.get(here)
    assert answer["Content-Type"].startswith("text/calendar")
    first = Calendar.from_ical(answer.content).walk("VEVENT")
    assert len(first) == 4
    assert b"Bo Linnet" not in answer.content
    assert b"owner" not in answer.content.lower()
    shop.craft.post(
        reverse("setbacks"),
        {"kind": "longer", "task": f"{shop.car.slug}/strip", "hours": "5", "what": "rust"},
    )
    adopt(shop.head)
    again = Calendar.from_ical(shop.nobody.get(here).content).walk("VEVENT")
    assert {str(e["UID"]) for e in again} == {str(e["UID"]) for e in first}
    assert sum(e["SEQUENCE"] for e in again) > 0


def test_made_anew_the_old_one_is_gone_and_withdrawn_nothing_answers(shop: Cast) -> None:
    made(shop.head)
    adopt(shop.head)
    old, new = (address(shop, f"car:{shop.car.slug}") for _ in range(2))
    assert shop.nobody.get(old).status_code == 404
    assert shop.nobody.get(new).status_code == 200
    one = PlanAddress.objects.current().get()
    shop.head.post(reverse("withdraw-plan-address", args=(one.pk,)))
    assert shop.nobody.get(new).status_code == 404
    assert shop.nobody.head(new).status_code == 404
    assert shop.head.post(reverse("plan-addresses"), {"of": "person:Nobody"}).status_code == 404


def test_a_wall_withdrawn_answers_no_more_and_no_key_opens_the_other_door(shop: Cast) -> None:
    made(shop.head)
    adopt(shop.head)
    wall, calendar = address(shop, "wall"), address(shop, "shop")
    wall_key, calendar_key = wall.split("/")[-2], calendar.split("/")[-1].removesuffix(".ics")
    for there in (wall, f"{wall}?bars=yes", f"{wall}?bars=yes&part=1", calendar):
        assert shop.nobody.get(there).status_code == 200
        assert shop.nobody.head(there).status_code == 200
    assert "plan-bars" in shop.nobody.get(f"{wall}?bars=yes").content.decode()
    assert shop.nobody.get(reverse("plan-calendar", args=(wall_key,))).status_code == 404
    assert shop.nobody.get(reverse("wall-by-key", args=(calendar_key,))).status_code == 404
    for one in PlanAddress.objects.current():
        shop.head.post(reverse("withdraw-plan-address", args=(one.pk,)))
    for there in (wall, f"{wall}?part=1", f"{wall}?bars=yes", calendar):
        assert shop.nobody.get(there).status_code == 404
        assert shop.head.get(there).status_code == 404


def test_the_wall_shows_today_and_promises_and_nobody_s_account(shop: Cast) -> None:
    assert "No plan is adopted yet" in shop.craft.get(reverse("wall")).content.decode()
    made(shop.head)
    adopt(shop.head)
    here = address(shop, "wall")
    page = shop.nobody.get(here)
    text = page.content.decode()
    assert "Ann Rook" in text
    assert "planned for" in text
    assert "Sign out" not in text
    assert "csrf" not in text
    assert "no-store" in page["Cache-Control"]
    assert "<html" not in shop.nobody.get(here, {"part": "1"}).content.decode()
    assert shop.nobody.get(reverse("wall-by-key", args=("x",))).status_code == 404


def test_who_may(shop: Cast) -> None:
    assert shop.owner.get(reverse("wall")).status_code == 403
    assert shop.nobody.get(reverse("wall")).status_code == 302
    for client, status in ((shop.craft, 403), (shop.owner, 403), (shop.nobody, 302)):
        assert client.get(reverse("plan-addresses")).status_code == status
        assert client.post(reverse("plan-addresses"), {"of": "wall"}).status_code == status
    assert not PlanAddress.objects.exists()
