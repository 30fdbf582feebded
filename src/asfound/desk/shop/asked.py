"""Which plan of the shop an address means, how its bars stand, whose links are drawn."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any, get_args
from urllib.parse import urlencode

from django.http import Http404, HttpRequest, QueryDict
from django.urls import reverse
from django.utils import timezone

from asfound.desk.shop.making import made_now
from asfound.desk.shop.near import near_of
from asfound.desk.shop.promised import promises_of
from asfound.desk.shop.window import Days, days_of, ways_from
from asfound.dossier.figures.bars import Window
from asfound.dossier.figures.shop_bars import ShopBy, shop_svg
from asfound.record.models import ShopPlan
from asfound.record.reads.shop_plan import adopted_plan
from asfound.record.results.shop_plan import Key, PlannedShop, PlannedTask

NEW = "new"


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """Rows of the bars, the days shown, the task whose links are drawn, and which plan.

    ``plan`` is empty for the adopted one, ``new`` for one that nobody adopted, else a key.
    """

    by: ShopBy
    of: Key | None
    plan: str
    days: Days

    def query(self, changes: Mapping[str, str] = MappingProxyType({})) -> str:
        """The same with some answers changed, as the end of an address."""
        car, task = self.of or ("", "")
        told = {"by": self.by, "car": car, "task": task, "plan": self.plan}
        told |= {**self.days.query(), **changes}
        return "?" + urlencode({name: value for name, value in told.items() if value})


def asked_of(data: QueryDict, *, plan: str | None = None) -> Asked:
    """Question in an address; what it does not say is as usual."""
    by = data.get("by", "")
    car, task = data.get("car", ""), data.get("task", "")
    return Asked(
        by=by if by in get_args(ShopBy) else "person",  # type: ignore[arg-type]  # just compared
        of=(car, task) if car and task else None,
        plan=data.get("plan", "") if plan is None else plan,
        days=days_of(data),
    )


def plan_asked(asked: Asked) -> PlannedShop:
    """Plan that is meant.

    Raises
    ------
    Http404
        If there is none.
    """
    if asked.plan == NEW:
        made = made_now()
        if made is None:
            raise Http404("no new plan")
        return made.shop
    found = _of_key(asked.plan) if asked.plan else adopted_plan()
    if found is None:
        raise Http404("no plan was adopted")
    return PlannedShop.from_json(found.content)


def _of_key(text: str) -> ShopPlan | None:
    return ShopPlan.objects.filter(pk=int(text)).first() if text.isdecimal() else None


def window_of(shop: PlannedShop, asked: Asked) -> Window:
    """The days that are shown."""
    begins, ends = shop.span
    return asked.days.window(begins=begins, ends=ends, tasks_n=len(shop.tasks))


def bars_of(request: HttpRequest, shop: PlannedShop, asked: Asked) -> dict[str, Any]:
    """What a page shows of the bars."""

    def page(changes: Mapping[str, str]) -> str:
        return request.path + asked.query(changes) + "#bars"

    def address(task: PlannedTask) -> str:
        return page({"car": task.car, "task": task.task})

    known = asked.of if asked.of in shop.by_key else None
    window, (begins, ends) = window_of(shop, asked), shop.span
    now = timezone.localtime().replace(tzinfo=None)
    return {
        "asked": asked,
        "promised": promises_of(shop),
        "of": known,
        "near": near_of(shop, known) if known else (),
        "bars": shop_svg(shop, by=asked.by, of=known, window=window, now=now, address=address),
        "ways": [(by, page({"by": by})) for by in get_args(ShopBy)],
        **ways_from(window, page, begins=begins, ends=ends),
        "files": [
            (form, reverse("shop-picture", args=(form,)) + asked.query())
            for form in ("svg", "png", "pdf")
        ]
        + [
            ("csv", reverse("shop-csv") + asked.query()),
            ("json", reverse("shop-json") + asked.query()),
        ],
    }
