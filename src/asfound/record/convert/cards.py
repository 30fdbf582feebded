"""The tasks of a car become cards for one person: what to do, what to leave alone, what to mind."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from asfound.craft.cautions import Caution, cautions_for
from asfound.record.convert.holds import Hold, holding, open_holds
from asfound.record.convert.plan import trades_of
from asfound.record.convert.worked import TaskWork, work_by_task
from asfound.record.folder import CarFolder, Row

WHOLE_CAR = "car"
"""Piece of a task that names none."""
HIGH_SIGNIFICANCE = 4.0
"""Of five: from here on a neighbouring piece is named as one to leave alone. The workshop's own
rule, no source."""
LEAVE = "leave as found"
NO_TRACE = frozenset({"", LEAVE, "preventive care"})
"""Treatments that do not touch the piece; every other is photographed before and after, as AIC's
Guidelines for Practice ask of any treatment."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spared:
    """A piece that must not be touched, and why; ``near`` the piece that is worked on or not."""

    subject: str
    why: str
    near: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """One task as the person who does it needs it.

    Parameters
    ----------
    task, name, trade, subject, bay : str
    low, likely, high : float
        Hours that it was thought to take.
    people : int
    treatment, option : str
        What was signed for the piece; empty where nothing was.
    waits : tuple of str
        Names of the tasks before it that are not done.
    work : TaskWork
    spared : tuple of Spared
        Those near come first.
    cautions : tuple of Caution
        Those that words of the task, its piece and treatment call for.
    photos_wanted : bool
        Whether the treatment asks for photographs before and after.
    is_last : bool
        Whether every other task of the piece is done, so that the photograph after is due.
    holds : tuple of Hold
        What keeps it from being begun, beside other tasks.
    planned : datetime or None
        Local time at which the plan lets it start.
    """

    task: str
    name: str
    trade: str
    subject: str
    bay: str
    low: float
    likely: float
    high: float
    people: int
    treatment: str
    option: str
    waits: tuple[str, ...]
    work: TaskWork
    spared: tuple[Spared, ...]
    cautions: tuple[Caution, ...]
    photos_wanted: bool
    is_last: bool
    holds: tuple[Hold, ...] = ()
    planned: datetime | None = None

    @property
    def thought(self) -> float:
        """Hours of all its people together that it was likeliest to take."""
        return self.likely * self.people

    @property
    def near(self) -> tuple[Spared, ...]:
        """Pieces to leave alone that lie near."""
        return tuple(one for one in self.spared if one.near)

    @property
    def elsewhere(self) -> tuple[Spared, ...]:
        """Pieces to leave alone elsewhere on the car."""
        return tuple(one for one in self.spared if not one.near)


def person_called(car: CarFolder, *names: str) -> str:
    """Person of the car's table who bears one of the names; empty for none or several.

    The name that somebody signs in with, where the table tells it, comes first. Of names, case,
    dots and spaces do not count; a first name alone serves while only one person has it.
    """
    rows = list(car.sheet("people"))
    people = [row.text("person") for row in rows]
    by_account = [row.text("person") for row in rows if row.text("signs_in_as") in {*names} - {""}]
    wanted = {_plain(name) for name in names if name.strip()}
    whole = [person for person in people if _plain(person) in wanted]
    first = [person for person in people if _plain(person.split(" ")[0]) in wanted]
    found = by_account or whole or first
    return found[0] if len(set(found)) == 1 else ""


def trades_called(car: CarFolder, person: str) -> frozenset[str]:
    """Trades of a person of the car's table."""
    return frozenset(
        trade
        for row in car.sheet("people")
        if row.text("person") == person
        for trade in trades_of(row)
    )


def cards_of(car: CarFolder, *, now: datetime) -> list[Card]:
    """Every task of the car as a card, in the order of the table."""
    work = work_by_task(car, now)
    names = {row.text("task"): row.text("name") or row.text("task") for row in car.sheet("tasks")}
    before: dict[str, list[str]] = {}
    for link in car.sheet("task_links"):
        if not work.get(link.text("before"), TaskWork()).done:
            name = names.get(link.text("before"), link.text("before"))
            before.setdefault(link.text("after"), []).append(name)
    around = _Surroundings.of(car)
    cards = [_card(row, work, before, around) for row in car.sheet("tasks")]
    left = Counter(card.subject for card in cards if not card.work.done)
    holds = open_holds(car)
    return [
        replace(
            card,
            is_last=left[card.subject] <= 1,
            holds=holding(holds, task=card.task, subject=card.subject),
        )
        for card in cards
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Surroundings:
    """What a card tells of a piece beside its task, read once for all cards."""

    signed: Mapping[str, tuple[str, str]]
    parts: Mapping[str, Row]
    joined: Mapping[str, frozenset[str]]

    @classmethod
    def of(cls, car: CarFolder) -> _Surroundings:
        locks = {row.text("subject"): row.text("locked_option") for row in car.sheet("subjects")}
        joined: dict[str, set[str]] = {}
        for row in car.sheet("joints"):
            one, two = row.text("part"), row.text("comes_off_after")
            joined.setdefault(one, set()).add(two)
            joined.setdefault(two, set()).add(one)
        return cls(
            signed={
                row.text("subject"): (row.text("option"), row.text("treatment"))
                for row in car.sheet("options")
                if row.text("option") and locks.get(row.text("subject")) == row.text("option")
            },
            parts={row.text("part"): row for row in car.sheet("parts") if not row.text("fate")},
            joined={name: frozenset(others) for name, others in joined.items()},
        )

    def near(self, piece: str, other: str) -> bool:
        """Whether the two are joined, one within the other, or within the same."""
        if other in self.joined.get(piece, ()):
            return True
        one, two = self.parts.get(piece), self.parts.get(other)
        if one is None or two is None:
            return False
        parents = one.text("parent"), two.text("parent")
        return parents[0] == other or parents[1] == piece or (parents[0] == parents[1] != "")

    def spared(self, piece: str) -> list[Spared]:
        """Pieces to leave alone while the piece is worked on, those near first."""
        found = {
            name: Spared(subject=name, why=f"to be left as found: {option}", near=near)
            for name, (option, treatment) in self.signed.items()
            if treatment == LEAVE
            for near in (name == piece or self.near(piece, name),)
        }
        for name, row in self.parts.items():
            weight = row.number("significance", default=0.0)
            if weight < HIGH_SIGNIFICANCE or name in found or name == piece:
                continue
            if self.near(piece, name):
                why = f"significance {weight:g} of 5"
                found[name] = Spared(subject=name, why=why, near=True)
        return sorted(found.values(), key=lambda one: (not one.near, one.subject))


def _card(
    row: Row,
    work: Mapping[str, TaskWork],
    before: Mapping[str, list[str]],
    around: _Surroundings,
) -> Card:
    task, subject = row.text("task"), row.text("subject")
    option, treatment = around.signed.get(subject, ("", ""))
    part = around.parts.get(subject)
    words = [row.text("name"), subject, treatment, option]
    if part is not None:
        words += [part.text("name"), part.text("note")]
    return Card(
        task=task,
        name=row.text("name") or task,
        trade=row.text("trade"),
        subject=subject or WHOLE_CAR,
        bay=row.text("bay"),
        low=row.number("hours_low"),
        likely=row.number("hours_likely"),
        high=row.number("hours_high"),
        people=int(row.number("people", default=1)),
        treatment=treatment,
        option=option,
        waits=tuple(before.get(task, ())),
        work=work.get(task, TaskWork()),
        spared=tuple(around.spared(subject)),
        cautions=tuple(one for one in cautions_for(words) if one.called_by),
        photos_wanted=treatment not in NO_TRACE,
        is_last=True,
    )


def _plain(name: str) -> str:
    return "".join(letter for letter in name.casefold() if letter.isalnum())
