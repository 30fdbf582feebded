"""Which plan of the shop an address means, how its bars stand, whose links are drawn."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, get_args
from urllib.parse import urlencode

from django.http import Http404, HttpRequest, QueryDict
from django.urls import reverse

from asfound.desk.shop.making import made_now
from asfound.desk.shop.promised import promises_of
from asfound.dossier.figures.shop_bars import ShopBy, shop_svg
from asfound.record.models import ShopPlan
from asfound.record.reads.shop_plan import adopted_plan
from asfound.record.results.shop_plan import Key, PlannedShop, PlannedTask

NEW = "new"


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """Rows of the bars, the task whose links are drawn, and which plan.

    ``plan`` is empty for the adopted one, ``new`` for one that nobody adopted, else a key.
    """

    by: ShopBy
    of: Key | None
    plan: str

    def query(self, **changes: str) -> str:
        """The same with some answers changed, as the end of an address."""
        car, task = self.of or ("", "")
        told = {"by": self.by, "car": car, "task": task, "plan": self.plan, **changes}
        return "?" + urlencode({name: value for name, value in told.items() if value})


def asked_of(data: QueryDict, *, plan: str | None = None) -> Asked:
    """Question in an address; what it does not say is as usual."""
    by = data.get("by", "")
    car, task = data.get("car", ""), data.get("task", "")
    return Asked(
        by=by if by in get_args(ShopBy) else "person",  # type: ignore[arg-type]  # just compared
        of=(car, task) if car and task else None,
        plan=data.get("plan", "") if plan is None else plan,
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


def bars_of(request: HttpRequest, shop: PlannedShop, asked: Asked) -> dict[str, Any]:
    """What a page shows of the bars."""

    def address(task: PlannedTask) -> str:
        return request.path + asked.query(car=task.car, task=task.task) + "#bars"

    known = asked.of if asked.of in shop.by_key else None
    return {
        "asked": asked,
        "promised": promises_of(shop),
        "of": known,
        "bars": shop_svg(shop, by=asked.by, of=known, address=address),
        "ways": [(by, request.path + asked.query(by=by)) for by in get_args(ShopBy)],
        "files": [
            (form, reverse("shop-picture", args=(form,)) + asked.query())
            for form in ("svg", "png", "pdf")
        ]
        + [
            ("csv", reverse("shop-csv") + asked.query()),
            ("json", reverse("shop-json") + asked.query()),
        ],
    }
