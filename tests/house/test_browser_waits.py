"""A test in the browser waits for the page that a click leads to before it looks at it."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import pytest

BROWSER = Path(__file__).parents[1] / "browser"
ACTS = {"click", "check", "set_input_files"}
LOOKS = {"assert_accessible", "evaluate", "content", "url", "count", "all", "objects", "fits"}
WAITS = {"expect", "wait_for_function"}
LEAVES = {"goto", "go", "at", "become"}


def _acts(statement: ast.stmt) -> bool:
    """Whether it may lead to another page; of the keys, Enter alone does."""
    match statement:
        case ast.Expr(ast.Call(func=ast.Attribute(attr="press"), args=[ast.Constant(value=key)])):
            return key == "Enter"
        case ast.Expr(ast.Call(func=ast.Attribute(attr=name))):
            return name in ACTS
    return False


def _looks_at_once(statement: ast.stmt) -> bool:
    """Whether it takes the page or the record as it is at that moment, or goes away from it."""
    if isinstance(statement, ast.Assert):
        return True
    words = {getattr(node, "attr", getattr(node, "id", "")) for node in ast.walk(statement)}
    waits = bool(words & WAITS) or isinstance(statement, ast.With)
    return bool(words & (LOOKS | LEAVES)) and not waits


def _bodies(tree: ast.AST) -> Iterator[list[ast.stmt]]:
    for node in ast.walk(tree):
        for name in ("body", "orelse", "finalbody"):
            if isinstance(body := getattr(node, name, None), list):
                yield body


def hasty(source: str) -> list[int]:
    """Lines that look at a page which may still be the one before the click."""
    return [
        after.lineno
        for body in _bodies(ast.parse(source))
        for act, after in pairwise(body)
        if _acts(act) and _looks_at_once(after)
    ]


@pytest.mark.parametrize("path", sorted(BROWSER.glob("*.py")), ids=lambda path: path.stem)
def test_no_test_looks_at_a_page_right_after_a_click(path: Path) -> None:
    assert not hasty(path.read_text(encoding="utf-8")), (
        "wait for something of the new page first: `follow(link)`, or `expect(…)`"
    )


def test_a_hasty_look_is_found_and_a_patient_one_is_not() -> None:
    assert hasty("link.click()\nassert_accessible(page)\nassert_accessible(page)") == [2]
    assert hasty("if link:\n    button.press('Enter')\n    assert car.photos.count()") == [3]
    assert not hasty("link.click()\nexpect(page).to_have_url(there)\nassert car.photos.count()")
