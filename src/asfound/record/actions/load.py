"""Loading a car folder into the record, whole or not at all."""

from __future__ import annotations

from collections.abc import Callable
from typing import IO, Any

from django.db import transaction
from django.utils import timezone
from django.utils.text import slugify

from asfound.record.actions.storable import check_storable
from asfound.record.actions.who import check_may_write
from asfound.record.convert.carried import returned
from asfound.record.convert.in_shop import in_shop
from asfound.record.convert.stored import ROWS, folder_of, whole
from asfound.record.convert.storing import store_folder
from asfound.record.faults import Fault, InputFaultsError
from asfound.record.folder import CarFolder, KeptFile
from asfound.record.log import write_entry
from asfound.record.models import Car, ShopCar
from asfound.record.models.observed import Observed
from asfound.record.reads.workshop import workshop_sheets
from asfound.record.shelf import shelve

OpenFile = Callable[[KeptFile], IO[bytes]]
_REPLACED = "the car was loaded again from a folder"


def load_car(
    *,
    folder: CarFolder,
    by: Any,
    open_file: OpenFile | None = None,
    slug: str | None = None,
    replace: bool = False,
    way_over: str = "load it with --replace",
) -> Car:
    """Car of the record that holds what the folder tells.

    Parameters
    ----------
    folder : CarFolder
        Checked by the exchange. What it only carried of a workshop that is here stays the
        workshop's (`asfound.record.convert.carried`).
    by : user or None
    open_file : callable, optional
        Gives the bytes of a kept file; needed when the folder has any.
    slug : str, optional
        The car's name in addresses; made from marque, model and registration if not given.
    replace : bool
        Whether a car of that slug is loaded again: its people stay, its old readings,
        decisions and briefs are kept as no longer counting, its old tables in the log.
    way_over : str
        How the person at hand says that it is loaded again, for the refusal.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputFaultsError
        If the record has the car already and ``replace`` is false, if a file's bytes are not
        what its hash says, or a text cannot be stored.
    """
    check_may_write(by)
    check_storable(folder)
    folder = returned(folder, workshop_sheets()).folder
    name = slug or slugify(folder.name)[:80].strip("-") or "car"
    _shelve_files(folder, open_file)
    with transaction.atomic():
        car = Car.objects.filter(slug=name).first()
        before = None
        if car is None:
            car = Car(slug=name)
        elif replace:
            before = _clear(car, by)
        else:
            raise _already_there(car, way_over)
        store_folder(folder, car, by=by)
        _place_in_shop(folder, car, by=by)
        action = "load car" if before is None else "load car again"
        counts = {table: len(sheet) for table, sheet in folder.sheets.items()}
        write_entry(action=action, by=by, car=car, before=before, after={"rows": counts})
    return car


def _place_in_shop(folder: CarFolder, car: Car, *, by: Any) -> None:
    """Put a car where the folder says; one that has its place already is moved by the head."""
    if not len(folder.sheet("in_shop")) or ShopCar.objects.filter(car=car).exists():
        return
    told = in_shop(folder)
    ShopCar.objects.create(
        car=car, priority=told.priority, promised=told.promised, at_work=told.at_work
    )
    after = dict(next(iter(folder.sheet("in_shop"))).cells)
    write_entry(action="set car in shop", by=by, car=car, before=None, after=after)


def _clear(car: Car, by: Any) -> dict[str, Any]:
    """Tables as they were; what people observed and decided stays, and counts no longer."""
    was = whole(folder_of(car))
    now = timezone.now()
    for observed in (car.film_readings, car.observations, car.photos):
        observed.current().update(withdrawn_at=now, withdrawn_by=by, reason=_REPLACED)
    car.decisions.current().update(withdrawn_at=now, withdrawn_by=by, withdrawn_reason=_REPLACED)
    for model in ROWS.values():
        if not issubclass(model, Observed):
            model._default_manager.filter(car=car).delete()
    car.kept_sheets.all().delete()
    car.kept_files.all().delete()
    for field in ("marque", "model", "body_style", "built", "registration"):
        setattr(car, field, "")
    car.colour_name = car.currency = car.note = ""
    car.extra = {}
    return {
        "tables": {
            name: {"columns": list(sheet.columns), "rows": [list(row) for row in sheet.rows]}
            for name, sheet in was.sheets.items()
        },
        "lift": was.lift,
        "package": dict(was.package),
        "files": [[file.path, file.sha256, file.size] for file in was.files],
    }


def _shelve_files(folder: CarFolder, open_file: OpenFile | None) -> None:
    for kept in folder.files:
        if open_file is None:
            raise _file_fault(kept, "the bytes of this file are not at hand")
        with open_file(kept) as stream:
            shelved = shelve(stream)
        if shelved.sha256 != kept.sha256:
            raise _file_fault(kept, "the file changed while it was read")


def _file_fault(kept: KeptFile, rule: str) -> InputFaultsError:
    return InputFaultsError((Fault(file=kept.path, rule=rule, remedy="Load the folder again."),))


def _already_there(car: Car, way_over: str) -> InputFaultsError:
    return InputFaultsError(
        (
            Fault(
                file="car.csv",
                column="car",
                value=car.slug,
                rule="the record has a car of this name already",
                remedy=f"Give it a registration of its own, or {way_over}.",
            ),
        )
    )
