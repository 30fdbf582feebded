"""What the demo says: each finding in words, set so that it can be read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np
import pytest
from shapely import box

from asfound.base import Estimate
from asfound.choose import Choice
from asfound.demo import demo_folder
from asfound.demo.accounts import new_accounts
from asfound.demo.findings import Contested, Findings, Limit
from asfound.demo.talk import told_of_accounts, told_of_choice, told_of_survey
from asfound.measure.film import FilmReading, Kind, LaterWorkArea, NextSpot, PanelReading, Surface

EMPTY = np.zeros((0, 0))
NOWHERE = Surface(x_mm=np.zeros(0), y_mm=np.zeros(0), film_um=EMPTY, u_um=EMPTY, p_later_work=EMPTY)


def panel(name: str, lr: float, kinds: Mapping[Kind, float]) -> PanelReading:
    return PanelReading(
        panel=name,
        spots_n=9,
        median_um=470.0,
        spread_um=20.0,
        p_later_work=lr / (lr + 9),
        lr_later_work=lr,
        kinds=kinds,
        spots=(),
        areas=(),
        surface=NOWHERE,
    )


@pytest.fixture
def reading() -> FilmReading:
    return FilmReading(
        level_um=Estimate(value=471.6, u=8.4),
        gauges=(),
        panels=(
            panel("bonnet", 0.05, {}),
            panel("left sill", 1.2, {}),
            panel("left door", 20_000.0, {"filler": 0.97, "local respray": 0.9}),
            panel("right door", 3.0, {"polished thin": 0.2}),
        ),
        next_spots=(NextSpot(panel="boot lid", x_mm=120.4, y_mm=88.0, gain_bits=0.3),),
    )


@pytest.fixture
def findings() -> Findings:
    return Findings(
        choice=Choice(
            options={"dashboard": "clean"},
            kept=0.8964,
            cost=6_945.0,
            hours={"mechanic": 194.25},
            lowest_grade=2.0,
            proved=True,
            gap=0.0,
        ),
        limits=(
            Limit(name="cost", taken=6_945.0, most=7_000.0, gain_kept=0.0042),
            Limit(name="painter", taken=12.0, most=165.0, gain_kept=0.0),
        ),
        contested=(
            Contested(
                subject="dashboard",
                option="clean",
                with_less="clean",
                with_more="amalgamate the lacquer",
                step=350.0,
            ),
        ),
    )


def line_with(text: str, words: str) -> str:
    return next(line for line in text.splitlines() if words in line)


def test_the_survey_is_told(reading: FilmReading) -> None:
    text = told_of_survey(demo_folder(), reading)
    assert "Tessivane Meridel" in text
    assert "472 µm" in text
    assert "uncertainty 8 µm" in text
    assert "boot lid" in line_with(text, "x 120")


def test_only_panels_that_speak_for_later_work_are_named(reading: FilmReading) -> None:
    text = told_of_survey(demo_folder(), reading)
    door = line_with(text, "left door")
    assert "filler and local respray" in door
    assert "very strong" in door
    assert "1.00" in door
    assert "weak" in line_with(text, "right door")
    assert "bonnet" not in text
    assert "The other 2 panels" in text


def test_a_kind_that_only_an_outline_shows_is_named_too(reading: FilmReading) -> None:
    square = box(0, 0, 100, 100)
    area = LaterWorkArea(kind="filler", probability=0.9, outline=square)
    door = replace(panel("left door", 5_000.0, {"local respray": 0.9}), areas=(area,))
    text = told_of_survey(demo_folder(), replace(reading, panels=(door,)))
    assert "local respray and filler" in text


def test_the_choice_is_told(findings: Findings) -> None:
    text = told_of_choice(demo_folder(), findings)
    assert "Keeps 89.6%" in text
    assert "no better choice exists" in text
    assert "with 350 EUR more: amalgamate the lacquer" in text
    assert "350 EUR less" not in text


def test_a_limit_is_said_to_bind_only_if_lifting_it_keeps_more(findings: Findings) -> None:
    text = told_of_choice(demo_folder(), findings)
    assert "binds: without it 0.4% more" in line_with(text, "7,000 EUR")
    assert "binds" not in line_with(text, "painter")


def test_lines_fit_a_terminal_and_end_clean(reading: FilmReading, findings: Findings) -> None:
    car = demo_folder()
    for line in (
        *told_of_survey(car, reading).splitlines(),
        *told_of_choice(car, findings).splitlines(),
    ):
        assert len(line) <= 100
        assert line == line.rstrip()


def test_passwords_are_new_each_time_and_long_enough() -> None:
    one, other = new_accounts(), new_accounts()
    assert [account.name for account in one] == ["demo-head", "demo-trimmer", "demo-owner"]
    passwords = {account.password for account in (*one, *other)}
    assert len(passwords) == 6
    assert all(len(password.replace("-", "")) == 12 for password in passwords)


def test_accounts_are_told_with_their_address() -> None:
    accounts = new_accounts()
    text = told_of_accounts("http://127.0.0.1:8000/", accounts)
    assert "http://127.0.0.1:8000/" in text
    for account in accounts:
        assert account.password in line_with(text, f"  {account.name} ")


def test_a_brief_that_cannot_be_met_is_told_with_what_clashes(findings: Findings) -> None:
    clash = ("cost at most 100", "hours of mechanic at most 2")
    text = told_of_choice(demo_folder(), replace(findings, choice=None, clash=clash))
    assert "Nothing satisfies the brief" in text
    assert all(words in text for words in clash)
    assert "Contested" not in text
