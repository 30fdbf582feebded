"""Tasks, people, bays, days on which the workshop is closed, and the car's place in the shop."""

from __future__ import annotations

from asfound.record.tables.form import Column, Form, Table, date, number, points_to, text, whole

TABLES = (
    Table(
        name="tasks",
        key=("task",),
        columns=(
            text("task", required=True),
            text("name", required=True),
            text("trade", required=True),
            number("hours_low", "h", required=True, least=0),
            number("hours_likely", "h", required=True, least=0),
            number("hours_high", "h", required=True, least=0),
            whole("people", least=0),
            text("bay"),
            text("subject"),
            date("earliest"),
            date("due"),
            number("learned", above=0),
            text("kind"),
        ),
        references=(points_to("bay", ("bays", "bay")),),
    ),
    Table(
        name="task_links",
        columns=(
            text("before", required=True),
            text("after", required=True),
            number("lag_hours", "h", least=0),
        ),
        references=(points_to("before", ("tasks", "task")), points_to("after", ("tasks", "task"))),
    ),
    Table(
        name="people",
        key=("person",),
        columns=(
            text("person", required=True),
            Column(name="trades", required=True, blank=False, many=True),
            number("hours_per_day", "h", required=True, least=0, most=24),
            Column(name="days", many=True),
            Column(name="away", many=True),
            text("signs_in_as"),
        ),
    ),
    Table(
        name="bays",
        key=("bay",),
        columns=(
            text("bay", required=True),
            Column(name="count", form=Form.INTEGER, required=True, blank=False, least=0),
            Column(name="closed", many=True),
        ),
    ),
    Table(
        name="closed_days",
        columns=(
            Column(name="days", required=True, blank=False, many=True),
            text("why"),
        ),
    ),
    Table(
        name="in_shop",
        one_row=True,
        of_workshop=True,
        columns=(
            number("priority", required=True, above=0, most=1000),
            date("promised"),
            Column(name="at_work", form=Form.YES_NO),
        ),
    ),
)
