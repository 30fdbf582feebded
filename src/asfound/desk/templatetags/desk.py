"""Numbers and words as the pages write them."""

from __future__ import annotations

import math
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from django import template
from django.utils import timezone

from asfound.desk.undo import UNDO_TAG
from asfound.plan.money import rounded

register = template.Library()

_THIN = "\N{NARROW NO-BREAK SPACE}"


@register.filter
def plain(value: Any, digits: int = 0) -> str:
    """Number with ``digits`` decimals and thin spaces between thousands; a dash for none."""
    if value is None or value == "" or not math.isfinite(float(value)):
        return "–"
    return f"{float(value):,.{digits}f}".replace(",", _THIN).replace("-", "\N{MINUS SIGN}")


@register.filter
def trimmed(value: Any) -> str:
    """Number without idle zeros, at most two decimals."""
    if value is None or value == "" or not math.isfinite(float(value)):
        return "–"
    text = f"{float(value):,.2f}".rstrip("0").rstrip(".")
    return text.replace(",", _THIN).replace("-", "\N{MINUS SIGN}")


@register.filter
def percent(value: Any) -> str:
    """Share as whole per cent."""
    if value is None or value == "" or not math.isfinite(float(value)):
        return "–"
    return f"{float(value):.0%}".replace("%", f"{_THIN}%")


@register.filter
def chance(value: Any) -> str:
    """Probability as whole per cent; the ends stay open, for no reading makes certain."""
    if value is None or value == "" or not math.isfinite(float(value)):
        return "–"
    if float(value) < 0.01:
        return f"under 1{_THIN}%"
    if float(value) > 0.99:
        return f"over 99{_THIN}%"
    return percent(value)


@register.filter
def share(value: Any) -> str:
    """Computed share as per cent with one decimal, for a total that moves by little."""
    return f"{float(value):.1%}".replace("%", f"{_THIN}%")


@register.filter
def signed(value: Any) -> str:
    """Change with its sign; nothing changed has none."""
    text = trimmed(value)
    return f"+{text}" if text != "–" and float(value) > 0 else text


@register.filter
def signed_share(value: Any) -> str:
    """Change of a share as per cent of the car, with its sign; a small one with more digits."""
    per_cent = float(value) * 100
    told = round(per_cent, 1) or round(per_cent, 2) or 0.0  # never minus nothing
    return f"{signed(told)}{_THIN}% of the car"


@register.filter
def hundred(value: Any) -> str:
    """Share of a drawing a hundred wide."""
    return f"{float(value) * 100:.2f}"


@register.filter
def total(values: Any) -> float:
    """Sum of numbers."""
    return float(sum(values))


@register.filter
def machine(value: Any) -> str:
    """Number for an attribute that a browser reads."""
    return f"{float(value):.6g}"


@register.filter
def money(value: Any, currency: str = "") -> str:
    """Amount with its currency."""
    amount = plain(value)
    return f"{amount}\N{NO-BREAK SPACE}{currency}" if currency and amount != "–" else amount


@register.filter
def exactly(value: Any, digits: int = 2) -> str:
    """Amount to its last minor unit, with thin spaces between thousands."""
    text = f"{rounded(Decimal(str(value)), digits=digits):,f}"
    return text.replace(",", _THIN).replace("-", "\N{MINUS SIGN}")


@register.filter
def dm2(area_mm2: float) -> str:
    """Area in square decimetres: a hand is about two of them."""
    return trimmed(round(area_mm2 / 10_000, 1))


@register.filter
def trade(value: str) -> str:
    """Trade's name for people."""
    return value.replace("_", " ").replace(" and ", " & ")


@register.filter
def at(mapping: Any, key: Any) -> Any:
    """Entry of a mapping, or nothing."""
    return mapping.get(key) if mapping else None


@register.filter
def chosen_place(walk: Any) -> int:
    """Place of the point of a front that is the choice; the last without one."""
    return next((i for i, point in enumerate(walk) if point["is_chosen"]), len(walk) - 1)


@register.filter
def hours_of(cells: Any, trade: str) -> float:
    """Hours of a trade in a row of options."""
    return float(cells.get(f"hours_{trade}") or 0)


@register.filter
def rate_label(heading: str) -> str:
    """Heading of a column of rates; hours of a trade by the trade and the unit."""
    trade_of = heading.removeprefix("hours ")
    return heading if trade_of == heading else f"{trade_of}, h"


@register.filter
def when(text: str) -> str:
    """Day of the record in words, with the clock where it has one; anything else as it is.

    Examples
    --------
    >>> when("2026-11-23T08:04:10"), when("2026-11-23"), when("2026-11")
    ('23 November 2026, 08:04', '23 November 2026', '2026-11')
    """
    text = str(text or "")
    try:
        if len(text) <= len("2026-11-23"):
            return f"{date.fromisoformat(text):%-d %B %Y}"
        at = datetime.fromisoformat(text)
    except ValueError:
        return text
    return f"{timezone.localtime(at) if at.tzinfo else at:%-d %B %Y, %H:%M}"


@register.filter
def undo_address(message: Any) -> str:
    """Address at which what the message tells is taken back; empty where that is not offered."""
    tag = message.extra_tags or ""
    return tag.removeprefix(UNDO_TAG) if tag.startswith(UNDO_TAG) else ""
