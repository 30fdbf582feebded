"""A table says the same as a spreadsheet and as a CSV."""

from __future__ import annotations

import io

import openpyxl
from hypothesis import given, settings
from hypothesis import strategies as st

from asfound.exchange import read_sheet
from asfound.record.tables import TABLES

FILM = TABLES["film"]
HEAD = ("panel", "spot", "x_mm", "y_mm", "thickness_um", "by")
WORDS = st.text(st.sampled_from("abcXYZ äß-+,;\"'.="), min_size=1, max_size=8).filter(
    # A text that begins with = is a formula to a spreadsheet; spaces at the ends are dropped.
    lambda text: text == text.strip() and not text.startswith("=")
)
NUMBERS = st.decimals(min_value=0, max_value=9_999, places=4).map(float)
ROWS = st.lists(
    st.tuples(WORDS, WORDS, NUMBERS, NUMBERS, NUMBERS, WORDS | st.just("")), min_size=1, max_size=6
)


def as_csv(rows: list[tuple[str | float, ...]]) -> bytes:
    """Every text between double quotes, numbers as Python writes them."""
    lines = [",".join(HEAD)]
    for row in rows:
        cells = [repr(c) if isinstance(c, float) else '"' + c.replace('"', '""') + '"' for c in row]
        lines.append(",".join(cells))
    return "\n".join(lines).encode()


def as_spreadsheet(rows: list[tuple[str | float, ...]], titles: int) -> bytes:
    made = openpyxl.Workbook()
    for _ in range(titles):
        made.active.append(["A title"])
    made.active.append(HEAD)
    for row in rows:
        made.active.append(row)
    file = io.BytesIO()
    made.save(file)
    return file.getvalue()


@settings(max_examples=30, deadline=None)
@given(rows=ROWS, titles=st.integers(0, 2))
def test_both_read_alike(rows: list[tuple[str | float, ...]], titles: int) -> None:
    from_csv, csv_faults = read_sheet(as_csv(rows), FILM, file="film.csv")
    from_xlsx, faults = read_sheet(as_spreadsheet(rows, titles), FILM, file="film.xlsx")
    assert csv_faults == faults == []
    assert from_csv is not None
    assert from_xlsx is not None
    assert from_xlsx.columns == from_csv.columns == HEAD
    for one, other in zip(from_csv, from_xlsx, strict=True):
        for name in HEAD:
            if FILM.column(name).unit:
                assert one.number(name) == other.number(name)
            else:
                assert one.text(name) == other.text(name)
