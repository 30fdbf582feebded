"""The demo, step after step, each told as soon as it is done."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import click
from django.conf import settings
from django.utils import timezone

from asfound.demo import shelf, write, write_small_job
from asfound.demo.accounts import Account
from asfound.demo.days import Days
from asfound.demo.findings import find
from asfound.demo.talk import (
    told_of_accounts,
    told_of_choice,
    told_of_places,
    told_of_plan,
    told_of_survey,
)
from asfound.dossier import make_dossier
from asfound.exchange.photographs import picture_on_shelf
from asfound.record.convert.stored import folder_of
from asfound.record.derived import choice_result, film_reading
from asfound.record.models import Car
from asfound.record.reads.shop_plan import adopted_shop

_INVENTED = "Everything here is invented: the marques, the cars, their people and every reading."


def show_car(out: Path | None) -> tuple[Account, ...]:
    """Load the cars, tell what was found, write their folders and a dossier into ``out``.

    The accounts to enter by are opened on the way, each with a new password.
    """
    out = (out or Path(settings.ASFOUND_HOME) / "demo").absolute()
    days = Days.up_to(timezone.localdate())
    if _is_free(out / "car"):
        write(out / "car", days=days)
    if _is_free(out / "small-job"):
        write_small_job(out / "small-job", days=days)
    accounts, stored = _in_record(days)
    car = folder_of(stored)
    click.echo(f"{_INVENTED}\n\n{told_of_survey(car, film_reading(car))}\n")
    click.echo(f"{told_of_choice(car, find(car))}\n")
    if shop := adopted_shop():
        click.echo(f"{told_of_plan(shop)}\n")
    dossier = make_dossier(
        car,
        made_on=datetime.now(tz=UTC).date(),
        reading=film_reading(car),
        result=choice_result(car),
        picture=picture_on_shelf,
    )
    _write(out / "dossier.pdf", dossier)
    places = {
        "Dossier": out / "dossier.pdf",
        "Car folders": out / "car",
        "": out / "small-job",
    }
    click.echo(f"{told_of_places([(name, str(place)) for name, place in places.items()])}\n")
    return accounts


def show_accounts(accounts: tuple[Account, ...], where: str) -> None:
    """Tell how to sign in, and where the pages are."""
    click.echo(told_of_accounts(where, accounts))


def _in_record(days: Days) -> tuple[tuple[Account, ...], Car]:
    """Both cars with their people, what was signed and what is planned; and the first of them."""
    car = shelf.load_once(days=days)
    accounts = shelf.open_accounts(car)
    shelf.begin_work(car, accounts, days=days)
    small_job = shelf.load_small_job(days=days)
    shelf.plan_once((car, small_job), accounts, days=days, now=timezone.now())
    return accounts, car


def _is_free(place: Path) -> bool:
    """Whether a car folder may be written there; one that lies there already is left as it is."""
    return not (place.is_dir() and any(place.iterdir()))


def _write(file: Path, data: bytes) -> None:
    """All or nothing, so that nobody opens half a dossier."""
    draft = file.with_name(f".{file.name}.part")
    draft.write_bytes(data)
    draft.replace(file)
