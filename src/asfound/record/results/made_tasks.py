"""What is told of tasks that were made: what is off already, what was held back, and why."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from asfound.record.convert.made_tasks import MadeTasks


def made_tasks_json(made: MadeTasks) -> dict[str, Any]:
    """Rows of the tasks and links, and what has no task."""
    return {
        "tasks": list(made.tasks),
        "task_links": list(made.links),
        "off_already": list(made.is_off),
        "stays_off": list(made.stays_off),
        "held_back": [{"subject": s, "because": why} for s, why in made.held_back.items()],
        "not_kept": [{"before": k.before, "after": k.after, "why": k.why} for k in made.left_out],
        "rings": [str(fault) for fault in made.faults],
    }


def beside_tasks(made: MadeTasks) -> Iterator[str]:
    """Sentences beside the tasks: nothing that has no task is left unsaid."""
    if made.is_off:
        one = len(made.is_off) == 1
        yield (
            f"{counted(len(made.is_off), 'piece')} {'is' if one else 'are'} off already, so no "
            f"task takes {'it' if one else 'them'} off: {', '.join(made.is_off)}."
        )
    if made.stays_off:
        yield (
            "No signed work asks for these, so no task puts them on again either: "
            f"{', '.join(made.stays_off)}."
        )
    for subject, why in made.held_back.items():
        yield f"No new task for the work on {subject}: {why}."
    for link in made.left_out:
        yield (
            f"The tasks do not put {link.before} on before {link.after}, as the rebuild asks: "
            "it goes round in a ring with the order in which they come off and what else it asks."
        )


def counted(count: int, noun: str) -> str:
    """Count with its noun.

    Examples
    --------
    >>> counted(1, "task"), counted(2, "task")
    ('1 task', '2 tasks')
    """
    return f"{count} {noun}{'' if count == 1 else 's'}"
