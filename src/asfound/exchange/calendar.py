"""The adopted plan as an iCalendar object (RFC 5545) that calendars subscribe to."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime, time, timedelta
from typing import TYPE_CHECKING, Any
from uuid import UUID
from zoneinfo import ZoneInfo

from asfound.record.results.shop_plan import PlannedCar, PlannedShop, PlannedTask

if TYPE_CHECKING:
    from icalendar import Event, Timezone

PRODUCT = "-//asfound//plan of the shop//EN"
_FRESH = timedelta(minutes=30)

UidOf = Callable[[str], UUID]


def calendar_file(
    shop: PlannedShop,
    *,
    title: str,
    zone: str,
    uid_of: UidOf,
    adopted_at: datetime,
    person: str = "",
    car: str = "",
) -> bytes:
    """Calendar of a person, of a car, or of the whole shop.

    Parameters
    ----------
    shop : PlannedShop
        A plan that was adopted.
    title : str
    zone : str
        Name of the workshop's time zone in the time zone database.
    uid_of : callable
        Gives the same UUID for the same words always, and another at another workshop.
    adopted_at : datetime
        With its zone.
    person, car : str
        Whose calendar it is; neither for the whole shop.

    Notes
    -----
    Sections of RFC 5545: local times name a VTIMEZONE that is in the object (3.3.5, form 3;
    3.6.5), so that eight o'clock stays eight o'clock when the clocks change. UID is the same in
    each plan (3.8.4.7), SEQUENCE counts how often a task was moved (3.8.7.4), DTSTAMP tells when
    it last was (3.8.7.2). A promised day is a whole day that takes nobody's time (3.8.2.7).
    No money and no owner's name goes in; colleagues are named in the shop's own calendar alone.
    """
    # The library takes a while to load; who reads no calendar does not wait for it.
    from icalendar import Calendar  # noqa: PLC0415 - see above

    made = Calendar()
    for name, value in (("prodid", PRODUCT), ("version", "2.0"), ("calscale", "GREGORIAN")):
        made.add(name, value)
    made.add("name", title)  # RFC 7986, section 5.1
    made.add("refresh-interval", _FRESH, parameters={"VALUE": "DURATION"})  # section 5.7
    made.add_component(_zone(zone))
    place = ZoneInfo(zone)
    for task in _tasks(shop, person, car):
        made.add_component(_event(task, shop, place, uid_of, names=not person and not car))
    for one in shop.cars:
        if one.promised is not None and not person and car in ("", one.car):
            made.add_component(_promise(one, uid_of, adopted_at))
    data: bytes = made.to_ical()
    return data


def _zone(name: str) -> Timezone:
    """The zone with each change of clocks at its time on the clock before it (3.6.5).

    The library tells it on the clock that is ahead, which is the one after it in spring: a reader
    that keeps to the letter would change an hour late.
    """
    from icalendar import Timezone  # noqa: PLC0415 - as above

    zone = Timezone.from_tzid(name, first_date=date(2020, 1, 1))
    change: Any  # of two dozen kinds of value, of which a change of clocks has few
    for change in zone.subcomponents:
        ahead = change["TZOFFSETTO"].td - change["TZOFFSETFROM"].td
        if ahead > timedelta():
            for onset in (change["DTSTART"], *(change["RDATE"].dts if "RDATE" in change else ())):
                onset.dt -= ahead
    return zone


def _tasks(shop: PlannedShop, person: str, car: str) -> Iterator[PlannedTask]:
    for task in shop.tasks:
        if (not person or person in task.people) and (not car or task.car == car):
            yield task


def _event(
    task: PlannedTask, shop: PlannedShop, place: ZoneInfo, uid_of: UidOf, *, names: bool
) -> Event:
    from icalendar import Event  # noqa: PLC0415 - as above

    made = Event()
    made.add("uid", str(uid_of(f"task {task.car} {task.task}")))
    made.add("dtstamp", datetime.fromisoformat(task.changed_at).astimezone(UTC))
    made.add("sequence", task.sequence)
    made.add("dtstart", task.start.replace(tzinfo=place))
    made.add("dtend", max(task.end, task.start + timedelta(minutes=1)).replace(tzinfo=place))
    made.add("summary", f"{task.name or task.task} ({shop.titles[task.car]})")
    told = [f"Task {task.task}"]
    if names and task.people:
        told.append(", ".join(task.people))
    if task.rests_until is not None:
        told.append(f"dries until {task.rests_until:%Y-%m-%d %H:%M}")
    made.add("description", "; ".join(told))
    if task.bay:
        made.add("location", task.bay)
    return made


def _promise(car: PlannedCar, uid_of: UidOf, adopted_at: datetime) -> Event:
    from icalendar import Event  # noqa: PLC0415 - as above

    assert car.promised is not None
    made = Event()
    made.add("uid", str(uid_of(f"promise {car.car}")))
    made.add("dtstamp", adopted_at.astimezone(UTC))
    made.add("dtstart", car.promised)
    made.add("summary", f"Promised: {car.title}")
    made.add("transp", "TRANSPARENT")
    made.add("description", f"Planned for {datetime.combine(car.finish.date(), time()):%Y-%m-%d}")
    return made
