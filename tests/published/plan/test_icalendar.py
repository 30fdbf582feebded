"""The calendar of a plan against RFC 5545, "iCalendar", September 2009, section by section."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, timedelta
from uuid import NAMESPACE_URL, UUID, uuid5
from zoneinfo import ZoneInfo

import pytest
from icalendar import Calendar

from asfound.exchange.calendar import calendar_file
from asfound.record.results.shop_plan import PlannedCar, PlannedShop, PlannedTask

SOURCE = pytest.mark.source("RFC 5545, Internet Calendaring and Scheduling, 2009")
ADOPTED = datetime(1996, 7, 4, 12, tzinfo=UTC)


def uid_of(words: str) -> UUID:
    return uuid5(NAMESPACE_URL, words)


def planned(*spans: tuple[str, str], name: str = "Paint it", sequence: int = 0) -> PlannedShop:
    tasks = tuple(
        PlannedTask(
            car="grey",
            task=f"T{number}",
            name=name,
            bay="booth",
            start=datetime.fromisoformat(start),
            end=datetime.fromisoformat(end),
            people=("Ann Rook",),
            sequence=sequence,
            changed_at="1996-07-04T12:00:00+00:00",
        )
        for number, (start, end) in enumerate(spans)
    )
    day = date(2027, 4, 9)
    car = PlannedCar(
        car="grey",
        title="Orvelle Tansy",
        priority=1.0,
        promised=day,
        finish=tasks[-1].end,
        p50=day,
        p80=day,
        p95=day,
        kept=0.8,
    )
    return PlannedShop(
        made_at=tasks[0].start,
        days=1.0,
        days_least=1.0,
        proved=True,
        tasks=tasks,
        cars=(car,),
        links=(),
        people=("Ann Rook",),
        bays=("booth",),
    )


def lines_of(shop: PlannedShop, *, zone: str = "America/New_York", **of: str) -> list[str]:
    data = calendar_file(shop, title="shop", zone=zone, uid_of=uid_of, adopted_at=ADOPTED, **of)
    assert data.endswith(b"\r\n")  # section 3.1: lines end with CRLF
    return data.decode().replace("\r\n ", "").split("\r\n")


@SOURCE
def test_a_local_time_names_its_zone_as_section_3_3_5_writes_it() -> None:
    shop = planned(("1997-07-14T13:30", "1997-07-14T15:30"))
    lines = lines_of(shop)
    assert "DTSTART;TZID=America/New_York:19970714T133000" in lines  # the example of form 3
    assert "TZID:America/New_York" in lines  # section 3.6.5: the zone is in the object
    assert "DTSTAMP:19960704T120000Z" in lines  # section 3.8.7.2: in UTC, form 2


@SOURCE
def test_lines_are_folded_at_75_octets_and_words_escaped() -> None:
    shop = planned(("2027-03-01T08:00", "2027-03-01T16:00"), name="Sand, fill; " + "ö" * 60)
    data = calendar_file(shop, title="x", zone="UTC", uid_of=uid_of, adopted_at=ADOPTED)
    assert all(len(line) <= 75 for line in data.split(b"\r\n"))  # section 3.1
    assert b"SUMMARY:Sand\\, fill\\; " in data  # section 3.3.11


@pytest.mark.source("Directive 2000/84/EC, article 2: the last Sunday in March, 01:00 UTC")
def test_eight_o_clock_stays_eight_o_clock_when_the_clocks_change() -> None:
    shop = planned(
        ("2027-03-26T08:00", "2027-03-26T16:00"), ("2027-03-29T08:00", "2027-03-29T16:00")
    )
    data = calendar_file(shop, title="x", zone="Europe/Berlin", uid_of=uid_of, adopted_at=ADOPTED)
    events = [e for e in Calendar.from_ical(data).walk("VEVENT") if "LOCATION" in e]
    starts = [event["DTSTART"].dt for event in events]
    assert [start.hour for start in starts] == [8, 8]
    assert [start.astimezone(UTC).hour for start in starts] == [7, 6]


@SOURCE
def test_it_parses_back_with_what_the_standard_asks_for() -> None:
    shop = planned(("2027-03-01T08:00", "2027-03-02T12:00"), sequence=3)
    data = calendar_file(shop, title="x", zone="Europe/Berlin", uid_of=uid_of, adopted_at=ADOPTED)
    read = Calendar.from_ical(data)
    assert read["VERSION"] == "2.0"  # section 3.7.4
    assert "PRODID" in read  # section 3.7.3
    events = read.walk("VEVENT")
    assert all("UID" in e and "DTSTAMP" in e for e in events)  # section 3.6.1
    assert len({str(e["UID"]) for e in events}) == len(events)  # section 3.8.4.7
    work, promise = events
    assert work["SEQUENCE"] == 3  # section 3.8.7.4
    assert work["DTEND"].dt.replace(tzinfo=None) == datetime(2027, 3, 2, 12)
    assert promise["DTSTART"].dt == date(2027, 4, 9)  # section 3.6.1: a day, VALUE=DATE
    assert promise["TRANSP"] == "TRANSPARENT"  # section 3.8.2.7
    again = calendar_file(shop, title="x", zone="Europe/Berlin", uid_of=uid_of, adopted_at=ADOPTED)
    assert again == data


def test_a_person_s_own_has_neither_colleagues_nor_promises() -> None:
    shop = planned(("2027-03-01T08:00", "2027-03-02T12:00"))
    assert sum(line == "BEGIN:VEVENT" for line in lines_of(shop, person="Ann Rook")) == 1
    assert not any("Ann" in line for line in lines_of(shop, person="Ann Rook"))
    assert not any("Ann" in line for line in lines_of(shop, car="grey"))
    nothing = lines_of(shop, person="Bo Linnet")
    assert "BEGIN:VTIMEZONE" in nothing  # section 3.6: one component at least
    assert "BEGIN:VEVENT" not in nothing


def offsets_of(lines: list[str]) -> list[tuple[datetime, timedelta]]:
    """Moments in UTC from which each offset holds, read as section 3.6.5 says: an onset is a local
    time under the offset before it, TZOFFSETFROM."""
    found: list[tuple[datetime, timedelta]] = []
    onsets: list[datetime] = []
    offset = {"TZOFFSETFROM": timedelta(), "TZOFFSETTO": timedelta()}
    for line in lines[lines.index("BEGIN:VTIMEZONE") : lines.index("END:VTIMEZONE")]:
        name, _, value = line.partition(":")
        if name in ("DTSTART", "RDATE"):
            onsets += [datetime.fromisoformat(at).replace(tzinfo=UTC) for at in value.split(",")]
        elif name in offset:
            sign = -1 if value[0] == "-" else 1
            offset[name] = sign * timedelta(hours=int(value[1:3]), minutes=int(value[3:5]))
        elif name == "END":
            before, after = offset["TZOFFSETFROM"], offset["TZOFFSETTO"]
            found += [(at - before, after) for at in onsets]
            onsets = []
    return sorted(found)


@pytest.mark.source("RFC 5545, section 3.6.5; the IANA time zone database")
@pytest.mark.parametrize(
    "zone",
    ["Europe/London", "Europe/Dublin", "America/New_York", "Australia/Lord_Howe", "Asia/Kolkata"],
)
def test_the_zone_in_the_object_is_that_of_the_database_hour_for_hour(zone: str) -> None:
    shop = planned(("2027-03-26T08:00", "2027-03-26T16:00"))
    offsets = offsets_of(lines_of(shop, zone=zone))
    place = ZoneInfo(zone)
    at = datetime(2025, 12, 28, tzinfo=UTC)
    while at < datetime(2029, 1, 1, tzinfo=UTC):
        told = [offset for begins, offset in offsets if begins <= at][-1]
        assert told == at.astimezone(place).utcoffset(), at
        at += timedelta(minutes=30)


@pytest.mark.source("RFC 5545, sections 3.1, 3.6 and 3.6.1; read without a library")
def test_every_line_every_component_and_every_end_is_in_order() -> None:
    spans = [
        ("2027-03-26T23:30", "2027-03-27T00:15"),  # over midnight
        ("2027-03-26T14:00", "2027-03-29T10:00"),  # over closed days and the change of clocks
        ("2027-03-26T15:00", "2027-03-27T00:00"),  # to midnight itself
        ("2027-03-01T08:00", "2027-06-30T16:00"),  # long away at a specialist
        ("2027-03-01T08:00", "2027-03-01T08:00"),  # takes no time
    ]
    lines = lines_of(planned(*spans), zone="Europe/London")
    assert lines.pop() == ""
    assert (lines[0], lines[-1]) == ("BEGIN:VCALENDAR", "END:VCALENDAR")
    open_now: list[str] = []
    for line in lines:
        assert re.fullmatch(r"[A-Z-]+(;[A-Z-]+=[^;:,]+)*:[^\x00-\x08\x0a-\x1f]*", line), line
        if line.startswith("BEGIN:"):
            open_now.append(line.removeprefix("BEGIN:"))
        elif line.startswith("END:"):
            assert open_now.pop() == line.removeprefix("END:")
    assert open_now == []
    events = "\n".join(lines).split("BEGIN:VEVENT")[1:]
    zones = {line.removeprefix("TZID:") for line in lines if line.startswith("TZID:")}
    for event in events:
        names = [re.split("[:;]", line)[0] for line in event.strip().split("\n")]
        assert all(names.count(name) == 1 for name in ("UID", "DTSTAMP", "DTSTART"))
        assert set(re.findall(r"TZID=([^:;]+)", event)) <= zones
    told = [
        tuple(re.findall(rf"DT(?:START|END);TZID={z}:(\S+)", event))
        for event in events
        for z in zones
        if "LOCATION" in event
    ]
    plain = [
        tuple(datetime.fromisoformat(at).strftime("%Y%m%dT%H%M%S") for at in span) for span in spans
    ]
    assert told[:4] == plain[:4]
    assert told[4] == ("20270301T080000", "20270301T080100")  # an end is later than its start
