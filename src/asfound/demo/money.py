"""How the invented workshop counts money; a workshop that has settings of its own keeps them."""

from __future__ import annotations

from decimal import Decimal

from asfound.demo.days import AS_WRITTEN, Days
from asfound.demo.written import written
from asfound.record.actions.money import set_money, set_treatments
from asfound.record.models import MoneySettings

_COSTS = {"mechanic": "39", "painter": "36", "trimmer": "34", "electrician": "41"}
_PLAIN = ("kind", "option", "treatment", "kept", "grade", "cost", "undoable", "caution")


def keep_rates(*, days: Days = AS_WRITTEN) -> None:
    """Enter name, rates and taxes, unless the workshop has its own: invented ones mix with none."""
    if MoneySettings.objects.exists():
        return
    set_money(
        currency="EUR",
        name="The Demo Workshop (invented)",
        address="4 Nowhere Yard\nInventon IV0 0IV",
        tax_rates=_filled("tax_rates", days),
        charge_rates=_filled("charge_rates", days),
        cost_rates=_COSTS,
        markup_percent=Decimal(10),
        by=None,
    )
    set_treatments(rows=treatment_rows(), seen=[], by=None)


def treatment_rows() -> list[dict[str, str]]:
    """The workshop's starting table of treatments; every figure of it is marked as a guess."""
    return [
        {
            **{name: row[name] for name in _PLAIN if row.get(name)},
            "unit": "each",
            "source": "guess",
            **{f"hours_{trade}": row[trade] for trade in _COSTS if float(row[trade])},
        }
        for row in (*written("treatments"), *written("more_treatments"))
    ]


def _filled(table: str, days: Days) -> list[dict[str, str]]:
    rows = days.rows(written(table))
    return [{name: cell for name, cell in row.items() if cell} for row in rows]
