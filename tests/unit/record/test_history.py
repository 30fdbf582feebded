"""Dates of events, rows to a history, faults at their rows, words of clashes."""

from __future__ import annotations

import pytest
from edtf import parse_edtf

from asfound.exchange.rules import check_across
from asfound.record.convert.edtf_days import edtf_days
from asfound.record.convert.history import history_of
from asfound.record.derived import history_reading
from asfound.record.faults import InputFaultsError
from asfound.record.folder import CarFolder, Sheet
from asfound.record.results.history import clash_words, history_json, link_words
from asfound.weigh.dates import Step, iso_day

EVENT_COLUMNS = ("event", "subject", "not_before", "not_after", "note")
LINK_COLUMNS = ("id", "from", "to", "min", "max", "unit", "why")
STANDING = ("standing", "standing_why")


def car(*, events: list[tuple[str, ...]], links: list[tuple[str, ...]] | None = None) -> CarFolder:
    sheets = {"events": Sheet(columns=EVENT_COLUMNS, rows=tuple(events))}
    if links is not None:
        sheets["event_links"] = Sheet(columns=LINK_COLUMNS, rows=tuple(links))
    return CarFolder(sheets=sheets)


def days(text: str) -> list[str | None]:
    return [None if day is None else iso_day(day) for day in edtf_days(text)]


@pytest.mark.source("ISO 8601-2 as the edtf library reads it: the strict bounds of plain dates")
@pytest.mark.parametrize(
    "text",
    [
        "1961",
        "1961-05",
        "1961-05-07",
        "1960-02",
        "196X",
        "19XX",
        "1960-XX",
        "1984-06-XX",
        "1958/1963",
        "1961-05/1962-02-03",
        "-0044",
        "../1970",
        "1966/..",
        "../..",
        "1960-21",
        "1960-23",
        "[1960,1962]",
        "Y-17000",
        "{1960..1962}",
    ],
)
def test_plain_dates_are_read_as_the_library_reads_them(text: str) -> None:
    date = parse_edtf(text)
    ends = (date.lower_strict(), date.upper_strict())
    assert days(text) == [
        None
        if isinstance(end, float)
        else f"{'-' if end[0] < 0 else ''}{abs(end[0]):04d}-{end[1]:02d}-{end[2]:02d}"
        for end in ends
    ]


@pytest.mark.parametrize(
    ("text", "first", "last"),
    [
        ("1961~", "1960-01-01", "1962-12-31"),
        ("1961?", "1960-01-01", "1962-12-31"),
        ("1961%", "1959-01-01", "1963-12-31"),
        ("1961-05~", "1961-04-01", "1961-06-30"),
        ("1961-05-07?", "1961-05-06", "1961-05-08"),
        ("1958~/1963", "1957-01-01", "1963-12-31"),
        ("196X~", "1950-01-01", "1979-12-31"),
        ("1960-24", "1960-12-01", "1961-02-28"),
    ],
)
def test_doubt_reaches_a_unit_to_either_side(text: str, first: str, last: str) -> None:
    assert days(text) == [first, last]


@pytest.mark.parametrize("text", ["1961-13", "1961-02-29", "open", "/", "1/2/3", "1960-XX-05"])
def test_no_dates_are_refused(text: str) -> None:
    with pytest.raises(ValueError, match=text):
        edtf_days(text)


def test_rows_become_a_history() -> None:
    history = history_of(
        car(
            events=[
                ("made", "", "1958/1963", "", ""),
                ("fitted", "", "", "1958/1963", ""),
                ("sold", "", "../1970", "1966/..", ""),
            ],
            links=[("k", "made", "fitted", "0.5", "2", "year", "")],
        )
    )
    made, fitted, sold = history.events
    assert made.first is not None
    assert fitted.last is not None
    assert (iso_day(made.first), made.last) == ("1958-01-01", None)
    assert (fitted.first, iso_day(fitted.last)) == (None, "1963-12-31")
    assert (sold.first, sold.last) == (None, None)
    (link,) = history.links
    assert (link.least, link.most) == (Step(months=6), Step(months=24))


EMPTY_WINDOW = ("made", "", "1963", "1961", "")
A, B = ("a", "", "", "", ""), ("b", "", "", "", "")


@pytest.mark.parametrize(
    ("events", "link", "place", "rule"),
    [
        ([EMPTY_WINDOW], None, "events.csv, row 2: not_before is '1963'", "1961-12-31"),
        ([A], ("k", "a", "a", "0", "", "day", ""), "event_links.csv, row 2: to is 'a'", "another"),
        ([A, B], ("k", "a", "b", "3", "2", "day", ""), "row 2: min is '3'", "not be more than max"),
        ([A, B], ("k", "a", "b", "0.4", "0.6", "day", ""), "min is '0.4'", "whole days"),
        ([A, B], ("k", "a", "b", "1e9", "", "year", ""), "row 2: min is '1e9'", "100,000 years"),
    ],
)
def test_faults_are_told_at_their_row(
    events: list[tuple[str, ...]], link: tuple[str, ...] | None, place: str, rule: str
) -> None:
    folder = car(events=events, links=[link] if link else None)
    (told,) = map(str, check_across(folder.sheets))
    assert place in told
    assert rule in told
    with pytest.raises(InputFaultsError, match=rule):
        history_of(folder)


def test_rows_kept_before_the_rules_were_are_told_too() -> None:
    folder = car(
        events=[("a", "", "last summer", "", "")],
        links=[("k", "a", "nobody", "0", "", "day", "")],
    )
    with pytest.raises(InputFaultsError) as refused:
        history_of(folder)
    date, name = refused.value.faults
    assert (date.column, date.value, date.row) == ("not_before", "last summer", 2)
    assert (name.column, name.value) == ("to", "nobody")


CLASH = car(
    events=[
        ("pigment sold", "", "1978", "1978", "colour card"),
        ("coat laid", "", "", "", ""),
        ("letter", "", "1975-06-14", "1975-06-14", ""),
        ("found", "", "2024", "", ""),
    ],
    links=[
        ("k1", "pigment sold", "coat laid", "0", "", "day", "it lies in the coat"),
        ("k2", "coat laid", "letter", "0", "", "day", ""),
    ],
)


def test_a_clash_is_named_and_told_in_words() -> None:
    reading = history_reading(CLASH)
    said = history_json(reading, (), CLASH)
    assert said["consistent"] is False
    assert said["conflicts"] == [["k1", "k2", "letter", "pigment sold"]]
    assert said["all_conflicts_found"] is True
    assert said["events"][1]["earliest"] is None
    assert said["events"][3]["earliest"] == "2024-01-01"
    assert clash_words(reading.clashes[0], CLASH) == (
        "letter: 1975-06-14",
        "pigment sold: 1978; colour card",
        "k1: coat laid is not before pigment sold; it lies in the coat",
        "k2: letter is not before coat laid",
    )
    assert said["order"] == [
        {"events": ["pigment sold"], "level": 0, "over": []},
        {"events": ["coat laid"], "level": 1, "over": ["pigment sold"]},
        {"events": ["letter"], "level": 2, "over": ["coat laid"]},
    ]


def test_the_same_folder_gives_the_same_result() -> None:
    assert history_json(history_reading(CLASH), (), CLASH) == history_json(
        history_reading(CLASH), (), CLASH
    )


@pytest.mark.parametrize(
    ("least", "most", "unit", "words"),
    [
        ("0", "", "day", "b is not before a"),
        ("1", "", "day", "b is at least 1 day after a"),
        ("", "3", "year", "b is at most 3 years after a"),
        ("2", "2", "month", "b is 2 months after a"),
        ("1", "3", "year", "b is 1 to 3 years after a"),
        ("", "", "day", "b and a lie any time apart"),
    ],
)
def test_links_in_words(least: str, most: str, unit: str, words: str) -> None:
    folder = car(events=[A, B], links=[("k", "a", "b", least, most, unit, "")])
    assert [link_words(row) for row in folder.sheet("event_links")] == [words]


def test_what_is_doubted_or_withdrawn_does_not_count() -> None:
    """Either mends the clash; the statement stays, with the reason."""
    events, links = CLASH.sheet("events"), CLASH.sheet("event_links")

    def with_standing(sheet: Sheet, at: int, standing: str, why: str) -> Sheet:
        rows = [(*row, "", "") for row in sheet.rows]
        rows[at] = (*sheet.rows[at], standing, why)
        return Sheet(columns=(*sheet.columns, *STANDING), rows=tuple(rows))

    card = with_standing(events, 0, "doubted", "the card is a reprint")
    doubted = CarFolder(sheets={"events": card, "event_links": links})
    said = history_json(history_reading(doubted), (), doubted)
    assert said["consistent"] is True
    assert said["set_aside"] == [
        {"name": "pigment sold", "standing": "doubted", "why": "the card is a reprint"}
    ]
    assert said["events"][0]["latest"] == "1975-06-14"
    letter = with_standing(links, 1, "withdrawn", "it speaks of the other wing")
    withdrawn = CarFolder(sheets={"events": events, "event_links": letter})
    assert history_reading(withdrawn).consistent
    silent = with_standing(links, 1, "withdrawn", "")
    (fault,) = check_across({"events": events, "event_links": silent})
    assert "standing_why" in str(fault)


def test_the_effect_of_leaving_a_statement_out_is_seen_without_writing_it() -> None:
    assert not history_reading(CLASH).consistent
    assert history_reading(CLASH, without=(("link", "k2"),)).consistent
    assert history_reading(CLASH, without=(("event", "letter"),)).consistent
    assert not history_reading(CLASH, without=(("event", "found"),)).consistent
