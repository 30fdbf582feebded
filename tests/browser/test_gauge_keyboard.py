"""A gauge that types like a keyboard: no number of it is lost, doubled, or run into another."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect
from tests.browser.test_entry import kept, open_panel, tap  # noqa: F401

from asfound.record.models import Car, Observation

pytestmark = pytest.mark.django_db(transaction=True)
_SAID = "[data-unsent-said]"


def burst(page: Page, text: str) -> None:
    """Keys as a gauge sends them; its Tab comes with its digits, however slow this machine is."""
    if "\t" not in text:
        page.keyboard.type(text)
        return
    page.evaluate(
        """text => {
          for (const number of text.split("\\t").slice(0, -1)) {
            document.execCommand("insertText", false, number);
            const tab = { key: "Tab", bubbles: true, cancelable: true };
            document.activeElement.dispatchEvent(new KeyboardEvent("keydown", tab));
          }
        }""",
        text,
    )


@pytest.mark.parametrize("end", ["\n", "\t"])
def test_three_numbers_are_a_spot_however_each_ends(page: Page, open_panel, end: str) -> None:  # noqa: F811
    open_panel("scuttle")
    tap(page, 0.3, 0.4)
    burst(page, f"480,5 µm{end}483 µm{end}481{end}")
    expect(page.locator(_SAID)).to_have_text("Spot 1: 3 readings kept.")
    assert kept("scuttle") == [("1", 480.5), ("1", 481), ("1", 483)]
    expect(page.get_by_label("1st µm")).to_be_focused()


def test_a_hand_leaves_the_numbers_with_tab_as_anywhere(page: Page, open_panel) -> None:  # noqa: F811
    open_panel("scuttle")
    tap(page, 0.3, 0.4)
    for number, label in (("480", "1st µm"), ("483", "2nd µm"), ("481", "3rd µm")):
        expect(page.get_by_label(label)).to_be_focused()
        page.keyboard.type(number)
        page.wait_for_timeout(120)
        page.keyboard.press("Tab")
    expect(page.get_by_role("button", name="Keep", exact=True)).to_be_focused()
    assert kept("scuttle") == []


def test_a_number_too_many_is_not_put_behind_another(page: Page, open_panel) -> None:  # noqa: F811
    open_panel("scuttle")
    page.get_by_label("1st µm").focus()
    burst(page, "480\n483\n481\n495\n")
    expect(page.get_by_label("3rd µm")).to_have_value("481")
    expect(page.locator(_SAID)).to_contain_text("Not taken")
    tap(page, 0.3, 0.4)
    burst(page, "501\n")
    expect(page.get_by_label("1st µm")).to_have_value("480")
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.locator(_SAID)).to_have_text("Spot 1: 3 readings kept.")
    assert kept("scuttle") == [("1", 480), ("1", 481), ("1", 483)]


def test_two_numbers_in_one_burst_go_to_two_boxes(page: Page, open_panel) -> None:  # noqa: F811
    open_panel("scuttle")
    tap(page, 0.3, 0.4)
    burst(page, "480 µm 483 µm\n")
    expect(page.get_by_label("2nd µm")).to_have_value("483 µm")
    expect(page.get_by_label("3rd µm")).to_be_focused()
    burst(page, "1 234\n")
    page.get_by_role("button", name="1234 µm", exact=True).click()
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.locator(_SAID)).to_have_text("Spot 1: 3 readings kept.")
    assert kept("scuttle") == [("1", 480), ("1", 483), ("1", 1234)]


def test_what_is_pasted_in_lines_is_not_run_together(page: Page, open_panel) -> None:  # noqa: F811
    open_panel("scuttle")
    tap(page, 0.3, 0.4)
    page.get_by_label("1st µm").evaluate(
        """box => {
          const told = new DataTransfer();
          told.setData("text", "480\\n483\\r\\n481");
          const how = { clipboardData: told, bubbles: true, cancelable: true };
          box.dispatchEvent(new ClipboardEvent("paste", how));
        }"""
    )
    expect(page.get_by_label("3rd µm")).to_have_value("481")
    burst(page, "\n")
    expect(page.locator(_SAID)).to_have_text("Spot 1: 3 readings kept.")


def test_a_number_that_finds_no_field_goes_to_the_first_empty_one(page: Page, open_panel) -> None:  # noqa: F811
    open_panel("scuttle")
    page.evaluate("document.activeElement.blur()")
    burst(page, "480\n")
    expect(page.get_by_label("1st µm")).to_have_value("480")
    expect(page.locator("[data-spot-line]")).to_contain_text("480 µm: which spot?")
    page.get_by_role("button", name="Keep", exact=True).focus()
    burst(page, "483")
    expect(page.get_by_label("2nd µm")).to_have_value("483")


def test_an_end_of_line_of_two_keys_leaves_no_box_out(page: Page, car: Car, at) -> None:
    at("polish-panel", "bonnet")
    page.get_by_label("spot", exact=True).select_option("B3")
    page.get_by_label("after, 1st").focus()
    burst(page, "480\n\n482\n\n484\n\n")
    expect(page.locator(_SAID)).to_contain_text("Kept: spot B3")
    assert [one.cells["after_um"] for one in Observation.objects.all()] == ["482"]


def test_three_numbers_of_a_colour_meter_come_in_one_burst(page: Page, car: Car, at) -> None:
    at("enter-colour")
    page.goto(f"{page.url}?panel=bonnet&x=200&y=150")
    page.get_by_label("L*", exact=True).focus()
    burst(page, "45.2 -13.1 18\n")
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.locator(_SAID)).to_contain_text("Kept: L* 45.2, a* -13.1, b* 18")
