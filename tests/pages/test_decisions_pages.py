"""The decisions: totals, pieces, locks with a reason, the brief, and a brief that is impossible.

The small car's best choice can be found by hand. Weights are 3, 1 and 2. Within 1150 EUR the
seats are mended (0.9), the brakes overhauled (0.7) and the door's finish stabilised (0.95):
(3 x 0.9 + 0.7 + 2 x 0.95) / 6 = 0.883 for 400 + 500 + 250 = 1150 EUR. With the brakes renewed
(0.1) it is (2.7 + 0.1 + 1.9) / 6 = 0.783 for 1000 EUR. A painted door (600 EUR) costs at least
300 + 350 + 600 = 1250 EUR in all, beyond the limit.
"""

from __future__ import annotations

import pytest
from django.urls import reverse
from tests.pages.conftest import Cast

from asfound.record.models import Brief, Decision

FRAGMENT = {"HX-Request": "true"}


def at(cast: Cast, name: str, *rest: object) -> str:
    return reverse(name, args=(cast.car.slug, *rest))


def choice(cast: Cast) -> str:
    page = cast.head.get(at(cast, "choice"), headers=FRAGMENT).content.decode()
    return page.replace("\N{NARROW NO-BREAK SPACE}", " ").replace("\N{NO-BREAK SPACE}", " ")


def lock(cast: Cast, subject: str, option: str, reason: str = "it is worn out"):
    return cast.head.post(at(cast, "lock", subject), {"option": option, "reason": reason})


def test_the_page_answers_at_once_and_names_its_fragment(cast: Cast) -> None:
    page = cast.head.get(at(cast, "decisions")).content.decode()
    assert "Keep what is there" in page
    assert f'hx-get="{at(cast, "choice")}"' in page


def test_the_choice_stands_against_its_limits(cast: Cast) -> None:
    page = choice(cast)
    assert "88.3 %" in page
    assert "1 150 EUR" in page
    assert "of 1 150 EUR; 0 left" in page
    assert "<svg" in page


def test_the_choice_in_one_piece_is_the_same(cast: Cast) -> None:
    page = cast.owner.get(at(cast, "decisions") + "?whole=1").content.decode()
    assert "88.3" in page


def test_a_long_list_of_pieces_has_pages(cast: Cast, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("asfound.desk.decisions.views.PIECES_A_PAGE", 2)
    first = choice(cast)
    assert "1 of 2" in first
    page = cast.head.get(at(cast, "decisions") + "?page=2").content.decode()
    assert f'hx-get="{at(cast, "choice")}?page=2"' in page
    last = cast.head.get(at(cast, "choice") + "?page=2", headers=FRAGMENT).content.decode()
    tables = [text.split('id="pieces"')[1].split("</table>")[0] for text in (first, last)]
    assert [table.count('scope="row"') for table in tables] == [2, 1]


def test_a_piece_shows_its_options_beside_each_other(cast: Cast) -> None:
    page = cast.owner.get(at(cast, "piece", "brakes")).content.decode()
    assert page.count('<article class="option-card') == 3
    assert "Never chosen: not safe." in page
    assert "Lock with this reason" not in page


def test_why_a_piece_is_chosen_can_be_asked(cast: Cast) -> None:
    page = cast.head.get(at(cast, "piece-why", "brakes"), headers=FRAGMENT).content.decode()
    assert "Overhaul" in page


def test_a_lock_moves_the_choice_and_shows_what_it_was(cast: Cast) -> None:
    choice(cast)
    assert lock(cast, "brakes", "renew").url == at(cast, "decisions")
    page = choice(cast)
    assert "78.3 %" in page
    assert "was 88.3 %" in page
    assert "1 000 EUR" in page
    assert "was 1 150 EUR" in page


def test_a_lock_is_kept_with_who_and_why(cast: Cast) -> None:
    lock(cast, "brakes", "renew", reason="the housings are cracked")
    decision = Decision.objects.current().get(subject="brakes")
    assert (decision.option, decision.by.username) == ("renew", "head")
    assert (
        "the housings are cracked" in cast.owner.get(at(cast, "piece", "brakes")).content.decode()
    )


@pytest.mark.parametrize(
    ("option", "reason", "words"),
    [
        ("renew", "", "Say why"),
        ("leave", "it is fine", "not open for this piece"),
        ("gild", "it is fine", "not open for this piece"),
        ("", "it is fine", "Choose one"),
    ],
)
def test_a_lock_without_reason_or_on_what_is_unsafe_is_refused(
    cast: Cast, option: str, reason: str, words: str
) -> None:
    answer = lock(cast, "brakes", option, reason)
    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert not Decision.objects.current().exists()


def test_a_released_lock_lets_the_choice_decide_again(cast: Cast) -> None:
    lock(cast, "brakes", "renew")
    cast.head.post(at(cast, "release", "brakes"), {"reason": "a better quote came"})
    assert "88.3 %" in choice(cast)
    history = cast.head.get(at(cast, "piece", "brakes")).content.decode()
    assert "a better quote came" in history


def test_an_impossible_brief_names_what_clashes_and_what_would_have_to_give(cast: Cast) -> None:
    lock(cast, "door finish", "paint")
    page = choice(cast)
    assert "No choice can satisfy the brief" in page
    assert "1,150" in page or "1 150" in page
    assert "1 250" in page
    assert "Lift the lock: door finish" in page


def test_a_limit_is_moved_and_the_brief_before_is_kept(cast: Cast) -> None:
    choice(cast)
    address = at(cast, "edit-brief")
    assert "1150" in cast.head.get(address).content.decode()
    data = {"cost_max": "1000", "hours:mechanic": "20", "hours:trimmer": "30,5", "zone:inside": "2"}
    assert cast.head.post(address, {**data, "seen": seen()}).url == at(cast, "decisions")
    assert Brief.objects.count() == 2
    assert Brief.objects.last().content["hours_max"] == {"mechanic": 20, "trimmer": 30.5}
    assert "78.3 %" in choice(cast)


def test_a_moved_limit_tells_what_it_turned_and_what_is_contested(cast: Cast) -> None:
    """At 1100 EUR the brakes are renewed instead of overhauled (by hand, see above)."""
    first = choice(cast)
    assert "What the last change turned" not in first
    assert "<b>0</b> of 3 are contested" in first
    data = {"cost_max": "1100", "hours:mechanic": "20", "hours:trimmer": "30", "zone:inside": "2"}
    cast.head.post(at(cast, "edit-brief"), {**data, "seen": seen()})
    told = choice(cast)
    assert "What the last change turned" in told
    assert "as many pieces contested as before: 0" in told
    assert "brakes</a>: overhaul → <b>renew</b>" in told
    assert told.count("→ <b>") == 1


@pytest.mark.parametrize("bad", [{"cost_max": "-1"}, {"cost_max": "much"}, {"zone:inside": "6"}])
def test_a_brief_with_a_fault_is_refused(cast: Cast, bad: dict) -> None:
    assert cast.head.post(at(cast, "edit-brief"), bad).status_code == 422
    assert Brief.objects.count() == 1


def test_a_piece_that_does_not_exist_has_no_page(cast: Cast) -> None:
    assert cast.head.get(at(cast, "piece", "roof")).status_code == 404
    assert lock(cast, "roof", "leave").status_code == 404


@pytest.mark.parametrize("typed", ["7,000", "7.000", "12.500"])
def test_a_limit_that_could_mean_thousands_is_asked_back(cast: Cast, typed: str) -> None:
    before = Brief.objects.count()
    answer = cast.head.post(at(cast, "edit-brief"), {"cost_max": typed})
    assert answer.status_code == 422
    assert f"“{typed}” could mean thousands or decimals" in answer.content.decode()
    assert Brief.objects.count() == before


@pytest.mark.parametrize(("typed", "kept"), [("12.125", 12.125), ("7,5", 7.5), ("7000", 7000)])
def test_a_limit_of_one_meaning_is_taken(cast: Cast, typed: str, kept: float) -> None:
    assert (
        cast.head.post(at(cast, "edit-brief"), {"cost_max": typed, "seen": seen()}).status_code
        == 302
    )
    assert Brief.objects.latest("pk").content["cost_max"] == kept


def seen() -> int:
    """Key of the brief that a page opened now would carry."""
    return Brief.objects.latest("pk").pk


def test_a_brief_changed_meanwhile_is_shown_beside_mine_and_not_written_over(cast: Cast) -> None:
    address, first = at(cast, "edit-brief"), seen()
    start = dict(cast.head.get(address).context["form"].initial)
    cast.head.post(address, {**start, "cost_max": "1000", "seen": first})
    mine = {**start, "cost_max": "1150", "hours:trimmer": "31", "seen": first}
    answer = cast.craft.post(address, mine)
    page = answer.content.decode()
    assert answer.status_code == 409
    assert Brief.objects.latest("pk").content["cost_max"] == 1000
    assert "head set another brief" in page
    assert f'name="seen" value="{seen()}"' in page
    # The limit of cost was changed by the head alone, the trimmer's hours by the trimmer alone.
    joined = answer.context["form"].initial
    assert (joined["cost_max"], joined["hours:trimmer"]) == ("1000", "31")
    assert not any(line.is_torn for line in answer.context["told"].values())
    kept = cast.craft.post(address, {**joined, "seen": seen()})
    assert kept.status_code == 302
    latest = Brief.objects.latest("pk").content
    assert (latest["cost_max"], latest["hours_max"]["trimmer"]) == (1000, 31)


def test_a_limit_that_both_moved_is_pointed_out_and_mine_can_be_taken(cast: Cast) -> None:
    address, first = at(cast, "edit-brief"), seen()
    cast.head.post(address, {"cost_max": "1000", "note": "hers", "seen": first})
    answer = cast.craft.post(address, {"cost_max": "900", "seen": first})
    assert answer.context["told"]["cost_max"].is_torn
    assert "both changed it" in answer.content.decode()
    hidden = answer.context["mine"]
    assert hidden["note"] == ""
    assert cast.craft.post(address, {**hidden, "seen": seen()}).status_code == 302
    assert Brief.objects.latest("pk").content["cost_max"] == 900
    assert Brief.objects.latest("pk").content["note"] is None


def test_the_same_brief_set_by_both_is_no_quarrel(cast: Cast) -> None:
    address, first = at(cast, "edit-brief"), seen()
    cast.head.post(address, {"cost_max": "900", "seen": first})
    assert cast.head.post(address, {"cost_max": "900", "seen": seen()}).status_code == 302
    assert cast.craft.post(address, {"cost_max": "850", "seen": seen()}).status_code == 302


@pytest.mark.parametrize("told", ["", "x", "-1", "9" * 30])
def test_who_does_not_say_what_they_saw_overwrites_nothing(cast: Cast, told: str) -> None:
    answer = cast.head.post(at(cast, "edit-brief"), {"cost_max": "5", "seen": told})
    assert answer.status_code == 409
    assert Brief.objects.count() == 1


def test_a_large_limit_stands_in_the_form_with_all_its_digits(cast: Cast) -> None:
    address = at(cast, "edit-brief")
    cast.head.post(address, {"cost_max": "12345678.5", "seen": seen()})
    assert 'value="12345678.5"' in cast.head.get(address).content.decode()


def test_the_totals_of_a_large_car_come_before_its_front(
    cast: Cast, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("asfound.desk.decisions.views.LARGE", 2)
    first = choice(cast)
    assert "88.3 %" in first
    assert "<svg" not in first
    assert f'hx-get="{at(cast, "choice")}?rest=1"' in first
    rest = cast.head.get(at(cast, "choice") + "?rest=1", headers=FRAGMENT).content.decode()
    assert "<svg" in rest
    assert "<svg" in choice(cast)
