import time
from concurrent.futures import ThreadPoolExecutor

import pytest
from tests.unit.record.conftest import small_folder

from asfound.record.derived import ChoiceResult, choice, choice_result, film_reading, kept
from asfound.record.faults import InputFaultsError
from asfound.record.folder import Sheet

pytestmark = pytest.mark.usefixtures("clean_cache")


def _options(*, safe: str) -> Sheet:
    options = small_folder().sheet("options")
    return Sheet(columns=options.columns, rows=(*options.rows[:2], (*options.rows[2][:6], safe)))


def test_the_choice_is_computed_once_and_again_when_an_input_changes(monkeypatch):
    asked: list[float] = []

    def count(folder, points):
        asked.append(points)
        return ChoiceResult(choice=None, clash=("nothing",))

    monkeypatch.setattr(choice, "_choose", count)
    folder = small_folder()
    assert choice_result(folder) == choice_result(folder)
    assert len(asked) == 1
    choice_result(small_folder(lift={"unused": 1}))
    assert len(asked) == 1
    choice_result(small_folder(brief={"cost_max": 50}))
    choice_result(folder, points=5)
    assert len(asked) == 3


def test_a_choice_comes_back_from_the_cache_as_it_was():
    folder = small_folder(sheets={"options": _options(safe="yes")})
    first, second = choice_result(folder), choice_result(folder)
    assert first == second
    assert first.choice.options == {"bonnet": "clean", "roof": "leave"}
    assert first.choice.kept == 1


def test_what_clashes_is_kept_too():
    result = choice_result(small_folder(sheets={"options": _options(safe="no")}))
    assert result.choice is None
    assert any("roof" in words for words in result.clash)


def test_a_car_without_readings_or_options_is_refused():
    with pytest.raises(InputFaultsError):
        film_reading(small_folder(sheets={}))
    with pytest.raises(InputFaultsError):
        choice_result(small_folder(sheets={}))


def test_a_reading_of_the_finish_comes_back_from_the_cache():
    folder = small_folder()
    first, second = film_reading(folder), film_reading(folder)
    assert [panel.panel for panel in second.panels] == ["bonnet", "roof"]
    assert first.level_um == second.level_um


def test_two_who_ask_at_once_have_it_computed_once(monkeypatch):
    asked: list[float] = []

    def slow(folder, points):
        asked.append(points)
        time.sleep(0.2)
        return ChoiceResult(choice=None, clash=("nothing",))

    monkeypatch.setattr(choice, "_choose", slow)
    with ThreadPoolExecutor(4) as threads:
        found = list(threads.map(choice_result, [small_folder()] * 4))
    assert len(asked) == 1
    assert found == [found[0]] * 4
    assert not kept._locks
