"""What holds or hides what, how a piece comes off, and what the rebuild asks for by itself."""

from __future__ import annotations

from collections.abc import Mapping

from asfound.record.tables.form import (
    Column,
    Form,
    Table,
    date,
    number,
    points_to,
    text,
    whole,
)

TABLES = (
    Table(
        name="joints",
        columns=(
            text("part", required=True),
            text("comes_off_after", required=True),
            text("because", words=("held by it", "hidden by it")),
            text("way"),
            Column(name="binds_rebuild", form=Form.YES_NO),
            text("note"),
        ),
        references=(
            points_to("part", ("parts", "part")),
            points_to("comes_off_after", ("parts", "part")),
        ),
    ),
    Table(
        name="removals",
        key=("part",),
        columns=(
            text("part", required=True),
            whole("fragile", least=0, most=5),
            text("trade"),
            number("hours", "h", least=0),
            whole("people", least=1),
            Column(name="single_use", form=Form.YES_NO),
            text("bench"),
            date("off_on"),
            date("on_again"),
            text("note"),
        ),
        references=(points_to("part", ("parts", "part")),),
    ),
    Table(
        name="rebuild_links",
        columns=(
            text("before", required=True),
            text("after", required=True),
            text("why", words=("fluids", "alignment", "seal", "fixing", "access", "other")),
            text("note"),
        ),
        references=(points_to("before", ("parts", "part")), points_to("after", ("parts", "part"))),
    ),
)


def is_off(removal: Mapping[str, str]) -> bool:
    """Whether a row of ``removals`` says that its part is off now: off, and not on again since."""
    return bool(removal.get("off_on")) and not removal.get("on_again")
