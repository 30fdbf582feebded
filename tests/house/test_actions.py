"""The docstrings of what changes the record say that it may be refused."""

from __future__ import annotations

import ast
from pathlib import Path

ACTIONS = Path(__file__).parents[2] / "src" / "asfound" / "record" / "actions"
REFUSE = {"check_may_write", "check_is_head"}


def test_an_action_that_asks_who_may_write_says_that_it_may_be_refused() -> None:
    asking, silent = 0, []
    for place in ACTIONS.glob("*.py"):
        for node in ast.parse(place.read_text(encoding="utf-8")).body:
            if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
                asking += asks(node)
                words = ast.get_docstring(node) or ""
                if asks(node) and "PermissionDenied" not in words and "As :func:" not in words:
                    silent.append(f"{place.name}: {node.name}")
    assert asking
    assert silent == []


def asks(node: ast.FunctionDef) -> bool:
    """Whether the function asks by itself who may write."""
    called = (one.func for one in ast.walk(node) if isinstance(one, ast.Call))
    return any(isinstance(one, ast.Name) and one.id in REFUSE for one in called)
