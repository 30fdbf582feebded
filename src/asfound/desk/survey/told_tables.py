"""The tables that a file may hold: how people and instruments call their columns."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from asfound.record.tables import TABLES, Column, Table

HINTS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "x_mm": ("x",),
        "y_mm": ("y",),
        "along_mm": ("along", "distance", "abstand", "station"),
        "panel": (
            *("panel", "part", "piece", "area", "bauteil", "teil", "blech", "pannello", "panneau"),
        ),
        "part": ("part", "number", "no", "nr", "piece", "teil", "teilenummer"),
        "name": ("name", "description", "what", "item", "bezeichnung", "benennung"),
        "parent": ("parent", "assembly", "belongs", "baugruppe"),
        "section": ("section", "group", "gruppe"),
        "place": ("place", "location", "box", "shelf", "lagerort", "ort"),
        "mass_kg": ("mass", "weight", "gewicht", "masse"),
        "significance": ("significance",),
        "fixed_with": ("fixed", "fixing", "fasteners", "befestigung"),
        "note": ("note", "remark", "bemerkung"),
        "edge": ("edge", "seam", "kante", "fuge"),
        "area": ("area", "zone", "flaeche", "flache"),
        "spot": (
            "spot",
            "point",
            "place",
            "position",
            "messpunkt",
            "punkt",
            "messstelle",
            "stelle",
        ),
        "before_um": ("before", "vorher"),
        "after_um": ("after", "nachher"),
        "thickness_um": (
            *("thickness", "film", "reading", "value", "schichtdicke", "dicke", "epaisseur"),
        ),
        "thickness_mm": ("thickness", "wall", "reading", "value", "wandstaerke", "wanddicke"),
        "gap_mm": ("gap", "width", "spalt", "spaltmass"),
        "flush_mm": ("flush", "step", "offset", "versatz"),
        "L": ("l",),
        "a": ("a",),
        "b": ("b",),
        "exposure": ("exposure", "exposed"),
        "passes": ("passes", "pass"),
        "process": ("process", "compound"),
        "gauge": ("gauge", "instrument", "probe", "device", "geraet", "gerat", "sonde"),
        "instrument": ("instrument", "gauge", "device", "geraet", "gerat"),
        "illuminant": ("illuminant", "light", "lichtart"),
        "observer": ("observer", "beobachter"),
        "taken_at": ("taken", "time", "date", "when", "zeit", "datum"),
        "by": ("by", "person", "who", "operator", "pruefer", "prufer"),
    }
)
"""Words that gauges and spreadsheets write at the head of a column (common practice, no source).

The places come first, so that "position x" is not taken for the name of a spot."""

_LABELS = {
    "x_mm": "x, in the panel's mm",
    "y_mm": "y, in the panel's mm",
    "along_mm": "along the edge, in mm",
    "thickness_um": "film, in µm",
    "thickness_mm": "sheet, in mm",
    "L": "L*",
    "a": "a*",
    "b": "b*",
    "taken_at": "taken at",
    "part": "number of the part",
    "name": "what it is",
    "parent": "belongs to",
    "section": "where on the car",
    "mass_kg": "mass, in kg",
    "safety": "bears on safety",
    "fixed_with": "fixed with",
    "borrowed_from": "comes from",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldTable:
    """A table that files are uploaded into.

    Parameters
    ----------
    table : Table
    title : str
        What its readings are called.
    what : str
        What one row holds, in a sentence.
    fixed : tuple of str
        Columns of which one value may hold for every row of a file.
    left_out : tuple of str
        Columns that no file fills.
    counted : str
        Column that is counted on from what the car has, where the file leaves it empty.
    noun : str
        What one row is called.
    page : str
        Name of the page that the rows are seen on.
    """

    table: Table
    title: str
    what: str
    fixed: tuple[str, ...]
    left_out: tuple[str, ...] = ()
    counted: str = ""
    noun: str = "reading"
    page: str = "survey"

    @property
    def columns(self) -> tuple[Column, ...]:
        """Columns that a file may fill."""
        return tuple(c for c in self.table.columns if c.name not in self.left_out)

    @property
    def hints(self) -> dict[str, tuple[str, ...]]:
        """Words for each of its columns, places first."""
        names = {column.name for column in self.columns}
        return {name: words for name, words in HINTS.items() if name in names}


def label_of(column: str) -> str:
    """Column's name for people."""
    stem, _, unit = column.rpartition("_")
    if column in _LABELS:
        return _LABELS[column]
    return f"{stem}, in {unit.replace('um', 'µm')}" if unit in ("um", "mm") else column


LOADED: Mapping[str, ToldTable] = MappingProxyType(
    {
        told.table.name: told
        for told in (
            ToldTable(
                table=TABLES["film"],
                title="Film",
                what="One row a reading: the panel, the spot, its place in the panel's own mm, the "
                "film in µm. Rows of the same panel and spot form a spot.",
                fixed=("panel", "gauge", "taken_at", "by"),
            ),
            ToldTable(
                table=TABLES["metal"],
                title="Sheet metal",
                what="One row a reading: the panel or the part, the place on it in its own mm, the "
                "thickness of the sheet in mm.",
                fixed=("panel", "part", "gauge", "taken_at", "by"),
            ),
            ToldTable(
                table=TABLES["colour"],
                title="Colour",
                what="One row a reading: the panel or the part, the place on it in its own mm, L*, "
                "a* and b*, and whether the place is exposed or hidden.",
                fixed=(
                    *("panel", "part", "exposure", "illuminant", "observer", "instrument"),
                    *("taken_at", "by"),
                ),
            ),
            ToldTable(
                table=TABLES["polish"],
                title="Polishing",
                what="One row a spot: the panel, the spot, the film in µm before and after, and "
                "how many passes lie between.",
                fixed=("panel", "area", "passes", "process", "gauge", "taken_at", "by"),
            ),
            ToldTable(
                table=TABLES["gaps"],
                title="Gaps",
                what="One row a reading: the edge, how far along it in mm, the gap in mm, and the "
                "step across it.",
                fixed=("edge", "instrument", "taken_at", "by"),
            ),
            ToldTable(
                table=TABLES["parts"],
                title="Parts",
                what="One row a part: what it is, where it lies, what it belongs to. A part "
                "without a number gets the next one.",
                fixed=("parent", "section", "place", "kind"),
                left_out=("lent_to", "fate", "fate_reason", "followed_by"),
                counted="part",
                noun="part",
                page="parts",
            ),
        )
    }
)
