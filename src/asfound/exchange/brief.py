"""The owner's brief as a file: its shape and its numbers."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Any

from asfound.exchange.nearest import nearest
from asfound.record.convert.treatment_words import TREATMENTS
from asfound.record.faults import Fault
from asfound.record.folder import Sheet
from asfound.record.tables import TABLES

FILE = "brief.json"
KEYS = ("name", "cost_max", "hours_max", "min_grade", "note", "untouched", "needs_evidence")
_LIKE_A_KEY = 0.6
"""Likeness from which an unknown key is taken for one of the few that count."""


def check_brief(content: Mapping[str, Any] | None, faults: list[Fault]) -> Mapping[str, Any] | None:
    """The brief unchanged; what is wrong with it is added to ``faults``."""
    if content is None:
        return None
    faults += _unknown_keys(content)
    faults += _not_text(content)
    faults += _not_limit("cost_max", content.get("cost_max"))
    faults += _not_limits(content, "hours_max", most=math.inf)
    faults += _not_limits(content, "min_grade", most=5)
    faults += _not_names(content, "untouched")
    faults += _not_names(content, "needs_evidence")
    return content


def check_brief_names(content: Mapping[str, Any], sheets: Mapping[str, Sheet]) -> Iterator[Fault]:
    """Faults of limits on a trade or zone that is a slip of one in the tables.

    A limit on what the tables do not have binds nothing and is no fault by itself.
    """
    options, subjects = sheets.get("options"), sheets.get("subjects")
    if options is not None:
        prefix = TABLES["options"].prefix
        trades = [c.removeprefix(prefix) for c in options.columns if c.startswith(prefix)]
        yield from _slips(content, "hours_max", trades, "options.csv")
        treatments = [*TREATMENTS, *(row.text("treatment") for row in options)]
        yield from _unknown(content, "needs_evidence", treatments, "options.csv has no treatment")
    if subjects is not None:
        zones = dict.fromkeys(row.text("zone") for row in subjects if row.text("zone"))
        yield from _slips(content, "min_grade", list(zones), "subjects.csv")
    if subjects is not None and options is not None:
        pieces = [row.text("subject") for sheet in (subjects, options) for row in sheet]
        there = [*(row.text("zone") for row in subjects), *pieces]
        yield from _unknown(content, "untouched", there, "there is no zone and no piece")


def _slips(content: Mapping[str, Any], key: str, known: list[str], file: str) -> Iterator[Fault]:
    limits = content.get(key)
    if not isinstance(limits, dict):
        return
    for name in limits:
        meant = "" if name in known else nearest(name, known)
        if meant and meant not in limits:
            yield _fault(
                f"{key}: {name}",
                limits[name],
                f"{file} has no {name!r}; it has {', '.join(known)}",
                f"Write {meant!r} if that is meant.",
            )


def _unknown(content: Mapping[str, Any], key: str, known: list[str], rule: str) -> Iterator[Fault]:
    """Names that bind nothing: what should be kept would not be."""
    names = content.get(key)
    for name in names if isinstance(names, list) else ():
        if isinstance(name, str) and name not in known:
            meant = nearest(name, known)
            remedy = f"Write {meant!r} if that is meant." if meant else "Correct the name."
            yield _fault(key, name, f"{rule} {name!r}", remedy)


def _unknown_keys(content: Mapping[str, Any]) -> Iterator[Fault]:
    """A limit under a name that nobody reads would bind nothing; other remarks are kept."""
    for key, value in content.items():
        if key in KEYS:
            continue
        meant = nearest(key, KEYS, least=_LIKE_A_KEY)
        if meant or _could_be_limit(value):
            yield _fault(
                key,
                value,
                f"the brief has no key {key!r}; it has {', '.join(KEYS)}",
                f"Write {meant!r} if that is meant, or put remarks into 'note'."
                if meant
                else "Use one of these keys, or put it as words into 'note'.",
            )


def _could_be_limit(value: object) -> bool:
    if isinstance(value, dict):
        return any(map(_could_be_limit, value.values()))
    return isinstance(value, int | float) and not isinstance(value, bool)


def _not_text(content: Mapping[str, Any]) -> Iterator[Fault]:
    for key in ("name", "note"):
        value = content.get(key)
        if value is not None and not isinstance(value, str):
            yield _fault(key, value, f"{key} must be text", "Put it between double quotes.")


def _not_names(content: Mapping[str, Any], key: str) -> Iterator[Fault]:
    names = content.get(key)
    if names is not None and not (
        isinstance(names, list) and all(isinstance(name, str) and name for name in names)
    ):
        yield _fault(
            key,
            names,
            f"{key} must be a list of names",
            f'Write for example {{"{key}": ["name"]}}, or null for none.',
        )


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
