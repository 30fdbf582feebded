"""How the invented workshop counts money; a workshop that has settings of its own keeps them."""

from __future__ import annotations

from decimal import Decimal

from asfound.demo.written import written
from asfound.record.actions.money import set_money
from asfound.record.models import MoneySettings

_COSTS = {"mechanic": "39", "painter": "36", "trimmer": "34", "electrician": "41"}


def keep_rates() -> None:
    """Enter name, rates and taxes, unless the workshop has its own: invented ones mix with none."""
    if MoneySettings.objects.exists():
        return
    set_money(
        currency="EUR",
        name="The Demo Workshop (invented)",
        address="4 Nowhere Yard\nInventon IV0 0IV",
        tax_rates=_filled("tax_rates"),
        charge_rates=_filled("charge_rates"),
        cost_rates=_COSTS,
        markup_percent=Decimal(10),
        by=None,
    )


def _filled(table: str) -> list[dict[str, str]]:
    return [{name: cell for name, cell in row.items() if cell} for row in written(table)]
