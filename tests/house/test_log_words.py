"""Every action that a line of the log may bear has plain words."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

from asfound.record.actions import EDITED_WHOLE
from asfound.record.actions.observation import _many, _one
from asfound.record.actions.words import WORDS, in_words
from asfound.record.convert.workshop import OF_WORKSHOP
from asfound.record.models.observation import OBSERVED

RECORD = Path(__file__).parents[2] / "src" / "asfound" / "record"
COMPOSED = {
    "set {table}": {f"set {table}" for table in EDITED_WHOLE},
    "set the workshop's {table}": {f"set the workshop's {table}" for table in OF_WORKSHOP},
    "add {_many(table)}": {f"add {_many(table)}" for table in OBSERVED},
    "correct {_one(observation.table)}": {f"correct {_one(table)}" for table in OBSERVED},
    "withdraw {_one(observation.table)}": {f"withdraw {_one(table)}" for table in OBSERVED},
    "restore {observation.table} reading": {f"restore {table} reading" for table in OBSERVED},
    "{fate} part": {f"{fate} part" for fate in ("split", "merged", "replaced", "withdrawn")},
    "{verb} salvage piece": {f"{verb} salvage piece" for verb in ("reserve", "use")},
}
"""Actions that are put together, and all that each may become."""
TREES = {
    path.relative_to(RECORD).as_posix(): ast.parse(path.read_text(encoding="utf-8"))
    for path in sorted(RECORD.rglob("*.py"))
    if "migrations" not in path.parts
}


def called(tree: ast.AST, *names: str) -> Iterator[ast.Call]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in names:
            yield node


def texts(node: ast.AST) -> set[str]:
    """Actions that an expression may be: its texts, and what its composed texts may become."""
    if isinstance(node, ast.Constant):
        return {node.value} if isinstance(node.value, str) else set()
    if isinstance(node, ast.IfExp):
        return texts(node.body) | texts(node.orelse)
    if isinstance(node, ast.JoinedStr):
        return COMPOSED[ast.unparse(node)[2:-1]]
    return set()


def assigned(tree: ast.AST, name: str) -> set[str]:
    """Actions that a name holds: assigned in the module, or handed over under that keyword."""
    found: set[str] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Assign) and any(ast.unparse(t) == name for t in node.targets):
            found |= texts(node.value)
        if isinstance(node, ast.keyword) and node.arg == name:
            found |= texts(node.value)
    for call in called(tree, "_restore"):
        found |= texts(call.args[2])
    return found


def actions_of(tree: ast.AST) -> set[str]:
    written: set[str] = set()
    for call in called(tree, "write_entry"):
        (action,) = (part.value for part in call.keywords if part.arg == "action")
        found = assigned(tree, action.id) if isinstance(action, ast.Name) else texts(action)
        assert found, f"line {call.lineno}: what action is {ast.unparse(action)}?"
        written |= found
    return written


@pytest.mark.parametrize("file", [file for file, tree in TREES.items() if actions_of(tree)])
def test_every_action_has_words(file: str) -> None:
    assert actions_of(TREES[file]) - set(WORDS) == set()


def test_words_are_of_actions_that_are_written_and_no_two_actions_share_them() -> None:
    assert set(WORDS) == set().union(*map(actions_of, TREES.values()))
    assert len(set(WORDS.values())) == len(WORDS)


def test_words_are_plain_and_an_older_action_keeps_its_name() -> None:
    assert [words for words in WORDS.values() if "_" in words or not words[0].isupper()] == []
    assert in_words("count the spare_wheels") == "count the spare wheels"
