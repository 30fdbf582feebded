"""Marks over a photograph: read back as they were drawn, and refused where they cannot be drawn."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from asfound.base import InputError
from asfound.record.convert.photo_marks import MOST_MARKS, POINTS, Mark, marks_of, marks_text

SHARES = st.floats(0, 1).map(lambda share: round(share, 4))


@st.composite
def drawn(draw: st.DrawFn) -> Mark:
    kind = draw(st.sampled_from(sorted(POINTS)))
    least, most = POINTS[kind]
    points = draw(st.lists(st.tuples(SHARES, SHARES), min_size=least, max_size=min(most, 5)))
    words = draw(st.text(st.characters(exclude_categories=("Cs",)), min_size=1, max_size=20))
    return Mark(kind=kind, points=tuple(points), words=words.strip() or "crack")


@given(st.lists(drawn(), max_size=8))
def test_marks_come_back_as_they_were_drawn(marks: list[Mark]) -> None:
    assert marks_of(marks_text(tuple(marks))) == tuple(marks)


@pytest.mark.parametrize(
    "text",
    [
        "{",
        "[1]",
        '[{"kind": "arrow"}]',
        '[{"kind": "star", "points": [[0, 0], [1, 1]]}]',
        '[{"kind": "arrow", "points": [[0, 0]]}]',
        '[{"kind": "ring", "points": [[0, 0], [1, 1.2]]}]',
        '[{"kind": "ring", "points": [[0, 0], [1, NaN]]}]',
        '[{"kind": "words", "points": [[0, 0]], "words": " "}]',
        '[{"kind": "line", "points": [[0, 0], [1, "x"]]}]',
        "[" * 5_000,
    ],
)
def test_what_cannot_be_drawn_is_refused(text: str) -> None:
    with pytest.raises(InputError, match="must be"):
        marks_of(text)


def test_more_marks_than_anyone_can_read_are_refused() -> None:
    one = Mark(kind="ring", points=((0, 0), (1, 1)))
    assert len(marks_of(marks_text((one,) * MOST_MARKS))) == MOST_MARKS
    with pytest.raises(InputError, match="at most"):
        marks_text((one,) * (MOST_MARKS + 1))
