"""The invented car, put together from its tables."""

from __future__ import annotations

import numpy as np

from asfound.demo.film import film_rows, shim_rows
from asfound.demo.panels import drawn_panels, panel_rows
from asfound.demo.text import Rows, rows, sheet
from asfound.record.folder import CarFolder
from asfound.record.tables import TABLES

CAR = """
marque | model | body_style | built | registration | colour_name | currency | note
Tessivane | Meridel | open four-seater touring car with separate wings | 1957 | INV 57 | Fennel \
green over umber | EUR | invented car of an invented marque: all data made up
"""

PACKAGE = {
    "name": "tessivane-meridel-invented",
    "title": "Tessivane Meridel, an invented car",
    "invented": True,
    "note": "invented car of an invented marque: all data made up",
}


def demo_folder(seed: int = 1) -> CarFolder:
    """The invented car; the same seed gives the same car, to the last cell."""
    rng_shims, rng_film = np.random.default_rng(seed).spawn(2)
    panels = drawn_panels()
    tables: dict[str, Rows] = {
        "car": rows(CAR),
        "panels": panel_rows(panels),
        "film": film_rows(panels, rng_film),
        "shims": shim_rows(rng_shims),
    }
    return CarFolder(
        sheets={name: sheet(tables[name]) for name in TABLES if name in tables},
        package=PACKAGE,
    )
