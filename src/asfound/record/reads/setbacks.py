"""What comes late, as somebody wrote it down when it upset the plan."""

from __future__ import annotations

from asfound.record.actions.setback import SETBACK
from asfound.record.models import Entry

MOST = 200
"""Setbacks that are read, the newest first."""


def late_now() -> dict[tuple[str, str, str], str]:
    """What is late, by car, task, and the day before which the task cannot begin."""
    told = Entry.objects.filter(action=SETBACK).order_by("-pk").values_list("after", flat=True)
    rows = [after for after in reversed(told[:MOST]) if after and "what" in after]
    return {(row["car"], row["task"], row["until"]): row["what"] for row in rows}
