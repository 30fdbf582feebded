"""What the columns of a table are called on a page, where their names are for programs."""

from __future__ import annotations

import re
from collections.abc import Mapping

from asfound.record.tables import TABLES
from asfound.record.tables.form import Column

_WORDS: Mapping[str, str] = {
    "assembled_on": "assembled on",
    "away": "days away",
    "binds_rebuild": "holds for the rebuild too",
    "cast_on": "cast on",
    "character_style": "style of the characters",
    "comes_off_after": "comes off after",
    "done_on": "finished on",
    "due": "due on",
    "earliest": "earliest day",
    "expected_source": "source of what is expected",
    "eye_cap": "most that a ratio by eye may count",
    "first_year_um": "loss of bare steel in the first year",
    "floor_um": "least film that must stay",
    "fragile": "how easily it breaks, 0 to 5",
    "from_on": "holds from",
    "given_on": "given on",
    "hours_high": "hours, at most",
    "hours_likely": "hours, most likely",
    "hours_low": "hours, at least",
    "hours_per_day": "hours a day",
    "lag_hours": "wait between the two",
    "learned": "factor from past work",
    "least_lr": "least likelihood ratio",
    "least_mm": "least",
    "lr": "likelihood ratio",
    "machined_on": "machined on",
    "made_for": "made for",
    "most_mm": "most",
    "not_after": "not after",
    "not_before": "not before",
    "off_on": "came off on",
    "on_again": "on the car again on",
    "other_panel": "other panel",
    "read_by": "read by",
    "read_on": "read on",
    "scale_in_photo": "scale in the photograph",
    "signs_in_as": "signs in as",
    "single_use": "fixings or seals are used once",
    "standing_why": "why it stands so",
    "surface_note": "what the surface shows",
    "taken_at": "taken on",
    "tested_on": "tested on",
    "text_as_read": "text as read",
    "u_mm": "standard uncertainty u",
    "until_on": "holds until",
    "up_to": "up to",
}
"""Words by the column's name; a name that is a plain word stands for itself."""

_OF_TABLE: Mapping[tuple[str, str], str] = {
    ("bays", "closed"): "closed on",
    ("bays", "count"): "how many",
    ("charge_rates", "rate"): "charged",
    ("colour", "L"): "lightness L*",
    ("colour", "a"): "colour a*",
    ("colour", "b"): "colour b*",
    ("colour_thresholds", "field"): "where it is used",
    ("edges", "least_mm"): "least gap",
    ("edges", "most_mm"): "most gap",
    ("edges", "twin"): "same edge on the other side",
    ("event_links", "from"): "from event",
    ("event_links", "id"): "name of the tie",
    ("event_links", "max"): "most time between",
    ("event_links", "min"): "least time between",
    ("event_links", "to"): "to event",
    ("instruments", "u"): "standard uncertainty u",
    ("joints", "way"): "way to it",
    ("needs", "L"): "lightness L*",
    ("needs", "a"): "colour a*",
    ("needs", "b"): "colour b*",
    ("options", "L"): "lightness L*",
    ("options", "a"): "colour a*",
    ("options", "b"): "colour b*",
    ("options", "learned"): "factors from past work",
    ("people", "days"): "working days",
    ("polish_floors", "basis"): "what it rests on",
    ("rebuild_links", "after"): "goes on after",
    ("rebuild_links", "before"): "goes on first",
    ("removals", "bench"): "bench needed",
    ("sheet_nominals", "least_mm"): "least that must stay",
    ("sheet_nominals", "nominal"): "when new",
    ("sheet_nominals", "system"): "counted in",
    ("task_links", "after"): "task that waits",
    ("task_links", "before"): "task that goes first",
    ("tax_rates", "percent"): "rate",
    ("wear", "least_mm"): "least wear",
    ("wear", "most_mm"): "most wear",
}
"""Words of a column that means something of its own in one table."""

_UNIT = re.compile("_(mm|um|kg|deg)$")
_HOURS = "hours_"
"""Begins the columns that hold the hours of one trade."""


def column_words(name: str, *, table: str = "") -> str:
    """What people call a column, without its unit.

    Examples
    --------
    >>> column_words("lag_hours", table="task_links")
    'wait between the two'
    >>> column_words("hours_metal")
    'hours of metal'
    """
    told = _OF_TABLE.get((table, name)) or _WORDS.get(name)
    if told is None and name.startswith(_HOURS):
        return f"hours of {name.removeprefix(_HOURS).replace('_', ' ')}"
    return told or _UNIT.sub("", name).replace("_", " ")


def heading(column: Column, *, table: str = "") -> str:
    """What people call a column, with its unit.

    Examples
    --------
    >>> heading(Column(name="tolerance_mm", unit="mm"))
    'tolerance (mm)'
    """
    told = column_words(column.name, table=table)
    says_unit = not column.unit or told.startswith("hours")
    return told if says_unit else f"{told} ({column.unit})"


def heading_of(name: str, *, table: str = "") -> str:
    """What people call a column by its name alone: of that table, or of the first that has it.

    Examples
    --------
    >>> heading_of("thickness_um")
    'thickness (µm)'
    """
    told = TABLES.get(table) or next(
        (one for one in TABLES.values() if any(c.name == name for c in one.columns)), None
    )
    return column_words(name) if told is None else heading(told.column(name), table=table)
