"""Templates of assemblies: made of an earlier car's parts, entered for another car at once."""

from __future__ import annotations

from collections.abc import Sequence, Set
from typing import Any

from django.db import transaction
from django.utils import timezone

from asfound.base import InputError
from asfound.record.actions.assembly_strip import kept_strip, write_strip
from asfound.record.actions.part import PARTS, add_parts, next_numbers
from asfound.record.actions.who import check_may_write, check_reason
from asfound.record.convert.stored_cells import cell_of
from asfound.record.log import write_entry
from asfound.record.models import AssemblyTemplate, Car, Part

_KEPT = ("name", "kind", "section", "mass_kg", "safety", "fixed_with", "joint")
"""What two cars of a kind share; place, state and condition are the one car's own."""
MOST_ROWS = 2_000


STRIP = "strip"
"""Under this name the first row of a template holds how its parts come off and go on again."""


@transaction.atomic
def make_template(*, part: Part, name: str, by: Any) -> AssemblyTemplate:
    """Template of a part with all that is below it, and with how these come off and go on.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If the name is empty or taken, or more than ``MOST_ROWS`` parts are below it.
    """
    check_may_write(by)
    return _keep(car=part.car, parts=_with_all_below(part), name=name, by=by)


@transaction.atomic
def make_template_of(*, car: Car, parts: Sequence[str], name: str, by: Any) -> AssemblyTemplate:
    """Template of several parts that are drawn as one assembly, as :func:`make_template`.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        As there, or if none of them is there.
    """
    check_may_write(by)
    found = list(car.parts.current().filter(part__in=parts)[: MOST_ROWS + 1])
    if not 0 < len(found) <= MOST_ROWS:
        raise InputError(field="parts", got=len(found), allowed=f"1 to {MOST_ROWS} that are there")
    return _keep(car=car, parts=found, name=name, by=by)


def _keep(*, car: Car, parts: Sequence[Part], name: str, by: Any) -> AssemblyTemplate:
    name = name.strip()
    if not name or AssemblyTemplate.objects.filter(name=name).exists():
        raise InputError(field="name", got=name, allowed="given, and of one template only")
    inside = {part.part for part in parts}
    rows: list[dict[str, Any]] = [dict(_row(one, inside=inside)) for one in parts]
    strip = kept_strip(car, inside)
    if strip:
        rows[0][STRIP] = strip
    made = AssemblyTemplate.objects.create(name=name, rows=rows, made_from=str(car), made_by=by)
    told = {"name": name, "rows": len(rows), **{table: len(r) for table, r in strip.items()}}
    write_entry(action="make template", by=by, car=car, after=told)
    return made


@transaction.atomic
def use_template(
    *, template: AssemblyTemplate, car: Car, by: Any, parent: str = "", place: str = ""
) -> tuple[Part, ...]:
    """Parts of the template entered for a car, numbered on; the first is the assembly itself.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If the template is withdrawn or the parent is not a part of the car.
    """
    check_may_write(by)
    if template.withdrawn_at is not None:
        raise InputError(field="template", got=template.name, allowed="one that is in use")
    numbers = next_numbers(car, len(template.rows))
    new = {row["part"]: number for row, number in zip(template.rows, numbers, strict=True)}
    rows = [
        {
            **{column: cell for column, cell in row.items() if column != STRIP},
            "part": new[row["part"]],
            "parent": new.get(row["parent"], parent),
            "place": place,
        }
        for row in template.rows
    ]
    made = add_parts(car=car, rows=rows, by=by)
    written = write_strip(car, template.strip, new=new)
    told = {"template": template.name, **written}
    write_entry(action="use template", by=by, car=car, after=told)
    return made


@transaction.atomic
def withdraw_template(*, template: AssemblyTemplate, reason: str, by: Any) -> None:
    """Let a template be offered no longer; parts made from it stay.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If it is offered no longer already, or the reason is empty.
    """
    check_may_write(by)
    check_reason(reason)
    if not AssemblyTemplate.objects.filter(pk=template.pk, withdrawn_at=None).exists():
        raise InputError(field="template", got=template.name, allowed="one that is offered")
    template.withdrawn_at, template.withdrawn_reason = timezone.now(), reason.strip()
    template.save(update_fields=["withdrawn_at", "withdrawn_reason"])
    told = {"template": template.name, "why": template.withdrawn_reason}
    write_entry(action="withdraw template", by=by, after=told)


def _with_all_below(part: Part) -> list[Part]:
    found, level = [part], [part.part]
    while level:
        below = list(
            part.car.parts.current()
            .filter(parent__in=level)
            .exclude(pk__in=[one.pk for one in found])
        )
        found += below
        if len(found) > MOST_ROWS:
            raise InputError(
                field="part", got=f"more than {MOST_ROWS} parts", allowed="a smaller assembly"
            )
        level = [one.part for one in below]
    return found


def _row(part: Part, *, inside: Set[str]) -> dict[str, str]:
    cells = {name: cell_of(part, name, PARTS) for name in _KEPT}
    parent = part.parent if part.parent in inside else ""
    return {"part": part.part, "parent": parent, **{n: c for n, c in cells.items() if c}}
