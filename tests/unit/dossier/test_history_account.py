"""The dossier's section on the history, its timeline and its order."""

from __future__ import annotations

import io
import json
import re
from datetime import date

import pikepdf
import pytest

from asfound.base import InputError
from asfound.dossier import make_dossier
from asfound.dossier.account import about_history, about_unknowns, history_figures
from asfound.dossier.computed import compute
from asfound.dossier.figures import strata, timeline_svg
from asfound.record.derived import history_reading
from asfound.record.folder import CarFolder, Sheet

DAY = date(2031, 5, 17)
A_LONG_NAME = "rear quarter let in along the whole of its lower edge and painted with the door"


def sheet(head: str, *rows: tuple[str, ...]) -> Sheet:
    return Sheet(columns=tuple(head.split(",")), rows=rows)


@pytest.fixture(scope="module")
def papers() -> CarFolder:
    """A card and a letter that clash, a chain that holds, and a link that is doubted."""
    return CarFolder(
        sheets={
            "car": sheet("marque,model,body_style,built", ("Orvelle", "Tansy", "saloon", "1957")),
            "events": sheet(
                "event,not_before,not_after,note",
                ("card", "1978", "1978", "colour card"),
                ("coat", "", "", ""),
                ("letter", "1975", "1975", ""),
                ("dented", "1958", "", ""),
                (A_LONG_NAME, "", "1979-10", ""),
                ("blown in", "", "", ""),
                ("sold", "1990", "", "seen <1990> & later"),
            ),
            "event_links": sheet(
                "id,from,to,min,max,unit,why,standing,standing_why",
                ("k1", "card", "coat", "0", "", "day", "in the coat", "", ""),
                ("k2", "coat", "letter", "0", "", "day", "", "", ""),
                ("k3", "dented", A_LONG_NAME, "0", "24", "month", "", "", ""),
                ("k4", A_LONG_NAME, "blown in", "0", "", "day", "", "", ""),
                ("k5", "sold", "dented", "0", "", "day", "", "doubted", "hearsay"),
            ),
        }
    )


def test_what_is_stated_stands_apart_from_what_follows(papers: CarFolder) -> None:
    told = about_history(papers, history_reading(papers))
    assert told["said"][0] == ["card", "1978", "colour card"]
    assert [row[0] for row in told["links"]] == ["k1", "k2", "k3", "k4"]
    assert told["dated"][0] == ["card", "clash", "–", "clash"]
    assert told["dated"][3][3] == "1979-10-31"
    assert told["clashes"] == [
        [
            "card: 1978; colour card",
            "letter: 1975",
            "k1: coat is not before card; in the coat",
            "k2: letter is not before coat",
        ]
    ]
    assert told["aside"] == [["k5", "dented is not before sold", "doubted: hearsay"]]


def test_the_section_is_set_and_its_result_attached(papers: CarFolder) -> None:
    pdf = pikepdf.open(io.BytesIO(make_dossier(papers, made_on=DAY)))
    said = json.loads(pdf.attachments["dates.json"].get_file().read_bytes())
    assert said["conflicts"] == [["card", "k1", "k2", "letter"]]
    assert make_dossier(papers, made_on=DAY) == make_dossier(papers, made_on=DAY)


def test_clashes_are_among_what_is_not_known(papers: CarFolder) -> None:
    computed = compute(papers, reading=None, result=None, progress=lambda _: None)
    told = "One clash of dates stayed open, told with the history: card, letter."
    assert told in about_unknowns(papers, computed)


def test_a_history_that_cannot_be_read_is_told_and_leaves_no_section() -> None:
    broken = CarFolder(sheets={"events": sheet("event,not_before", ("a", "soon"))})
    computed = compute(broken, reading=None, result=None, progress=lambda _: None)
    assert computed.history is None
    assert any("The history cannot be read" in words for words in about_unknowns(broken, computed))


def test_the_timeline_hatches_clashes_and_draws_links_on_demand(papers: CarFolder) -> None:
    reading = history_reading(papers)
    plain = timeline_svg(papers, reading)
    assert plain.count("url(#clash-wide)") == 3  # two windows that clash, and the key
    assert "open, and part of a clash" in plain
    assert ">k3<" not in plain
    drawn = timeline_svg(papers, reading, links_of="dented")
    assert ">k3<" in drawn
    assert ">k5<" in drawn
    assert ">k4<" not in drawn
    assert " style=" not in drawn
    assert plain == timeline_svg(papers, reading)


def test_bars_lie_where_their_years_are(papers: CarFolder) -> None:
    """The year of the card lies three years right of the letter's, on the drawing's own scale."""
    svg = timeline_svg(papers, history_reading(papers), theme="print")
    years = {int(t): float(x) for x, t in re.findall(r'<text x="([\d.]+)"[^>]*>(\d{4})<', svg)}
    per_year = (years[1990] - years[1960]) / 30
    bars = re.findall(r'<rect x="([\d.]+)"[^>]*width="([\d.]+)"[^>]*fill="url', svg)
    (letter, wide), (card, _), *_ = [(float(x), float(w)) for x, w in bars]
    assert card - letter == pytest.approx(3 * per_year, abs=0.2)
    assert wide == pytest.approx(per_year, abs=0.2)
    assert letter == pytest.approx(years[1960] + 15 * per_year, abs=0.2)


def test_names_lead_somewhere_only_where_an_address_is_given(papers: CarFolder) -> None:
    reading = history_reading(papers)
    assert "<a " not in timeline_svg(papers, reading)
    led = timeline_svg(papers, reading, shape="narrow", address=lambda event: f"?of={event[:4]}")
    assert 'href="?of=card"' in led


def test_what_is_no_event_is_refused(papers: CarFolder) -> None:
    with pytest.raises(InputError, match="sold again"):
        timeline_svg(papers, history_reading(papers), links_of="sold again")
    nothing = CarFolder()
    with pytest.raises(InputError, match="the car has none"):
        timeline_svg(nothing, history_reading(nothing))


def test_later_stands_above_earlier(papers: CarFolder) -> None:
    pieces = strata(history_reading(papers).order, clashing=frozenset({"card", "coat", "letter"}))
    assert [piece.title for piece in pieces] == ["Below letter", "Below blown in"]
    for piece, upward in zip(
        pieces, (("card", "coat", "letter"), ("dented", "rear quarter", "blown in")), strict=True
    ):
        at = [
            float(re.search(rf'y="([\d.]+)"[^>]*>{name}', piece.svg)[1])  # type: ignore[index]
            for name in upward
        ]
        assert at == sorted(at, reverse=True)
    assert pieces[0].svg.count(">clash<") == 3
    assert "clash" not in pieces[1].svg


def test_figures_are_named_for_the_section(papers: CarFolder) -> None:
    figures = history_figures(papers, history_reading(papers))
    assert list(figures) == ["timeline-0.svg", "strata-0.svg", "strata-1.svg"]


def test_many_events_are_drawn_in_parts_of_one_scale() -> None:
    rows = [(f"e{i:03d}", str(1900 + i), str(1901 + i)) for i in range(100)]
    links = [(f"k{i}", f"e{i:03d}", f"e{i + 1:03d}", "0", "", "day") for i in range(99)]
    car = CarFolder(
        sheets={
            "events": sheet("event,not_before,not_after", *rows),
            "event_links": sheet("id,from,to,min,max,unit", *links),
        }
    )
    reading = history_reading(car)
    figures = history_figures(car, reading)
    assert list(figures) == ["timeline-0.svg", "timeline-1.svg", "timeline-2.svg"]
    first, last = figures["timeline-0.svg"], figures["timeline-2.svg"]
    assert ">e039<" in first
    assert ">e040<" not in first
    assert ">e080<" in last
    axis = re.compile(r'<text x="([\d.]+)"[^>]*>(\d{4})<')
    assert axis.findall(first) == axis.findall(last)
    (chain,) = strata(reading.order)
    assert (chain.svg, chain.boxes_n) == ("", 100)
    with pytest.raises(InputError, match="0 to 2"):
        timeline_svg(car, reading, part=3)
    make_dossier(car, made_on=DAY)
