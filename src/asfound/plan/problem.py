"""What is to be planned: tasks, links, people and bays, with every name declared."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from asfound.base import InputError
from asfound.plan.order import followers, in_order, ring
from asfound.plan.person import Bay, Person
from asfound.plan.task import Task, TaskLink


@dataclass(frozen=True, kw_only=True)  # no slots: it keeps what it works out once
class PlanProblem:
    """The whole plan's question.

    Parameters
    ----------
    tasks : tuple of Task
    links : tuple of TaskLink
    people : tuple of Person
        Without any, the shop is open day and night.
    bays : tuple of Bay
    first_weekday : int
        Weekday of the plan's first day, 0 for Monday.
    priority : mapping of str to float
        Weight of a car's finish against the others', above zero; 1 where it is absent.
    promised_min : mapping of str to int
        By when a car is promised [min from the plan's first midnight], where it is; it may be
        missed, at a price, among several cars.

    Raises
    ------
    InputError
        If names are not unique or not declared, the links form a ring, a task asks for more
        people of a trade or more places of a bay than there are, or is due before it may start.
    """

    tasks: tuple[Task, ...]
    links: tuple[TaskLink, ...] = ()
    people: tuple[Person, ...] = ()
    bays: tuple[Bay, ...] = ()
    first_weekday: int = 0
    priority: Mapping[str, float] = field(default_factory=dict)
    promised_min: Mapping[str, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        _unique("tasks", [task.task for task in self.tasks])
        _unique("people", [person.person for person in self.people])
        _unique("bays", [bay.bay for bay in self.bays])
        for link in self.links:
            for name in (link.before, link.after):
                if name not in self.named:
                    raise InputError(field="links", got=name, allowed="between tasks that exist")
        turning = ring(self.after)
        if turning:
            raise InputError(
                field="links", got=" → ".join([*turning, turning[0]]), allowed="without a ring"
            )
        if not all(weight > 0 for weight in self.priority.values()):
            raise InputError(field="priority", got=dict(self.priority), allowed="above zero")
        for task in self.tasks:
            self._check(task)

    def _check(self, task: Task) -> None:
        able = len(self.able(task.trade))
        if task.people > able:
            raise InputError(
                field=f"people of {task.task}",
                got=task.people,
                allowed=f"at most the {able} who have the trade {task.trade!r}",
            )
        places = {bay.bay: bay.count for bay in self.bays}
        for bay, need in task.bays.items():
            if need > places.get(bay, 0):
                raise InputError(
                    field=f"bays of {task.task}",
                    got=f"{need} × {bay}",
                    allowed=f"at most {places.get(bay, 0)}",
                )
        if task.due_min is not None and task.due_min <= task.not_before_min:
            raise InputError(
                field=f"due_min of {task.task}",
                got=task.due_min,
                allowed=f"after {task.not_before_min}, its first start",
            )

    @cached_property
    def named(self) -> Mapping[str, Task]:
        """Tasks by name."""
        return {task.task: task for task in self.tasks}

    @cached_property
    def after(self) -> Mapping[str, list[str]]:
        """What follows each task directly."""
        return followers(self.named, ((link.before, link.after) for link in self.links))

    @cached_property
    def order(self) -> tuple[str, ...]:
        """Names of the tasks, each after what comes before it."""
        return tuple(in_order(self.after))

    @cached_property
    def links_to(self) -> Mapping[str, tuple[TaskLink, ...]]:
        """Links that end at each task."""
        found: dict[str, list[TaskLink]] = {name: [] for name in self.named}
        for link in self.links:
            found[link.after].append(link)
        return {name: tuple(links) for name, links in found.items()}

    @cached_property
    def links_from(self) -> Mapping[str, tuple[TaskLink, ...]]:
        """Links that begin at each task."""
        found: dict[str, list[TaskLink]] = {name: [] for name in self.named}
        for link in self.links:
            found[link.before].append(link)
        return {name: tuple(links) for name, links in found.items()}

    def able(self, trade: str) -> tuple[Person, ...]:
        """People who have the trade."""
        return tuple(person for person in self.people if trade in person.trades)


def _unique(what: str, names: Iterable[str]) -> None:
    names = list(names)
    if len(set(names)) != len(names):
        twice = sorted({name for name in names if names.count(name) > 1})
        raise InputError(field=what, got=twice, allowed="unique by name")
