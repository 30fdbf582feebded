"""Tables of the salvage stock, which all cars share: pieces, their flaws, what became of them."""

from __future__ import annotations

from asfound.record.tables.form import Column, Form, Table, date, number, text, whole

MOST_COUNTED = 100_000
"""More clips than any drawer holds; a number beyond is a slip."""
PIECES = Table(
    name="salvage",
    key=("number",),
    columns=(
        text("number"),
        text("kind", required=True),
        text("name", required=True),
        text("source_car"),
        date("made"),
        number("L", least=0, most=200),
        number("a"),
        number("b"),
        number("thickness_mm", "mm", least=0),
        whole("count", least=0, most=MOST_COUNTED),
        Column(name="outline_wkt", form=Form.POLYGON, unit="mm"),
        text("nap", words=("one way", "both ways")),
        number("nap_deg", "°", least=-360, most=360),
        text("place"),
        text("tag"),
        Column(name="photo", many=True),
        text("note"),
    ),
)
DEFECTS = Table(
    name="salvage_defects",
    columns=(
        text("number", required=True),
        text("kind", required=True),
        Column(name="outline_wkt", form=Form.POLYGON, unit="mm", required=True, blank=False),
    ),
)
USES = Table(
    name="salvage_uses",
    columns=(
        text("number", required=True),
        text("what", required=True, words=("reserved", "used")),
        text("car"),
        text("need"),
        text("part"),
        whole("count", least=1, most=MOST_COUNTED),
        Column(name="outline_wkt", form=Form.POLYGON, unit="mm"),
        text("by"),
        text("at"),
        text("note"),
    ),
)
STOCK_TABLES: dict[str, Table] = {table.name: table for table in (PIECES, DEFECTS, USES)}
