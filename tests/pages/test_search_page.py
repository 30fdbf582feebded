"""The search page, whole and as one types."""

from __future__ import annotations

import pytest
from django.urls import reverse
from tests.pages.conftest import Cast

from asfound.record.actions import add_observations, add_parts

pytestmark = pytest.mark.django_db


def test_found_parts_and_findings_lead_to_their_pages(cast: Cast) -> None:
    (hinge,) = add_parts(car=cast.car, rows=[{"name": "door hinge"}], by=None)
    cells = {"subject": hinge.part, "kind": "crack", "extent": "4 mm", "severity": "2"}
    add_observations(car=cast.car, table="findings", rows=[cells], by=None)
    page = cast.craft.get(reverse("search"), {"q": "hinge"}).content.decode()
    assert reverse("part", args=(cast.car.slug, hinge.part)) in page
    part = cast.craft.get(reverse("search"), {"q": "crack"}, headers={"HX-Request": "true"})
    assert b"<html" not in part.content
    to = reverse("finding-subject", args=(cast.car.slug, hinge.part))
    assert to in part.content.decode()
    condition = cast.craft.get(to).content.decode()
    assert "Condition of door hinge" in condition
    assert "crack" in condition


def test_nothing_is_told_to_a_stranger(cast: Cast) -> None:
    add_parts(car=cast.car, rows=[{"name": "door hinge"}], by=None)
    assert b"Nothing found" in cast.stranger.get(reverse("search"), {"q": "hinge"}).content
    assert cast.nobody.get(reverse("search"), {"q": "hinge"}).status_code == 302


def test_every_page_leads_to_the_search(cast: Cast) -> None:
    for client in (cast.head, cast.craft, cast.owner):
        assert f'href="{reverse("search")}"' in client.get(reverse("cars")).content.decode()
    assert reverse("search") not in cast.nobody.get(reverse("cars"), follow=True).content.decode()
