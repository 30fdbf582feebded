"""Rows of tasks and of their links that are made, not written."""

from __future__ import annotations

LOW, HIGH = 0.75, 2.0
"""Low and high hours as shares of what was quoted: a guess, no source."""

Cells = dict[str, str]


def task_cells(
    task: str,
    *,
    name: str,
    trade: str,
    hours: tuple[float, float, float],
    subject: str,
    people: int = 1,
    learned: float = 1.0,
) -> Cells:
    """Row of a task; ``hours`` are low, likely and high."""
    low, likely, high = (f"{value:.4g}" for value in hours)
    in_them = {} if learned == 1 else {"learned": f"{learned:.4g}"}
    return {
        "task": task,
        "name": name,
        "trade": trade,
        "hours_low": low,
        "hours_likely": likely,
        "hours_high": high,
        "people": "" if people == 1 else f"{people}",
        "subject": subject,
        **in_them,
    }


def link_cells(before: Cells | str, after: Cells | str) -> Cells:
    """Row of a link between two tasks, given by row or by name."""
    one, two = (end if isinstance(end, str) else end["task"] for end in (before, after))
    return {"before": one, "after": two}
