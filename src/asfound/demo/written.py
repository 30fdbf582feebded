"""Tables written by hand beside the code, and rows that become sheets."""

from __future__ import annotations

import csv
import json
from collections.abc import Mapping, Sequence
from importlib.resources import files
from typing import Any

from asfound.record.folder import Sheet

Rows = list[dict[str, str]]

_TABLES = files("asfound.demo") / "tables"


def written(name: str) -> Rows:
    """Rows of a table written by hand."""
    text = (_TABLES / f"{name}.csv").read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


def written_json(name: str) -> dict[str, Any]:
    """Object written by hand."""
    content: dict[str, Any] = json.loads((_TABLES / f"{name}.json").read_text(encoding="utf-8"))
    return content


def sheet(table: Sequence[Mapping[str, str]]) -> Sheet:
    """Sheet of rows; the columns in the order first met, a missing cell empty."""
    columns = tuple(dict.fromkeys(name for row in table for name in row))
    return Sheet(
        columns=columns,
        rows=tuple(tuple(row.get(name, "") for name in columns) for row in table),
    )
