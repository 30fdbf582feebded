"""A second invented car in the same workshop: a small job that shares its people and bays."""

from __future__ import annotations

from asfound.demo.days import AS_WRITTEN, Days
from asfound.demo.written import sheet, written, written_json
from asfound.record.folder import CarFolder
from asfound.record.tables import TABLES

_PLACE = "small_job"
_OWN = ("car", "parts", "findings", "subjects", "options", "tasks", "task_links", "worked")
_SHARED = ("people", "bays", "charge_rates", "tax_rates")


def small_job_folder(*, days: Days = AS_WRITTEN) -> CarFolder:
    """The second invented car, which wants a dozen tasks."""
    tables = {
        **{name: written(f"{_PLACE}/{name}") for name in _OWN},
        **{name: written(name) for name in _SHARED},
    }
    return CarFolder(
        sheets={name: sheet(days.rows(tables[name])) for name in TABLES if name in tables},
        brief=written_json(f"{_PLACE}/brief"),
        package=written_json(f"{_PLACE}/package"),
    )
