"""The choice against the brief's limits, ready to be shown."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from asfound.choose import Brief, Choice
from asfound.desk.templatetags.desk import money, share, trade, trimmed


@dataclass(frozen=True, slots=True, kw_only=True)
class Tally:
    """One total: as shown, and against its limit where it has one."""

    name: str
    value: float
    shown: str
    limit: float | None = None
    of: str = ""
    before: str = ""


def tallies(
    choice: Choice, brief: Brief, *, currency: str, before: Mapping[str, str] | None = None
) -> list[Tally]:
    """Kept, cost, hours by trade and the lowest finish; ``before`` holds what was shown last."""
    lines = [
        Tally(name="kept of the original fabric", value=choice.kept, shown=share(choice.kept)),
        _against("cost", choice.cost, brief.cost_max, money(choice.cost, currency), currency),
    ]
    for name in sorted({*choice.hours, *brief.hours_max}):
        hours = choice.hours.get(name, 0.0)
        lines.append(
            _against(f"{trade(name)}, hours", hours, brief.hours_max.get(name), trimmed(hours))
        )
    lines.append(
        Tally(name="lowest finish", value=choice.lowest_grade, shown=trimmed(choice.lowest_grade))
    )
    return [_with_before(line, before or {}) for line in lines]


def _against(name: str, value: float, limit: float | None, shown: str, currency: str = "") -> Tally:
    if limit is None:
        return Tally(name=name, value=value, shown=shown)
    written = money(limit, currency) if currency else trimmed(limit)
    left = limit - value
    of = f"of {written}; {trimmed(round(left, 1))} left"
    return Tally(name=name, value=value, shown=shown, limit=limit, of=of)


def _with_before(line: Tally, before: Mapping[str, str]) -> Tally:
    was = before.get(line.name, "")
    if not was or was == line.shown:
        return line
    return Tally(
        name=line.name,
        value=line.value,
        shown=line.shown,
        limit=line.limit,
        of=line.of,
        before=was,
    )


def as_shown(lines: list[Tally]) -> dict[str, str]:
    """What the tallies show, to be remembered until the next choice."""
    return {line.name: line.shown for line in lines}
