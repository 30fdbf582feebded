"""Templates of assemblies: made of an earlier car's parts, entered for another car at once."""

from __future__ import annotations

from typing import Any

from django.db import transaction
from django.utils import timezone

from asfound.base import InputError
from asfound.record.actions.part import PARTS, add_parts, next_numbers
from asfound.record.actions.who import check_may_write, check_reason
from asfound.record.convert.stored_cells import cell_of
from asfound.record.log import write_entry
from asfound.record.models import AssemblyTemplate, Car, Part

_KEPT = ("name", "kind", "section", "mass_kg", "safety", "fixed_with", "joint")
"""What two cars of a kind share; place, state and condition are the one car's own."""
MOST_ROWS = 2_000


@transaction.atomic
def make_template(*, part: Part, name: str, by: Any) -> AssemblyTemplate:
    """Template of a part with all that is below it.

    Raises
    ------
    InputError
        If the name is empty or taken, or more than ``MOST_ROWS`` parts are below it.
    """
    check_may_write(by)
    name = name.strip()
    if not name or AssemblyTemplate.objects.filter(name=name).exists():
        raise InputError(field="name", got=name, allowed="given, and of one template only")
    rows = [_row(one, top=part) for one in _with_all_below(part)]
    made = AssemblyTemplate.objects.create(
        name=name, rows=rows, made_from=str(part.car), made_by=by
    )
    write_entry(
        action="make template", by=by, car=part.car, after={"name": name, "rows": len(rows)}
    )
    return made


@transaction.atomic
def use_template(
    *, template: AssemblyTemplate, car: Car, by: Any, parent: str = "", place: str = ""
) -> tuple[Part, ...]:
    """Parts of the template entered for a car, numbered on; the first is the assembly itself.

    Raises
    ------
    InputError
        If the template is withdrawn or the parent is not a part of the car.
    """
    check_may_write(by)
    if template.withdrawn_at is not None:
        raise InputError(field="template", got=template.name, allowed="one that is in use")
    numbers = next_numbers(car, len(template.rows))
    new = {row["part"]: number for row, number in zip(template.rows, numbers, strict=True)}
    rows = [
        {**row, "part": new[row["part"]], "parent": new.get(row["parent"], parent), "place": place}
        for row in template.rows
    ]
    made = add_parts(car=car, rows=rows, by=by)
    write_entry(action="use template", by=by, car=car, after={"template": template.name})
    return made


@transaction.atomic
def withdraw_template(*, template: AssemblyTemplate, reason: str, by: Any) -> None:
    """Let a template be offered no longer; parts made from it stay.

    Raises
    ------
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


def _row(part: Part, *, top: Part) -> dict[str, str]:
    cells = {name: cell_of(part, name, PARTS) for name in _KEPT}
    parent = "" if part.pk == top.pk else part.parent
    return {"part": part.part, "parent": parent, **{n: c for n, c in cells.items() if c}}
