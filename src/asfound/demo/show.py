"""The demo, step after step, each told as soon as it is done."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import click
from django.conf import settings

from asfound.demo import shelf, write
from asfound.demo.accounts import Account
from asfound.demo.findings import find
from asfound.demo.talk import told_of_accounts, told_of_choice, told_of_places, told_of_survey
from asfound.dossier import make_dossier
from asfound.exchange.photographs import picture_on_shelf
from asfound.record.convert.stored import folder_of
from asfound.record.derived import choice_result, film_reading

_INVENTED = "Everything here is invented: the marque, the car, its people and every reading."


def show_car(out: Path | None) -> tuple[Account, ...]:
    """Load the car, tell what was found, write its folder and dossier into ``out``.

    The accounts to enter by are opened on the way, each with a new password.
    """
    out = (out or Path(settings.ASFOUND_HOME) / "demo").absolute()
    _write_once(out / "car")
    stored = shelf.load_once()
    accounts = shelf.open_accounts(stored)
    shelf.begin_work(stored, accounts)
    car = folder_of(stored)
    click.echo(f"{_INVENTED}\n\n{told_of_survey(car, film_reading(car))}\n")
    click.echo(f"{told_of_choice(car, find(car))}\n")
    dossier = make_dossier(
        car,
        made_on=datetime.now(tz=UTC).date(),
        reading=film_reading(car),
        result=choice_result(car),
        picture=picture_on_shelf,
    )
    _write(out / "dossier.pdf", dossier)
    places = (("Dossier", str(out / "dossier.pdf")), ("Car folder", str(out / "car")))
    click.echo(f"{told_of_places(places)}\n")
    return accounts


def show_accounts(accounts: tuple[Account, ...], where: str) -> None:
    """Tell how to sign in, and where the pages are."""
    click.echo(told_of_accounts(where, accounts))


def _write_once(place: Path) -> None:
    """The car folder; one that lies there already is left as it is."""
    if not (place.is_dir() and any(place.iterdir())):
        write(place)


def _write(file: Path, data: bytes) -> None:
    """All or nothing, so that nobody opens half a dossier."""
    draft = file.with_name(f".{file.name}.part")
    draft.write_bytes(data)
    draft.replace(file)
