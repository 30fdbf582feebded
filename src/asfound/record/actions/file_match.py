"""Keeping and forgetting how an instrument's files are matched."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django.db import transaction

from asfound.base import InputError
from asfound.record.actions.who import check_may_write
from asfound.record.log import write_entry
from asfound.record.models import FileMatch
from asfound.record.models.file_match import fingerprint_of


@transaction.atomic
def remember_file_match(
    *,
    name: str,
    table: str,
    head: Sequence[str],
    places: Mapping[str, int],
    fixed: Mapping[str, str],
    by: Any,
    decimal: str = "",
) -> FileMatch:
    """Matching under that name for files with that head; an earlier one of the name gives way.

    Parameters
    ----------
    name : str
        The instrument or kind of file, as the workshop calls it.
    table : str
        Which table such files hold.
    head : sequence of str
        The head of the file, as it stands.
    places : mapping of str to int
        Place in the head of each matched column.
    fixed : mapping of str to str
        What holds for every row of such a file.
    by : user or None
    decimal : str
        The decimal mark that a person said such files have; empty for what they show.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If the name is empty.
    """
    check_may_write(by)
    if not name.strip():
        raise InputError(field="name", got=name, allowed="given, such as the instrument's")
    told = {"head": list(head), "places": dict(places), "fixed": dict(fixed), "decimal": decimal}
    match, is_new = FileMatch.objects.update_or_create(
        name=name.strip(),
        table=table,
        fingerprint=fingerprint_of(head),
        defaults={**told, "by": by},
    )
    action = "remember file" if is_new else "remember file anew"
    write_entry(action=action, by=by, after={"name": match.name, "table": table, **told})
    return match


@transaction.atomic
def forget_file_match(*, match: FileMatch, by: Any) -> None:
    """Offer that matching no more; what was written by it stays.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    """
    check_may_write(by)
    kept = ("name", "table", "head", "places", "fixed", "decimal")
    before = {name: getattr(match, name) for name in kept}
    match.delete()
    write_entry(action="forget file", by=by, before=before)
