"""The invented car, put together from what is drawn, drawn by lot, and written by hand."""

from __future__ import annotations

import numpy as np

from asfound.demo.colour import colour_rows
from asfound.demo.days import AS_WRITTEN, Days
from asfound.demo.decisions import option_rows, size_rows, subject_rows
from asfound.demo.film import film_rows, shim_rows
from asfound.demo.gaps import gap_rows
from asfound.demo.metal import metal_rows
from asfound.demo.panels import drawn_panels, panel_rows
from asfound.demo.polish import polish_rows
from asfound.demo.written import Rows, sheet, written, written_json
from asfound.record.folder import CarFolder
from asfound.record.tables import TABLES

_WRITTEN = (
    "instruments",
    "sheet_nominals",
    "climates",
    "polish_floors",
    "edges",
    "car",
    "identifiers",
    "odometer",
    "wear",
    "preservation_classes",
    "parts",
    "errands",
    "needs",
    "findings",
    "evidence",
    "events",
    "event_links",
    "option_links",
    "significance",
    "locks",
    "tasks",
    "task_links",
    "people",
    "bays",
    "joints",
    "removals",
    "rebuild_links",
    *("charge_rates", "tax_rates", "material_prices", "purchases", "payments"),
    "worked",
    "materials_used",
    "results",
    "holds",
)


def demo_folder(seed: int = 1, *, days: Days = AS_WRITTEN) -> CarFolder:
    """The invented car; the same seed and days give the same car, to the last cell."""
    shims, film, quotes, metal, colour, polish, gaps = np.random.default_rng(seed).spawn(7)
    panels = drawn_panels()
    film_table = film_rows(panels, film)
    tables: dict[str, Rows] = {
        "panels": panel_rows(panels),
        "film": film_table,
        "shims": shim_rows(shims),
        "metal": metal_rows(metal),
        "colour": colour_rows(colour),
        "polish": polish_rows(film_table, polish),
        "gaps": gap_rows(gaps),
        "options": option_rows(quotes),
        "piece_sizes": size_rows(),
        "subjects": subject_rows(),
        **{name: written(name) for name in _WRITTEN},
    }
    return CarFolder(
        sheets={name: sheet(days.rows(tables[name])) for name in TABLES if name in tables},
        brief=written_json("brief"),
        lift=written_json("lift"),
        package=written_json("package"),
    )
