"""The owner's brief as a file: its shape and its numbers."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Any

from asfound.record.faults import Fault

FILE = "brief.json"


def check_brief(content: Mapping[str, Any] | None, faults: list[Fault]) -> Mapping[str, Any] | None:
    """The brief unchanged; what is wrong with it is added to ``faults``."""
    if content is None:
        return None
    faults += _not_text(content)
    faults += _not_limit("cost_max", content.get("cost_max"))
    faults += _not_limits(content, "hours_max", most=math.inf)
    faults += _not_limits(content, "min_grade", most=5)
    return content


def _not_text(content: Mapping[str, Any]) -> Iterator[Fault]:
    for key in ("name", "note"):
        value = content.get(key)
        if value is not None and not isinstance(value, str):
            yield _fault(key, value, f"{key} must be text", "Put it between double quotes.")


def _not_limits(content: Mapping[str, Any], key: str, *, most: float) -> Iterator[Fault]:
    limits = content.get(key)
    if limits is None:
        return
    if not isinstance(limits, dict):
        yield _fault(
            key,
            limits,
            f"{key} must be an object of names and numbers",
            f'Write for example {{"{key}": {{"name": 3}}}}, or null for no limit.',
        )
        return
    for name, value in limits.items():
        yield from _not_limit(f"{key}: {name}", value, most=most)


def _not_limit(key: str, value: object, *, most: float = math.inf) -> Iterator[Fault]:
    if value is None:
        return
    if isinstance(value, bool) or not isinstance(value, int | float) or not _is_finite(value):
        yield _fault(key, value, f"{key} must be a number", "Write digits, or null for no limit.")
    elif not 0 <= value <= most:
        rule = f"{key} must be zero or more" + ("" if math.isinf(most) else f", {most:g} at most")
        yield _fault(key, value, rule, "Correct the number, or write null for no limit.")


def _is_finite(value: float) -> bool:
    try:
        return math.isfinite(value)
    except OverflowError:  # JSON has whole numbers beyond what a float can hold
        return False


def _fault(key: str, value: object, rule: str, remedy: str) -> Fault:
    return Fault(file=FILE, column=key, value=str(value), rule=rule, remedy=remedy)
