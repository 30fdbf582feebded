"""An empty database filled from a backup, in the shape it had, then brought to today's."""

from __future__ import annotations

import gzip
from collections.abc import Callable
from typing import Any

from django.db import connection, transaction
from django.db.migrations.executor import MigrationExecutor
from django.db.migrations.loader import MigrationLoader

from asfound import site
from asfound.base import InputError
from asfound.exchange.backup.rows import Model, count_on, empty, read_rows, tables
from asfound.exchange.backup.store import TABLES, Backup, Store
from asfound.record.log import check_chain
from asfound.record.statistics import refresh_statistics

Node = tuple[str, str]


def check_shape(backup: Backup) -> None:
    """Refuse a backup that a later version of the program made.

    Raises
    ------
    InputError
        If it has tables or changes of them that this version does not know.
    """
    known = {f"{app}.{name}" for app, name in MigrationLoader(None).graph.nodes}
    unknown = [name for name in backup.migrations if name not in known]
    if unknown:
        raise InputError(
            field="backup",
            got=f"{backup.name}, made by asfound {backup.program}",
            allowed=f"of tables that this version knows; it lacks {', '.join(unknown[:3])}",
            remedy="Install the version that made it, or a later one.",
        )


def refill(store: Store, backup: Backup, *, progress: Callable[[float], None]) -> None:
    """Rows and log of the backup in the database that the connection leads to.

    Raises
    ------
    InputError
        If the rows or the chain of the log are not those that were backed up.
    """
    models = _made_as_it_was(backup)
    with transaction.atomic():
        empty(list(models.values()))
        _fill(store, backup, models, progress)
        count_on(list(models.values()))
    site.migrate()
    refresh_statistics()
    chain = check_chain()
    broken = None if chain.broken is None else chain.broken.pk
    if (chain.lines_n, chain.head, broken) != (
        backup.log_lines_n,
        backup.log_head,
        backup.log_broken_line,
    ):
        raise InputError(
            field="log",
            got=f"{chain.lines_n} lines up to {chain.head}",
            allowed=f"{backup.log_lines_n} lines up to {backup.log_head}, as backed up",
        )


def _made_as_it_was(backup: Backup) -> dict[str, Model]:
    """Tables made by the migrations that had run; the models of that state by table."""
    executor = MigrationExecutor(connection)
    had: set[Node] = {(app, name) for app, _, name in (m.partition(".") for m in backup.migrations)}
    graph: Any = executor.loader.graph
    last = [
        node for node in had if not any(child.key in had for child in graph.node_map[node].children)
    ]
    state = executor.migrate(last)
    return {model._meta.db_table: model for model in tables(state.apps)}


def _fill(
    store: Store, backup: Backup, models: dict[str, Model], progress: Callable[[float], None]
) -> None:
    all_n, done = sum(backup.rows.values()) or 1, 0
    for table, rows_n in backup.rows.items():
        model = models.get(table)
        if model is None:
            raise InputError(field="table", got=table, allowed="one of the tables it had")
        filled = 0
        with gzip.open(store.backups / backup.name / TABLES / f"{table}.jsonl.gz") as lines:
            for count in read_rows(model, lines):
                filled += count
                done += count
                progress(done / all_n)
        if filled != rows_n:
            raise InputError(field=table, got=f"{filled} rows", allowed=f"{rows_n} rows")
