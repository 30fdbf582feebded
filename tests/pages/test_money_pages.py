"""The room of money: who sees what, documents with their papers, payments, rates, exports."""

from __future__ import annotations

import html
import io
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import openpyxl
import pikepdf
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse
from django.utils import timezone
from tests.pages.conftest import Cast
from tests.pages.small_car import small_car

from asfound.exchange import read_folder, write_folder
from asfound.record.actions import (
    add_observations,
    load_car,
    open_kept_file,
    set_sheet,
    withdraw_observation,
    withdraw_release,
)
from asfound.record.actions.money import agree_rates, enter_document, set_money
from asfound.record.as_files import for_owner
from asfound.record.convert.stored import folder_of
from asfound.record.models import MoneySettings, Proposal, Signature

COST, CHARGED, NET, MARKED_UP = "41.37", "55.00", "812.34", "934.19"
INVOICE = {
    "kind": "invoice",
    "supplier": "Halder Plating",
    "number": "R-17",
    "dated": "2024-04-05",
    "subject": "car",
    "net": NET,
    "charged_net": MARKED_UP,
    "tax_percent": "20",
    "what": "plate the rims",
}
TYPED = {
    **{name: INVOICE[name] for name in ("kind", "supplier", "dated", "net", "tax_percent")},
    "number": "R-18",
    "key": "once",
}


@pytest.fixture
def money(cast: Cast, settings, tmp_path: Path) -> Cast:
    settings.ASFOUND_HOME = tmp_path
    set_money(
        currency="EUR",
        name="Invented Works",
        tax_rates=[
            {"name": "standard", "percent": "20", "from_on": "2020-01-01"} | {"charged": "yes"}
        ],
        charge_rates=[{"trade": "trimmer", "rate": CHARGED}],
        cost_rates={"trimmer": COST},
        markup_percent=Decimal("15"),
        by=None,
    )
    agree_rates(car=cast.car, by=None)
    tasks = [
        {"task": "S1", "name": "Re-sew", "trade": "trimmer", "hours_low": "1"}
        | {"hours_likely": "10", "hours_high": "20", "subject": "seats"}
    ]
    set_sheet(car=cast.car, table="tasks", rows=tasks, by=None)
    enter_document(car=cast.car, lines=[INVOICE], by=None)
    return cast


def room(cast: Cast, name: str = "money", *more: object) -> str:
    return reverse(name, args=(cast.car.slug, *more))


def page(client: Client, address: str) -> str:
    answer = client.get(address)
    assert answer.status_code == 200, answer.content[:300]
    return html.unescape(answer.content.decode())


def test_the_head_sees_the_account_and_what_is_earned(money: Cast) -> None:
    shown = page(money.head, room(money))
    assert "Earned so far" in shown
    assert "121.85" in shown  # 934.19 charged for what cost 812.34
    assert "Invoice R-17, Halder Plating" in shown
    assert "550.00" in shown  # ten hours at 55


def test_the_owner_sees_the_account_without_supplier_cost_or_margin(money: Cast) -> None:
    shown = page(money.owner, room(money)) + page(money.owner, f"{room(money)}?by=supplier")
    assert "934.19" in shown
    for hidden in ("Earned", "Halder", NET, COST, "121.85", "Enter a payment"):
        assert hidden not in shown


def test_an_owner_to_whom_money_is_not_released_does_not_see_it(money: Cast) -> None:
    withdraw_release(car=money.car, room="money", reason="not yet", by=money.head_person.user)
    answers = [
        money.owner.get(room(money, name))
        for name in ("money", "money-csv", "money-xlsx", "money-statement")
    ]
    assert not any(MARKED_UP in answer.content.decode("latin-1") for answer in answers)
    assert {answer.status_code for answer in answers} <= {403, 404}
    assert (
        room(money) not in money.owner.get(reverse("car", args=(money.car.slug,))).content.decode()
    )


def test_craftspeople_see_it_only_where_the_head_opens_it_and_never_the_margin(
    money: Cast,
) -> None:
    for name in ("money", "add-document", "money-csv", "money-xlsx", "money-json", "add-payment"):
        assert money.craft.get(room(money, name)).status_code == 403
    log = page(money.craft, room(money, "log"))
    assert NET not in log
    assert "purchases" not in log
    set_money(open_to_craft=True, by=None)
    shown = page(money.craft, room(money))
    assert "Invoice R-17" in shown
    for hidden in ("Earned", COST, "121.85"):
        assert hidden not in shown
    assert money.craft.get(reverse("money-settings")).status_code == 403
    assert money.craft.post(room(money, "agree-rates")).status_code == 403


def test_a_stranger_finds_nothing(money: Cast) -> None:
    for name in ("money", "money-csv", "money-statement"):
        assert money.stranger.get(room(money, name)).status_code == 404
        assert money.nobody.get(room(money, name)).status_code == 302


def test_what_an_hour_costs_is_in_no_folder_log_or_document(money: Cast, tmp_path: Path) -> None:
    folder = folder_of(money.car)
    write_folder(folder, tmp_path / "car", open_file=open_kept_file)
    written = "".join(p.read_text() for p in (tmp_path / "car").rglob("*") if p.is_file())
    assert COST not in written
    assert NET in written
    logged = "".join(f"{e.before}{e.after}" for e in type(money.car.entries.first()).objects.all())
    assert COST not in logged
    assert read_folder(tmp_path / "car").sheet("purchases") == folder.sheet("purchases")


def test_the_folder_for_the_owner_tells_no_supplier_and_no_rate(
    money: Cast, tmp_path: Path
) -> None:
    errand = {"part": "P1", "to": "Halder Plating", "work": "strip", "sent_on": "2024-03-12"}
    errand |= {"cost": NET, "paper": "papers/a.pdf"}
    add_observations(car=money.car, table="errands", rows=[errand], by=None)
    write_folder(for_owner(folder_of(money.car)), tmp_path / "car", open_file=open_kept_file)
    names = {path.name for path in (tmp_path / "car").iterdir()}
    assert "tasks.csv" in names
    assert not names & {"purchases.csv", "charge_rates.csv", "material_prices.csv"}
    written = "".join(p.read_text() for p in (tmp_path / "car").rglob("*") if p.is_file())
    assert "P1,Halder Plating,strip,2024-03-12" in written  # who worked on it, and no price
    for hidden in (NET, MARKED_UP, CHARGED, "papers/a.pdf", "R-17"):
        assert hidden not in written


def test_the_statement_holds_what_is_charged_and_its_lines(money: Cast) -> None:
    answer = money.owner.get(room(money, "money-statement"))
    assert answer.status_code == 200
    with pikepdf.open(io.BytesIO(answer.content)) as pdf:
        assert "account.csv" in pdf.attachments
        lines = pdf.attachments["account.csv"].get_file().read_bytes().decode()
        assert MARKED_UP in lines
        assert str(pdf.open_metadata()["pdfaid:part"]) == "3"
        whole = lines + "".join(
            bytes(page.Contents.read_bytes()).decode("latin-1") for page in pdf.pages
        )
    for hidden in (NET, COST, "Halder", "121.85"):
        assert hidden not in whole


def test_csv_and_spreadsheet_come_to_the_same_sum(money: Cast) -> None:
    rows = money.head.get(room(money, "money-csv")).content.decode().split("\r\n")
    assert any(f"{MARKED_UP},20,EUR" in row for row in rows)
    book = openpyxl.load_workbook(io.BytesIO(money.head.get(room(money, "money-xlsx")).content))
    assert book.sheetnames == ["account", "purchases"]
    head, *cells = book["account"].iter_rows(values_only=True)
    amounts = {row[head.index("what")]: row[head.index("amount")] for row in cells}
    assert amounts["plate the rims"] == float(MARKED_UP)
    owners = money.owner.get(room(money, "money-xlsx")).content
    assert openpyxl.load_workbook(io.BytesIO(owners)).sheetnames == ["account"]
    assert "Halder" not in money.owner.get(room(money, "money-csv")).content.decode()


def test_a_cell_of_the_spreadsheet_is_never_a_formula(money: Cast) -> None:
    sly = {**INVOICE, "number": "R-19", "what": '=HYPERLINK("x")'}
    enter_document(car=money.car, lines=[sly], by=None)
    book = openpyxl.load_workbook(io.BytesIO(money.head.get(room(money, "money-xlsx")).content))
    kinds = {cell.data_type for row in book["purchases"].iter_rows() for cell in row}
    assert "f" not in kinds


def test_an_invoice_with_its_paper_is_kept_once(money: Cast) -> None:
    def sent() -> dict[str, object]:
        paper = SimpleUploadedFile("invoice.pdf", b"%PDF-1.7 invented", "application/pdf")
        return {**TYPED, "subject": "", "total": "974.81", "paper": paper}

    for _ in range(2):
        answer = money.head.post(room(money, "add-document"), sent())
        assert answer.status_code == 302, answer.content.decode()[:2000]
    rows = money.car.observations.current().filter(table="purchases", cells__number="R-18")
    assert rows.count() == 1
    one = rows.get()
    assert one.cells["charged_net"] == MARKED_UP
    assert one.cells["subject"] == "car"
    name = one.cells["paper"].partition("/")[2]
    address = room(money, "money-paper", one.pk, name)
    assert b"".join(money.head.get(address).streaming_content) == b"%PDF-1.7 invented"
    assert money.owner.get(address).status_code == 403
    assert money.craft.get(address).status_code == 403


def test_several_lines_are_one_document(money: Cast) -> None:
    sent = {**TYPED, "net": "100", "subject": "seats", "net_2": "50,50", "what_2": "post"}
    assert money.head.post(room(money, "add-document"), sent).status_code == 302
    rows = money.car.observations.current().filter(cells__number="R-18").order_by("position")
    assert [(r.cells["subject"], r.cells["net"]) for r in rows] == [
        ("seats", "100"),
        ("car", "50.50"),
    ]
    shown = page(money.head, room(money, "money-document", rows[0].pk))
    assert "150.50" in shown


@pytest.mark.source("EN 16931-1, BR-CO-10 to BR-CO-17: one sum and one tax a rate")
@pytest.mark.from_memory
def test_two_rates_stand_on_one_invoice_and_its_page_sums_each(money: Cast) -> None:
    """100.00 at 20 % and 50.50 at none: tax 20.00, with tax 170.50."""
    sent = {**TYPED, "net": "100", "net_2": "50,50", "tax_percent_2": "0", "total": "170.50"}
    answer = money.head.post(room(money, "add-document"), sent)
    assert answer.status_code == 302, answer.content.decode()
    rows = money.car.observations.current().filter(cells__number="R-18").order_by("position")
    assert [row.cells["tax_percent"] for row in rows] == ["20", "0"]
    shown = page(money.head, room(money, "money-document", rows[0].pk))
    for told in ("tax on 100.00", "tax on 50.50", "170.50"):
        assert told in shown


@pytest.mark.parametrize(
    ("currency", "rate", "typed", "gross", "wrong"),
    [
        ("JPY", "10", ("1005", "204"), "1,330", "1005.5"),
        ("CHF", "8.1", ("99.95", "0.05"), "108.10", "99.955"),
        ("KWD", "5", ("10.125", "0.001"), "10.632", "10.1255"),
    ],
)
def test_other_currencies_are_counted_in_their_own_units(
    money: Cast, currency: str, rate: str, typed: tuple[str, str], gross: str, wrong: str
) -> None:
    """1,209 yen bear 120.9, which is 121; 100.00 francs bear 8.10; 10.126 dinars bear 0.506."""
    set_money(
        currency=currency,
        name="Invented Works",
        tax_rates=[
            {"name": "standard", "percent": rate, "from_on": "2020-01-01", "charged": "yes"}
        ],
        charge_rates=[],
        cost_rates={},
        markup_percent=Decimal(0),
        by=None,
    )
    folder = small_car()
    sheet = folder.sheet("car")
    place = sheet.columns.index("currency")
    (cells,) = sheet.rows
    there = replace(sheet, rows=((*cells[:place], currency, *cells[place + 1 :]),))
    folder = replace(folder, sheets={**folder.sheets, "car": there})
    car = load_car(folder=folder, by=None, slug="other")
    agree_rates(car=car, by=None)
    address = reverse("add-document", args=(car.slug,))
    sent = {**TYPED, "tax_percent": rate, "net": typed[0], "net_2": typed[1]}
    refused = money.head.post(address, {**sent, "net": wrong})
    assert refused.status_code == 422
    assert f"an amount in {currency} has" in html.unescape(refused.content.decode())
    answer = money.head.post(address, {**sent, "total": gross.replace(",", "")})
    assert answer.status_code == 302, answer.content.decode()
    row = car.observations.current().filter(table="purchases").first()
    shown = page(money.head, reverse("money-document", args=(car.slug, row.pk)))
    assert gross.replace(",", "\N{NARROW NO-BREAK SPACE}") in shown


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ({"number": "r-17"}, "is entered already"),
        ({"total": "900.00"}, "with tax come to 974.81"),
        ({"follows": "O-9"}, "no other document of Halder Plating has this number"),
        ({"net": "many"}, "net is “many”"),
        ({"subject": "no such piece"}, "The car has no piece “no such piece”"),
        ({"tax_percent": "7"}, "7 is not one of the available choices"),
    ],
)
def test_a_document_that_cannot_be_is_refused_and_nothing_is_written(
    money: Cast, typed: dict[str, str], told: str
) -> None:
    answer = money.head.post(room(money, "add-document"), {**TYPED, **typed})
    assert answer.status_code == 422
    assert told in html.unescape(answer.content.decode())
    assert money.car.observations.filter(table="purchases").count() == 1


def test_a_line_is_corrected_and_a_document_withdrawn_with_reasons(money: Cast) -> None:
    one = money.car.observations.get(table="purchases")
    sent = {**INVOICE, "net": "800", "reason": "read wrongly", "step": "correct"}
    assert money.head.post(room(money, "correct-money", one.pk), sent).status_code == 302
    now = money.car.observations.current().get(table="purchases")
    # 15 % are added to what the supplier asks, before and after: 800 × 1.15.
    assert (now.cells["net"], now.cells["charged_net"]) == ("800", "920.00")
    shown = page(money.head, room(money, "money-document", one.pk))
    assert "read wrongly" in shown
    withdraw = room(money, "withdraw-document", now.pk)
    money.head.post(withdraw, {"reason": ""})
    assert money.car.observations.current().filter(table="purchases").exists()
    money.head.post(withdraw, {"reason": "of another car"})
    assert not money.car.observations.current().filter(table="purchases").exists()


def test_a_payment_is_kept_and_taken_off(money: Cast) -> None:
    sent = {"kind": "advance", "amount": "121.03", "paid_on": "2024-03-01", "key": "p"}
    assert money.head.post(room(money, "add-payment"), sent).status_code == 302
    again = money.head.post(
        room(money, "add-payment"), sent, headers={"Accept": "application/json"}
    )
    assert again.json() == {"next": room(money)}  # as a device sends what waited; kept already
    assert "1 000.00".replace(" ", "\N{NARROW NO-BREAK SPACE}") in page(money.owner, room(money))
    assert money.owner.post(room(money, "add-payment"), sent).status_code == 403
    row = money.car.observations.get(table="payments")
    sent = {"kind": "advance", "amount": "21.03", "paid_on": "2024-03-01"}
    sent |= {"step": "correct", "reason": "one too many"}
    assert money.head.post(room(money, "correct-money", row.pk), sent).status_code == 302
    assert money.car.observations.current().get(table="payments").cells["amount"] == "21.03"


def test_rates_are_kept_by_the_head_and_taken_over_by_a_car(money: Cast) -> None:
    address = reverse("money-settings")
    assert COST in page(money.head, address)
    typed = {
        **{"name": "Works", "address": "1 Invented Lane", "currency": "eur", "markup_percent": "0"},
        **{"rate_trade": ["trimmer", "painter"], "rate_rate": ["60", "48,50"]},
        **{"rate_cost": ["42", ""], "rate_from_on": ["", ""]},
        **{"tax_name": ["standard"], "tax_percent": ["21"], "tax_from_on": ["2024-01-01"]},
        **{"tax_until_on": [""], "tax_charged": ["yes"]},
    }
    assert money.owner.post(address, typed).status_code == 403
    assert money.head.post(address, typed).status_code == 302
    assert "48.50" in page(money.head, address)
    assert "600.00" not in page(money.head, room(money))
    money.head.post(room(money, "agree-rates"))
    assert "600.00" in page(money.head, room(money))


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ({"currency": "EURO"}, "at most 3"),
        ({"currency": "XYZ"}, "ISO 4217"),
        (
            {
                "rate_trade": ["trimmer"],
                "rate_rate": ["-5"],
                "rate_cost": [""],
                "rate_from_on": [""],
            },
            "cannot be negative",
        ),
        (
            {
                "rate_trade": ["trimmer"],
                "rate_rate": ["5"],
                "rate_cost": ["-1"],
                "rate_from_on": [""],
            },
            "must be 0 or more",
        ),
        (
            {
                "tax_name": ["odd"],
                "tax_percent": ["120"],
                "tax_from_on": ["2024-01-01"],
                "tax_until_on": [""],
                "tax_charged": [""],
            },
            "100 % or less",
        ),
    ],
)
def test_settings_that_cannot_be_are_refused(
    money: Cast, typed: dict[str, object], told: str
) -> None:
    before = MoneySettings.objects.count()
    sent = {"name": "", "address": "", "currency": "EUR", "markup_percent": "0", **typed}
    answer = money.head.post(reverse("money-settings"), sent)
    assert answer.status_code == 422
    assert told in html.unescape(answer.content.decode())
    assert MoneySettings.objects.count() == before


def test_the_room_asks_the_database_few_questions(
    money: Cast, django_assert_max_num_queries
) -> None:
    with django_assert_max_num_queries(40):
        page(money.head, room(money))


def test_a_withdrawn_line_counts_again_unless_it_was_entered_again(money: Cast) -> None:
    one = money.car.observations.get(table="purchases")
    address = reverse("undo", args=(money.car.slug, "observation", one.pk))
    withdraw_observation(observation=one, reason="a slip", by=None)
    assert money.craft.post(address).status_code == 403
    enter_document(car=money.car, lines=[INVOICE], by=None)
    money.head.post(address)
    assert money.car.observations.current().filter(table="purchases").count() == 1
    again = money.car.observations.current().get(table="purchases")
    withdraw_observation(observation=again, reason="entered twice", by=None)
    money.head.post(address)
    one.refresh_from_db()
    assert one.counts


def test_a_signed_change_order_tells_what_it_changed(money: Cast) -> None:
    def proposal(number: int, hours: float, effect: dict[str, object] | None, follows=None):
        content = {"pieces": [], "sums": {"hours": {"trimmer": hours}}, "effect": effect}
        made = Proposal.objects.create(
            car=money.car,
            number=number,
            follows=follows,
            title=f"Paper {number}",
            content=content,
            document_sha256="0" * 64,
            document_size=1,
            sent_at=timezone.now(),
        )
        Signature.objects.create(
            proposal=made,
            typed_name="A. Invented",
            document_sha256="0" * 64,
            signed_sha256="0" * 64,
            signed_size=1,
            signed_at=timezone.now(),
            by=money.head_person.user,
        )
        return made

    first = proposal(1, 10, None)
    proposal(2, 14, {"cost": 80.0, "hours": 4.0, "days": 2}, follows=first)
    shown = page(money.owner, room(money))
    assert "2: Paper 2" in shown
    assert "Paper 1" not in shown
    assert "+300 EUR" in shown  # 80 for material, and four hours at 55
    assert money.owner.get(room(money, "money-statement")).status_code == 200
