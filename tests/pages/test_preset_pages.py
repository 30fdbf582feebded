"""Presets of the brief: seen before they are filled in, filled in before they are kept."""

from __future__ import annotations

from tests.pages.conftest import Cast
from tests.pages.test_variants_and_proposals import at, text_of

from asfound.record.actions import lock_option, set_brief, set_sheet
from asfound.record.convert.stored import folder_of
from asfound.record.derived import choice_result, chosen_now
from asfound.record.models import Brief

EVIDENCE = {
    "subject": "door finish",
    "statement": "painted when built",
    "alternative": "painted later",
    "item": "first coat under the trim",
    "basis": "measured",
}


def form_of(cast: Cast, query: str) -> dict[str, str]:
    """What the browser would send from the form as the page shows it."""
    form = cast.head.get(at(cast, "edit-brief") + query).context["form"]
    values = {name: form.get_initial_for_field(f, name) for name, f in form.fields.items()}
    seen = cast.car.briefs.last().pk
    return {"seen": str(seen), **{name: value for name, value in values.items() if value}}


def test_each_preset_says_what_it_means_and_on_whose_word(cast: Cast) -> None:
    page = text_of(cast.head.get(at(cast, "edit-brief")))
    for words in ("Preserve", "Conserve", "Restore with evidence", "Renew"):
        assert f"<h3>{words}</h3>" in page
    assert "Venice Charter 1964, Art. 9 and 12" in page
    assert "from memory" in page
    assert cast.owner.get(at(cast, "edit-brief")).status_code == 403


def test_a_preset_shows_what_it_fills_in_and_keeps_nothing(cast: Cast) -> None:
    page = text_of(cast.head.get(at(cast, "edit-brief") + "?preset=preserve"))
    table = page.split('id="fills"')[1].split("</table>")[0]
    assert "outside" in table
    assert "must not be touched" in table
    assert "cost" not in table.lower()
    form = cast.head.get(at(cast, "edit-brief") + "?preset=preserve").context["form"]
    assert form.initial["cost_max"] == "1150"
    assert "touch:outside" not in form.initial
    assert Brief.objects.count() == 1


def test_filled_in_it_can_be_changed_and_is_kept_like_any_brief(cast: Cast) -> None:
    sent = form_of(cast, "?preset=preserve&fill=1")
    assert sent["touch:outside"] == "yes"
    assert sent["cost_max"] == "1150"
    del sent["touch:inside"]
    assert cast.head.post(at(cast, "edit-brief"), sent).status_code == 302
    brief = cast.car.briefs.last().content
    assert brief["untouched"] == ["running gear", "outside"]
    assert (brief["cost_max"], brief["hours_max"]) == (1150, {"mechanic": 20, "trimmer": 30})
    page = text_of(cast.owner.get(at(cast, "decisions")))
    assert "Must not be touched" in page


def test_an_unknown_preset_is_the_plain_form(cast: Cast) -> None:
    page = text_of(cast.head.get(at(cast, "edit-brief") + "?preset=gild"))
    assert 'id="fills"' not in page


def test_a_single_piece_that_the_car_has_not_is_refused(cast: Cast) -> None:
    refused = cast.head.post(at(cast, "edit-brief"), {"pieces": "seats\nsets"})
    assert refused.status_code == 422
    assert "no piece called “sets”" in text_of(refused)


def test_what_must_not_be_touched_binds_the_choice_and_is_told(cast: Cast) -> None:
    """By hand: of the seats only “leave” (grade 1) does not touch, their own floor is 2."""
    set_brief(car=cast.car, content={"untouched": ["inside"]}, by=None)
    assert chosen_now(folder_of(cast.car)).options["seats"] == "mend"  # a floor of its own
    set_brief(car=cast.car, content={"untouched": ["seats"]}, by=None)
    page = text_of(cast.head.get(at(cast, "decisions") + "?whole=1"))
    assert "No choice can satisfy the brief" in page
    assert "Let this be touched: seats &#x27;mend&#x27;." in page
    assert "seats must not be touched" in page
    assert "floor 2 on seats" in page


def test_evidence_opens_what_needs_it_and_a_lock_is_told(cast: Cast) -> None:
    """A floor of 4 outside leaves the door's finish “paint” alone, which is to refinish."""
    content = {"min_grade": {"outside": 4}, "needs_evidence": ["refinish"]}
    set_brief(car=cast.car, content=content, by=None)
    result = choice_result(folder_of(cast.car))
    assert result.choice is None
    assert "refinish needs evidence, and none is on record for door finish" in result.clash
    for lr, possible in (("1.5", False), ("12", True)):
        rows = [{**EVIDENCE, "lr": lr}]
        set_sheet(car=cast.car, table="evidence", rows=rows, by=None)
        assert (choice_result(folder_of(cast.car)).choice is not None) is possible
    set_sheet(car=cast.car, table="evidence", rows=[], by=None)
    lock_option(car=cast.car, subject="door finish", option="paint", reason="x", by=None)
    page = text_of(cast.head.get(at(cast, "decisions") + "?whole=1"))
    assert "refinish needs evidence by the brief, and none is on record" in page
