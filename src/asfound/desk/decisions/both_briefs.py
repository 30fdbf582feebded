"""Two versions of the brief side by side, and what they make when joined."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from django import forms


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """One line of the brief as it was, as it now stands in the record, and as it was typed."""

    label: str
    group: str
    before: str
    theirs: str
    mine: str

    @property
    def joined(self) -> str:
        """What was changed by one side alone; what both changed stands as it was typed."""
        return self.theirs if self.mine == self.before else self.mine

    @property
    def is_torn(self) -> bool:
        """Whether both sides changed it, and not to the same."""
        return self.before != self.theirs != self.mine != self.before


def compare(
    form: forms.Form,
    *,
    before: Mapping[str, str],
    theirs: Mapping[str, str],
    mine: Mapping[str, str],
) -> dict[str, Told]:
    """Every line of the brief on which one of the versions differs, by the field's name."""
    told = {
        name: Told(
            label=str(field.label),
            group=_GROUPS.get(name.partition(":")[0] + ":", ""),
            before=before.get(name, ""),
            theirs=theirs.get(name, ""),
            mine=mine.get(name, ""),
        )
        for name, field in form.fields.items()
    }
    return {n: t for n, t in told.items() if not t.before == t.theirs == t.mine}


_GROUPS = {
    "hours:": "hours at most",
    "zone:": "finish at least",
    "touch:": "must not be touched",
    "evidence:": "needs evidence",
}
